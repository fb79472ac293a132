"""The force-velocity profile against worked examples of the published equations.

Samozino et al. 2008, J Biomech 41:2940-2945; 2010, J Theor Biol 264:11-18; 2012, Med Sci Sports
Exerc 44:313-322. The examples are computed from these with g = 9.81 m/s².
"""

import datetime as dt

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from saltus.athlete.observations import Jump, JumpMethod, JumpStyle
from saltus.athlete.person import BodyMass, Person
from saltus.athlete.profile_equations import (
    force_velocity_line,
    highest_jump_m,
    intercept_force,
    maximal_power,
    mean_force,
    mean_velocity,
    optimal_slope,
)
from saltus.athlete.profile_fit import force_velocity_profile
from saltus.quantities import Estimate

G = 9.81

# Body 80 kg, hPO 0.40 m, F0 2800 N, v0 3.20 m/s.
# load kg, height cm, mean force N, mean velocity m/s, mean power W
LOADED = [
    (0, 40.14, 1572.3, 1.4031, 2206.1),
    (20, 30.52, 1729.5, 1.2235, 2116.0),
    (40, 23.33, 1863.9, 1.0698, 1994.0),
    (60, 17.76, 1983.3, 0.9334, 1851.2),
    (80, 13.33, 2092.6, 0.8085, 1691.9),
]


@pytest.mark.parametrize(("load", "height_cm", "force", "velocity", "power"), LOADED)
def test_force_and_velocity_of_each_load(load, height_cm, force, velocity, power):
    # The table's heights are rounded to 0.1 mm, which is 0.5 N here.
    f, v = mean_force(80 + load, height_cm / 100, 0.40, G), mean_velocity(height_cm / 100, G)
    assert f == pytest.approx(force, abs=0.6)
    assert v == pytest.approx(velocity, abs=3e-4)
    assert f * v == pytest.approx(power, abs=1.2)


@pytest.mark.parametrize(("load", "height_cm", "force", "velocity", "power"), LOADED)
def test_height_of_each_load_from_the_line(load, height_cm, force, velocity, power):
    moved = 80 + load
    height = highest_jump_m(2800 / moved, -875 / moved, 0.40, G)
    assert 100 * height == pytest.approx(height_cm, abs=0.006)


def test_refit_of_the_rounded_heights():
    load, height = np.array([(row[0], row[1] / 100) for row in LOADED]).T
    F0, slope = force_velocity_line(
        mean_velocity(height, G), mean_force(80 + load, height, 0.40, G)
    )
    assert pytest.approx(2799.9, abs=0.06) == F0
    assert slope == pytest.approx(-874.9, abs=0.06)
    assert -F0 / slope == pytest.approx(3.200, abs=6e-4)
    assert maximal_power(F0, -F0 / slope) == pytest.approx(2240.1, abs=0.1)
    optimal = optimal_slope(28.0, 0.40, G)
    assert optimal == pytest.approx(-14.01, abs=0.006)
    assert slope / 80 / optimal == pytest.approx(0.781, abs=6e-4)
    assert 100 * highest_jump_m(F0 / 80, slope / 80, 0.40, G) == pytest.approx(40.14, abs=0.01)


# Pmax W/kg, hPO m, optimal slope, best height cm, F0, v0
OPTIMA = [
    (28, 0.40, -14.008, 40.75, 39.61, 2.828),
    (25, 0.40, -14.023, 36.35, 37.45, 2.670),
    (30, 0.35, -15.017, 40.73, 42.45, 2.827),
    (20, 0.30, -16.238, 25.11, 36.04, 2.220),
]


@pytest.mark.parametrize(("power", "push_off", "slope", "height_cm", "F0", "v0"), OPTIMA)
def test_optimal_slope_of_the_closed_form(power, push_off, slope, height_cm, F0, v0):
    optimal = float(optimal_slope(power, push_off, G))
    assert optimal == pytest.approx(slope, abs=6e-4)
    force = float(intercept_force(power, optimal))
    assert force == pytest.approx(F0, abs=0.006)
    assert -force / optimal == pytest.approx(v0, abs=6e-4)
    assert 100 * highest_jump_m(force, optimal, push_off, G) == pytest.approx(height_cm, abs=0.006)


@pytest.mark.parametrize("power", [15.0, 22.0, 28.0, 40.0])
@pytest.mark.parametrize("push_off", [0.28, 0.36, 0.45])
def test_closed_form_is_where_direct_maximisation_finds_the_highest_jump(power, push_off):
    def fall_short(slope: float) -> float:
        return -float(highest_jump_m(intercept_force(power, slope), slope, push_off))

    found = minimize_scalar(fall_short, bounds=(-60, -2), method="bounded", options={"xatol": 1e-9})
    assert float(optimal_slope(power, push_off)) == pytest.approx(found.x, rel=1e-5)


@pytest.mark.parametrize(
    ("share", "loss_percent"), [(0.5, -11.3), (0.7, -3.1), (1.3, -1.7), (2.0, -11.2)]
)
def test_the_optimum_is_flat(share, loss_percent):
    best_slope = optimal_slope(28, 0.40, G)
    slope = share * best_slope
    best = highest_jump_m(intercept_force(28, best_slope), best_slope, 0.40, G)
    height = highest_jump_m(intercept_force(28, slope), slope, 0.40, G)
    assert 100 * (height / best - 1) == pytest.approx(loss_percent, abs=0.06)


def test_ten_per_cent_more_of_each_part_raises_the_jump_as_published():
    # Samozino et al. 2010: +10 % of F0, v0, hPO give 10-15, 6-11, 4-8 % (read). The closed form
    # over F0 25-40 N/kg, v0 2.5-4 m/s, hPO 0.35-0.45 m gives 9-15, 7-11, 4-6 % (cross-checked).
    F0, v0, push_off = (
        grid.ravel() for grid in np.meshgrid([30, 35, 40], [2.5, 3.25, 4.0], [0.35, 0.40, 0.45])
    )

    def height(f, v, h):
        return highest_jump_m(f, -f / v, h)

    now = height(F0, v0, push_off)
    gains = {
        "F0": 100 * (height(1.1 * F0, v0, push_off) / now - 1),
        "v0": 100 * (height(F0, 1.1 * v0, push_off) / now - 1),
        "hPO": 100 * (height(F0, v0, 1.1 * push_off) / now - 1),
    }
    published = {"F0": (10, 15), "v0": (6, 11), "hPO": (4, 8)}
    for part, (low, high) in published.items():
        assert low - 1 <= gains[part].min(), part
        assert gains[part].max() <= high + 0.5, part


def test_the_slope_is_as_unreliable_as_published():
    # Lindberg et al. 2021a, PLoS ONE 16(2):e0245791 (read): CV of the slope 14 to 30 % with a
    # typical error of 1.5 cm in height.
    day = dt.date(2026, 1, 5)
    jumps = [
        Jump(
            date=day,
            style=JumpStyle.SQUAT,
            method=JumpMethod.PLATE_IMPULSE,
            heights_m=(height_cm / 100,) * 2,
            load_kg=load,
        )
        for load, height_cm, *_ in LOADED
    ]
    profile, _ = force_velocity_profile(
        Person("Example", (BodyMass(day, 80.0),)),
        jumps,
        day,
        push_off_distance=Estimate.normal(0.40, 0.01),
    )
    assert profile is not None
    assert 0.14 <= profile.slope.sd / abs(profile.slope.value) <= 0.30

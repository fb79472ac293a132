"""What is known of jumping, asked of the simulator alone."""

import numpy as np
import pytest

from saltus.athlete.postures import torque_capacity
from saltus.athlete.pushoff import Start, simulate

ATHLETE = {
    "mass_kg": 78.0,
    "segment_m": 0.505,
    "torque_nm": 900.0,
    "speed_rad_s": 18.0,
    "rfd_nm_s": 6000.0,
    "distance_m": 0.42,
    "stretch_gain": 0.1,
}


def crowd(n=3000, seed=11):
    """Ordinary athletes: spreads as among trained young adults."""
    rng = np.random.default_rng(seed)

    def spread(middle, share):
        return middle * np.exp(share * rng.standard_normal(n))

    mass = rng.uniform(55, 95, n)
    return {
        "mass_kg": mass,
        "segment_m": 0.505 * (mass / 78) ** (1 / 3),
        "torque_nm": mass * spread(11.5, 0.18),
        "speed_rad_s": spread(17.5, 0.10),
        "rfd_nm_s": mass * spread(75, 0.35),
        "distance_m": spread(0.41, 0.07),
        "stretch_gain": spread(0.10, 0.60),
    }


@pytest.mark.parametrize("start", [Start.SQUAT, Start.COUNTERMOVEMENT])
def test_the_push_of_a_standing_jump_takes_less_than_half_a_second(start):
    # Common practice. Asked of nearly all: the weakest of a crowd may be slower.
    push = simulate(start, **crowd()).push_off_s
    assert np.quantile(push, 0.97) < 0.5


def test_phases_of_a_countermovement_jump_are_those_of_recordings():
    # Time to take-off 0.65 to 0.95 s, propulsion 0.23 to 0.30 s, peak force 2.0 to 2.8 body
    # weights, peak power 45 to 65 W/kg: plausible adult ranges, from memory.
    pushes = simulate(Start.COUNTERMOVEMENT, **ATHLETE)
    assert 0.65 < pushes.time_to_take_off_s[0] < 0.95
    assert 0.23 < pushes.push_off_s[0] < 0.30
    assert 2.0 < pushes.peak_force_n[0] / (78 * 9.80665) < 2.8
    power = simulate(Start.COUNTERMOVEMENT, **crowd()).peak_power_w / crowd()["mass_kg"]
    assert 40 < np.median(power) < 65


def test_peak_power_lies_in_the_middle_of_the_force_speed_curve():
    # Common practice: neither the heaviest nor the fastest push has the most power.
    speed = np.linspace(0, 1, 200)
    torque = torque_capacity(speed)
    best = np.argmax(torque * speed)
    assert 0.25 < torque[best] < 0.6
    assert 0.25 < speed[best] < 0.6


def test_power_of_a_jump_changes_little_with_a_light_load_and_falls_with_height():
    # The curve of power over load is flat near its top: Cormie et al. 2007, Med Sci Sports
    # Exerc 39:340-349. Loads cost height: Jimenez-Reyes et al. 2015, IJSPP 10:1036-1040.
    load = np.array([0.0, 10.0, 20.0, 30.0])
    pushes = simulate(Start.COUNTERMOVEMENT, **ATHLETE, load_kg=load)
    assert np.ptp(pushes.peak_power_w) / pushes.peak_power_w[0] < 0.1
    assert np.all(np.diff(pushes.height_m) < -0.01)


def test_a_countermovement_adds_less_the_faster_the_activation():
    # Bobbert & Casius 2005, Med Sci Sports Exerc 37:440-446: the gap between the two jumps
    # shrinks from about 2.5 cm to 0.4 cm as activation rises faster. Without a gain by
    # stretch, as in their model.
    rate = 6000 * 2.0 ** np.arange(7)
    who = {**ATHLETE, "stretch_gain": 0.0, "rfd_nm_s": rate}
    gap = simulate(Start.COUNTERMOVEMENT, **who).height_m - simulate(Start.SQUAT, **who).height_m
    assert np.all(np.diff(gap) < 0)
    assert 0.01 < gap[0] < 0.035
    assert 0 <= gap[-1] < 0.004


def test_a_crowd_jumps_as_crowds_do():
    # CMJ above SJ by 3.4 cm from the same start: Bobbert et al. 1996, Med Sci Sports Exerc
    # 28:1402-1412.
    who = crowd()
    countermovement = simulate(Start.COUNTERMOVEMENT, **who).height_m
    gap = countermovement - simulate(Start.SQUAT, **who).height_m
    assert 0.25 < np.nanmean(countermovement) < 0.38
    assert np.nanmean(gap) == pytest.approx(0.034, abs=0.008)


def test_strength_stops_paying_where_the_rate_of_force_development_is_held():
    # Common practice: first gains in strength raise the jump; past an intermediate level,
    # strength without faster force development does not.
    torque = 900 * 1.1 ** np.arange(-3, 16)
    held = simulate(Start.COUNTERMOVEMENT, **{**ATHLETE, "torque_nm": torque}).height_m
    gain = np.diff(held)
    assert np.all(gain > 0)
    assert np.all(np.diff(gain) < 0)
    assert gain[0] > 0.02
    assert gain[-1] < gain[0] / 3


def test_rate_of_force_development_gains_on_strength_as_strength_grows():
    # Common practice: fast enough matters more, the stronger the athlete.
    def worth(name, torque):
        who = {**ATHLETE, "torque_nm": torque}
        more = {**who, name: who[name] * 1.1}
        return (
            simulate(Start.COUNTERMOVEMENT, **more).height_m[0]
            - simulate(Start.COUNTERMOVEMENT, **who).height_m[0]
        )

    weak, strong = 800.0, 2200.0
    assert worth("torque_nm", weak) > worth("rfd_nm_s", weak)
    assert worth("torque_nm", strong) < worth("rfd_nm_s", strong)


def test_higher_boxes_mean_longer_contact_and_deeper_bending():
    # Common practice: the lower box when in doubt, because a high one is answered with a
    # longer, softer contact.
    drop = np.linspace(0.1, 0.7, 13)
    pushes = simulate(Start.DROP, **ATHLETE, drop_m=drop)
    assert np.all(np.diff(pushes.contact_s) > 0)
    assert np.all(np.diff(pushes.depth_m) > 0)

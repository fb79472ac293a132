"""The page for coaches says what the code computes with."""

from pathlib import Path

import pytest

from saltus.athlete.load_velocity import SPEED_AT_MAXIMUM
from saltus.athlete.measurement_error import METHODS
from saltus.athlete.observations import JumpMethod, Lift
from saltus.athlete.strength import LIFT_RATIO

PAGE = (Path(__file__).parents[2] / "docs" / "field-tests.md").read_text(encoding="utf-8")
WORDS = " ".join(PAGE.split())
ROWS = {
    JumpMethod.PLATE_IMPULSE: "force plate, impulse",
    JumpMethod.PLATE_FLIGHT: "force plate, flight",
    JumpMethod.MAT: "mat or optical cells",
    JumpMethod.FILM: "film",
    JumpMethod.REACH: "jump-and-reach",
}


@pytest.mark.parametrize("method", list(JumpMethod))
def test_every_method_stands_there_with_its_figures(method):
    (row,) = [line for line in PAGE.splitlines() if line.startswith(f"| {ROWS[method]} |")]
    published = METHODS[method]
    figures = [100 * published.bias_m, 100 * published.bias_sd_m]
    if published.reading_sd_m:
        figures.append(100 * published.reading_sd_m)
    cells = [cell.strip() for cell in row.strip("|").split("|")]
    assert cells[1] == published.equation
    assert cells[2 : 2 + len(figures)] == [f"{figure:.1f} cm" for figure in figures]


@pytest.mark.parametrize(("lift", "speed"), [(k, v[0]) for k, v in SPEED_AT_MAXIMUM.items()])
def test_every_speed_at_the_maximum_stands_there(lift, speed):
    name = lift.value.replace("_", " ").replace("trap bar", "trap-bar")
    assert f"{name} {speed:g}" in WORDS


def test_the_ratios_stand_there():
    assert f"front squat {LIFT_RATIO[Lift.FRONT_SQUAT].mean:g}" in WORDS
    assert f"power clean {LIFT_RATIO[Lift.POWER_CLEAN].mean:g}" in WORDS

import pytest

from saltus.jumps.jump import Measure
from saltus.jumps.wording import shown, unit_shown


@pytest.mark.parametrize(
    ("value", "se", "unit", "text", "told"),
    [
        (0.3183, 0.0042, "m", "31.8 ± 0.4", "cm"),
        (0.7274, 0.0153, "s", "727 ± 15", "ms"),
        (735.47, 1.2, "N", "735 ± 1", "N"),
        (21_300.0, 800.0, "N/m", "21.3 ± 0.8", "kN/m"),
        (3.25, 1.4, "%", "3.2 ± 1.4", "%"),
    ],
)
def test_measures_are_told_in_the_trades_units(value, se, unit, text, told):
    assert shown(Measure(value, se, unit, "")) == text
    assert unit_shown(unit) == told


def test_an_error_below_the_last_digit_is_rounded_up_never_to_zero():
    assert shown(Measure(0.31834, 0.0002, "m", "")) == "31.8 ± 0.1"


def test_finer_digits_when_asked_but_no_more_than_two():
    assert shown(Measure(0.31834, 0.0002, "m", ""), fine=True) == "31.83 ± 0.02"
    assert shown(Measure(0.31834, 1e-9, "m", ""), fine=True) == "31.834 ± 0.001"


def test_an_exact_figure_says_so():
    assert shown(Measure(0.3, 0.0, "m", "")) == "30.0 ± 0.0"

"""Options that contradict themselves are refused before any file is opened."""

import pytest

from saltus.errors import UsageError
from saltus.recordings.options import ReadOptions


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ({"left": "a"}, "--left was given without --right"),
        ({"right": "a"}, "--right was given without --left"),
        ({"force": "a", "left": "b", "right": "c"}, "either --force"),
        ({"rate_hz": 0.0}, "--rate must be a positive number"),
        ({"rate_hz": float("nan")}, "--rate must be a positive number"),
        ({"mass_kg": 3.0}, "--mass must lie between 10 and 400 kg"),
        ({"unit": "stone"}, "--unit stone is no unit.*BW, N, kN, kgf, lbf"),
        ({"first_plate": "middle"}, "--first-plate is left or right"),
    ],
)
def test_impossible_options_are_refused(given, message):
    with pytest.raises(UsageError, match=message):
        ReadOptions(**given)


def test_units_are_spelt_in_any_case():
    assert ReadOptions(unit="kN").unit == "kN"
    assert ReadOptions(unit="KN").unit == "KN"

"""Whose file it is."""

import pytest

from saltus.web.models import Athlete
from saltus.web.testdays.matching import matched

NAMES = ("Ada Ilves", "Bea Moen", "Åse Østby Lund", "Bo Moen", "Ann-Kari Vik", "Ada Berg")
PEOPLE = [Athlete(name=name) for name in NAMES]


@pytest.mark.parametrize(
    ("path", "name"),
    [
        ("ilves_ada_cmj.csv", "Ada Ilves"),
        ("AdaIlves-2026-11-20.txt", "Ada Ilves"),
        ("adailves1.csv", "Ada Ilves"),
        ("ILVES.c3d", "Ada Ilves"),
        ("moen_bea.csv", "Bea Moen"),
        ("Moen B.csv", None),
        ("moen.csv", None),
        ("Bo/jump 3.csv", "Bo Moen"),
        ("ase_ostby_lund.csv", "Åse Østby Lund"),
        ("Åse Østby Lund.csv", "Åse Østby Lund"),
        ("Ase-Østby-Lund.csv", "Åse Østby Lund"),
        ("ann kari vik cmj2.csv", "Ann-Kari Vik"),
        ("ada.csv", None),
        ("jump1.csv", None),
        ("adamant_trial.csv", None),
        ("ailves_1.csv", "Ada Ilves"),
    ],
)
def test_a_name_in_the_path_is_found_and_nothing_is_guessed(path, name):
    found = matched(path, PEOPLE)

    assert (found.name if found else None) == name

"""Load and box out of the name of a recording."""

import pytest

from saltus.web.testdays.named import said_by_name


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("ines-adler-2026-11-16-squat-jump-20kg.csv", {"load_kg": 20.0}),
        ("Ilves Ada SJ 42,5 kg.txt", {"load_kg": 42.5}),
        ("ilves_sj_45lb.csv", {"load_kg": pytest.approx(20.41, abs=0.01)}),
        ("ruben-castell-drop-jump-40cm.c3d", {"box_m": 0.4}),
        ("ilves_DJ_12in.csv", {"box_m": pytest.approx(0.3048)}),
        ("ilves_cmj_180cm.csv", {}),  # no drop: it may be a stature
        ("2026-11-16-cmj.csv", {}),
        ("drop-jump-400cm.csv", {}),
        ("kgosi_900kg.csv", {}),
    ],
)
def test_a_load_and_a_box_are_read_from_the_name(name, said):
    assert said_by_name(name) == said

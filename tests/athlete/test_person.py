import datetime as dt

import pytest

from saltus.athlete.person import BodyMass, Person
from saltus.errors import TestError


def at(*masses):
    return Person(name="A", body_masses=masses)


def test_body_mass_is_interpolated_between_weighings_and_held_beyond_them():
    person = at(BodyMass(dt.date(2026, 1, 1), 70.0), BodyMass(dt.date(2026, 1, 11), 80.0))

    assert person.mass_kg(dt.date(2025, 1, 1)) == 70.0
    assert person.mass_kg(dt.date(2026, 1, 4)) == pytest.approx(73.0)
    assert person.mass_kg(dt.date(2027, 1, 1)) == 80.0


def test_without_a_weighing_it_says_what_to_add():
    with pytest.raises(TestError, match=r"\[\[body_mass\]\]"):
        at().mass_kg(dt.date(2026, 1, 1))


@pytest.mark.parametrize(
    ("on", "age", "minor"),
    [
        (dt.date(2026, 6, 14), 17, True),
        (dt.date(2026, 6, 15), 18, False),  # the birthday itself
    ],
)
def test_age_counts_completed_years(on, age, minor):
    person = Person(name="A", body_masses=(), born=dt.date(2008, 6, 15))

    assert person.age(on) == age
    assert person.is_minor(on) is minor


def test_an_unknown_age_is_unknown():
    assert Person(name="A", body_masses=()).age(dt.date(2026, 1, 1)) is None

"""Who the athlete is: what does not come out of a test."""

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum

from saltus.errors import TestError

__all__ = ["BodyMass", "Person", "Sex", "TestingTool"]

_ADULT_AGE = 18


class Sex(StrEnum):
    """Sex, for the choice of a prior and of a norm only."""

    FEMALE = "female"
    MALE = "male"
    UNSTATED = "unstated"


class TestingTool(StrEnum):
    """What the coach has at hand to test with."""

    __test__ = False

    TAPE = "tape"
    PHONE = "phone"
    MAT = "mat"
    BAR_SENSOR = "bar_sensor"
    FORCE_PLATE = "force_plate"
    BARBELL = "barbell"
    BOXES = "boxes"


@dataclass(frozen=True, slots=True)
class BodyMass:
    """Body mass on a day, in kg."""

    date: dt.date
    mass_kg: float


@dataclass(frozen=True, slots=True)
class Person:
    """The athlete.

    Parameters
    ----------
    name : str
        What the coach calls them.
    body_masses : tuple of BodyMass
        At least one, in order of date.
    sex : Sex
        For priors and norms only.
    born : date or None
        Unknown is treated with the caution due to a minor.
    stature_m, standing_reach_m, push_off_distance_m : float or None
        Measured with a tape, m. The push-off distance is from the bottom of the
        countermovement to the outstretched leg, foot pointed.
    training_age_years : float
        Years of regular strength and jump training.
    sport : str
        Free text.
    testing_tools : frozenset of TestingTool
        What can be tested with.
    """

    name: str
    body_masses: tuple[BodyMass, ...]
    sex: Sex = Sex.UNSTATED
    born: dt.date | None = None
    stature_m: float | None = None
    standing_reach_m: float | None = None
    push_off_distance_m: float | None = None
    training_age_years: float = 0.0
    sport: str = ""
    testing_tools: frozenset[TestingTool] = frozenset({TestingTool.TAPE, TestingTool.PHONE})

    def age(self, on: dt.date) -> int | None:
        """Completed years on a day, or None where the date of birth is unknown."""
        if self.born is None:
            return None
        birthday_to_come = (on.month, on.day) < (self.born.month, self.born.day)
        return on.year - self.born.year - birthday_to_come

    def is_minor(self, on: dt.date) -> bool:
        """Whether the athlete is under 18 on a day; an unknown age does not count as minor."""
        age = self.age(on)
        return age is not None and age < _ADULT_AGE

    def mass_kg(self, on: dt.date) -> float:
        """Body mass on a day: interpolated between weighings, held beyond the ends.

        Raises
        ------
        TestError
            If no body mass is on record.
        """
        if not self.body_masses:
            raise TestError(f"{self.name} has no body mass on record: add one [[body_mass]].")
        before = [m for m in self.body_masses if m.date <= on]
        after = [m for m in self.body_masses if m.date > on]
        if not before:
            return after[0].mass_kg
        if not after:
            return before[-1].mass_kg
        a, b = before[-1], after[0]
        share = (on - a.date).days / (b.date - a.date).days
        return a.mass_kg + share * (b.mass_kg - a.mass_kg)

import datetime as dt

import pytest

from saltus.athlete.person import BodyMass, Person, Sex, TestingTool


@pytest.fixture(scope="session")
def person():
    """An adult with every tool, invented."""
    return Person(
        name="Test Athlete",
        body_masses=(BodyMass(dt.date(2026, 1, 1), 78.0),),
        sex=Sex.MALE,
        born=dt.date(2000, 6, 1),
        stature_m=1.80,
        standing_reach_m=2.33,
        training_age_years=3.0,
        testing_tools=frozenset(TestingTool),
    )

import datetime as dt

import pytest

from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum
from saltus.athlete.person import BodyMass, Person, Sex, TestingTool

ON = dt.date(2026, 11, 1)


@pytest.fixture
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


@pytest.fixture
def tests():
    """Two jumps and a squat of one day, invented."""
    return (
        Jump(
            date=ON,
            style=JumpStyle.COUNTERMOVEMENT,
            method=JumpMethod.MAT,
            heights_m=(0.38, 0.39, 0.385),
        ),
        Jump(date=ON, style=JumpStyle.SQUAT, method=JumpMethod.MAT, heights_m=(0.36, 0.35, 0.355)),
        Maximum(date=ON, lift=Lift.BACK_SQUAT, load_kg=130.0),
    )

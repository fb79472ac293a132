import datetime as dt

import pytest

from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum

ON = dt.date(2026, 11, 1)


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

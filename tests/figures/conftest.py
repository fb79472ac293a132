import datetime as dt

import pytest

from saltus.athlete.assess import assess_posterior
from saltus.athlete.document import assessment_document
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum
from saltus.athlete.person import BodyMass, Person, TestingTool
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.timeline import timeline_document

ON = dt.date(2026, 11, 1)


@pytest.fixture(scope="session")
def documents():
    """Assessment and timeline of an invented athlete with loads, arms and two dates."""
    person = Person(
        name="Test Athlete",
        body_masses=(BodyMass(ON, 78.0),),
        born=dt.date(2000, 6, 1),
        stature_m=1.80,
        training_age_years=3.0,
        testing_tools=frozenset(TestingTool),
    )

    def jump(day, style, method, heights, **more):
        return Jump(date=day, style=style, method=method, heights_m=heights, **more)

    before = ON - dt.timedelta(weeks=20)
    cmj, sj = JumpStyle.COUNTERMOVEMENT, JumpStyle.SQUAT
    tests = [
        jump(before, cmj, JumpMethod.MAT, (0.35, 0.355)),
        jump(ON, cmj, JumpMethod.MAT, (0.38, 0.385)),
        jump(ON, cmj, JumpMethod.REACH, (0.47, 0.48), arms=True),
        *(
            jump(ON, sj, JumpMethod.MAT, (height,) * 3, load_kg=load)
            for load, height in ((0.0, 0.35), (20.0, 0.27), (40.0, 0.205), (60.0, 0.155))
        ),
        Maximum(date=ON, lift=Lift.BACK_SQUAT, load_kg=130.0),
    ]
    posterior = fit(Problem(person, tests, [], ON))
    return assessment_document(assess_posterior(posterior, tests)), timeline_document(posterior)

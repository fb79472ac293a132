"""An invented athlete tested on several dates, with loads, arms, a pain and a restriction."""

import pytest

from saltus.web.assessments import assess_now
from saltus.web.records import add_athlete

TESTED = """\
saltus_record = 1

[athlete]
name = "Ada Ilves"   # invented
sex = "female"
born = 2003-05-17
stature_cm = 178
standing_reach_cm = 232
training_age_years = 4
sport = "volleyball"
testing_tools = ["tape", "mat", "barbell"]
remark = "Sleeps badly before matches."

[[body_mass]]
date = 2026-01-10
mass_kg = 70

[goal]
date = 2027-04-17
touch_cm = 290
what = "the mark"

[[test]]
kind = "countermovement_jump"
date = 2026-01-12
method = "mat"
heights_cm = [30, 30.5, 31]

[[test]]
kind = "maximum"
date = 2026-01-14
lift = "back_squat"
load_kg = 85

[[test]]
kind = "countermovement_jump"
date = 2026-06-15
method = "mat"
heights_cm = [32, 33]

[[test]]
kind = "countermovement_jump"
arms = true
date = 2026-06-15
method = "reach"
touched_cm = [275, 274]

[[test]]
kind = "countermovement_jump"
date = 2026-10-05
method = "mat"
heights_cm = [34, 34.5, 33.5]

[[test]]
kind = "squat_jump"
date = 2026-10-05
method = "mat"
heights_cm = [31, 31.5]

[[test]]
kind = "squat_jump"
date = 2026-10-05
method = "mat"
heights_cm = [24, 24.5]
load_kg = 20

[[test]]
kind = "squat_jump"
date = 2026-10-05
method = "mat"
heights_cm = [18.5, 18]
load_kg = 40

[[test]]
kind = "maximum"
date = 2026-10-06
lift = "back_squat"
load_kg = 95

[[pain]]
date = 2026-10-01
place = "left knee"
level = 4

[[restriction]]
what = "depth_jump"
start = 2026-10-01
why = "the knee"
"""


@pytest.fixture
def tested_text():
    """The record of the athlete."""
    return TESTED


@pytest.fixture
def tested(squad, owner):
    """The athlete, not assessed yet."""
    return add_athlete(squad, TESTED, owner, group="seniors")


@pytest.fixture(scope="module")
def assessment_of_tested(django_db_setup, django_db_blocker):
    """Fields of the assessment, worked out once for all tests of a module."""
    from saltus.web.models import Athlete, Squad, StoredAssessment, User

    with django_db_blocker.unblock():
        user = User.objects.create_user("once@example.org", "a long enough phrase", name="Once")
        squad = Squad.objects.create(owner=user, name="Once")
        kept = assess_now(add_athlete(squad, TESTED, user))
        fields = {"inputs": kept.inputs, "document": kept.document, "draws": bytes(kept.draws)}
        StoredAssessment.objects.all().delete()
        Athlete.objects.all().delete()
        user.delete()
    return fields


@pytest.fixture
def assessed(tested, assessment_of_tested):
    """The athlete with the assessment kept."""
    from saltus.web.models import StoredAssessment

    StoredAssessment.objects.create(athlete=tested, **assessment_of_tested)
    return tested

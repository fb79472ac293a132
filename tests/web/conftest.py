"""Invented coaches and athletes: an owner, one who may read, one who may edit, an outsider."""

import datetime as dt
import functools

import pytest
from django.contrib.auth.hashers import make_password
from django.test import Client

from saltus.training.document import plan_document
from saltus.training.plan import Plan, Session, SolverReport, Week
from saltus.web.models import Share, Squad, StoredPlan, User
from saltus.web.records import add_athlete

PASSWORD = "a long enough phrase"

RECORD = """\
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

[[body_mass]]
date = 2026-10-01
mass_kg = 70

[goal]
date = 2027-04-17
touch_cm = 300
what = "the mark"

[[test]]
kind = "countermovement_jump"
date = 2026-10-05
method = "mat"
heights_cm = [33, 34, 33.5]

[[test]]
kind = "maximum"
date = 2026-10-06
lift = "back_squat"
load_kg = 95
"""


@pytest.fixture(autouse=True)
def nothing_in_the_background(settings):
    """Tests that want assessments work them off themselves (saltus.web.background.work_off)."""
    settings.ASSESS_IN_BACKGROUND = False


@functools.cache
def hashed():
    """The password as it is kept; worked out once, for that is made to take its time."""
    return make_password(PASSWORD)


def make_user(name):
    user = User.objects.create_user(f"{name.casefold()}@example.org", name=name)
    user.password = hashed()
    user.save()
    return user


@pytest.fixture
def owner(db):
    return make_user("Olga")


@pytest.fixture
def squad(owner):
    return Squad.objects.create(owner=owner, name="Fjord Jumpers")


@pytest.fixture
def athlete(squad, owner):
    return add_athlete(squad, RECORD, owner, group="seniors")


@pytest.fixture
def reader(squad):
    user = make_user("Rita")
    Share.objects.create(squad=squad, user=user)
    return user


@pytest.fixture
def editor(squad):
    user = make_user("Egil")
    Share.objects.create(squad=squad, user=user, can_edit=True)
    return user


@pytest.fixture
def outsider(db):
    user = make_user("Otto")
    Squad.objects.create(owner=user, name="Elsewhere")
    return user


def signed_in(user):
    client = Client()
    client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def client_of():
    """Gives a test client that is signed in as a person."""
    return signed_in


@pytest.fixture
def coach(owner):
    """A test client signed in as the owner."""
    return signed_in(owner)


@pytest.fixture
def keep_plan(owner):
    """Keep a plan of Mondays and Thursdays that all hold the same, accepted at a day's noon."""

    def keep(athlete, monday, weeks, items=(), *, accepted, number=1):
        mondays = [monday + dt.timedelta(weeks=w) for w in range(weeks)]
        plan = Plan(
            athlete=athlete.name,
            start=monday,
            goal_date=mondays[-1] + dt.timedelta(days=5),
            weeks=tuple(
                Week(
                    first,
                    "general_strength",
                    tuple(Session(first + dt.timedelta(days=d), items) for d in (0, 3)),
                )
                for first in mondays
            ),
            unmet=(),
            solver=SolverReport("optimal", 0.0, 0.1),
        )
        # In bulk, so that no summary is told anew for it.
        StoredPlan.objects.bulk_create(
            [
                StoredPlan(
                    athlete=athlete,
                    number=number,
                    plan=plan_document(plan),
                    made_from_revision=2,
                    by=owner,
                    accepted=dt.datetime.combine(accepted, dt.time(12), dt.UTC),
                )
            ]
        )

    return keep

"""Every run keeps its data in a folder of its own, made before Django reads its settings."""

import atexit
import datetime as dt
import os
import shutil
import tempfile

_DATA = tempfile.mkdtemp(prefix="saltus-tests-")
atexit.register(shutil.rmtree, _DATA, ignore_errors=True)
os.environ["SALTUS_DATA"] = _DATA
os.environ["DJANGO_SETTINGS_MODULE"] = "saltus.web.settings"
for _name in (
    "SALTUS_SECRET_KEY",
    "SALTUS_ALLOWED_HOSTS",
    "SALTUS_HTTPS",
    "SALTUS_TIME_ZONE",
    "SALTUS_DEBUG",
):
    os.environ.pop(_name, None)
if "SALTUS_TEST_DATABASE_URL" in os.environ:
    os.environ["DATABASE_URL"] = os.environ["SALTUS_TEST_DATABASE_URL"]
else:
    os.environ.pop("DATABASE_URL", None)

import django
import pytest

django.setup()

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

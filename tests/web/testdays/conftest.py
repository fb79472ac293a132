"""A test day of one athlete, and recordings made by the simulator."""

import datetime as dt
import io

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from saltus.athlete.pushoff import Start
from saltus.athlete.pushoff_trace import trace
from saltus.record.trials import Trial
from saltus.recordings.recording import Recording
from saltus.recordings.write import write_delimited
from saltus.web.models import TestDay
from saltus.web.records import add_athlete, record_of
from saltus.web.testdays import reading
from saltus.web.testdays.reader import answer_to

DAY = dt.date(2026, 10, 20)

MASS = Trial(kind="body_mass", key="mass", attempts=1)
REACH = Trial(kind="standing_reach", key="reach", attempts=1)
MAT = Trial(kind="countermovement_jump", key="cmj", method="mat")
TOUCH = Trial(kind="countermovement_jump", key="touch", method="reach", way="touched", arms=True)
DROP = Trial(kind="drop_jump", key="drop", method="mat", box_m=0.3, attempts=2)
SQUAT = Trial(kind="rep_set", key="squat", lift="back_squat", attempts=1)
TRIALS = (MASS, REACH, MAT, TOUCH, DROP, SQUAT)

JUMPER = {
    "mass_kg": 70.0,
    "segment_m": 0.5,
    "torque_nm": 850.0,
    "speed_rad_s": 18.0,
    "rfd_nm_s": 6000.0,
    "distance_m": 0.42,
    "stretch_gain": 0.1,
}


@pytest.fixture(autouse=True)
def _folders(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "athletes"
    settings.MEDIA_ROOT.mkdir()


@pytest.fixture
def in_process(monkeypatch):
    """Read recordings here: test_reading.py shows that a process of its own says the same."""
    monkeypatch.setattr(reading, "_answer_apart", answer_to)


@pytest.fixture
def second(squad, owner, athlete):
    text = athlete.text.replace("Ada Ilves", "Bea Moen")
    return add_athlete(squad, text, owner)


@pytest.fixture
def day(squad, athlete, second, owner):
    made = TestDay.objects.create(
        squad=squad,
        date=DAY,
        title="Autumn tests",
        by=owner,
        tests=[trial.as_row() for trial in TRIALS],
    )
    made.athletes.set([athlete, second])
    return made


@pytest.fixture
def tests_on():
    """Gives the tests that an athlete's record holds on the day."""

    def found(athlete):
        athlete.refresh_from_db()
        record = record_of(athlete, recordings=False)
        return [test for test in record.tests if test.date == DAY]

    return found


def jump_file(tmp_path, name="ilves_ada.csv", *, doubtful=False, rate=True):
    """A recorded countermovement jump as an uploaded file."""
    jump = trace(Start.COUNTERMOVEMENT, **JUMPER)
    rng = np.random.default_rng(3)
    force = jump.force_n + rng.normal(0, 1.0, jump.force_n.size)
    if doubtful:
        force = force[int(0.93 * jump.rate_hz) :]
    path = tmp_path / "made.csv"
    write_delimited(Recording(jump.rate_hz, force), path)
    content = path.read_bytes()
    if not rate:
        lines = [line.split(",")[-1] for line in content.decode().splitlines()]
        content = "\n".join(lines).encode()
    return SimpleUploadedFile(name, content, "text/csv")


@pytest.fixture
def recorded(tmp_path):
    return lambda *args, **kwargs: jump_file(tmp_path, *args, **kwargs)


@pytest.fixture
def rubbish():
    return lambda name="x.csv": SimpleUploadedFile(name, io.BytesIO(b"\x00\x01\xff" * 900).read())

"""From a record to the posterior: its tests, its blocks and its log."""

import datetime as dt
from dataclasses import replace

import numpy as np

import saltus.record as records
from saltus.athlete.observations import Lift, RepSet
from saltus.athlete.prior import State
from saltus.athlete.qualities import Quality
from saltus.record.known import assess_record, blocks_from_log, posterior_of

HEAD = """\
saltus_record = 1
[athlete]
name = "Test Athlete"
sex = "female"
born = 2002-03-14
stature_cm = 178
training_age_years = 3
[[body_mass]]
date = 2026-06-01
mass_kg = 70
[[test]]
kind = "maximum"
date = 2026-06-01
lift = "back_squat"
load_kg = 80
"""
FIFTEEN = RepSet(date=dt.date(2026, 9, 1), lift=Lift.BACK_SQUAT, load_kg=60.0, reps=15)
"""Such a set comes into no record; recordings that cannot be used do."""

LOG = "".join(
    f"""\
[[session]]
date = {dt.date(2026, 6, 2) + dt.timedelta(days=7 * week + day)}
sets = [{{ exercise = "back_squat", sets = 5, reps = 5, load_kg = 65 }}]
"""
    for week in range(8)
    for day in (0, 3)
)
BLOCK = """\
[[block]]
start = 2026-06-01
end = 2026-06-28
push_off_speed = 1.0
"""
ON = dt.date(2026, 8, 3)


def parsed(*parts):
    return records.parse("".join((HEAD, *parts)), recordings=False)


def test_training_in_the_log_is_expected_to_have_made_stronger():
    """Eight weeks of ten sets of squats are an ordinary block and a third."""
    with_log, without = (posterior_of(parsed(*log), on=ON) for log in ((LOG,), ()))
    assert {q for block in with_log.blocks for q in block.emphasis} == {
        Quality.MAX_STRENGTH,
        Quality.RATE_OF_FORCE_DEVELOPMENT,
    }
    torque = [np.average(k.posterior.now[:, State.TORQUE], weights=k.posterior.weights)
              for k in (with_log, without)]  # fmt: skip
    assert 0.04 < torque[0] - torque[1] < 0.16


def test_on_the_days_of_a_block_by_hand_the_log_says_nothing():
    record = parsed(BLOCK, LOG)
    (block,) = blocks_from_log(record, until=ON)
    assert (block.start, block.end) == (dt.date(2026, 6, 29), dt.date(2026, 7, 26))
    assert posterior_of(record, on=ON).blocks == (*record.blocks, block)


def test_a_test_that_cannot_be_used_sets_no_day_and_is_told():
    record = replace(parsed(), tests=(*parsed().tests, FIFTEEN))
    known = posterior_of(record)
    assert known.posterior.dates[-1] == dt.date(2026, 6, 1)
    assert len(known.left_out) == 1
    assert known.left_out[0] in assess_record(record).cautions


def test_days_of_training_are_what_the_log_and_blocks_tell():
    more = """\
[[session]]
date = 2026-07-30
what = "beach volleyball"
free = true
minutes = 60
[[session]]
date = 2026-08-01
sets = [{ exercise = "back_squat", reps = 0, skipped = "sore" }]
[[session]]
date = 2026-08-04
free = true
sets = [
  { exercise = "back_squat", reps = 5, load_kg = 60 },
  { exercise = "back_squat", reps = 3, load_kg = 70 },
]
[[session]]
date = 2026-08-06
planned = 2026-08-06
effort = 7
"""
    situation = parsed(BLOCK, more).situation_from(dt.date(2026, 9, 1))
    assert situation.in_blocks == {dt.date(2026, 6, day) for day in range(1, 29)}
    assert situation.trained == {
        dt.date(2026, 8, 4): {"back_squat": 70.0},
        dt.date(2026, 8, 6): {},
    }
    nothing = parsed().situation_from(dt.date(2026, 9, 1))
    assert (nothing.trained, nothing.in_blocks) == ({}, frozenset())

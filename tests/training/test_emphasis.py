"""What weeks of training were aimed at, from what was done."""

import datetime as dt

import numpy as np
import pytest

from saltus.athlete.history import TrainingBlock
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.response import block_effect
from saltus.training.emphasis import UPKEEP, emphasis_of, logged_blocks, planned_blocks
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.method_file import load_method

MONDAY = dt.date(2026, 9, 7)
EXERCISES = load_method().exercises
STRENGTH, RATE = Quality.MAX_STRENGTH, Quality.RATE_OF_FORCE_DEVELOPMENT
LATER = MONDAY + dt.timedelta(weeks=30)


def day(week, weekday=0):
    return MONDAY + dt.timedelta(weeks=week, days=weekday)


def squats(week, weekday=0, sets=5, **fields):
    done = LoggedSet(**{"exercise": "back_squat", "sets": sets, "reps": 5, **fields})
    return LoggedSession(date=day(week, weekday), sets=(done,))


def blocks(log, until=LATER, known=()):
    return logged_blocks(log, EXERCISES, until=until, known=known)


def test_an_ordinary_week_counts_as_the_exercises_say():
    """Ten sets of back squats a week are an ordinary block's work on strength."""
    (block,) = blocks([squats(0), squats(0, 3)])
    assert (block.start, block.end) == (day(0), day(0, 6))
    assert block.emphasis[STRENGTH] == pytest.approx(10 * EXERCISES["back_squat"].adds[STRENGTH])
    assert block.emphasis[STRENGTH] == pytest.approx(1.0)


def test_what_was_skipped_or_missed_counts_for_nothing():
    assert not blocks([squats(0, skipped="knee"), squats(0, 3, reps=0, missed=5)])
    full, half = (blocks([squats(0, reps=reps)])[0].emphasis[STRENGTH] for reps in (5, 1))
    assert half == pytest.approx(full / EXERCISES["back_squat"].reps.low)


def test_more_repetitions_than_a_set_needs_add_nothing():
    most = EXERCISES["back_squat"].reps.high
    assert blocks([squats(0, reps=most)]) == blocks([squats(0, reps=most + 10)])


def test_what_the_method_does_not_know_counts_for_nothing():
    assert not blocks([squats(0, exercise="juggling"), LoggedSession(date=day(0), minutes=60)])


def test_weeks_alike_are_one_block_and_others_are_not():
    log = [squats(week, weekday) for week in range(3) for weekday in (0, 3)]
    log += [squats(3, 0, sets=3), squats(5)]
    found = blocks(log)
    assert [(b.start, b.end) for b in found] == [
        (day(0), day(2, 6)),
        (day(3), day(3, 6)),
        (day(5), day(5, 6)),
    ]


def test_what_the_record_states_by_hand_holds():
    """A week half of which is told by hand gives the other half its own rate."""
    told = TrainingBlock(day(0, 4), day(1, 2), {RATE: 1.0})
    log = [squats(week, weekday) for week in range(2) for weekday in (0, 3)]
    found = blocks(log, known=[told])
    assert [(b.start, b.end) for b in found] == [(day(0), day(0, 3)), (day(1, 3), day(1, 6))]
    assert all(b.emphasis[STRENGTH] == pytest.approx(1.0) for b in found)


def test_the_day_itself_and_what_follows_are_left_out():
    """On a Thursday morning the week has had three days and the work of one session."""
    (block,) = blocks([squats(0, 0, sets=4), squats(0, 3), squats(1)], until=day(0, 3))
    assert (block.start, block.end) == (day(0), day(0, 2))
    assert block.weeks_within(day(-1), day(0, 3)) * block.emphasis[STRENGTH] == pytest.approx(0.4)


def test_a_week_is_worth_no_more_than_an_ordinary_block():
    shares = emphasis_of({STRENGTH: 2.0, RATE: 2.0, Quality.PUSH_OFF_SPEED: 1.0})
    assert sum(shares.values()) == pytest.approx(1 + 3 * UPKEEP)
    assert shares[STRENGTH] == pytest.approx(2 * shares[Quality.PUSH_OFF_SPEED])
    ordinary = {STRENGTH: 1.0} | dict.fromkeys([q for q in TRAINABLE if q is not STRENGTH], UPKEEP)
    assert emphasis_of(ordinary) == pytest.approx(ordinary)
    assert 1.0 < emphasis_of({STRENGTH: 1.8})[STRENGTH] < 1.3


def test_a_planned_programme_raises_the_jump_as_published_ones_did(sound_plan, method):
    """National-level team athletes 0.3 to 0.6, individualised blocks 0.8 to 1.6 % a week
    (Lindberg et al. 2021, Scand J Med Sci Sports, doi 10.1111/sms.14044; Jiménez-Reyes et al.
    2017, Front Physiol 7:677, and 2019, PLoS ONE 14:e0216681): somebody of three years'
    training whom the design's ordinary figures describe (common practice for the rest)."""
    segment = np.array([0.505])
    state = np.log([[11.5, 17.5, 75.0, 0.1, 0.41]])
    now = jump_height_m(Start.COUNTERMOVEMENT, state, segment, 78.0)
    weekly = []
    for block in planned_blocks(sound_plan, method.exercises):
        effect = sum(
            block_effect(state, segment, q, response=1.0, training_years=3.0, dose=share / 6)
            for q, share in block.emphasis.items()
        )
        then = jump_height_m(Start.COUNTERMOVEMENT, state + effect, segment, 78.0)
        weekly += [100 * float(then[0] / now[0] - 1)] * round(
            ((block.end - block.start).days + 1) / 7
        )
    assert 0.3 < np.mean(weekly) < 1.6
    assert max(weekly) < 1.6

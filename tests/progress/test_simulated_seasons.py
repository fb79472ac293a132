import datetime as dt

import numpy as np
import pytest

from saltus.athlete.qualities import Quality
from saltus.progress.change import FALSE_ALARMS
from saltus.progress.simulated_seasons import (
    PlateauOutcome,
    Schedule,
    band_outcome,
    false_alarm_outcome,
    plateau_outcome,
)

ON = dt.date(2026, 11, 1)


def test_bands_hold_about_four_fifths_of_the_truths_of_a_year():
    # A few athletes only: `python -m bench follow` has many.
    found = [band_outcome(np.random.default_rng([1, seed]), ON, draws=600) for seed in range(5)]
    inside = np.mean([side == 0 for each in found for sides in each.values() for side in sides])
    assert 0.68 < inside < 0.92


@pytest.mark.parametrize("trained", [False, True])
def test_an_athlete_who_does_not_change_is_seldom_told_so(trained):
    found = [
        false_alarm_outcome(np.random.default_rng([2, seed]), ON, trained=trained, draws=600)
        for seed in range(3)
    ]
    assert np.mean([alarm for one in found for alarm in one["next"]]) <= FALSE_ALARMS
    assert len(found[0]["next"]) == len(found[0]["first"]) == 13


def test_a_plateau_is_looked_for_until_four_weeks_after_it_began():
    outcome = plateau_outcome(
        np.random.default_rng(5),
        ON,
        Quality.MAX_STRENGTH,
        Schedule(jumps_per_week=1, own_per_week=1.0),
        onset_week=2,
        wander=0.35,
    )
    assert outcome.onset_week == 2
    assert all(3 <= week <= 6 for week in outcome.called_weeks)


def test_most_plateaus_are_found_and_few_are_called_that_are_none():
    # A few athletes only: `python -m bench follow` has many.
    every_session = Schedule(1, 0.0, 3.0, lifts=2, bar_speeds=True)
    found = [
        plateau_outcome(
            np.random.default_rng([3, seed]),
            ON,
            Quality.MAX_STRENGTH,
            every_session,
            onset_week=onset,
            wander=0.35,
            least_gain=0.02,
        )
        for seed, onset in enumerate([4, 5, 6, 7, 8, None, None, None, None, None])
    ]
    assert sum(one.found for one in found) >= 3  # of five
    assert sum(one.false(8) for one in found if one.onset_week is None) <= 1


@pytest.mark.parametrize(
    ("onset", "called", "found", "false"),
    [
        (5, (7,), True, False),
        (5, (5,), False, True),
        (5, (), False, False),
        (None, (7,), False, True),
    ],
)
def test_a_call_is_right_only_after_the_onset(onset, called, found, false):
    outcome = PlateauOutcome(onset, called)
    assert (outcome.found, outcome.false()) == (found, false)

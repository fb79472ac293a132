"""Soreness and pain by place."""

import datetime as dt

from saltus.athlete.health import Pain, PainBand
from saltus.progress.soreness import places_over_time
from saltus.training.log import LoggedSession, Soreness

TODAY = dt.date(2026, 10, 30)


def answered(days_ago, **sore):
    return LoggedSession(
        date=TODAY - dt.timedelta(days=days_ago),
        sleep_hours=8,
        soreness=tuple(Soreness(place.replace("_", " "), level) for place, level in sore.items()),
    )


def pain(days_ago, level, place="left knee", settled=None):
    return Pain(TODAY - dt.timedelta(days=days_ago), place, level, settled)


def test_a_place_that_is_not_named_was_not_sore():
    log = [answered(5, left_calf=6), answered(3), answered(1)]
    (calf,) = places_over_time(log, [], on=TODAY)
    assert calf.lately == 2.0
    assert calf.before is None
    assert [r.soreness for r in calf.reports] == [6]


def test_sessions_without_any_answer_tell_nothing():
    log = [answered(5, left_calf=6), LoggedSession(date=TODAY, minutes=40)]
    (calf,) = places_over_time(log, [], on=TODAY)
    assert calf.lately == 6


def test_sorer_than_usual_is_said():
    log = [answered(d, left_calf=2) for d in (30, 25, 20, 15)]
    log += [answered(d, left_calf=5) for d in (5, 2)]
    (calf,) = places_over_time(log, [], on=TODAY)
    assert "sorer than usual" in calf.text
    assert "5.0" in calf.text
    assert "2.0" in calf.text


def test_the_same_soreness_as_ever_is_not():
    log = [answered(d, left_calf=3) for d in (30, 25, 20, 15, 5, 2)]
    (calf,) = places_over_time(log, [], on=TODAY)
    assert calf.text == ""


def test_pain_goes_by_the_published_bands_and_comes_first():
    """Up to 2 safe, up to 5 acceptable, above it stop: Silbernagel et al. 2007, Am J Sports Med
    35:897-906, after Thomeé 1997."""
    log = [answered(2, right_calf=9)]
    pains = [pain(9, 3), pain(2, 6), pain(2, 4, "lower back")]
    knee, back, calf = places_over_time(log, pains, on=TODAY)
    assert (knee.place, knee.band) == ("left knee", PainBand.STOP)
    assert "qualified" in knee.text
    assert (back.place, back.band) == ("lower back", PainBand.ACCEPTABLE)
    assert "next morning" in back.text
    assert calf.band is None


def test_a_rising_pain_is_told_as_rising():
    (knee,) = places_over_time([], [pain(14, 2), pain(1, 4)], on=TODAY)
    assert "up from 2" in knee.text


def test_one_place_in_any_spelling_and_nothing_of_tomorrow():
    pains = [pain(3, 3, "Left knee"), pain(1, 1, "left  knee"), pain(-1, 8)]
    (knee,) = places_over_time([], pains, on=TODAY)
    assert knee.place == "Left knee"
    assert [r.pain for r in knee.reports] == [3, 1]
    assert knee.text == ""

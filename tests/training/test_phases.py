import datetime as dt
from collections import Counter
from dataclasses import replace
from itertools import groupby, pairwise

import pytest

from saltus.athlete.qualities import Quality
from saltus.training.method import PhaseKind
from saltus.training.phases import DEFAULT_WEEKS, choose_goal, lay_phases
from saltus.training.situation import Priority, TargetDate

MONDAY = dt.date(2026, 1, 5)


def runs(laid):
    return [(phase, len(list(weeks))) for phase, weeks in groupby(week.phase.id for week in laid)]


def test_sixteen_weeks_build_then_peak_then_unload(method):
    laid, said = lay_phases(MONDAY, MONDAY + dt.timedelta(weeks=16, days=-2), method, None)

    assert said == ()
    assert len(laid) == 16
    assert [phase for phase, _ in runs(laid)] == [
        "general_strength",
        "strength_speed",
        "speed_strength",
        "peaking",
        "unloading",
    ]
    lengths = dict(runs(laid))
    assert lengths["peaking"] in method.phase("peaking").weeks
    assert lengths["unloading"] == 2


@pytest.mark.parametrize("weekday", range(7))
def test_the_days_without_jumps_fit_before_a_test_on_any_weekday(method, weekday):
    goal = MONDAY + dt.timedelta(weeks=12, days=weekday)

    laid, _ = lay_phases(MONDAY, goal, method, None)

    unloading = [w for w in laid if w.phase.kind is PhaseKind.UNLOADING]
    assert (goal - unloading[0].start).days in method.unloading.no_jump_days
    assert unloading[-1].start <= goal < unloading[-1].start + dt.timedelta(days=7)


def test_every_fourth_week_of_building_and_peaking_is_lighter(method):
    laid, _ = lay_phases(MONDAY, MONDAY + dt.timedelta(weeks=20), method, None)

    lighter = [i for i, week in enumerate(laid) if week.back_off]
    assert lighter == [3, 7, 11, 15]


def test_a_lighter_week_ends_a_building_phase_rather_than_begins_one(method):
    laid, _ = lay_phases(MONDAY, MONDAY + dt.timedelta(weeks=16, days=-2), method, None)

    building = [w for w in laid if w.phase.kind is PhaseKind.BUILDING]
    firsts = [w for before, w in pairwise(building) if before.phase is not w.phase]
    assert firsts
    assert not any(week.back_off for week in firsts)


@pytest.mark.parametrize(
    ("limiting", "longest"),
    [
        (Quality.MAX_STRENGTH, "general_strength"),
        (Quality.RATE_OF_FORCE_DEVELOPMENT, "strength_speed"),
        (Quality.PUSH_OFF_SPEED, "speed_strength"),
    ],
)
def test_the_limiting_quality_gets_the_longest_building_phase(method, limiting, longest):
    laid, _ = lay_phases(MONDAY, MONDAY + dt.timedelta(weeks=24), method, limiting)

    weeks = Counter(w.phase.id for w in laid if w.phase.kind is PhaseKind.BUILDING)
    assert weeks.most_common(1)[0][0] == longest


def test_without_time_for_the_block_it_says_how_much_would_make_room(method):
    laid, said = lay_phases(MONDAY, MONDAY + dt.timedelta(weeks=6, days=-2), method, None)

    assert "peaking" not in dict(runs(laid))
    ((name, text),) = said
    assert name == "peaking"
    assert "2 weeks later" in text


def test_a_test_next_week_leaves_only_the_unloading_and_says_so(method):
    laid, said = lay_phases(MONDAY, MONDAY + dt.timedelta(days=9), method, None)

    assert [week.phase.id for week in laid] == ["unloading", "unloading"]
    assert "all of it unloads" in said[0][1]


def test_a_year_runs_through_the_building_phases_in_cycles(method):
    shorter = tuple(
        replace(phase, weeks=replace(phase.weeks, high=6))
        if phase.kind is PhaseKind.BUILDING
        else phase
        for phase in method.phases
    )
    laid, _ = lay_phases(
        MONDAY, MONDAY + dt.timedelta(weeks=40), replace(method, phases=shorter), None
    )

    assert [phase for phase, _ in runs(laid)].count("general_strength") == 2
    assert all(n <= 6 for _, n in runs(laid))


def test_the_first_main_date_is_the_goal_and_the_others_are_told(situation):
    later = TargetDate(dt.date(2026, 6, 1))
    second = TargetDate(dt.date(2026, 2, 1), Priority.SECOND)

    goal, said = choose_goal(replace(situation, targets=(later, second, *situation.targets)))

    assert goal == situation.targets[0]
    assert "2026-06-01" in said[0]


def test_a_date_in_the_past_is_explained_and_a_test_is_assumed(situation):
    past = TargetDate(dt.date(2025, 11, 1))

    goal, said = choose_goal(replace(situation, targets=(past,)))

    assert goal.date == situation.start + dt.timedelta(weeks=DEFAULT_WEEKS, days=-2)
    assert "2025-11-01 lies before the start" in " ".join(said)


def test_a_date_years_away_is_planned_for_one_year(situation):
    goal, said = choose_goal(replace(situation, targets=(TargetDate(dt.date(2029, 1, 1)),)))

    assert (goal.date - situation.start).days == 364
    assert "52 weeks" in said[0]

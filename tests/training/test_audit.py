"""Each rule gets a plan that breaks just it."""

import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.health import Pain, Restriction
from saltus.athlete.observations import Lift
from saltus.athlete.person import BodyMass
from saltus.athlete.qualities import Quality
from saltus.quantities import Estimate
from saltus.training.audit import audit
from saltus.training.plan import Session, Why
from saltus.training.situation import Event, EventKind, Priority, TargetDate, Weekday

DAY = dt.timedelta(days=1)
MON, THU = 0, 1
BUILDING, STRENGTH_SPEED, LIGHTER, SPEED, PEAK, UNLOAD, LAST = 0, 2, 3, 4, 6, 10, 11


@pytest.fixture
def broken(method, situation, adult, strong):
    """Rules that a plan breaks, and what is said of them."""

    def check(plan, *, situation=situation, person=adult, assessment=strong, method=method):
        breaches = audit(plan, method, situation, person, assessment)
        return {b.rule for b in breaches}, " ".join(str(b) for b in breaches)

    return check


def test_a_sound_plan_keeps_every_rule(sound_plan, broken):
    assert broken(sound_plan) == (set(), "")


# --- The calendar ---------------------------------------------------------------------------


def test_weeks_must_not_be_left_out(sound_plan, broken):
    plan = replace(sound_plan, weeks=sound_plan.weeks[:10] + sound_plan.weeks[11:])
    rules, said = broken(plan)
    assert rules == {"calendar"}
    assert "left out" in said


def test_the_first_week_must_hold_the_start(sound_plan, broken, situation):
    plan = replace(sound_plan, start=sound_plan.start - 7 * DAY)
    rules, said = broken(plan)
    assert "calendar" in rules
    assert "does not hold the start" in said


def test_two_sessions_on_a_day(sound_plan, broken, edit):
    plan = edit.session(sound_plan, LAST, MON, date=sound_plan.weeks[LAST].start)
    twice = plan.weeks[LAST].sessions[0]
    plan = edit.week(plan, LAST, sessions=(twice, twice))
    rules, said = broken(plan)
    assert "two on a day" in said
    assert "calendar" in rules


def test_an_exercise_that_does_not_exist(sound_plan, broken, edit):
    plan = edit.item(sound_plan, BUILDING, MON, "landing_practice", exercise="flying")
    rules, said = broken(plan)
    assert "calendar" in rules
    assert 'no exercise "flying"' in said


def test_a_day_without_time(sound_plan, broken, situation):
    only = {day: m for day, m in situation.minutes.items() if day is not Weekday.THU}
    rules, said = broken(sound_plan, situation=replace(situation, minutes=only))
    assert rules == {"days"}
    assert "no time is set aside" in said


def test_a_session_longer_than_the_day_allows(sound_plan, broken, situation):
    rules, said = broken(
        sound_plan, situation=replace(situation, minutes={**situation.minutes, Weekday.THU: 40})
    )
    assert rules == {"days"}
    assert "there are 40" in said


def test_a_blocked_day(sound_plan, broken, situation):
    blocked = frozenset({sound_plan.weeks[STRENGTH_SPEED].start})
    rules, said = broken(sound_plan, situation=replace(situation, blocked=blocked))
    assert rules == {"days"}
    assert "blocked" in said


def test_a_session_before_the_start(sound_plan, broken):
    plan = replace(sound_plan, start=sound_plan.start + DAY)
    rules, said = broken(plan)
    assert rules == {"days"}
    assert "before the start" in said


def test_too_many_working_sets_in_a_session(sound_plan, broken, method):
    tight = replace(method, week=replace(method.week, sets=9))
    rules, said = broken(sound_plan, method=tight)
    assert rules == {method.week.rule}
    assert "10 working sets; at most 9" in said


def test_too_many_exercises_in_a_session(sound_plan, broken, method):
    tight = replace(method, week=replace(method.week, items=replace(method.week.items, high=4)))
    rules, said = broken(sound_plan, method=tight)
    assert rules == {method.week.rule}
    assert "5 exercises" in said


def test_a_session_too_short_to_be_worth_the_way(sound_plan, broken, method):
    long = replace(method, week=replace(method.week, shortest_min=25))
    rules, said = broken(sound_plan, method=long)
    assert rules == {method.week.rule}
    assert "worth the way" in said


def test_a_session_without_a_warm_up(sound_plan, broken, edit):
    plan = edit.session(sound_plan, SPEED, MON, items=lambda items: items[1:])
    rules, said = broken(plan)
    assert rules == {"warm_up"}
    assert "begin with a warm-up" in said


def test_too_many_sessions_in_a_week(sound_plan, broken, method):
    few = replace(method, week=replace(method.week, sessions=replace(method.week.sessions, high=1)))
    rules, said = broken(sound_plan, method=few)
    assert rules == {method.week.rule}
    assert "2 sessions; at most 1" in said


# --- Tests and matches ---------------------------------------------------------------------


@pytest.mark.parametrize(("days", "rules"), [(1, {"unloading"}), (2, {"unloading"}), (3, set())])
def test_rest_before_the_test(sound_plan, broken, edit, situation, days, rules):
    free = replace(situation, minutes=dict.fromkeys(Weekday, 90))
    plan = edit.session(sound_plan, LAST, MON, date=sound_plan.goal_date - days * DAY)
    found, said = broken(plan, situation=free)
    assert found == rules
    assert (f"{days} days before the test" in said) is bool(rules)


def test_no_session_on_a_test_day(sound_plan, broken, situation):
    trial = TargetDate(sound_plan.weeks[SPEED].start, Priority.TRIAL)
    rules, said = broken(
        sound_plan, situation=replace(situation, targets=(*situation.targets, trial))
    )
    assert rules == {"days"}
    assert "day of a test" in said


def test_a_second_test_keeps_the_last_days_easy(sound_plan, broken, situation):
    wednesday = sound_plan.weeks[SPEED].start + 2 * DAY
    second = TargetDate(wednesday, Priority.SECOND)
    rules, said = broken(
        sound_plan, situation=replace(situation, targets=(*situation.targets, second))
    )
    assert rules == {"second_test"}
    assert "jumps 2 days before" in said


def test_no_jumps_in_the_days_before_the_test(
    sound_plan, broken, make_item, method, edit, situation
):
    phases = [method.phase(week.phase) for week in sound_plan.weeks[: SPEED + 1]]
    jump = make_item("box_jump", 2, 3, phases, sound_plan.goal_date - 5 * DAY)
    plan = edit.session(sound_plan, LAST, MON, items=lambda items: (*items, jump))
    _, said = broken(plan)
    assert "jumps 5 days before the test" in said
    assert "jumps in the unloading" in said


def test_the_unloading_has_no_jumps_in_any_of_its_days(sound_plan, broken, make_item, method, edit):
    phases = [method.phase(week.phase) for week in sound_plan.weeks[: SPEED + 1]]
    jump = make_item("box_jump", 2, 3, phases, sound_plan.goal_date - 12 * DAY)
    plan = edit.session(sound_plan, UNLOAD, MON, items=lambda items: (*items, jump))
    _, said = broken(plan)
    assert "jumps in the unloading" in said
    assert "days before the test" not in said


def test_heavy_legs_stay_clear_of_a_match(sound_plan, broken, situation):
    match = Event(sound_plan.weeks[UNLOAD].start + DAY, EventKind.MATCH)
    rules, said = broken(sound_plan, situation=replace(situation, events=(match,)))
    assert rules == {"match_gap"}
    assert "heavy_legs too near the match" in said


def test_depth_jumps_stay_two_days_clear_of_a_match(sound_plan, broken, situation):
    match = Event(sound_plan.weeks[PEAK].start + 2 * DAY, EventKind.MATCH)
    rules, said = broken(sound_plan, situation=replace(situation, events=(match,)))
    assert rules == {"match_gap"}
    assert "depth_jump too near the match" in said


# --- Spacing and numbers ----------------------------------------------------------------------


def test_two_heavy_days_in_a_row(sound_plan, broken, edit):
    tuesday = sound_plan.weeks[UNLOAD].start + DAY
    rules, said = broken(edit.session(sound_plan, UNLOAD, THU, date=tuesday))
    assert rules == {"spacing_strength"}
    assert "squat 1 days after" in said


def test_landings_too_close(sound_plan, broken, method):
    far = tuple(replace(s, days=4) if s.family == "landing" else s for s in method.spacings)
    rules, said = broken(sound_plan, method=replace(method, spacings=far))
    assert rules == {"spacing_landings"}
    assert "landing 3 days after" in said


def test_depth_jumps_too_close(sound_plan, broken, method):
    far = tuple(replace(s, days=4) if s.family == "depth_jump" else s for s in method.spacings)
    rules, _ = broken(sound_plan, method=replace(method, spacings=far))
    assert rules == {"spacing_depth_jumps"}


def test_minors_keep_the_longer_spacing(sound_plan, broken, method, adult, situation):
    young = replace(adult, born=dt.date(2009, 1, 1))
    slow = tuple(replace(s, days_minors=4) if s.family == "squat" else s for s in method.spacings)
    rules, _ = broken(sound_plan, method=replace(method, spacings=slow), person=young)
    assert "spacing_strength" in rules
    rules, _ = broken(sound_plan, method=replace(method, spacings=slow))
    assert rules == set()


def test_spacing_looks_back_before_the_plan(sound_plan, method, situation, adult, strong):
    week = sound_plan.weeks[BUILDING]
    sunday = Session(week.start - DAY, week.sessions[0].items)
    earlier = replace(week, start=week.start - 7 * DAY, sessions=(sunday,))
    breaches = audit(sound_plan, method, situation, adult, strong, earlier=(earlier,))
    assert {b.where for b in breaches if b.rule == "spacing_strength"} == {"2026-01-05"}


def test_a_family_on_too_many_days(sound_plan, broken, method):
    phases = tuple(
        replace(p, uses=tuple(_once(u) if u.family == "depth_jump" else u for u in p.uses))
        for p in method.phases
    )
    rules, said = broken(sound_plan, method=replace(method, phases=phases))
    assert rules == {"depth_jump_block"}
    assert "depth_jump on 2 days" in said


def _once(use):
    return replace(use, per_week=replace(use.per_week, low=1, high=1))


def test_an_exercise_on_more_days_than_its_own_range(sound_plan, broken, method):
    squat = method.exercises["back_squat"]
    rare = replace(squat, per_week=replace(squat.per_week, high=1))
    rules, said = broken(
        sound_plan, method=replace(method, exercises={**method.exercises, "back_squat": rare})
    )
    assert rules == {"ranges"}
    assert "back squat on 2 days; at most 1" in said


def test_a_missed_minimum_must_be_said(sound_plan, broken, edit):
    plan = edit.session(
        sound_plan,
        PEAK,
        MON,
        items=lambda items: tuple(i for i in items if i.exercise != "power_clean"),
    )
    rules, said = broken(plan)
    assert rules == {"weightlifting_threes"}
    assert "nothing is said" in said
    told = replace(
        plan, unmet=("No time for the clean.",), unmet_rules=frozenset({"weightlifting"})
    )
    assert broken(told) == (set(), "")


def test_rules_named_as_unmet_need_words(sound_plan, broken):
    rules, _ = broken(replace(sound_plan, unmet_rules=frozenset({"squat"})))
    assert rules == {"unmet"}


# --- Items ------------------------------------------------------------------------------------


def test_sets_out_of_the_phase(sound_plan, broken, edit, method):
    item = _item(sound_plan, BUILDING, MON, "back_squat")
    exercise = method.exercises["back_squat"]
    plan = edit.item(
        sound_plan, BUILDING, MON, "back_squat", sets=6, minutes=exercise.minutes(6, item.reps)
    )
    rules, said = broken(plan)
    assert rules == {"squat_all_year"}
    assert "6 sets of squat; 3 to 5" in said


def test_sets_out_of_the_exercise(sound_plan, broken, edit, method):
    exercise = method.exercises["landing_practice"]
    plan = edit.item(
        sound_plan,
        BUILDING,
        MON,
        "landing_practice",
        sets=4,
        minutes=exercise.minutes(4, 4),
        landings=exercise.landings(4, 4),
        landing_load=exercise.landing_load(4, 4),
    )
    rules, _ = broken(plan)
    assert rules == {"ranges", "landing_practice"}


def test_repetitions_out_of_the_phase(sound_plan, broken, edit, method):
    exercise = method.exercises["power_clean"]
    plan = edit.item(sound_plan, SPEED, MON, "power_clean", reps=2, minutes=exercise.minutes(3, 2))
    rules, said = broken(plan)
    assert rules == {"weightlifting_threes"}
    assert "2 repetitions; 3 in this phase" in said


def test_repetitions_out_of_the_exercise(sound_plan, broken, edit, method):
    exercise = method.exercises["back_squat"]
    plan = edit.item(
        sound_plan, BUILDING, MON, "back_squat", reps=9, minutes=exercise.minutes(3, 9)
    )
    rules, _ = broken(plan)
    assert "ranges" in rules


def test_an_exercise_that_the_phase_does_not_use(sound_plan, broken, make_item, method, edit):
    phases = [method.phase(week.phase) for week in sound_plan.weeks[: SPEED + 1]]
    extra = make_item("countermovement_jump", 2, 3, phases, sound_plan.start)
    plan = edit.session(sound_plan, STRENGTH_SPEED, MON, items=lambda items: (*items, extra))
    rules, _ = broken(plan)
    assert rules == {"phases"}


def test_an_exercise_that_stands_twice(sound_plan, broken, edit):
    plan = edit.session(sound_plan, UNLOAD, MON, items=lambda items: (*items, items[0]))
    rules, said = broken(plan)
    assert rules == {"week", "warm_up"}
    assert "warm_up stands twice" in said


def test_a_reason_must_name_a_rule(sound_plan, broken, edit):
    plan = edit.item(sound_plan, SPEED, MON, "box_jump", why=Why("whim", None, "Just so."))
    assert broken(plan)[0] == {"reasons"}
    plan = edit.item(sound_plan, SPEED, MON, "box_jump", why=Why("box_jumps", None, " "))
    assert broken(plan)[0] == {"reasons"}


@pytest.mark.parametrize(
    "changes", [{"minutes": 2.0}, {"landings": 1.0}, {"landing_load": 1.0}, {"rest_s": 20.0}]
)
def test_costs_are_told_as_they_are(sound_plan, broken, edit, changes):
    plan = edit.item(sound_plan, SPEED, MON, "box_jump", **changes)
    assert broken(plan)[0] == {"costs"}


# --- Loads ------------------------------------------------------------------------------------


def _item(plan, week, day, name):
    return next(i for i in plan.weeks[week].sessions[day].items if i.exercise == name)


def _loaded(edit, plan, week, name, load, maximum):
    return edit.item(plan, week, MON, name, load_kg=load, percent=100 * load / maximum)


def test_a_load_that_these_plates_cannot_make(sound_plan, broken, edit):
    rules, said = broken(_loaded(edit, sound_plan, SPEED, "back_squat", 86.1, 120))
    assert rules == {"loads"}
    assert "86.1 kg cannot be put together" in said


def test_plates_are_counted_in_pairs(sound_plan, broken, situation):
    gym = replace(situation.gym, plates_kg={**situation.gym.plates_kg, 1.25: 1, 2.5: 1})
    rules, said = broken(sound_plan, situation=replace(situation, gym=gym))
    assert rules == {"loads"}
    assert "cannot be put together" in said


def test_a_load_above_the_range_of_the_phase(sound_plan, broken, edit):
    rules, said = broken(_loaded(edit, sound_plan, PEAK, "power_clean", 65.0, 75))
    assert "weightlifting_threes" in rules
    assert "65 kg is above 85.0 % of the estimate" in said


def test_a_load_that_crept_too_fast(sound_plan, broken, edit):
    rules, said = broken(_loaded(edit, sound_plan, STRENGTH_SPEED, "power_clean", 57.5, 75))
    assert rules == {"weightlifting_threes"}
    assert "crept up to" in said


def test_the_first_weeks_stay_on_the_careful_side(sound_plan, broken, edit):
    assert _item(sound_plan, BUILDING, MON, "back_squat").load_kg == 72.5
    rules, said = broken(_loaded(edit, sound_plan, BUILDING, "back_squat", 77.5, 120))
    assert rules == {"careful_start"}
    assert "careful side of the estimate" in said


def test_no_set_goes_to_its_last_repetition(sound_plan, broken, edit, method):
    steep = tuple(replace(p, step_points=20.0) for p in method.progressions)
    plan = _loaded(edit, sound_plan, STRENGTH_SPEED, "back_squat", 105.0, 120)
    rules, said = broken(plan, method=replace(method, progressions=steep))
    assert rules == {"careful_start"}
    assert "repetitions in reserve" in said


def test_a_load_too_light_to_be_the_exercise(sound_plan, broken, edit):
    rules, said = broken(_loaded(edit, sound_plan, STRENGTH_SPEED, "back_squat", 60.0, 120))
    assert rules == {"squat_all_year"}
    assert "too light" in said


def test_a_load_left_out(sound_plan, broken, edit):
    plan = edit.item(sound_plan, SPEED, MON, "back_squat", load_kg=None)
    assert broken(plan)[0] == {"loads"}


def test_a_load_on_what_takes_none(sound_plan, broken, edit):
    plan = edit.item(sound_plan, SPEED, MON, "box_jump", load_kg=10.0)
    assert broken(plan)[0] == {"loads"}


def test_per_cents_are_told_as_they_are(sound_plan, broken, edit):
    assert broken(edit.item(sound_plan, SPEED, MON, "back_squat", percent=50.0))[0] == {"loads"}
    plan = edit.item(sound_plan, SPEED, MON, "back_squat", percent_of="body_mass")
    assert broken(plan)[0] == {"loads"}


def test_a_load_from_nothing_known(sound_plan, broken, strong):
    unknown = replace(strong, maxima_kg={Lift.POWER_CLEAN: Estimate.normal(75.0, 5.0)})
    rules, said = broken(sound_plan, assessment=unknown)
    assert "loads" in rules
    assert "nothing is known" in said


# --- Heights, equipment, gates ------------------------------------------------------------------


def test_a_box_that_is_not_here(sound_plan, broken, edit):
    rules, said = broken(edit.item(sound_plan, SPEED, MON, "box_jump", box_m=0.40))
    assert rules == {"heights"}
    assert "no box of 40 cm" in said


def test_a_box_too_high_to_be_cleared_every_time(sound_plan, broken, edit):
    rules, said = broken(edit.item(sound_plan, SPEED, MON, "box_jump", box_m=0.60))
    assert rules == {"heights"}
    assert "clears" in said


def test_a_drop_higher_than_the_start(sound_plan, broken, edit, method):
    exercise = method.exercises["depth_jump"]
    load = exercise.landing_load(2, 4, 0.45)
    plan = edit.item(sound_plan, PEAK, MON, "depth_jump", drop_m=0.45, landing_load=load)
    assert broken(plan)[0] == {"heights"}


def test_a_heavy_athlete_does_not_drop_from_high(sound_plan, broken, edit, method, strong, adult):
    exercise = method.exercises["depth_jump"]
    heavy = replace(
        strong,
        mass_kg=105.0,
        best_drop_m=Estimate.normal(0.60, 0.0),
        maxima_kg={**strong.maxima_kg, Lift.BACK_SQUAT: Estimate.normal(160.0, 5.0)},
    )
    person = replace(adult, body_masses=(BodyMass(dt.date(2026, 1, 1), 105.0),))
    load = exercise.landing_load(2, 4, 0.60)
    plan = edit.item(sound_plan, PEAK, MON, "depth_jump", drop_m=0.60, landing_load=load)
    _, said = broken(plan, assessment=heavy, person=person)
    assert "above the 46 cm for this body" in said


def test_a_height_left_out_or_in_the_wrong_place(sound_plan, broken, edit):
    assert broken(edit.item(sound_plan, SPEED, MON, "box_jump", box_m=None))[0] == {"heights"}
    plan = edit.item(sound_plan, SPEED, MON, "back_squat", box_m=0.3)
    assert broken(plan)[0] == {"heights"}


def test_equipment_that_is_not_there(sound_plan, broken, situation):
    gym = replace(situation.gym, equipment=situation.gym.equipment - {"rack"})
    rules, said = broken(sound_plan, situation=replace(situation, gym=gym))
    assert rules == {"equipment"}
    assert "no rack" in said


def test_depth_jumps_need_landing_practice_that_really_took_place(sound_plan, broken, situation):
    # Two weeks before the plan and five in it are not enough, had one of them no landings.
    short = replace(situation, landing_practice_weeks=0.0)
    assert broken(sound_plan, situation=short)[0] == set()
    sessions = tuple(
        replace(s, items=tuple(i for i in s.items if i.exercise != "landing_practice"))
        for s in sound_plan.weeks[1].sessions
    )
    weeks = list(sound_plan.weeks)
    weeks[1] = replace(weeks[1], sessions=sessions)
    plan = replace(
        sound_plan,
        weeks=tuple(weeks),
        unmet=("Landing practice left out.",),
        unmet_rules=frozenset({"landing_practice"}),
    )
    rules, said = broken(plan, situation=short)
    assert rules == {"gates: landing_practice"}
    assert "by then there are 5" in said


def test_a_pain_closes_what_it_should(sound_plan, broken, situation):
    pain = Pain(sound_plan.start, "left knee", 4)
    rules, said = broken(sound_plan, situation=replace(situation, pains=(pain,)))
    assert rules == {"gates: pain"}
    assert "depth jump" in said
    assert "back squat" not in said


def test_a_restriction_is_kept(sound_plan, broken, situation):
    restriction = Restriction("jumping", sound_plan.start)
    rules, said = broken(sound_plan, situation=replace(situation, restrictions=(restriction,)))
    assert rules == {"gates: restriction"}
    assert "box jump" in said


def test_a_weak_squat_closes_depth_jumps(sound_plan, broken, strong):
    heavier = replace(strong, mass_kg=85.0)
    rules, _ = broken(sound_plan, assessment=heavier)
    assert rules == {"gates: strength"}


def test_a_hard_floor_closes_depth_jumps(sound_plan, broken, situation):
    rules, _ = broken(sound_plan, situation=replace(situation, soft_surface=False))
    assert rules == {"gates: surface"}


# --- Phases and weeks ---------------------------------------------------------------------------


def test_depth_jumps_only_in_their_block(sound_plan, broken, make_item, method, edit, situation):
    phases = [method.phase(week.phase) for week in sound_plan.weeks[: PEAK + 1]]
    jump = make_item("depth_jump", 2, 4, phases, sound_plan.start)
    plan = edit.session(sound_plan, SPEED, MON, items=lambda items: (items[0], jump, *items[1:]))
    practised = replace(situation, landing_practice_weeks=8.0)
    rules, said = broken(plan, situation=practised)
    assert rules == {"depth_jump_block", "phases"}
    assert "only in the block before the test" in said


def test_the_block_has_its_length(sound_plan, broken, method):
    longer = tuple(
        replace(p, weeks=replace(p.weeks, low=5)) if p.id == "peaking" else p for p in method.phases
    )
    rules, said = broken(sound_plan, method=replace(method, phases=longer))
    assert rules == {"depth_jump_block"}
    assert "4 weeks only" in said
    shorter = tuple(
        replace(p, weeks=replace(p.weeks, low=1, high=3)) if p.id == "peaking" else p
        for p in method.phases
    )
    assert broken(sound_plan, method=replace(method, phases=shorter))[0] == {"depth_jump_block"}


def test_phases_stand_in_their_order(sound_plan, broken):
    weeks = list(sound_plan.weeks)
    weeks[8] = replace(weeks[8], phase="unloading")
    rules, said = broken(replace(sound_plan, weeks=tuple(weeks)))
    assert "phases" in rules
    assert "out of order" in said


def test_the_last_week_unloads(sound_plan, broken, edit):
    plan = edit.week(sound_plan, LAST, phase="peaking")
    _, said = broken(plan)
    assert "the last week does not unload" in said


def test_the_limiting_quality_gets_its_share_of_the_weeks(sound_plan, broken, method, strong):
    limited = replace(strong, limiting=replace(strong.limiting, quality=Quality.MAX_STRENGTH))
    assert broken(sound_plan, assessment=limited)[0] == set()
    most = {"general_strength": 0.9, "strength_speed": 0.05, "speed_strength": 0.05}
    emphases = tuple(replace(e, shares=most) for e in method.emphases)
    rules, said = broken(sound_plan, method=replace(method, emphases=emphases))
    assert rules == {"emphasis"}
    assert "general strength for 2 of 6 weeks of building" in said
    # The rest of a plan that was begun earlier has fewer weeks of the early phases.
    later = replace(sound_plan, counted_from=sound_plan.start - 7 * 4 * DAY)
    assert "emphasis" not in broken(later, method=replace(method, emphases=emphases))[0]


def test_an_unknown_phase(sound_plan, broken, edit):
    _, said = broken(edit.week(sound_plan, BUILDING, phase="holiday"))
    assert 'no phase "holiday"' in said


def test_lighter_weeks_come_in_turn(sound_plan, broken, edit):
    rules, said = broken(edit.week(sound_plan, SPEED, back_off=True))
    assert "back_off" in rules
    assert "out of turn" in said
    _, said = broken(edit.week(sound_plan, LIGHTER, back_off=False))
    assert "should be a lighter one" in said


def test_a_lighter_week_holds_fewer_sets(sound_plan, broken, edit, method):
    tight = replace(method, back_off=replace(method.back_off, sets_share=0.5))
    rules, said = broken(sound_plan, method=tight)
    assert rules == {"back_off"}
    assert "at most 50%" in said


def test_the_unloading_holds_about_half_the_sets(sound_plan, broken, method):
    span = replace(method.unloading.sets_share, high=0.41)
    tight = replace(method, unloading=replace(method.unloading, sets_share=span))
    rules, said = broken(sound_plan, method=tight)
    assert rules == {"unloading"}
    assert "at most 41%" in said


# --- Landings -----------------------------------------------------------------------------------


def _budget(method, **changes):
    return replace(method, budgets=tuple(replace(b, **changes) for b in method.budgets))


def test_landings_of_a_day(sound_plan, broken, method):
    rules, said = broken(sound_plan, method=_budget(method, per_session=14.0))
    assert rules == {"landing_budget"}
    assert "14 a day" in said


def test_landings_of_a_week(sound_plan, broken, method):
    rules, said = broken(sound_plan, method=_budget(method, per_week=29.0))
    assert rules == {"landing_budget"}
    assert "29 a week" in said


def test_sport_uses_the_budget_up_first(sound_plan, broken, situation):
    practices = tuple(
        Event(week.start + n * DAY, EventKind.PRACTICE, landings=400.0)
        for week in sound_plan.weeks[PEAK : PEAK + 1]
        for n in (1, 4)
    )
    rules, said = broken(sound_plan, situation=replace(situation, events=practices))
    assert rules == {"landing_budget"}
    assert "on top of 400 from sport" in said


def test_landings_rise_slowly(sound_plan, broken, method):
    rules, said = broken(sound_plan, method=_slow(_budget(method, first_week=20.0)))
    assert rules == {"landing_steps"}
    assert "after the weeks before" in said


def _slow(method):
    return replace(method, landing_steps=replace(method.landing_steps, step=0.1, allowance=1.0))

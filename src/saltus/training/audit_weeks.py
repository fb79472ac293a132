"""Checks of a finished plan, week by week: phases, minima, landings, lighter weeks."""

from collections.abc import Iterator
from itertools import groupby

from saltus.training.audit_case import LANDING, Breach, Case
from saltus.training.landings import budget_for
from saltus.training.method import Phase, PhaseKind
from saltus.training.plan import Week

__all__ = [
    "check_emphasis",
    "check_landings",
    "check_lighter",
    "check_minima",
    "check_often",
    "check_phases",
]

_LANDING = 0.05
_EMPHASIS_WEEKS = 2.0
"""Weeks that rounding, and the shortest length of phases, may shift."""
_SET = 1e-9


def check_phases(case: Case) -> Iterator[Breach]:
    """Phases stand in their order and lengths; depth jumps only in their block."""
    known = []
    for week in case.plan.weeks:
        phase = case.phase(week)
        if phase is None:
            yield Breach("phases", week.start.isoformat(), f'there is no phase "{week.phase}".')
        else:
            known.append((week, phase))
    kinds = list(PhaseKind)
    order = [kinds.index(phase.kind) for _, phase in known]
    if order != sorted(order):
        where = case.plan.start.isoformat()
        yield Breach("phases", where, "building, peaking and unloading stand out of order.")
    if known and known[-1][1].kind is not PhaseKind.UNLOADING:
        where = known[-1][0].start.isoformat()
        yield Breach(case.method.unloading.rule, where, "the last week does not unload.")
    for _, group in groupby(known, key=lambda pair: pair[1].id):
        yield from _length(case, list(group))
    peaking = [p for p in case.method.phases if p.kind is PhaseKind.PEAKING]
    kept = {use.family for p in peaking for use in p.uses} - {
        use.family for p in case.method.phases if p not in peaking for use in p.uses
    }
    for placed in case.placed:
        phase = case.phase(placed.week)
        for family in sorted(kept & placed.exercise.families):
            if phase is not None and phase.kind is not PhaseKind.PEAKING:
                what = f"{family.replace('_', ' ')}s stand only in the block before the test."
                yield Breach(peaking[0].rule, placed.where, what)


def check_emphasis(case: Case) -> Iterator[Breach]:
    """The weeks of building are shared out by the limiting quality, to within two weeks.

    Only where every building phase has a place, and not in the rest of an earlier plan.
    """
    building = [p for p in case.method.phases if p.kind is PhaseKind.BUILDING]
    ids = [week.phase for week in case.plan.weeks]
    total = sum(ids.count(phase.id) for phase in building)
    follows_on = case.plan.counted_from not in (None, case.plan.start)
    if follows_on or any(phase.id not in ids for phase in building):
        return
    emphasis = case.method.emphasis(case.assessment.limiting.quality)
    for phase in building:
        number, share = ids.count(phase.id), emphasis.shares.get(phase.id, 0.0)
        wanted = min(max(share * total, phase.weeks.low), phase.weeks.high)
        if abs(number - wanted) > _EMPHASIS_WEEKS and emphasis.rule not in case.plan.unmet_rules:
            what = (
                f"{phase.name} for {number} of {total} weeks of building; {share:.0%} are wanted."
            )
            yield Breach(emphasis.rule, case.plan.start.isoformat(), what)


def _length(case: Case, run: list[tuple[Week, Phase]]) -> Iterator[Breach]:
    phase, where = run[0][1], run[0][0].start.isoformat()
    begun = run[0][0] is case.plan.weeks[0]
    if len(run) > phase.weeks.high:
        what = f"{phase.name} for {len(run)} weeks; {phase.weeks} are its range."
        yield Breach(phase.rule, where, what)
    said = bool({phase.rule, phase.id} & case.plan.unmet_rules)
    if len(run) < phase.weeks.low and not begun and not said:
        what = f"{phase.name} for {len(run)} weeks only; {phase.weeks} are its range."
        yield Breach(phase.rule, where, what)


def check_often(case: Case) -> Iterator[Breach]:
    """No family, exercise or session more often in a week than allowed."""
    for week in case.plan.weeks:
        where, phase = f"week of {week.start.isoformat()}", case.phase(week)
        if len(week.sessions) > case.method.week.sessions.high:
            what = f"{len(week.sessions)} sessions; at most {case.method.week.sessions.high}."
            yield Breach(case.method.week.rule, where, what)
        placed = case.in_week(week)
        new = {p.exercise.id for p in placed if case.is_new(p)}
        for name in sorted(new):
            days = sum(p.exercise.id == name for p in placed)
            most = case.method.exercises[name].per_week.high
            if days > most:
                what = f"{case.method.exercises[name].name} on {days} days; at most {most}."
                yield Breach("ranges", where, what)
        for use in phase.uses if phase is not None else ():
            mine = [p for p in placed if phase is not None and phase.use_of(p.exercise) is use]
            days = len({p.session.date for p in mine})
            if days > use.per_week.high and any(case.is_new(p) for p in mine):
                what = f"{use.family} on {days} days; {use.per_week} in this phase."
                yield Breach(use.rule, where, what)


def check_minima(case: Case) -> Iterator[Breach]:
    """What is asked for and not given is said, never dropped in silence."""
    said = case.plan.unmet_rules
    for week in case.plan.weeks:
        phase = case.phase(week)
        if phase is None or not case.whole(week):
            continue
        where = f"week of {week.start.isoformat()}"
        shape = case.method.week
        if len(week.sessions) < shape.sessions.low and shape.rule not in said:
            what = (
                f"{len(week.sessions)} sessions; at least {shape.sessions.low}, and nothing said."
            )
            yield Breach(shape.rule, where, what)
        placed = case.in_week(week)
        for use in phase.uses:
            days = len({p.session.date for p in placed if phase.use_of(p.exercise) is use})
            low = case.asked(use, week).per_week.low
            if days < low and not {use.rule, use.family} & said:
                what = (
                    f"{use.family} on {days} days; at least {low} are asked for, "
                    "and nothing is said about it."
                )
                yield Breach(use.rule, where, what)
    if said and not case.plan.unmet:
        where = case.plan.start.isoformat()
        yield Breach("unmet", where, "rules are named as unmet, and nothing is said about them.")


def check_landings(case: Case) -> Iterator[Breach]:
    """Landings stay within the budget of the day and the week, and rise slowly."""
    plan, steps = case.plan, case.method.landing_steps
    budget = budget_for(case.method, case.person, case.assessment.mass_kg, plan.start)
    for session in plan.sessions:
        sport = case.sport(session.date, session.date)
        mine = session.landing_load
        if (
            session.date >= plan.start
            and mine > _LANDING
            and mine + sport > (budget.per_session + _LANDING)
        ):
            what = (
                f"landings that count {mine:.0f} on top of {sport:.0f} from sport; "
                f"{budget.per_session:.0f} a day are this athlete's budget."
            )
            yield Breach(budget.rule, session.date.isoformat(), what)
    before = [
        sum(s.landing_load for s in week.sessions) + case.sport(week.start, week.end)
        for week in case.earlier
    ]
    for week in plan.weeks:
        mine = sum(session.landing_load for session in week.sessions)
        sport = case.sport(week.start, week.end)
        where = f"week of {week.start.isoformat()}"
        ahead = any(s.date >= plan.start and s.landing_load > _LANDING for s in week.sessions)
        if ahead and mine + sport > budget.per_week + _LANDING:
            what = (
                f"landings that count {mine:.0f} on top of {sport:.0f} from sport; "
                f"{budget.per_week:.0f} a week are this athlete's budget."
            )
            yield Breach(budget.rule, where, what)
        recent = before[-steps.look_back :]
        risen = (1 + steps.step) * max(recent) + steps.allowance - sport if recent else 0.0
        eased = case.eased(week)
        room = max(budget.first_week, risen) * (1.0 if eased is None else eased.volume)
        if ahead and mine > room + _LANDING:
            what = f"landings that count {mine:.0f}; after the weeks before, {room:.0f} at most."
            rule = steps.rule
            if eased is not None:
                rule = case.method.easing.rule
                what = (
                    f"landings that count {mine:.0f} after {eased.days} days without training; at "
                    f"most {room:.0f} in this week."
                )
            yield Breach(rule, where, what)
        before.append(mine + sport)


def check_lighter(case: Case) -> Iterator[Breach]:
    """Every so many weeks is lighter, and so is the unloading."""
    back_off, unloading = case.method.back_off, case.method.unloading
    fullest, last_full = 0, 0
    for week in (*case.earlier, *case.plan.weeks):
        phase, sets = case.phase(week), case.working_sets(week)
        if phase is None:
            continue
        unloads = phase.kind is PhaseKind.UNLOADING
        if week in case.plan.weeks:
            if unloads:
                yield from _unloads(case, week)
                yield from _share(week, sets, unloading.sets_share.high, last_full, unloading.rule)
            else:
                yield from _turn(case, week)
            if week.back_off and not unloads:
                yield from _share(week, sets, back_off.sets_share, fullest, back_off.rule)
        if week.back_off:
            fullest = 0
        elif not unloads:
            fullest, last_full = max(fullest, sets), sets


def _turn(case: Case, week: Week) -> Iterator[Breach]:
    back_off = case.method.back_off
    due = (case.plan.week_number(week.start) + 1) % back_off.every_weeks == 0
    if due is not week.back_off:
        what = "is told as lighter out of turn" if week.back_off else "should be a lighter one"
        yield Breach(back_off.rule, f"week of {week.start.isoformat()}", f"the week {what}.")


def _share(week: Week, sets: int, share: float, full: int, rule: str) -> Iterator[Breach]:
    if full and sets > share * full + _SET:
        what = f"{sets} working sets; at most {share:.0%} of the {full} of a full week."
        yield Breach(rule, f"week of {week.start.isoformat()}", what)


def _unloads(case: Case, week: Week) -> Iterator[Breach]:
    for placed in case.in_week(week):
        if case.is_new(placed) and case.belongs(placed.exercise, LANDING):
            yield Breach(case.method.unloading.rule, placed.where, "jumps in the unloading.")

"""The planner: from an assessment and a situation to a dated plan.

Phases are laid back from the date that counts (:mod:`saltus.training.phases`), each day says
what it allows (:mod:`saltus.training.frame`), the weeks are laid out by a constraint program
(:mod:`saltus.training.laying`), and loads, heights, cues and reasons are filled in
(:mod:`saltus.training.filling`). What finds no room is told (:mod:`saltus.training.unmet`).
"""

import datetime as dt
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from saltus.athlete.assessment import Assessment
from saltus.athlete.person import Person
from saltus.training.breaks import eased_in_week, find_breaks
from saltus.training.dose import weekly_worth
from saltus.training.eligibility import Eligibility
from saltus.training.exercises import Exercise
from saltus.training.filling import fill_week
from saltus.training.frame import FrameWeek, build_frame
from saltus.training.gates import (
    pain_caution,
    standing_pains,
    supervision_cautions,
    treated_as_minor,
    unknown_restrictions,
)
from saltus.training.landings import budget_for
from saltus.training.laying import Layer
from saltus.training.method import Method, PhaseKind
from saltus.training.phases import LaidWeek, choose_goal, lay_phases, monday_of
from saltus.training.pins import pinned_sets, pinned_situation, with_pins
from saltus.training.plan import Item, Pin, Plan, Session, SolverReport, Week
from saltus.training.programme import Rules
from saltus.training.situation import Situation, TargetDate
from saltus.training.unmet import Unmet, find_unmet, unmet_pins

__all__ = ["make_plan"]

_STOP = (
    "Stop an exercise that hurts. Pain above 5 out of 10, or pain that has not settled by the "
    "next morning, means no jumping until someone qualified has looked at it. Saltus gives no "
    "medical advice."
)


@dataclass(frozen=True, slots=True)
class _History:
    """What a plan follows on from."""

    counted_from: dt.date
    earlier: tuple[Week, ...] = ()
    done: Mapping[dt.date, tuple[Item, ...]] | None = None
    phases: Mapping[dt.date, str] | None = None


def make_plan(
    person: Person,
    assessment: Assessment,
    situation: Situation,
    method: Method,
    *,
    exercises: Mapping[str, Exercise] | None = None,
    current: Plan | None = None,
    earlier: Sequence[Week] = (),
    pins: Sequence[Pin] = (),
    time_limit_s: float = 5.0,
    progress: Callable[[float], None] | None = None,
) -> Plan:
    """Lay out a plan to the date that counts.

    Parameters
    ----------
    person : Person
        Who it is for.
    assessment : Assessment
        Maxima, worth and the limiting quality.
    situation : Situation
        Start, dates, days, gym, sport, pains and restrictions.
    method : Method
        The coach's rules.
    exercises : mapping of str to Exercise, optional
        Used instead of the method's own.
    current : Plan, optional
        The plan that the athlete already has: the new one stays close to it, and follows on
        from it where it began before `situation.start`.
    earlier : sequence of Week, optional
        Weeks before those of `current`, the latest last, where that was a re-plan itself.
    pins : sequence of Pin, optional
        What the coach settled by hand: kept to as far as the rules allow, and told otherwise.
    time_limit_s : float
        Time for the search on an ordinary machine with two cores, s.
    progress : callable, optional
        Is told the share of the work that is done; an exception of its ends the work.

    Returns
    -------
    Plan
        What could not be met stands in it in words; a calendar that leaves no room at all
        gives a plan without sessions that says so.
    """
    began = time.perf_counter()
    if exercises is not None:
        method = replace(method, exercises=exercises)
    pins = tuple(pin for pin in with_pins((), pins) if pin.date >= situation.start)
    situation = pinned_situation(situation, pins)
    history = _history(situation, current, earlier)
    goal, goal_said = choose_goal(situation)
    eligibility, laid, unmet = _lay(
        situation, goal, Eligibility(person, assessment, situation, method, ()), history
    )
    start = situation.start
    first_number = (laid[0].start - monday_of(history.counted_from)).days // 7
    laid = _eased(laid, situation, method, history)
    eligibility = replace(
        eligibility,
        eased={first_number + w: week.eased for w, week in enumerate(laid) if week.eased},
    )
    frame = build_frame(laid, situation, goal, method, done=history.done)
    rules = Rules(
        method=method,
        exercises=method.exercises,
        budget=budget_for(method, person, assessment.mass_kg, start),
        minor=treated_as_minor(person, start),
        worth=weekly_worth(assessment.worth),
    )
    layer = Layer(
        frame,
        rules,
        eligibility,
        first_number=first_number,
        earlier=history.earlier,
        current=pinned_sets(_sets_by_date(current, start), pins),
        pins=pins,
        progress=progress,
    )
    filled, report = layer.lay(max(time_limit_s - (time.perf_counter() - began), 0.5))
    weeks = tuple(fill_week(week, eligibility, rules.worth) for week in filled)
    unmet += find_unmet(weeks, filled, layer, eligibility)
    unmet += unmet_pins(pins, weeks, filled, eligibility)
    return Plan(
        athlete=person.name,
        start=start,
        goal_date=goal.date,
        weeks=weeks,
        unmet=tuple(u.text for u in unmet),
        unmet_rules=frozenset(rule for u in unmet for rule in u.rules),
        solver=SolverReport(report.status, report.gap, time.perf_counter() - began),
        cautions=(
            *goal_said,
            *_cautions(weeks, frame, eligibility),
            *_closed_gates(frame, eligibility, unmet),
        ),
        counted_from=history.counted_from if history.counted_from != start else None,
        landing_practice_weeks=situation.landing_practice_weeks,
        pins=pins,
    )


def _history(situation: Situation, current: Plan | None, earlier: Sequence[Week]) -> _History:
    """What came before the first day planned, out of the plan the athlete already has."""
    start = situation.start
    if current is None or not current.weeks:
        return _History(start)
    monday = monday_of(start)
    weeks = (*earlier, *current.weeks)
    return _History(
        min(current.counted_from or current.start, start),
        tuple(week for week in weeks if week.start < monday),
        {
            session.date: session.items
            for week in weeks
            if week.start == monday
            for session in week.sessions
            if session.date < start
        },
        {week.start: week.phase for week in weeks},
    )


def _eased(
    laid: tuple[LaidWeek, ...], situation: Situation, method: Method, history: _History
) -> tuple[LaidWeek, ...]:
    """Say which weeks are eased after days without training."""
    done = [session for week in history.earlier for session in week.sessions]
    done += [Session(date, items) for date, items in (history.done or {}).items()]
    breaks = find_breaks(situation, method.easing, done)
    return tuple(
        replace(week, eased=eased_in_week(breaks, week.start, method.easing)) for week in laid
    )


def _lay(
    situation: Situation,
    goal: TargetDate,
    eligibility: Eligibility,
    history: _History,
) -> tuple[Eligibility, tuple[LaidWeek, ...], tuple[Unmet, ...]]:
    """Lay the phases, without the block before the test where nothing in it may be given.

    Returns
    -------
    Eligibility
        With the phases of all weeks.
    tuple of LaidWeek
        Weeks from that of the start on.
    tuple of Unmet
        What there is no time for, or no leave.
    """
    method = eligibility.method
    limiting = eligibility.assessment.limiting.quality
    begun, start = history.counted_from, monday_of(situation.start)

    def lay(peaking: bool) -> tuple[Eligibility, tuple[LaidWeek, ...], tuple[tuple[str, str], ...]]:
        every, said = lay_phases(begun, goal.date, method, limiting, peaking=peaking)
        every = _keep_phases(every, history, method)
        timeline = tuple(week.phase for week in every)
        ahead = tuple(week for week in every if week.start >= start)
        return replace(eligibility, timeline=timeline), ahead, said

    eligibility, laid, said = lay(peaking=True)
    unmet = [Unmet(frozenset({name}), text) for name, text in said]
    # A block that the athlete already knows stays, even if nothing may be given in it for now.
    known = history.phases or {}
    settled = all(known.get(week.start) == week.phase.id for week in laid)
    closed = None if settled else _block_closed(laid, situation, eligibility)
    if closed:
        eligibility, laid, _ = lay(peaking=False)
        unmet.append(Unmet(frozenset({closed[0]}), closed[1]))
    return eligibility, laid, tuple(unmet)


def _keep_phases(
    laid: tuple[LaidWeek, ...], history: _History, method: Method
) -> tuple[LaidWeek, ...]:
    """Keep the phases that the athlete already knows, where the end of the plan has not moved."""
    known, ids = history.phases or {}, {phase.id: phase for phase in method.phases}
    kept = tuple(
        replace(week, phase=ids.get(known.get(week.start, ""), week.phase)) for week in laid
    )
    same_end = all(a.phase.kind is b.phase.kind for a, b in zip(laid, kept, strict=True))
    return kept if same_end else laid


def _block_closed(
    laid: Sequence[LaidWeek], situation: Situation, eligibility: Eligibility
) -> tuple[str, str] | None:
    """Say why nothing that only the block before the test holds may be given in it."""
    method = eligibility.method
    weeks = [week for week in laid if week.phase.kind is PhaseKind.PEAKING]
    if not weeks:
        return None
    phase = weeks[0].phase
    elsewhere = {use.family for p in method.phases if p is not phase for use in p.uses}
    asked = [u for u in phase.uses if u.per_week.low and u.family not in elsewhere]
    for use in asked:
        mine = [e for e in method.exercises.values() if phase.use_of(e) is use]
        last = weeks[-1]
        ahead = (last.start - laid[0].start).days // 7
        practised = situation.landing_practice_weeks + ahead
        number = len(eligibility.timeline) - len(laid) + ahead
        days = [date for week in weeks for date in week.dates]
        why = [eligibility.why_not(mine, number, day, practised) for day in days]
        if all(why):
            family = use.family.replace("_", " ")
            reasons = " ".join(why[-1][:2])
            return phase.id, f"No {family}s in this plan, more building instead: {reasons}"
    return None


def _sets_by_date(plan: Plan | None, start: dt.date) -> Mapping[dt.date, Mapping[str, int]]:
    if plan is None:
        return {}
    return {
        session.date: {item.exercise: item.sets for item in session.items}
        for session in plan.sessions
        if session.date >= start
    }


def _cautions(
    weeks: Sequence[Week], frame: Sequence[FrameWeek], eligibility: Eligibility
) -> tuple[str, ...]:
    """What matters for safety in this plan."""
    person, situation, method = eligibility.person, eligibility.situation, eligibility.method
    start = situation.start
    used = {i.exercise for week in weeks for s in week.sessions for i in s.items}
    exercises = [e for e in method.exercises.values() if e.id in used]
    said = [*supervision_cautions(exercises, person, start)]
    if person.born is None:
        said.append("The date of birth is not known: the limits for minors hold until it is.")
    said += filter(None, map(pain_caution, standing_pains(situation, start)))
    said += [
        f'The restriction "{r.what}" speaks of no exercise or family and cannot be kept: name '
        "one of them."
        for r in unknown_restrictions(situation, method.exercises)
    ]
    said += [
        f"{e.name.capitalize()}: not for {_lower(e.not_for[0])}"
        for e in exercises
        if e.needs.soft_surface and e.not_for
    ]
    eased = [week for week in weeks if week.eased_after and week.sessions]
    if eased:
        said.append(
            f"Eased in after {eased[0].eased_after} days without lifts or jumps on record: lighter "
            f"loads, fewer sets and fewer landings up to {eased[-1].end.isoformat()}."
        )
    over = [
        day.date.isoformat()
        for week in frame
        for day in week.days
        if day.sport_load
        > budget_for(method, person, eligibility.assessment.mass_kg, start).per_session
    ]
    if over:
        said.append(
            f"Practices or matches alone exceed the day's landing budget on {len(over)} days "
            f"(first {over[0]}): no jumps are planned on them; talk to the coach of the sport."
        )
    if used:
        said.append(_STOP)
    return tuple(said)


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def _closed_gates(
    frame: Sequence[FrameWeek], eligibility: Eligibility, unmet: Sequence[Unmet]
) -> tuple[str, ...]:
    """Say which families with landings stay closed throughout, and what opens them."""
    method = eligibility.method
    told = {rule for u in unmet for rule in u.rules}
    seen: set[str] = set()
    said = []
    begun = eligibility.situation.landing_practice_weeks
    for w, week in enumerate(frame):
        for use in week.laid.phase.uses:
            mine = [e for e in method.exercises.values() if week.laid.phase.use_of(e) is use]
            if use.family in seen | told or not any(e.lands for e in mine):
                continue
            last = max(v for v, other in enumerate(frame) if use in other.laid.phase.uses)
            if last != w:
                continue
            seen.add(use.family)
            day = week.laid.dates[-1]
            gates = [eligibility.gates(e, day, begun + w) for e in mine]
            nearest = min(gates, key=len, default=())
            # Pains and restrictions are told on their own.
            if nearest and not any(gate.gate in ("pain", "restriction") for gate in nearest):
                said.append("Left out: " + " ".join(str(gate) for gate in nearest))
    return tuple(said)

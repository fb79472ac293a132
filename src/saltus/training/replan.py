"""A new plan from any day on, as close to the old one as it can be, and what changed and why."""

import datetime as dt
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from saltus.athlete.assessment import Assessment
from saltus.athlete.health import PainBand, pain_band
from saltus.athlete.person import Person
from saltus.quantities import CENTIMETRE
from saltus.training.exercises import Exercise, HeightKind, Place
from saltus.training.gates import Closed, check_gates, standing_pains
from saltus.training.gym_loads import missing_equipment
from saltus.training.method import Method
from saltus.training.phases import monday_of
from saltus.training.pins import pinned_situation, with_pins
from saltus.training.plan import Item, Pin, Plan, Session, Week
from saltus.training.planner import make_plan
from saltus.training.situation import EventKind, Situation

__all__ = ["Change", "compare_plans", "joined", "replan"]

_SAME_SHARE = 0.6
"""Items that two sessions must share to be the same one on another day."""
_WEEK_DAYS = 7
_NEW_ESTIMATE = 0.01
"""Change of an estimated maximum from which a load is said to follow from it."""
_FITS_BEST = "the best that the method's rules allow, with what is known now"
_HEIGHT_FOLLOWS = {
    HeightKind.BOX: "the box follows the squat jump, as it is estimated now",
    HeightKind.HURDLE: "the hurdle follows the jump, as it is estimated now",
    HeightKind.DROP: "the drop follows the best drop jump, as it is estimated now",
}


@dataclass(frozen=True, slots=True)
class Change:
    """One change of a plan.

    Parameters
    ----------
    date : date
        The first day that it concerns.
    what : str
        What is different now.
    why : str
        Why.
    """

    date: dt.date
    what: str
    why: str

    def __str__(self) -> str:
        return f"{self.date:%a} {self.date.isoformat()}: {self.what} ({self.why})"


def replan(
    current: Plan,
    person: Person,
    assessment: Assessment,
    situation: Situation,
    method: Method,
    *,
    from_date: dt.date,
    missed: Iterable[dt.date] = (),
    earlier: Sequence[Week] = (),
    exercises: Mapping[str, Exercise] | None = None,
    pins: Sequence[Pin] | None = None,
    time_limit_s: float = 5.0,
    progress: Callable[[float], None] | None = None,
) -> tuple[Plan, tuple[Change, ...]]:
    """Plan anew from a day on, changing as little as possible.

    What stood before that day is taken as done, but for the sessions that were missed.

    Parameters
    ----------
    current : Plan
        The plan that the athlete has.
    person, assessment, situation, method
        As they are now: new tests, pains, blocked days and dates included.
    from_date : date
        First day to plan anew.
    missed : iterable of date
        Days before it on which the planned session did not take place.
    earlier : sequence of Week, optional
        Weeks before those of `current`, the latest last, where that was a re-plan itself.
    exercises : mapping of str to Exercise, optional
        Used instead of the method's own.
    pins : sequence of Pin, optional
        What the coach settled by hand; what is settled in the current plan if left out.
    time_limit_s : float
        Time for the search on an ordinary machine with two cores, s.
    progress : callable, optional
        Is told the share of the work that is done; an exception of its ends the work.

    Returns
    -------
    Plan
        From `from_date` on; its `changes` hold the sentences.
    tuple of Change
        In order of date; empty where everything stays as it is.

    Notes
    -----
    Weeks of landing practice that the athlete did under the current plan are added to those
    of the situation, unless the situation tells another number than when the current plan
    was made: then the coach has brought it up to date.
    """
    skipped = frozenset(missed)
    if exercises is not None:
        method = replace(method, exercises=exercises)
    kept = replace(
        current, weeks=tuple(_without(week, skipped, from_date) for week in current.weeks)
    )
    told = situation.landing_practice_weeks
    known = current.landing_practice_told
    practised = told
    if told == (current.landing_practice_weeks if known is None else known):
        practised = current.landing_practice_weeks + _practised(kept, from_date, method)
    situation = replace(situation, start=from_date, landing_practice_weeks=practised)
    plan = make_plan(
        person,
        assessment,
        situation,
        method,
        current=kept,
        earlier=earlier,
        pins=current.pins if pins is None else pins,
        time_limit_s=time_limit_s,
        progress=progress,
    )
    pinned = pinned_situation(situation, plan.pins)
    causes = _Causes(current, plan, person, assessment, pinned, method, skipped)
    changes = tuple(_compare(current, plan, method, situation, causes))
    plan = replace(
        plan,
        changes=tuple(str(change) for change in changes),
        landing_practice_told=told if told != practised else None,
    )
    return plan, changes


def _without(week: Week, skipped: frozenset[dt.date], from_date: dt.date) -> Week:
    gone = {date for date in skipped if date < from_date}
    return replace(week, sessions=tuple(s for s in week.sessions if s.date not in gone))


def _practised(plan: Plan, until: dt.date, method: Method) -> int:
    """Whole weeks before a day that held landings."""
    return sum(
        any(
            item.exercise in method.exercises and method.exercises[item.exercise].lands
            for session in week.sessions
            for item in session.items
        )
        for week in plan.weeks
        if week.start < monday_of(until)
    )


@dataclass(frozen=True)
class _Causes:
    """Why something may have changed."""

    current: Plan
    plan: Plan
    person: Person
    assessment: Assessment
    situation: Situation
    method: Method
    missed: frozenset[dt.date]

    @cached_property
    def _pins(self) -> Mapping[dt.date, Pin]:
        known = set(self.current.pins)
        return {pin.date: pin for pin in self.plan.pins if pin not in known}

    def of_pins(self, date: dt.date, gone: Collection[str], come: Collection[str]) -> str | None:
        """Whether the coach settled that exercises go from a day, or come to it."""
        pin = self._pins.get(date)
        if pin is not None and (pin.absent & set(gone) or pin.stands & set(come)):
            return "as you settled it"
        return None

    def of_day(self, date: dt.date) -> str | None:
        """Why a day cannot be used."""
        situation = self.situation
        if date > self.plan.goal_date:
            return f"after the test on {self.plan.goal_date.isoformat()}"
        if date in situation.blocked:
            return "the day is blocked"
        if not situation.minutes_on(date):
            return "no longer a training day"
        stopping = [
            pain for pain in standing_pains(situation, date) if pain_band(pain) is PainBand.STOP
        ]
        if stopping:
            worst = max(stopping, key=lambda pain: pain.level)
            return f"pain of {worst.level} out of 10 ({worst.place}, {worst.date.isoformat()})"
        return None

    def of_exercise(self, exercise: Exercise, date: dt.date) -> str | None:
        """Why an exercise cannot be given on a day."""
        missing = missing_equipment(exercise, self.situation.gym)
        if missing:
            return "there is no " + " and no ".join(name.replace("_", " ") for name in missing)
        ahead = (monday_of(date) - monday_of(self.plan.start)).days // 7
        closed = check_gates(
            exercise,
            self.assessment,
            self.person,
            self.situation,
            date,
            practised_weeks=self.situation.landing_practice_weeks + ahead,
        )
        if closed:
            return "; ".join(dict.fromkeys(_short(gate) for gate in closed))
        near = [
            event.date
            for event in self.situation.events
            if event.kind is EventKind.MATCH and abs((event.date - date).days) <= 1
        ]
        return f"near the match of {near[0].isoformat()}" if near else None

    @cached_property
    def _moved_phases(self) -> frozenset[dt.date]:
        """Mondays of weeks that belong to another phase than before."""
        before = {week.start: week.phase for week in self.current.weeks}
        return frozenset(
            week.start
            for week in self.plan.weeks
            if week.start in before and before[week.start] != week.phase
        )

    def _week_of(self, date: dt.date) -> Week | None:
        return next((week for week in self.plan.weeks if week.start <= date <= week.end), None)

    def of_phase(self) -> str:
        """Why the phases lie otherwise."""
        return self._known() or "the phases go by what the tests say now"

    def of_easing(self, date: dt.date) -> str:
        """Whether the week of a day is eased in; empty otherwise."""
        week = self._week_of(date)
        days = 0 if week is None else week.eased_after
        return f"eased in after {days} days without lifts or jumps" if days else ""

    def of_load(self, date: dt.date, was: Item, now: Item) -> str:
        """Why a load or a height is another one."""
        eased = self.of_easing(date)
        if eased and (now.load_kg or 0.0) < (was.load_kg or 0.0):
            return eased
        if was.load_kg and now.load_kg and was.percent and now.percent:
            before, after = 100 * was.load_kg / was.percent, 100 * now.load_kg / now.percent
            of = _name(now.percent_of or "", self.method).replace("_", " ")
            if abs(after - before) > _NEW_ESTIMATE * before:
                what = of if of == "body mass" else f"estimate of the {of}"
                return f"the {what} is {after:.0f} kg instead of {before:.0f} kg"
        exercise = self.method.exercises.get(now.exercise)
        same_load = was.load_kg == now.load_kg
        if same_load and exercise is not None and exercise.height is not None:
            return self._known() or _HEIGHT_FOLLOWS[exercise.height.kind]
        return self.general()

    def behind(self, date: dt.date) -> str:
        """What else may be behind the change of a day."""
        eased = self.of_easing(date)
        if eased:
            return eased
        known = self._known()
        week = self._week_of(date)
        if not known and week is not None and week.start in self._moved_phases:
            return "the week belongs to another phase now"
        return known or _FITS_BEST

    def general(self) -> str:
        """What else may be behind a change."""
        return self._known() or _FITS_BEST

    def _known(self) -> str:
        causes = []
        if self.current.goal_date != self.plan.goal_date:
            causes.append(
                f"the day that counts moved from {self.current.goal_date.isoformat()} to "
                f"{self.plan.goal_date.isoformat()}"
            )
        if self.missed:
            number = len(self.missed)
            causes.append(
                "a session was missed" if number == 1 else f"{number} sessions were missed"
            )
        return " and ".join(causes)


def _short(gate: Closed) -> str:
    """Reason of a gate without its full stop; of a pain, the pain alone."""
    reason = gate.reason.rstrip(".")
    if gate.gate == "pain":
        reason = reason.split(" closes ")[0]
    return reason[:1].lower() + reason[1:]


def compare_plans(
    current: Plan,
    plan: Plan,
    person: Person,
    assessment: Assessment,
    situation: Situation,
    method: Method,
) -> tuple[Change, ...]:
    """List what is different in a plan, from its start on, and why.

    Parameters
    ----------
    current, plan : Plan
        The old one and the new one.
    person, assessment, situation, method
        What the new one was made for.
    """
    pinned = pinned_situation(situation, plan.pins)
    causes = _Causes(current, plan, person, assessment, pinned, method, frozenset())
    return tuple(_compare(current, plan, method, situation, causes))


def _compare(
    current: Plan, plan: Plan, method: Method, situation: Situation, causes: _Causes
) -> Iterator[Change]:
    old = {s.date: s for s in current.sessions if s.date >= plan.start}
    new = {s.date: s for s in plan.sessions if s.date >= plan.start}
    found = [
        *_phases(current, plan, method, causes),
        *_sessions(old, new, method, causes),
        *_loads(old, new, method, situation, causes),
    ]
    yield from _together(sorted(found, key=lambda change: change.date))


def _together(changes: Sequence[Change]) -> Iterator[Change]:
    """Tell a change once that comes again on the same weekday of later weeks."""
    days: dict[tuple[int, str, str], list[dt.date]] = defaultdict(list)
    for change in changes:
        days[(change.date.weekday(), change.what, change.why)].append(change.date)
    for change in changes:
        dates = days[(change.date.weekday(), change.what, change.why)]
        if change.date == dates[0]:
            more = "" if len(dates) == 1 else f", and so in {_counted(len(dates) - 1)}"
            yield replace(change, what=change.what + more)


def _counted(weeks: int) -> str:
    return "1 later week" if weeks == 1 else f"{weeks} later weeks"


def _phases(current: Plan, plan: Plan, method: Method, causes: _Causes) -> Iterator[Change]:
    before = {week.start: week.phase for week in current.weeks}
    names = {phase.id: phase.name for phase in method.phases}
    last: tuple[str | None, str] | None = None
    for week in plan.weeks:
        was = before.get(week.start)
        if was == week.phase:
            last = None
            continue
        if last != (was, week.phase):
            told = names.get(week.phase, week.phase)
            instead = f" instead of {names.get(was, was)}" if was else ""
            yield Change(
                max(week.start, plan.start), f"{told} from here{instead}", causes.of_phase()
            )
        last = (was, week.phase)


def _names(session: Session) -> frozenset[str]:
    return frozenset(item.exercise for item in session.items)


def _sessions(
    old: Mapping[dt.date, Session],
    new: Mapping[dt.date, Session],
    method: Method,
    causes: _Causes,
) -> Iterator[Change]:
    gone = [date for date in sorted(old) if date not in new]
    come = [date for date in sorted(new) if date not in old]
    for date in list(gone):
        for other in come:
            mine, theirs = _names(old[date]), _names(new[other])
            if monday_of(other) == monday_of(date) and len(mine & theirs) >= _SAME_SHARE * len(
                mine | theirs
            ):
                why = (
                    causes.of_pins(date, mine, ())
                    or causes.of_pins(other, (), theirs)
                    or causes.of_day(date)
                    or causes.general()
                )
                yield Change(date, f"the session moves to {other:%a} {other.isoformat()}", why)
                gone.remove(date)
                come.remove(other)
                break
    for date in gone:
        settled = causes.of_pins(date, _names(old[date]), ())
        yield Change(date, "no session", settled or causes.of_day(date) or causes.behind(date))
    for date in come:
        what = ", ".join(
            _told(item, method) for item in new[date].items if not _prepares(item, method)
        )
        why = causes.of_pins(date, (), _names(new[date])) or causes.behind(date)
        yield Change(date, f"a new session: {what}", why)
    for date in sorted(set(old) & set(new)):
        yield from _items(old[date], new[date], method, causes)


def _items(old: Session, new: Session, method: Method, causes: _Causes) -> Iterator[Change]:
    before = {item.exercise: item for item in old.items}
    after = {item.exercise: item for item in new.items}
    out = [name for name in before if name not in after]
    into = [name for name in after if name not in before]
    reasons = [
        reason
        for name in out
        if name in method.exercises
        and (reason := causes.of_exercise(method.exercises[name], old.date)) is not None
    ]
    parts = []
    if out:
        parts.append("without " + ", ".join(_name(name, method) for name in out))
    if into:
        parts.append("with " + ", ".join(_told(after[name], method) for name in into))
    parts += [
        f"{_name(name, method)} {after[name].sets} x {after[name].reps} instead of "
        f"{before[name].sets} x {before[name].reps}"
        for name in after
        if name in before
        and (before[name].sets, before[name].reps) != (after[name].sets, after[name].reps)
    ]
    if parts:
        settled = causes.of_pins(old.date, out, into)
        why = settled or "; ".join(dict.fromkeys(reasons)) or causes.behind(old.date)
        yield Change(old.date, "; ".join(parts), why)


def _loads(
    old: Mapping[dt.date, Session],
    new: Mapping[dt.date, Session],
    method: Method,
    situation: Situation,
    causes: _Causes,
) -> Iterator[Change]:
    """Tell changed loads and heights once for each exercise, from the first day on."""
    changed: dict[str, list[tuple[dt.date, Item, Item]]] = defaultdict(list)
    for date in sorted(set(old) & set(new)):
        before = {item.exercise: item for item in old[date].items}
        for item in new[date].items:
            was = before.get(item.exercise)
            if was is not None and _weights(was) != _weights(item):
                changed[item.exercise].append((date, was, item))
    for name, cases in changed.items():
        date, was, now = cases[0]
        more = len(cases) - 1
        days = f" (and on {more} later day{'' if more == 1 else 's'})" if more else ""
        what = (
            f"{_name(name, method)} {_weight(now, situation)} instead of {_weight(was, situation)}"
        )
        yield Change(date, what + days, causes.of_load(date, was, now))


def _weights(item: Item) -> tuple[float | None, ...]:
    """Load and heights, to the gram and the millimetre: a document rounds what is in pounds."""
    values = (item.load_kg, item.box_m, item.drop_m)
    return tuple(None if value is None else round(value, 3) for value in values)


def _weight(item: Item, situation: Situation) -> str:
    height = item.box_m if item.drop_m is None else item.drop_m
    parts = []
    if item.load_kg is not None:
        parts.append(situation.gym.told(item.load_kg))
    if height is not None:
        parts.append(f"{height / CENTIMETRE:.0f} cm")
    return " and ".join(parts) or "without load"


def _name(name: str, method: Method) -> str:
    exercise = method.exercises.get(name)
    return exercise.name if exercise is not None else name


def _prepares(item: Item, method: Method) -> bool:
    """Whether it is a warm-up, which every session has."""
    exercise = method.exercises.get(item.exercise)
    return exercise is not None and exercise.place is Place.PREPARATION


def _told(item: Item, method: Method) -> str:
    return f"{_name(item.exercise, method)} {item.sets} x {item.reps}"


def joined(current: Plan, plan: Plan, from_date: dt.date, method: Method) -> Plan:
    """Keep the days of the present plan up to the start of a new one that begins later.

    Parameters
    ----------
    current : Plan
        The plan that the athlete has.
    plan : Plan
        A new one that starts after `from_date`.
    from_date : date
        First day that counts, such as today.
    method : Method
        Says which exercises land.

    Returns
    -------
    Plan
        The new plan with the days from `from_date` on before it; the new plan as it is where
        the present one has no session there, or ends weeks before.
    """
    first = max(from_date, current.start)
    ahead = [s for s in current.sessions if first <= s.date < plan.start]
    if not ahead or not plan.weeks:
        return plan
    begin = plan.weeks[0]
    weeks = tuple(w for w in current.weeks if w.end >= first and w.start < begin.start)
    if weeks and (begin.start - weeks[-1].start).days != _WEEK_DAYS:
        return plan
    there = {s.date for s in begin.sessions}
    late = [s for s in ahead if s.date >= begin.start and s.date not in there]
    sessions = tuple(sorted((*late, *begin.sessions), key=lambda s: s.date))
    practised = _practised(replace(current, weeks=weeks), begin.start, method)
    return replace(
        plan,
        start=first,
        weeks=(*weeks, replace(begin, sessions=sessions), *plan.weeks[1:]),
        counted_from=plan.counted_from or plan.start,
        landing_practice_weeks=max(0.0, plan.landing_practice_weeks - practised),
        landing_practice_told=plan.landing_practice_told
        if plan.landing_practice_told is not None
        else plan.landing_practice_weeks,
        pins=with_pins([p for p in current.pins if first <= p.date < plan.start], plan.pins),
    )

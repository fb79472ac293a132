"""What a plan could not do, in words, with what would make room for it."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from saltus.athlete.health import PainBand, pain_band
from saltus.training.eligibility import Eligibility
from saltus.training.frame import NOT_FREE, OUTSIDE, FrameWeek, belongs
from saltus.training.gates import standing_pains
from saltus.training.laying import FilledWeek, Layer
from saltus.training.method import Method, Phase, Use
from saltus.training.plan import Pin, Week
from saltus.training.programme import Relax

__all__ = ["Unmet", "find_unmet", "unmet_pins"]

_EXPLAINED_AT_MOST = 12
_LISTED_WEEKS = 3

_RELAXED = (
    (
        Relax(),
        "The rest of the week leaves no room for it: longer sessions or one more free day would.",
    ),
    (Relax(lighter=True), "These are planned lighter weeks: fewer sets, by rule."),
    (Relax(minutes=True), "The sessions are too short for it: more minutes a day would make room."),
    (
        Relax(spacing=True),
        "The days on which it may stand lie too close together: one further off would make room.",
    ),
    (
        Relax(landings=True),
        "The landing budget is used up: fewer landings in practice and matches would make room.",
    ),
    (Relax(session=True), "Its sessions are full: one more free day would make room."),
)


@dataclass(frozen=True, slots=True)
class Unmet:
    """A rule that could not be met.

    Parameters
    ----------
    rules : frozenset of str
        What it speaks about: identifiers of rules, or families of exercises.
    text : str
        In words, with what would make room.
    """

    rules: frozenset[str]
    text: str


def find_unmet(
    weeks: Sequence[Week],
    filled: Sequence[FilledWeek],
    layer: Layer,
    eligibility: Eligibility,
) -> tuple[Unmet, ...]:
    """Find every minimum that a plan misses, counted on the finished weeks.

    Parameters
    ----------
    weeks : sequence of Week
        The finished weeks.
    filled : sequence of FilledWeek
        The same weeks as they were laid.
    layer : Layer
        What laid them: asked which rules leave no room.
    eligibility : Eligibility
        What may be given, and why not.

    Returns
    -------
    tuple of Unmet
        In order of importance: weeks without any session first.
    """
    method = eligibility.method
    empty: list[FilledWeek] = []
    short: list[FilledWeek] = []
    groups: dict[tuple[str, str, int], list[FilledWeek]] = {}
    uses: dict[tuple[str, str, int], tuple[Phase, Use]] = {}
    for week, laid in zip(weeks, filled, strict=True):
        if any(day.why == OUTSIDE and not day.done for day in laid.frame.days):
            continue
        if not week.sessions:
            empty.append(laid)
            continue
        if len(week.sessions) < method.week.sessions.low:
            short.append(laid)
        phase = laid.frame.laid.phase
        for use in phase.uses:
            days = _days_with(week, phase, use, method)
            asked_for = use.lighter if week.back_off or week.eased_after else use
            if days < asked_for.per_week.low:
                key = (phase.id, use.family, days)
                groups.setdefault(key, []).append(laid)
                uses[key] = (phase, use)
    found = _empty_weeks(empty, eligibility)
    if short:
        text = (
            f"Fewer than {method.week.sessions.low} sessions in {_weeks(short)}: there are too few "
            "free days. More free days would make room."
        )
        found.append(Unmet(frozenset({method.week.rule}), text))
    for asked, (key, missing) in enumerate(groups.items()):
        phase, use = uses[key]
        family = use.family.replace("_", " ")
        least = _times(use.per_week.low)
        fewer = (
            f"{_times(key[2])} a week instead of {least}"
            if key[2]
            else f"not at all instead of {least} a week"
        )
        head = f"{family.capitalize()} {fewer} ({phase.name}, {_weeks(missing)}):"
        why = (
            _why(missing[0], use, layer, eligibility)
            if asked < _EXPLAINED_AT_MOST
            else "More free days or minutes would make room."
        )
        found.append(Unmet(frozenset({use.family}), f"{head} {why}"))
    return tuple(found)


def _days_with(week: Week, phase: Phase, use: Use, method: Method) -> int:
    return sum(
        any(
            i.exercise in method.exercises and phase.use_of(method.exercises[i.exercise]) is use
            for i in session.items
        )
        for session in week.sessions
    )


def _empty_weeks(empty: Sequence[FilledWeek], eligibility: Eligibility) -> list[Unmet]:
    method, found = eligibility.method, []
    for closed in (True, False):
        mine = [w for w in empty if (w.frame.minutes == 0) is closed]
        if not mine:
            continue
        rules = {method.week.rule} | {
            use.family for w in mine for use in w.frame.laid.phase.uses if use.per_week.low
        }
        why = (
            f"{_reasons(mine[0].frame)}. A free day in each would make room."
            if closed
            else _nothing_fits(mine[0], eligibility)
        )
        text = f"No session in {_weeks(mine)}: {why}"
        found.append(Unmet(frozenset(rules), text))
    return found


def _nothing_fits(laid: FilledWeek, eligibility: Eligibility) -> str:
    """Why a week with free days holds no session."""
    pains = [
        pain
        for pain in standing_pains(eligibility.situation, laid.frame.start)
        if pain_band(pain) is PainBand.STOP
    ]
    if pains:
        worst = max(pains, key=lambda pain: pain.level)
        return (
            f"pain of {worst.level} out of 10 ({worst.place}, {worst.date.isoformat()}) stops "
            "training. It goes on when the pain is down to 5 or less and settled by the next "
            "morning; have someone qualified look at it first."
        )
    least = eligibility.method.week.shortest_min
    longest = max(day.minutes for day in laid.frame.days)
    if longest < least:
        return f"the longest day has {longest} minutes, and a session takes {least:g} at least."
    return (
        f"no day has room for a session of {least:g} minutes with what may be given. Longer "
        "days, more equipment or other days would make room."
    )


def _reasons(frame: FrameWeek) -> str:
    whys = {day.why for day in frame.days if day.why} - {NOT_FREE}
    if not whys:
        return "no day of the week is set aside for training"
    return "no free day (" + ", ".join(sorted(whys)) + ")"


def _why(laid: FilledWeek, use: Use, layer: Layer, eligibility: Eligibility) -> str:
    """Why a use found no room in a week, and what would make some."""
    phase = laid.frame.laid.phase
    mine = [e for e in eligibility.method.exercises.values() if phase.use_of(e) is use]
    free = [day for day in laid.frame.days if day.minutes > 0]
    clear = [d for d in free if not all(any(belongs(e, f) for f in d.closed) for e in mine)]
    if free and not clear:
        whys = ", ".join(dict.fromkeys(day.why for day in free if day.why))
        return f"every free day is {whys}. A free day further away would make room."
    blocked = [eligibility.why_not(mine, laid.number, day.date, laid.practised) for day in clear]
    if blocked and all(blocked):
        # The nearest two say enough: any one exercise of the family would do.
        return " Or: ".join(blocked[0][:2])
    usable = sum(1 for reasons in blocked if not reasons)
    if usable < use.per_week.low:
        what = f"only {_counted(usable, 'day')} of the week can hold it"
        return f"{what}. {_more_days(laid.frame)}"
    for relax, text in _RELAXED:
        if layer.room_for(laid, use, relax):
            return text
    return "Too few minutes and days together: more of both would make room."


def _more_days(frame: FrameWeek) -> str:
    lost = [d for d in frame.days if d.why and d.why not in (OUTSIDE, NOT_FREE)]
    if lost:
        names = ", ".join(f"{d.date:%a} {d.date.isoformat()} ({d.why})" for d in lost[:3])
        return f"Lost to it: {names}. One more free day would make room."
    return "One more free day would make room."


def _weeks(weeks: Sequence[FilledWeek]) -> str:
    dates: list[dt.date] = [w.frame.start for w in weeks]
    listed = ", ".join(date.isoformat() for date in dates[:_LISTED_WEEKS])
    if len(dates) == 1:
        return f"the week of {listed}"
    more = f" and {len(dates) - _LISTED_WEEKS} more" if len(dates) > _LISTED_WEEKS else ""
    return f"the weeks of {listed}{more}"


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def unmet_pins(
    pins: Sequence[Pin],
    weeks: Sequence[Week],
    filled: Sequence[FilledWeek],
    eligibility: Eligibility,
) -> tuple[Unmet, ...]:
    """Find what the coach settled by hand and the rules did not allow, day by day.

    Parameters
    ----------
    pins : sequence of Pin
        What was settled.
    weeks, filled, eligibility
        As in :func:`find_unmet`.
    """
    stands = {s.date: {i.exercise for i in s.items} for week in weeks for s in week.sessions}
    exercises = eligibility.method.exercises
    found = []
    for pin in pins:
        missing = sorted(pin.stands - stands.get(pin.date, set()))
        if not missing:
            continue
        week = next((f for f in filled if pin.date in f.frame.laid.dates), None)
        names = ", ".join(exercises[m].name if m in exercises else m for m in missing)
        why = _why_unpinned(missing, pin.date, week, eligibility)
        text = f"{names[:1].upper()}{names[1:]} on {pin.date.isoformat()}, as you settled it: {why}"
        found.append(Unmet(frozenset(missing), text))
    return tuple(found)


def _why_unpinned(
    missing: Sequence[str], date: dt.date, week: FilledWeek | None, eligibility: Eligibility
) -> str:
    """Why exercises that the coach put on a day cannot stand on it."""
    known = [e for m in missing if (e := eligibility.method.exercises.get(m)) is not None]
    if week is None or not known:
        return "it is not in the plan's weeks or the method's exercises."
    day = week.frame.days[date.weekday()]
    if not day.minutes:
        return f"the day is not free ({day.why}). Choose another day."
    reasons = [
        reason
        for exercise in known
        for reason in eligibility.why_not([exercise], week.number, date, week.practised)[:1]
    ]
    if reasons:
        return " ".join(dict.fromkeys(reasons))
    closed = any(belongs(e, family) for e in known for family in day.closed)
    if closed:
        return f"the day is {day.why}. A day further off would do."
    return (
        "it finds no room there beside the other rules (minutes, landings, sets of a session, "
        "days between like sessions). Another day, or a longer session, would make room."
    )

"""Phases laid back from the day that counts.

The last weeks unload, the block of depth jumps stands before them, and what is left is
shared out among the building phases by the athlete's limiting quality. Weeks run from
Monday to Sunday, so that a week of the plan is a week of the coach's diary.
"""

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from saltus.athlete.qualities import Quality
from saltus.training.breaks import Eased
from saltus.training.method import Method, Phase, PhaseKind, Use
from saltus.training.situation import Priority, Situation, TargetDate

__all__ = ["DEFAULT_WEEKS", "LaidWeek", "choose_goal", "lay_phases", "monday_of"]

DEFAULT_WEEKS = 12
"""Weeks planned where no date is set (common practice: two to three blocks)."""

_LONGEST_WEEKS = 52
_PEAKING_SHARE = 1 / 3
"""Of the weeks before the unloading, as far as the phase's own range allows."""


@dataclass(frozen=True, slots=True)
class LaidWeek:
    """A week with its phase, before anything stands in it.

    Parameters
    ----------
    start : date
        Its Monday.
    phase : Phase
        The phase of the method.
    back_off : bool
        Whether it is a planned lighter week.
    eased : Eased or None
        How it is eased after days without training.
    """

    start: dt.date
    phase: Phase
    back_off: bool
    eased: Eased | None = None

    def asked(self, use: Use) -> Use:
        """A use of the phase as this week asks for it."""
        if self.eased is not None:
            return use.eased(self.eased.volume)
        return use.lighter if self.back_off else use

    @property
    def dates(self) -> tuple[dt.date, ...]:
        """Its seven days."""
        return tuple(self.start + dt.timedelta(days=i) for i in range(7))


def monday_of(date: dt.date) -> dt.date:
    """Monday of the week that holds a date."""
    return date - dt.timedelta(days=date.weekday())


def choose_goal(situation: Situation) -> tuple[TargetDate, tuple[str, ...]]:
    """Find the date that everything is laid back from, and what has to be said about it.

    The first main date from the start onwards; without one, the last date of second rank;
    without any, a date :data:`DEFAULT_WEEKS` weeks ahead.

    Returns
    -------
    TargetDate
        The date that counts.
    tuple of str
        Sentences for the coach where the choice is not the plain one.
    """
    start = situation.start
    ahead = sorted(
        (t for t in situation.targets if t.date >= start), key=lambda t: (t.date, t.priority)
    )
    longest = dt.timedelta(weeks=_LONGEST_WEEKS)
    said: list[str] = []
    past = sorted(
        t.date for t in situation.targets if t.date < start and t.priority is Priority.MAIN
    )
    main = [t for t in ahead if t.priority is Priority.MAIN]
    if past and not main:
        said.append(
            f"The main date {past[-1].isoformat()} lies before the start of the plan "
            f"({start.isoformat()}): set a new one."
        )
    if main:
        goal = main[0]
        if len(main) > 1:
            later = ", ".join(t.date.isoformat() for t in main[1:])
            said.append(
                f"The plan leads to {goal.date.isoformat()}, the first main date; plan again "
                f"after it for {later}."
            )
    elif ahead:
        goal = ahead[-1]
        said.append(
            f"No main date lies ahead: the plan leads to {goal.date.isoformat()}, the last of "
            "the other dates. Give the date that counts most the priority main."
        )
    else:
        assumed = monday_of(start) + dt.timedelta(weeks=DEFAULT_WEEKS, days=-2)
        goal = TargetDate(assumed, Priority.MAIN, "test")
        said.append(
            f"No date is set: the plan runs {DEFAULT_WEEKS} weeks and ends with a test on "
            f"{goal.date.isoformat()}. Set the date that counts to have it laid back from there."
        )
    if goal.date - start > longest:
        goal = TargetDate(start + longest, Priority.MAIN, "intermediate test")
        said.append(
            f"The date that counts is more than {_LONGEST_WEEKS} weeks away: the plan runs to "
            f"a test on {goal.date.isoformat()}; plan again from there."
        )
    return goal, tuple(said)


def lay_phases(
    start: dt.date,
    goal: dt.date,
    method: Method,
    limiting: Quality | None,
    *,
    peaking: bool = True,
    counted_from: dt.date | None = None,
) -> tuple[tuple[LaidWeek, ...], tuple[tuple[str, str], ...]]:
    """Lay the phases back from the goal.

    Parameters
    ----------
    start, goal : date
        First day planned, and the day that counts.
    method : Method
        Its phases, emphases, back-off weeks and unloading.
    limiting : Quality or None
        The limiting quality, None while it is undecided.
    peaking : bool
        Whether the block before the unloading may stand at all.
    counted_from : date, optional
        Day from which lighter weeks are counted; `start` where it is left out.

    Returns
    -------
    tuple of LaidWeek
        Every week from that of `start` to that of `goal`.
    tuple of (str, str)
        What there was no time for: identifier of the phase, and a sentence with what would
        make room.
    """
    first, last = monday_of(start), monday_of(goal)
    weeks = (last - first).days // 7 + 1
    said: list[tuple[str, str]] = []
    unloading = [p for p in method.phases if p.kind is PhaseKind.UNLOADING]
    peaks = [p for p in method.phases if p.kind is PhaseKind.PEAKING] if peaking else []
    tail = _unloading_weeks(goal, method, unloading[0]) if unloading else 0
    if tail >= weeks:
        tail = weeks
        text = (
            f"Only {_counted(weeks, 'week')} to {goal.isoformat()}: all of it unloads before "
            "the test. A later date would leave time to build."
        )
        said.append((unloading[0].id, text))
    free = weeks - tail
    shortest = min((p.weeks.low for p in method.phases if p.kind is PhaseKind.BUILDING), default=0)
    block = 0
    if peaks and free:
        low, high = peaks[0].weeks.low, peaks[0].weeks.high
        if free >= low + shortest:
            block = min(max(round(free * _PEAKING_SHARE), low), high, free - shortest)
        else:
            text = (
                f"No time for the {peaks[0].name} ({peaks[0].weeks} weeks after at least "
                f"{_counted(shortest, 'week')} of building): there are {_counted(free, 'week')} "
                f"before the unloading. A date {_counted(low + shortest - free, 'week')} later "
                "would make room."
            )
            said.append((peaks[0].id, text))
    order = [
        *_share_out(free - block, method, limiting),
        *(peaks[:1] * block),
        *(unloading[:1] * tail),
    ]
    offset = (first - monday_of(counted_from or start)).days // 7
    lighter = [(i + offset + 1) % method.back_off.every_weeks == 0 for i in range(weeks)]
    _end_with_lighter_weeks(order, lighter)
    laid = tuple(
        LaidWeek(
            first + dt.timedelta(weeks=i),
            phase,
            lighter[i] and phase.kind is not PhaseKind.UNLOADING,
        )
        for i, phase in enumerate(order)
    )
    return laid, tuple(said)


def _end_with_lighter_weeks(order: list[Phase], lighter: Sequence[bool]) -> None:
    """Let a lighter week end the phase before it rather than begin the next one."""
    for i in range(1, len(order)):
        before, phase = order[i - 1], order[i]
        if not lighter[i] or phase is before or phase.kind is not PhaseKind.BUILDING:
            continue
        lengths = _run_lengths(order, i)
        if lengths[0] < before.weeks.high and lengths[1] > phase.weeks.low:
            order[i] = before


def _run_lengths(order: Sequence[Phase], i: int) -> tuple[int, int]:
    """Weeks of the run that ends before week i, and of the run that begins with it."""
    back = next((k for k in range(i - 1, -1, -1) if order[k] is not order[i - 1]), -1)
    ahead = next((k for k in range(i, len(order)) if order[k] is not order[i]), len(order))
    return i - 1 - back, ahead - i


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _unloading_weeks(goal: dt.date, method: Method, phase: Phase) -> int:
    """Count the weeks, that of the goal included, so that the days without jumps fit in."""
    needed = method.unloading.no_jump_days.low
    before_in_last_week = goal.weekday()
    fit = 1 + max(0, math.ceil((needed - before_in_last_week) / 7))
    return max(fit, phase.weeks.low)


def _share_out(weeks: int, method: Method, limiting: Quality | None) -> list[Phase]:
    """Share the building weeks out among the phases, in cycles where there are many."""
    building = [p for p in method.phases if p.kind is PhaseKind.BUILDING]
    if weeks <= 0 or not building:
        return []
    longest = sum(p.weeks.high for p in building)
    cycles = max(1, math.ceil(weeks / longest)) if longest else 1
    order: list[Phase] = []
    for cycle in range(cycles):
        span = weeks // cycles + (cycle < weeks % cycles)
        order += _one_cycle(span, building, method.emphasis(limiting).shares)
    return order


def _one_cycle(weeks: int, building: Sequence[Phase], shares: Mapping[str, float]) -> list[Phase]:
    """Shares by largest remainder, within each phase's own range, in the method's order."""
    wanted = {p.id: shares.get(p.id, 0.0) for p in building}
    kept = [p for p in building if wanted[p.id] > 0] or list(building[:1])
    # With little time the phases with the smallest share are left out, not cut short.
    while len(kept) > 1 and sum(p.weeks.low for p in kept) > weeks:
        kept.remove(min(kept, key=lambda p: wanted[p.id]))
    total = sum(wanted[p.id] for p in kept) or 1.0
    count = {p.id: min(p.weeks.low, weeks) for p in kept}
    while sum(count.values()) < weeks:
        open_ones = [p for p in kept if count[p.id] < p.weeks.high] or kept
        behind = max(open_ones, key=lambda p: weeks * wanted[p.id] / total - count[p.id])
        count[behind.id] += 1
    return [p for p in kept for _ in range(count[p.id])]

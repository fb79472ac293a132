"""When the plan should be worked out anew, and why.

Nothing here changes a plan: each proposal says what has happened, and what to ask the planner for;
the coach sees the differences and accepts them or not.
"""

import datetime as dt
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from saltus.athlete.assessment import Assessment
from saltus.athlete.health import Pain, PainBand, Restriction, pain_band
from saltus.athlete.qualities import Quality
from saltus.quantities import Estimate
from saltus.training.gates import pain_caution
from saltus.training.log import LoggedSession
from saltus.training.plan import Plan
from saltus.training.situation import Priority, TargetDate

__all__ = ["Cause", "Proposal", "missed_sessions", "replan_proposals", "with_plateaus"]

_MISSED_WITHIN = dt.timedelta(days=14)
_MISSED = 2
# Common practice: one session lost is made up for by the next; of more, the week is out of shape.


class Cause(StrEnum):
    """What has happened, the most serious first."""

    PAIN = "pain"
    RESTRICTION = "restriction"
    MOVED_DATE = "moved_date"
    BLOCKED = "blocked"
    MISSED = "missed"
    PLATEAU = "plateau"
    TESTED = "tested"

    @property
    def health(self) -> bool:
        """Whether it is shown only to those who may see health remarks."""
        return self in (Cause.PAIN, Cause.RESTRICTION)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A reason to plan anew.

    Parameters
    ----------
    cause : Cause
        What has happened.
    date : date
        When: of the pain, the test, the first missed session, the day that moved.
    text : str
        What has happened and what a new plan would do about it, in a sentence.
    missed : tuple of date
        Sessions that did not take place, for the planner.
    """

    cause: Cause
    date: dt.date
    text: str
    missed: tuple[dt.date, ...] = ()


def missed_sessions(
    plan: Plan, log: Iterable[LoggedSession], *, on: dt.date, within: dt.timedelta = _MISSED_WITHIN
) -> tuple[dt.date, ...]:
    """Days of the plan, lately, whose session was not done.

    Parameters
    ----------
    plan : Plan
        The plan that holds.
    log : iterable of LoggedSession
        What was done. One that says which planned session it is counts for that one; any other
        that was not free counts for the nearest planned day that is at most a day off.
    on : date
        Today; its own session may still come.
    within : timedelta
        How far to look back.
    """
    planned = [s.date for s in plan.sessions if on - within <= s.date < on]
    done = [s for s in log if not s.free and s.date <= on and _done_anything(s)]
    named = {session.planned for session in done if session.planned is not None}
    left = [session.date for session in done if session.planned is None]
    missed = []
    for day in planned:
        if day in named:
            continue
        near = [other for other in left if abs((other - day).days) <= 1]
        if near:
            left.remove(min(near, key=lambda other: abs((other - day).days)))
        else:
            missed.append(day)
    return tuple(missed)


def replan_proposals(
    plan: Plan,
    *,
    made: dt.date,
    on: dt.date,
    log: Sequence[LoggedSession] = (),
    tested: Collection[dt.date] = (),
    pains: Sequence[Pain] = (),
    restrictions: Sequence[Restriction] = (),
    targets: Sequence[TargetDate] = (),
    blocked: Collection[dt.date] = (),
    levelled: Mapping[Quality, str] | None = None,
) -> tuple[Proposal, ...]:
    """Every reason to plan anew, the most serious first.

    Parameters
    ----------
    plan : Plan
        The plan that holds.
    made : date
        Day on which it was made: what was known then is in it.
    on : date
        Today.
    log : sequence of LoggedSession
        What was done; without any at all nothing counts as missed.
    tested : collection of date
        Days of tests.
    pains, restrictions : sequence
        Of the record.
    targets : sequence of TargetDate
        Days that count, as they stand now.
    blocked : collection of date
        Days on which nothing may be planned, as they stand now.
    levelled : mapping of Quality to str, optional
        Qualities in training that have stopped rising, each with the sentence that says so.
    """
    if plan.goal_date < on:
        return ()
    found: list[Proposal] = [
        *_pain(pains, made, on, plan.cautions),
        *_restricted(restrictions, made, on),
        *_moved(plan, targets, on),
        *_blocked(plan, blocked, on),
        *_missed(plan, log, on),
        *_plateau(levelled or {}, made, on),
        *_tested(tested, made, on),
    ]
    order = list(Cause)
    return tuple(sorted(found, key=lambda each: (order.index(each.cause), each.date)))


def with_plateaus(assessment: Assessment, rising: Mapping[Quality, float]) -> Assessment:
    """The assessment for a planner that knows of plateaus.

    What more of the same would bring counts only as far as it is probable that it still brings
    anything.

    Parameters
    ----------
    assessment : Assessment
        As the tests say.
    rising : mapping of Quality to float
        Probability that a quality in training, which was called levelled, still rises: its worth
        is multiplied by it. Qualities that are not named keep theirs.
    """
    if not rising:
        return assessment

    def scaled(gain: Estimate, share: float) -> Estimate:
        return Estimate(gain.value * share, gain.low * share, gain.high * share, gain.sd * share)

    worth = tuple(
        replace(each, gain_m=scaled(each.gain_m, rising.get(each.quality, 1.0)))
        for each in assessment.worth
    )
    return replace(assessment, worth=tuple(sorted(worth, key=lambda each: -each.gain_m.value)))


def _done_anything(session: LoggedSession) -> bool:
    """Whether anything of it was done: one whose every set was skipped was missed."""
    return not session.sets or any(each.reps or each.missed for each in session.sets)


def _pain(
    pains: Sequence[Pain], made: dt.date, on: dt.date, cautions: Sequence[str]
) -> Iterable[Proposal]:
    latest: dict[str, Pain] = {}
    for pain in sorted(pains, key=lambda each: each.date):
        if pain.date <= on:
            latest[" ".join(pain.place.casefold().split())] = pain
    for pain in latest.values():
        band = pain_band(pain)
        if pain.date < made or band is PainBand.SAFE:
            continue
        if pain_caution(pain) in cautions:
            continue  # reported on the day on which the plan was made, and heeded in it
        what = (
            "A new plan takes jumps and heavy work out until somebody qualified has looked at it"
            if band is PainBand.STOP
            else "A new plan leaves out what the pain scale does not allow"
        )
        yield Proposal(
            cause=Cause.PAIN,
            date=pain.date,
            text=f"Pain of {pain.level} out of 10 ({pain.place}) was reported on "
            f"{pain.date.isoformat()}. {what}.",
        )


def _restricted(
    restrictions: Sequence[Restriction], made: dt.date, on: dt.date
) -> Iterable[Proposal]:
    for each in restrictions:
        what = each.what.replace("_", " ")
        if each.start > made and each.holds(on):
            yield Proposal(
                cause=Cause.RESTRICTION,
                date=each.start,
                text=f"Since {each.start.isoformat()} this may not be done: {what}. A new "
                "plan goes without it.",
            )
        elif each.end is not None and made <= each.end < on:
            yield Proposal(
                cause=Cause.RESTRICTION,
                date=each.end,
                text=f"The restriction ({what}) ended on {each.end.isoformat()}. A new plan "
                "may use it again, beginning carefully.",
            )


def _moved(plan: Plan, targets: Sequence[TargetDate], on: dt.date) -> Iterable[Proposal]:
    main = sorted(t.date for t in targets if t.priority is Priority.MAIN and t.date >= on)
    if main and plan.goal_date not in main:
        yield Proposal(
            cause=Cause.MOVED_DATE,
            date=main[0],
            text=f"The day that counts is {main[0].isoformat()} now; the plan leads to "
            f"{plan.goal_date.isoformat()}. A new plan lays the phases back from the new day.",
        )


def _blocked(plan: Plan, blocked: Collection[dt.date], on: dt.date) -> Iterable[Proposal]:
    hit = sorted(s.date for s in plan.sessions if s.date >= on and s.date in blocked)
    if hit:
        days = ", ".join(day.isoformat() for day in hit[:3]) + (" and more" if hit[3:] else "")
        yield Proposal(
            cause=Cause.BLOCKED,
            date=hit[0],
            text=f"The plan has sessions on days that are blocked now: {days}. A new plan moves "
            "what matters of them.",
        )


def _missed(plan: Plan, log: Sequence[LoggedSession], on: dt.date) -> Iterable[Proposal]:
    if not log:
        return
    missed = missed_sessions(plan, log, on=on)
    if len(missed) >= _MISSED:
        yield Proposal(
            cause=Cause.MISSED,
            date=missed[0],
            text=f"{len(missed)} planned sessions since {missed[0].isoformat()} did not take "
            "place. A new plan builds on what was really done.",
            missed=missed,
        )


def _plateau(levelled: Mapping[Quality, str], made: dt.date, on: dt.date) -> Iterable[Proposal]:
    if made < on:
        for text in levelled.values():
            yield Proposal(cause=Cause.PLATEAU, date=on, text=text)


def _tested(tested: Collection[dt.date], made: dt.date, on: dt.date) -> Iterable[Proposal]:
    since = sorted(day for day in tested if made < day <= on)
    if since:
        yield Proposal(
            cause=Cause.TESTED,
            date=since[-1],
            text=f"New tests since the plan was made, the latest on {since[-1].isoformat()}. A "
            "new plan takes its loads and its emphasis from them.",
        )

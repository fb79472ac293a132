"""Which qualities the weeks of training were aimed at: from the sets that were done, or planned.

An exercise says what a set of it adds to each quality, as a share of a whole week's work on that
quality in an ordinary block aimed at it. A full programme adds up to several whole weeks, but
nobody adapts to all of it at once: together the shares of a week count for no more than those of
an ordinary block, one whole dose of what it is aimed at and upkeep of the rest. Without that
bound a programme would be expected to raise the jump by 2 to 4 % a week; published programmes,
combined ones included, raised it by 0.3 to 1.6 % (check beside the test). Where the bound lies is
a judgement.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from saltus.athlete.history import TrainingBlock
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.training.dose import response
from saltus.training.exercises import Exercise
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.phases import monday_of
from saltus.training.plan import Plan

__all__ = ["UPKEEP", "emphasis_of", "logged_blocks", "planned_blocks"]

UPKEEP = 0.3
"""Share of an ordinary dose that keeps a quality up (as in a block written by hand)."""

_WHOLE = 1.0 + UPKEEP * (len(TRAINABLE) - 1)
_ALIKE = 0.1
# Weeks of which no share differs by more are told as one block (a judgement).
_DAY = dt.timedelta(days=1)
_WEEK = dt.timedelta(weeks=1)

_Doses = Mapping[Quality, float]


def emphasis_of(doses: _Doses) -> dict[Quality, float]:
    """Shares of an ordinary block's dose that a week's work counts for.

    Parameters
    ----------
    doses : mapping of Quality to float
        What the sets of a week add up to, each quality by itself.

    Returns
    -------
    dict of Quality to float
        1 is an ordinary block aimed at the quality, 0.3 is upkeep. Together they are no more
        than 1.9; above 1 each further set brings less.
    """
    whole = sum(doses.values())
    scale = min(1.0, _WHOLE / whole) if whole > 0 else 1.0
    shares = {quality: scale * dose for quality, dose in doses.items() if dose > 0}
    return {quality: min(share, response(share)) for quality, share in shares.items()}


def logged_blocks(
    log: Iterable[LoggedSession],
    exercises: Mapping[str, Exercise],
    *,
    until: dt.date,
    known: Sequence[TrainingBlock] = (),
) -> tuple[TrainingBlock, ...]:
    """The training that a log tells of, week by week.

    Parameters
    ----------
    log : iterable of LoggedSession
        Sessions that were done. Skipped sets and missed repetitions count for nothing, a set cut
        short for its share; neither does an exercise that the method does not know, nor a session
        without sets, of which nobody knows what it trained.
    exercises : mapping of str to Exercise
        Of the method.
    until : date
        What was done on this day or later is left out: it is the day to speak of.
    known : sequence of TrainingBlock
        Blocks stated by hand: on their days they hold, whatever the log says.

    Returns
    -------
    tuple of TrainingBlock
        In order; weeks that are alike and follow each other are one block.
    """
    weeks: dict[dt.date, dict[Quality, float]] = defaultdict(lambda: defaultdict(float))
    for session in log:
        if session.date < until:
            for done in session.sets:
                exercise = exercises.get(done.exercise)
                if exercise is not None:
                    _add(weeks[monday_of(session.date)], exercise, _sets_done(done, exercise))
    return _blocks(weeks, until - _DAY, known)


def planned_blocks(plan: Plan, exercises: Mapping[str, Exercise]) -> tuple[TrainingBlock, ...]:
    """The training that a plan holds, week by week, counted in the same way."""
    weeks: dict[dt.date, dict[Quality, float]] = defaultdict(lambda: defaultdict(float))
    for session in plan.sessions:
        for item in session.items:
            exercise = exercises.get(item.exercise)
            if exercise is not None:
                _add(weeks[monday_of(session.date)], exercise, item.sets)
    return _blocks(weeks, plan.goal_date, ())


def _add(week: dict[Quality, float], exercise: Exercise, sets: float) -> None:
    for quality, share in exercise.adds.items():
        week[quality] += share * sets


def _sets_done(done: LoggedSet, exercise: Exercise) -> float:
    """Sets, each as far as it went."""
    if done.skipped:
        return 0.0
    return done.sets * min(done.reps / max(exercise.reps.low, 1), 1.0)


@dataclass(slots=True)
class _Run:
    """Days that follow each other, with what was done on them for each week of theirs."""

    start: dt.date
    end: dt.date
    shares: dict[Quality, float]

    @property
    def days(self) -> int:
        return (self.end - self.start).days + 1


def _blocks(
    weeks: Mapping[dt.date, _Doses], last: dt.date, known: Sequence[TrainingBlock]
) -> tuple[TrainingBlock, ...]:
    runs: list[_Run] = []
    for monday in sorted(weeks):
        end = min(monday + _WEEK - _DAY, last)
        # A week that is still going on is told by the days that it has had so far.
        so_far = ((end - monday).days + 1) / 7
        shares = emphasis_of({q: dose / so_far for q, dose in weeks[monday].items()})
        if not shares:
            continue
        for start, stop in _open_days(monday, end, known):
            _join(runs, _Run(start, stop, shares))
    return tuple(TrainingBlock(run.start, run.end, run.shares) for run in runs)


def _open_days(
    first: dt.date, last: dt.date, known: Sequence[TrainingBlock]
) -> list[tuple[dt.date, dt.date]]:
    """Stretches of days of which no block speaks."""
    stretches: list[tuple[dt.date, dt.date]] = []
    day = first
    while day <= last:
        if not any(block.start <= day <= block.end for block in known):
            if stretches and stretches[-1][1] == day - _DAY:
                stretches[-1] = (stretches[-1][0], day)
            else:
                stretches.append((day, day))
        day += _DAY
    return stretches


def _join(runs: list[_Run], new: _Run) -> None:
    """Add days to the run before them if they are like it, else begin a new one."""
    before = runs[-1] if runs else None
    qualities = {*new.shares, *(before.shares if before else ())}
    if (
        before is None
        or before.end != new.start - _DAY
        or any(abs(before.shares.get(q, 0.0) - new.shares.get(q, 0.0)) > _ALIKE for q in qualities)
    ):
        runs.append(new)
        return
    days = before.days + new.days
    before.shares = {
        q: (before.days * before.shares.get(q, 0.0) + new.days * new.shares.get(q, 0.0)) / days
        for q in TRAINABLE
        if q in qualities
    }
    before.end = new.end

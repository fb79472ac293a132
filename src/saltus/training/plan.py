"""A finished plan: the result types, in SI units, free of computation.

Each item carries its reason (a rule of the method and the quality it is for), and what
could not be met is part of the plan, never left out in silence.
"""

import datetime as dt
from dataclasses import dataclass, field

from saltus.athlete.qualities import Quality

__all__ = ["Item", "Pin", "Plan", "Session", "SolverReport", "Week", "Why"]


@dataclass(frozen=True, slots=True)
class Why:
    """Why an item stands in the plan.

    Parameters
    ----------
    rule : str
        Identifier of a rule of the method.
    quality : Quality or None
        What the item is mainly for; None for warm-up and upkeep.
    text : str
        A sentence for the coach.
    """

    rule: str
    quality: Quality | None
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One exercise in one session.

    Parameters
    ----------
    exercise : str
        Identifier of the exercise.
    sets, reps : int
        Sets, and repetitions in each (per leg where the exercise is done one leg at a time).
    load_kg : float or None
        Whole external load as it is loaded: bar and plates, both dumbbells together, or the
        kettlebell, kg. None where the body alone is the load.
    percent_of : str or None
        What `percent` refers to: a lift such as "back_squat", or "body_mass".
    percent : float or None
        `load_kg` in per cent of the estimated maximum (or of body mass).
    box_m : float or None
        Height of the box to land on, or of the hurdle, m.
    drop_m : float or None
        Height of the box to drop from, m.
    rest_s : float
        Rest between sets, s.
    rest_between_reps_s : float
        Rest between repetitions, s.
    cue : str
        What to think of.
    why : Why
        The reason.
    landings : float
        Landings, plain count.
    landing_load : float
        Landings counted by their cost (a vertical jump's landing is 1).
    minutes : float
        Time, setting up and rests included, min.
    """

    exercise: str
    sets: int
    reps: int
    load_kg: float | None = None
    percent_of: str | None = None
    percent: float | None = None
    box_m: float | None = None
    drop_m: float | None = None
    rest_s: float = 0.0
    rest_between_reps_s: float = 0.0
    cue: str = ""
    why: Why
    landings: float = 0.0
    landing_load: float = 0.0
    minutes: float = 0.0


@dataclass(frozen=True, slots=True)
class Session:
    """One day's training, items in the order they are done."""

    date: dt.date
    items: tuple[Item, ...]

    @property
    def minutes(self) -> float:
        """Time of the whole session, min."""
        return sum(item.minutes for item in self.items)

    @property
    def landings(self) -> float:
        """Landings, plain count."""
        return sum(item.landings for item in self.items)

    @property
    def landing_load(self) -> float:
        """Landings counted by their cost."""
        return sum(item.landing_load for item in self.items)


@dataclass(frozen=True, slots=True)
class Week:
    """Seven days of one phase.

    Parameters
    ----------
    start : date
        First day of the seven.
    phase : str
        Identifier of a phase of the method.
    sessions : tuple of Session
        In order of date.
    back_off : bool
        Whether the week is a planned lighter one.
    eased_after : int
        Days without training after which the week is eased in; 0 in other weeks.
    """

    start: dt.date
    phase: str
    sessions: tuple[Session, ...]
    back_off: bool = False
    eased_after: int = 0

    @property
    def end(self) -> dt.date:
        """Last day of the seven."""
        return self.start + dt.timedelta(days=6)


@dataclass(frozen=True, slots=True)
class SolverReport:
    """How the plan was found.

    Parameters
    ----------
    status : str
        "optimal" or "feasible".
    gap : float
        Proven distance from the best possible gain, as a share of it.
    seconds : float
        Wall time, s.
    """

    status: str
    gap: float
    seconds: float


@dataclass(frozen=True, slots=True)
class Pin:
    """What the coach settled by hand on a day.

    Parameters
    ----------
    date : date
        The day.
    stands, absent : frozenset of str
        Identifiers of exercises that stand on it, and of those that do not.
    minutes : int or None
        Minutes on that day where those of its weekday do not hold.
    """

    date: dt.date
    stands: frozenset[str] = frozenset()
    absent: frozenset[str] = frozenset()
    minutes: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A dated programme.

    Parameters
    ----------
    athlete : str
        Name.
    start : date
        First day planned.
    goal_date : date
        The day that counts: the main target.
    weeks : tuple of Week
        From the week of `start` to that of `goal_date`, in order, none left out.
    unmet : tuple of str
        What could not be met, with what would make room for it.
    unmet_rules : frozenset of str
        Identifiers of the rules and exercises that `unmet` speaks about: the checker takes
        a missed minimum for said only if its rule is named here.
    solver : SolverReport
        How it was found.
    cautions : tuple of str
        What matters for safety.
    changes : tuple of str
        After a re-plan: what changed, and why.
    counted_from : date or None
        Day from which lighter weeks and careful first weeks are counted: that of the first
        plan, where this one follows on; None for `start`.
    landing_practice_weeks : float
        Weeks of landing practice before `start` that the plan was made with.
    pins : tuple of Pin
        What the coach settled by hand, in order of date.
    landing_practice_told : float or None
        Weeks of landing practice that the coach had told of when it was made, where the plan
        follows on from others: what was done under these is in `landing_practice_weeks` too.
        None where the two are the same.
    """

    athlete: str
    start: dt.date
    goal_date: dt.date
    weeks: tuple[Week, ...]
    unmet: tuple[str, ...]
    unmet_rules: frozenset[str] = field(default_factory=frozenset)
    solver: SolverReport
    cautions: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    counted_from: dt.date | None = None
    landing_practice_weeks: float = 0.0
    pins: tuple[Pin, ...] = ()
    landing_practice_told: float | None = None

    def week_number(self, date: dt.date) -> int:
        """Weeks from the Monday of the day that is counted from to a date; the first is 0."""
        first = self.counted_from or self.start
        return (date - first + dt.timedelta(days=first.weekday())).days // 7

    @property
    def sessions(self) -> tuple[Session, ...]:
        """Every session in order of date."""
        return tuple(session for week in self.weeks for session in week.sessions)

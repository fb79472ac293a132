"""Exercises as data: what each is for, what it costs, and what must be true before it.

The exercises that ship stand in ``data/exercises.toml``; a coach's own file may change
any field of them or add new ones. Every fault in such a file is told with its line.
The fields are described in ``docs/exercises.md``.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from saltus.athlete.health import PainBand
from saltus.athlete.observations import Lift
from saltus.athlete.qualities import Quality
from saltus.training.spans import Count, Span

__all__ = [
    "DEPTH_JUMP",
    "EQUIPMENT",
    "JUMP",
    "BodyLimit",
    "Carrier",
    "Exercise",
    "Height",
    "HeightKind",
    "LoadRule",
    "Needs",
    "Place",
    "Substitute",
]

JUMP, DEPTH_JUMP = "jump", "depth_jump"
"""Families (:attr:`Exercise.families`) that are treated in ways of their own."""

_SECONDS = 60.0


class Place(StrEnum):
    """Place on the strength-speed continuum, from slow and heavy to fast and light."""

    STRENGTH = "strength"
    STRENGTH_SPEED = "strength_speed"
    SPEED_STRENGTH = "speed_strength"
    SPEED = "speed"
    REACTIVE = "reactive"
    SUPPORT = "support"
    """Off the continuum: calf, trunk and the like."""
    PREPARATION = "preparation"
    """Off the continuum: warm-up and landing practice."""


class Carrier(StrEnum):
    """What holds the load."""

    BARBELL = "barbell"
    TRAP_BAR = "trap_bar"
    DUMBBELLS = "dumbbells"
    """A pair of the same weight."""
    DUMBBELL = "dumbbell"
    """A single one."""
    KETTLEBELL = "kettlebell"
    MACHINE = "machine"
    """A stack or sled in steps of 5 kg (10 lb)."""


class HeightKind(StrEnum):
    """What a height is the height of."""

    BOX = "box"
    """To land on."""
    DROP = "drop"
    """To step off."""
    HURDLE = "hurdle"
    """To jump over."""


EQUIPMENT: Mapping[str, str] = {
    "barbell": "a bar and plates",
    "rack": "a squat rack or stands",
    "trap_bar": "a trap bar (hexagonal bar) and plates",
    "dumbbells": "dumbbells, in pairs",
    "kettlebell": "a kettlebell",
    "leg_press": "a leg press",
    "bench": "a bench",
    "boxes": "boxes to jump onto or step off",
    "blocks": "blocks or pins to start a lift from",
    "hurdles": "low hurdles",
    "runway": "room for a run-up or a sprint (20 m)",
    "reach": "something to reach for: a jump-and-reach device, a net, a rim",
    "nordic_bench": "a bench or partner that holds the heels",
}
"""Names of equipment that exercises may ask for, and what they mean."""


@dataclass(frozen=True, slots=True)
class Substitute:
    """Another lift to take the load from where the first was never tested.

    Parameters
    ----------
    lift : Lift
        The other lift.
    ratio : float
        Maximum of the first lift as a share of the maximum of this one.
    """

    lift: Lift
    ratio: float


@dataclass(frozen=True, slots=True)
class LoadRule:
    """What the load refers to and how heavy it may be.

    Parameters
    ----------
    of : Lift or None
        The lift whose maximum the per cents refer to; None for body mass.
    percent : Span
        Lightest and heaviest, per cent.
    on : tuple of Carrier
        What may hold it, the preferred one first.
    else_of : tuple of Substitute
        Lifts to take it from where `of` has no estimate, the better one first.
    may_be_none : bool
        Whether the exercise may be done without any load.
    """

    of: Lift | None
    percent: Span
    on: tuple[Carrier, ...]
    else_of: tuple[Substitute, ...] = ()
    may_be_none: bool = False

    def within(self, percent: Span | None) -> Span | None:
        """Range that is left within a phase's range of per cents; None if nothing is.

        A phase speaks of per cents of a lift's maximum: a load that refers to body mass
        keeps its own range.
        """
        return self.percent if self.of is None else self.percent.meet(percent)


@dataclass(frozen=True, slots=True)
class BodyLimit:
    """A lower limit on a height for some athletes.

    Parameters
    ----------
    over_kg : float or None
        Athletes heavier than this, kg.
    minors : bool
        Athletes under 18 or of unknown age.
    max_m : float
        Highest for them, m.
    """

    max_m: float
    over_kg: float | None = None
    minors: bool = False


@dataclass(frozen=True, slots=True)
class Height:
    """A height that has to be chosen for the exercise.

    Parameters
    ----------
    kind : HeightKind
        What it is the height of.
    range_m : Span
        Lowest and highest, m.
    limits : tuple of BodyLimit
        Lower limits for heavy or young athletes.
    start_m : float or None
        Highest to begin with where no test has shown a better one, m; None for the top of
        the range.
    """

    kind: HeightKind
    range_m: Span
    limits: tuple[BodyLimit, ...] = ()
    start_m: float | None = None


@dataclass(frozen=True, slots=True)
class Needs:
    """What must be true before the exercise may be given.

    Parameters
    ----------
    squat_per_mass : float
        Squat maximum over body mass, at least.
    landing_practice_weeks : float
        Weeks of landing practice, at least.
    training_age_years : float
        Years of regular training, at least.
    age_years : int
        Completed years, at least; 0 for anyone. An unknown age fails any age above 0.
    pain : PainBand
        Worst band of pain that still allows it.
    soft_surface : bool
        Whether a forgiving surface must be at hand.
    adult_supervision : bool
        Whether someone qualified must watch a minor do it (told, not checked).
    """

    squat_per_mass: float = 0.0
    landing_practice_weeks: float = 0.0
    training_age_years: float = 0.0
    age_years: int = 0
    pain: PainBand = PainBand.ACCEPTABLE
    soft_surface: bool = False
    adult_supervision: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Exercise:
    """One exercise.

    Parameters
    ----------
    id : str
        Identifier, such as "back_squat".
    name : str
        What a coach calls it.
    place : Place
        On the strength-speed continuum.
    families : frozenset of str
        What kind it is, such as "squat" or "depth_jump": the words that a method's phases
        and spacings, and an athlete's restrictions, speak of.
    adds : mapping of Quality to float
        What one set adds to each quality, as a share of a whole week's work on that quality
        in an ordinary block aimed at it. Shares of a week's sets add up; 1 is a full week.
    load : LoadRule or None
        None where the body alone is the load.
    height : Height or None
        None where no height has to be chosen.
    sets, reps : Count
        Sets in a session, repetitions in a set (for each leg where `per_side`).
    per_week : Count
        Sessions a week in which it stands, from 0 or 1.
    rep_s : float
        One repetition, s.
    rest_between_reps_s, rest_s : float
        Rest between repetitions and between sets, s.
    set_up_min : float
        Setting up and warm-up sets, min.
    per_side : bool
        Whether each set is done once with each leg.
    landings_per_rep : float
        Landings in one repetition (for each leg where `per_side`).
    landing_cost : float
        Cost of one landing; a vertical jump's landing is 1.
    landing_cost_per_drop_m : float
        Added to the cost of each landing for each metre dropped.
    equipment : frozenset of str
        Names from :data:`EQUIPMENT`, all needed.
    needs : Needs
        What must be true before it may be given.
    stand_ins : tuple of str
        Exercises that may stand in for it, the nearest first.
    cues : tuple of str
        What to think of while doing it.
    not_for : tuple of str
        Who should not do it, in words.
    source : str
        Where the figures come from.
    """

    id: str
    name: str
    place: Place
    families: frozenset[str]
    adds: Mapping[Quality, float] = field(default_factory=dict)
    load: LoadRule | None = None
    height: Height | None = None
    sets: Count
    reps: Count
    per_week: Count
    rep_s: float
    rest_between_reps_s: float = 0.0
    rest_s: float
    set_up_min: float = 0.0
    per_side: bool = False
    landings_per_rep: float = 0.0
    landing_cost: float = 0.0
    landing_cost_per_drop_m: float = 0.0
    equipment: frozenset[str] = frozenset()
    needs: Needs = field(default_factory=Needs)
    stand_ins: tuple[str, ...] = ()
    cues: tuple[str, ...] = ()
    not_for: tuple[str, ...] = ()
    source: str = ""

    @property
    def lands(self) -> bool:
        """Whether it has any landings."""
        return self.landings_per_rep > 0

    def minutes(self, sets: int, reps: int) -> float:
        """Time for so many sets and repetitions, setting up and rests included, min."""
        sides = 2 if self.per_side else 1
        one_set = sides * (reps * self.rep_s + (reps - 1) * self.rest_between_reps_s)
        return self.set_up_min + sets * (one_set + self.rest_s) / _SECONDS

    def landings(self, sets: int, reps: int) -> float:
        """Landings in so many sets and repetitions, plain count (the harder worked leg)."""
        return sets * reps * self.landings_per_rep

    def landing_load(self, sets: int, reps: int, drop_m: float | None = None) -> float:
        """Landings in so many sets and repetitions, counted by their cost.

        Parameters
        ----------
        sets, reps : int
            Sets, and repetitions in each.
        drop_m : float, optional
            Height dropped from, m; the top of the exercise's range where it is not given.
        """
        if self.height is None or self.height.kind is not HeightKind.DROP:
            drop_m = 0.0
        elif drop_m is None:
            drop_m = self.height.range_m.high
        each = self.landing_cost + self.landing_cost_per_drop_m * drop_m
        return self.landings(sets, reps) * each

"""The coach's method: the rules of a plan, as data.

The method that ships stands in ``data/method.toml`` and is common practice of the trade,
with published evidence beside it; a coach edits a copy. Every rule has an identifier, a
text and a source, and every fault in a file is told with its line. See ``docs/method.md``.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from saltus.athlete.qualities import Quality
from saltus.training.exercises import Exercise
from saltus.training.spans import Count, Span

__all__ = [
    "BackOff",
    "Budget",
    "Careful",
    "Day",
    "DropBy",
    "Easing",
    "Emphasis",
    "LandingSteps",
    "MatchGap",
    "Method",
    "Phase",
    "PhaseKind",
    "Progression",
    "Rule",
    "Spacing",
    "Unloading",
    "Use",
    "WeekShape",
]

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule in words.

    Parameters
    ----------
    id : str
        Identifier.
    text : str
        What it says, for a coach.
    source : str
        Published source, or "common practice", or "judgement".
    """

    id: str
    text: str
    source: str


class PhaseKind(StrEnum):
    """What a phase is for."""

    BUILDING = "building"
    PEAKING = "peaking"
    """The block of depth jumps before the test."""
    UNLOADING = "unloading"
    """No jumps, less work, then the test."""


@dataclass(frozen=True, slots=True)
class Use:
    """How a phase uses a family of exercises, beside each exercise's own ranges.

    Parameters
    ----------
    rule : str
        Identifier of the rule that it follows.
    family : str
        The family.
    per_week : Count
        Sessions a week that hold the family; a low end above 0 is asked for, and told as
        unmet where there is no room.
    sets, reps : Count
        Sets of the family in a session, repetitions in a set.
    percent : Span or None
        Narrower range of load, per cent; None leaves that of the exercise.
    """

    rule: str
    family: str
    per_week: Count
    sets: Count
    reps: Count
    percent: Span | None = None

    @property
    def lighter(self) -> "Use":
        """The same in a lighter week: asked for once at most, with as few sets as need be."""
        fewer = Count(min(self.per_week.low, 1), self.per_week.high)
        return replace(self, per_week=fewer, sets=Count(1, self.sets.high))

    def eased(self, share: float) -> "Use":
        """The same in a week with that share of an ordinary one's work: two sets stay possible."""
        most = max(math.floor(share * self.sets.high + _ROUNDING), min(2, self.sets.high))
        return replace(self.lighter, sets=Count(1, most))


@dataclass(frozen=True, slots=True)
class Phase:
    """A phase of the plan.

    Parameters
    ----------
    id, name : str
        Identifier, and what a coach calls it.
    rule : str
        Identifier of the rule that it follows.
    kind : PhaseKind
        What it is for.
    weeks : Count
        Shortest (where there is time for it at all) and longest, weeks.
    uses : tuple of Use
        The families it uses; an exercise none of whose families is named is not used.
    """

    id: str
    name: str
    rule: str
    kind: PhaseKind
    weeks: Count
    uses: tuple[Use, ...]

    def use_of(self, exercise: Exercise) -> Use | None:
        """Find the first use whose family the exercise belongs to, or None."""
        return next((use for use in self.uses if use.family in exercise.families), None)


@dataclass(frozen=True, slots=True)
class Emphasis:
    """How the weeks of building are shared out, by the limiting quality.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    limiting : Quality or None
        The limiting quality; None while it is undecided.
    shares : mapping of str to float
        Building phase to its share of the weeks left for building; they add up to 1.
    """

    rule: str
    limiting: Quality | None
    shares: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class WeekShape:
    """What a week and a session may hold.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    sessions : Count
        Sessions a week.
    items : Count
        Exercises in a session, warm-up included.
    sets : int
        Working sets in a session, at most (preparation not counted).
    shortest_min : float
        A session shorter than this is not worth the way, min.
    """

    rule: str
    sessions: Count
    items: Count
    sets: int
    shortest_min: float


@dataclass(frozen=True, slots=True)
class Spacing:
    """Days between two sessions that hold the same family.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    family : str
        The family, or "landing" for everything with landings but preparation.
    days : int
        From one to the next, at least: 2 is Monday to Wednesday.
    days_minors : int
        The same for athletes under 18 or of unknown age.
    """

    rule: str
    family: str
    days: int
    days_minors: int


@dataclass(frozen=True, slots=True)
class MatchGap:
    """Days kept free of a family round a match.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    family : str
        The family.
    days_before, days_after : int
        Days before and after the day of the match on which it may not stand; the day itself
        is never used for it.
    """

    rule: str
    family: str
    days_before: int
    days_after: int


@dataclass(frozen=True, slots=True)
class Budget:
    """Landing load that the joints can bear, by training age.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    from_years : float
        Training age from which it holds, years.
    minors : bool
        Whether it is for athletes under 18 (or of unknown age); the others are for adults.
    per_session : float
        On one day, sport of the same day included.
    per_week : float
        In one week, practices and matches included.
    first_week : float
        Landing load that the plan may add in its first week.
    """

    rule: str
    from_years: float
    minors: bool
    per_session: float
    per_week: float
    first_week: float


@dataclass(frozen=True, slots=True)
class LandingSteps:
    """How the landing load may grow, and how bodies and sport change it.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    step : float
        A week's landing load may exceed the highest of the `look_back` weeks before it by
        this share of that,
    allowance : float
        plus this much.
    look_back : int
        Weeks looked back.
    over_kg : float
        Body mass above which the budget shrinks, kg,
    heavy_share : float
        to this share.
    practice_cost, match_cost : float
        Cost of a landing in practice and in a match.
    """

    rule: str
    step: float
    allowance: float
    look_back: int
    over_kg: float
    heavy_share: float
    practice_cost: float
    match_cost: float


@dataclass(frozen=True, slots=True)
class BackOff:
    """Planned lighter weeks; in them every use of a phase is its :attr:`Use.lighter`.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    every_weeks : int
        Every so many weeks of building and peaking, counted from the start of the plan.
    sets_share : float
        Working sets of the week, as a share of the fullest week since the last lighter one
        (preparation not counted), at most.
    """

    rule: str
    every_weeks: int
    sets_share: float


@dataclass(frozen=True, slots=True)
class Progression:
    """How the load of a family creeps up.

    The most that a week may hold rises from the start by `step_points` every `every_weeks`
    weeks, counted from the week in which the phases begin to use the family (anew after a
    pause), within the range of the phase; see
    :func:`saltus.training.loads.percent_ceiling`.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    family : str
        The family.
    start_share : float
        Where the first week stands in the range of the first phase that uses the family:
        0 the lightest end.
    step_points : float
        Rise from one step to the next, per cent points of the maximum, at most.
    every_weeks : int
        Weeks between steps, at least.
    """

    rule: str
    family: str
    start_share: float
    step_points: float
    every_weeks: int


@dataclass(frozen=True, slots=True)
class Careful:
    """The careful side, while the estimates are uncertain.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    weeks : int
        For so many weeks from the start, loads are taken from the low end of the estimate's
        interval.
    ease_weeks : int
        Over so many further weeks they pass evenly from there to the estimate itself, so
        that no week brings a leap.
    height_share : float
        Share of the push-off distance that a box may stand above the low estimate of the
        jump height.
    reserve_reps : int
        Repetitions that a set loaded from a lift's maximum leaves undone, at least.
    """

    rule: str
    weeks: int
    ease_weeks: int
    height_share: float
    reserve_reps: int

    def trust(self, weeks_done: int) -> float:
        """Share of the way from the low end to the estimate, after so many counted weeks."""
        return min(max(weeks_done - self.weeks + 1, 0) / (self.ease_weeks + 1), 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Easing:
    """How training is taken up again after days without any.

    Shares rise evenly from that of the first week back to all of it, which is reached after
    the last of the weeks.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    from_days : int
        Days without training from which it is a break.
    weeks : int
        Weeks of easing in after it.
    load_share : float
        Loads of the first week, as a share of the lighter of the last ones lifted and what
        the week would hold otherwise.
    volume_share : float
        Working sets and landings of the first week, as a share of those of an ordinary one.
    long_days, long_weeks, long_load_share, long_volume_share
        The same for a long break.
    """

    rule: str
    from_days: int
    weeks: int
    load_share: float
    volume_share: float
    long_days: int
    long_weeks: int
    long_load_share: float
    long_volume_share: float


@dataclass(frozen=True, slots=True)
class Unloading:
    """The days before a test.

    Parameters
    ----------
    rule : str
        Identifier of its rule.
    no_jump_days : Count
        Days without planned jumps before the main test; as the phase is planned in whole
        weeks, at least the low end of them.
    sets_share : Span
        Working sets of an unloading week as a share of those of the last full week: never
        above the high end; the low end is what a whole week aims at.
    rest_days : int
        Days without any session before the test.
    second_rule : str
        Identifier of the rule for tests of second rank, which get no unloading phase.
    second_rest_days, second_no_jump_days : int
        Days without any session and without planned jumps before such a test.
    """

    rule: str
    no_jump_days: Count
    sets_share: Span
    rest_days: int
    second_rule: str
    second_rest_days: int
    second_no_jump_days: int


class DropBy(StrEnum):
    """What the best box to drop from is best at."""

    HEIGHT = "height"
    """The highest rebound."""
    RSI = "rsi"
    """Rebound height over contact time (reactive strength index)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """How the sets of a day follow what happened, and how the next day follows this one.

    Parameters
    ----------
    rule : str
        Identifier of the rule for loads.
    beginner_years : float
        Training age up to which a load never rises above that of the plan.
    most_reserve : int
        Repetitions told to be left, above which a set says nothing of the maximum.
    least_change : float
        Share of a load below which a change is not worth the plates.
    most_rise : float
        A load may exceed that of the plan by this share of it, at most.
    missed_rule : str
        For missed repetitions:
    missed_lighter : float
        after one, the load falls by this share at least,
    missed_sets : int
        and after so many sets with one, the exercise ends.
    loss_rule : str
        For sets that lose quality:
    speed_loss, height_loss : float
        share of the first set's bar speed, or of the best jump, that ends the exercise.
    form_rule : str
        For the form of the day:
    below, well_below : float
        Share of ordinary days that show as little: at or under it the day is below usual, or
        well below.
    below_lighter, well_below_lighter : float
        Share by which loads fall on such days.
    well_below_sets : float
        Share of the sets that is left on a day well below.
    pain_rule : str
        For pain.
    held_rule : str
        For loaded jumps:
    held_loss : float
        Share of the height that may be lost and still counts as held.
    held_probability : float
        Probability of that from which the load may rise.
    box_rule : str
        For boxes to land on:
    box_sessions : int
        Sessions in a row with soft landings only, before the box rises.
    box_step_m : float
        Rise at a time, at most, m.
    drop_rule : str
        For boxes to drop from:
    drop_by : DropBy
        What is compared.
    drop_probability : float
        Probability that a higher box is better, from which it is taken before the next lower.
    end_rule : str
        For the end of the depth jumps:
    end_sessions : int
        Sessions with measured jumps, before anything is said.
    end_gain : float
        Gain of a week, as a share of the height, that is worth another week.
    end_probability : float
        Probability of such a gain under which the depth jumps end.
    """

    rule: str
    beginner_years: float
    most_reserve: int
    least_change: float
    most_rise: float
    missed_rule: str
    missed_lighter: float
    missed_sets: int
    loss_rule: str
    speed_loss: float
    height_loss: float
    form_rule: str
    below: float
    well_below: float
    below_lighter: float
    well_below_lighter: float
    well_below_sets: float
    pain_rule: str
    held_rule: str
    held_loss: float
    held_probability: float
    box_rule: str
    box_sessions: int
    box_step_m: float
    drop_rule: str
    drop_by: DropBy
    drop_probability: float
    end_rule: str
    end_sessions: int
    end_gain: float
    end_probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A whole method.

    Parameters
    ----------
    name : str
        What the coach calls it.
    rules : mapping of str to Rule
        Every rule by its identifier.
    exercises : mapping of str to Exercise
        The exercises it may use, by identifier.
    phases : tuple of Phase
        In order of time: building, peaking, unloading.
    emphases : tuple of Emphasis
        One for each trainable quality, and one for "undecided".
    week : WeekShape
        What weeks and sessions may hold.
    spacings, match_gaps, budgets, progressions : tuple
        See their types.
    landing_steps, back_off, careful, easing, unloading, day
        See their types.
    """

    name: str
    rules: Mapping[str, Rule]
    exercises: Mapping[str, Exercise]
    phases: tuple[Phase, ...]
    emphases: tuple[Emphasis, ...]
    week: WeekShape
    spacings: tuple[Spacing, ...]
    match_gaps: tuple[MatchGap, ...]
    budgets: tuple[Budget, ...]
    landing_steps: LandingSteps
    back_off: BackOff
    progressions: tuple[Progression, ...]
    careful: Careful
    easing: Easing
    unloading: Unloading
    day: Day

    def phase(self, phase_id: str) -> Phase:
        """Phase by its identifier.

        Raises
        ------
        KeyError
            If there is none.
        """
        for phase in self.phases:
            if phase.id == phase_id:
                return phase
        raise KeyError(phase_id)

    def emphasis(self, limiting: Quality | None) -> Emphasis:
        """Emphasis for a limiting quality; that for "undecided" where it has none."""
        by_quality = {emphasis.limiting: emphasis for emphasis in self.emphases}
        return by_quality.get(limiting, by_quality[None])

    def family(self, family: str) -> tuple[Exercise, ...]:
        """Exercises of a family, in the order of the file."""
        return tuple(e for e in self.exercises.values() if family in e.families)

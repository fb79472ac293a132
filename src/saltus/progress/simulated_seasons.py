"""Simulated seasons whose truth is known, to see whether bands hold and calls are right.

Three questions. Do the bands of the jump and of each quality hold the truth over a year? How often
is an athlete who does not change at all told a real change? And is a plateau found soon after it
began, and not before?
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.assess import quality_draws
from saltus.athlete.calibration import battery
from saltus.athlete.history import BLOCK_WEEKS, TrainingBlock
from saltus.athlete.load_velocity import SPEED_AT_MAXIMUM, SPEED_SD_M_S, percent_of_maximum
from saltus.athlete.observations import BarSpeedSet, Lift, Observation, RepSet
from saltus.athlete.posterior import FREEDOM, Posterior, Problem, fit
from saltus.athlete.postures import parallel_squat_kg
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.prior import RESPONSE, Constant, State, prior_for
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.response import TRAINED, block_effect
from saltus.athlete.strength import MAXIMUM_CV, maximum_from_reps
from saltus.athlete.timeline import moments
from saltus.athlete.virtual import VirtualAthlete, random_person, virtual_athlete
from saltus.progress.change import changes, since_first
from saltus.progress.lifts_over_time import LiftTest
from saltus.progress.plateau import plateaus
from saltus.quantities import Estimate
from saltus.training.emphasis import UPKEEP

__all__ = [
    "JUMP",
    "PlateauOutcome",
    "Schedule",
    "band_outcome",
    "false_alarm_outcome",
    "plateau_outcome",
    "weekly_gain",
]

JUMP = "jump"

_BLOCK_WEEKS = 6
_LOOKS_FROM, _FOUND_WITHIN = 3, 4
_REPS, _RESERVE = 5, 2.0
_LIFTS = (Lift.BACK_SQUAT, Lift.TRAP_BAR_DEADLIFT, Lift.LEG_PRESS)
_UP_TO_THE_SET = (0.6, 0.75, 0.9, 1.0, 1.0, 1.0)
# Of the load of the hardest set: three sets that lead up to it, and three with it.
_FALL_SPREAD = 0.15
# People differ by 9 to 25 % (IJERPH 2022, doi 10.3390/ijerph19116756).
_SEASON_WEEKS = 12


@dataclass(frozen=True, slots=True)
class Schedule:
    """How often an athlete is tested while a quality is trained.

    Parameters
    ----------
    jumps_per_week : float
        Days of three countermovement jumps each.
    own_per_week : float
        Tests of the quality itself: a maximum, an isometric pull, jumps with load, squat jumps.
    sessions_per_week : float
        Sessions whose hardest set of each leg lift is logged: five repetitions with two left.
    set_error : float
        How much these sets vary from day to day, over what is published.
    lifts : int
        Leg lifts of a session; half of the form of the day is common to them.
    bar_speeds : bool
        Whether the bar's speed is logged too, in the sets that lead up to these and in them.
    """

    jumps_per_week: float
    own_per_week: float
    sessions_per_week: float = 0.0
    set_error: float = 1.0
    lifts: int = 1
    bar_speeds: bool = False


@dataclass(frozen=True, slots=True)
class PlateauOutcome:
    """What was called in a simulated block, looked at every week from the third on.

    Parameters
    ----------
    onset_week : float or None
        When the gain truly stopped, looked at up to four weeks after that; None where it went on
        for twelve weeks.
    called_weeks : tuple of int
        Weeks at whose end a plateau was called.
    """

    onset_week: float | None
    called_weeks: tuple[int, ...]

    @property
    def looks_rising(self) -> range:
        """Weeks at whose end the quality still rose."""
        return range(_LOOKS_FROM, int(self.onset_week or _SEASON_WEEKS) + 1)

    @property
    def found(self) -> bool:
        """Whether a plateau that was there was called within four weeks, and not before."""
        return bool(self.onset_week and self.called_weeks) and not self.false()

    def false(self, until: int = _SEASON_WEEKS) -> bool:
        """Whether one was called while the quality still rose, at any look up to a week."""
        return any(week in self.looks_rising and week <= until for week in self.called_weeks)


def band_outcome(
    rng: np.random.Generator, on: dt.date, *, draws: int = 2000
) -> dict[str, list[int]]:
    """A year of blocks and fortnightly tests; each band against the truth.

    Returns
    -------
    dict of str to list of int
        By quality, and of the jump, one for each date: 0 where the band holds the truth, 1 where
        the truth lies above it, -1 below.
    """
    start = on - dt.timedelta(weeks=52)
    tests: list[Observation] = []
    for week in range(0, 53, 2):
        chosen = [name for name in ("sj", "squat", "pull", "drops", "loaded") if rng.random() < 0.3]
        tests += battery(["cmj", *chosen], start + dt.timedelta(weeks=week))
    aims = rng.choice(len(TRAINABLE), size=52 // _BLOCK_WEEKS)
    blocks = tuple(
        _block(start + dt.timedelta(weeks=_BLOCK_WEEKS * i), _BLOCK_WEEKS, TRAINABLE[aim])
        for i, aim in enumerate(aims)
    )
    athlete = virtual_athlete(random_person(rng, on), tests, rng, on=on, blocks=blocks)
    posterior = fit(Problem(athlete.person, athlete.observations, blocks, on), draws=draws)
    truth = _truth(athlete, posterior)
    sides: dict[str, list[int]] = {}
    for i, moment in enumerate(moments(posterior)):
        true_jump = jump_height_m(
            Start.COUNTERMOVEMENT,
            truth.states[:, i],
            truth.segment_m,
            athlete.person.mass_kg(moment.date),
        )
        sides.setdefault(JUMP, []).append(_side(moment.jump_m, float(true_jump[0])))
        for quality, drawn in quality_draws(truth, i).items():
            side = _side(moment.qualities[quality], float(drawn[0]))
            sides.setdefault(quality.value, []).append(side)
    return sides


def false_alarm_outcome(
    rng: np.random.Generator, on: dt.date, *, trained: bool = False, draws: int = 2000
) -> dict[str, list[bool]]:
    """Half a year of fortnightly tests of an athlete who does not change at all.

    Parameters
    ----------
    rng, on, draws
        As in :func:`band_outcome`.
    trained : bool
        Whether blocks that brought nothing are on record.

    Returns
    -------
    dict of str to list of bool
        "next": for each test day, whether the jump was told a real rise or fall since the one
        before; "first": since the first of them.
    """
    days = [on - dt.timedelta(weeks=2 * i) for i in range(13, -1, -1)]
    tests = [
        test
        for i, day in enumerate(days)
        for test in battery(["cmj", *(["squat"] if i % 2 == 0 else [])], day)
    ]
    person = random_person(rng, on)
    steady = replace(prior_for(person), walk_sd=np.zeros(len(prior_for(person).walk_sd)))
    athlete = virtual_athlete(person, tests, rng, on=on, prior=steady)
    blocks = tuple(
        _block(days[0] + dt.timedelta(weeks=_BLOCK_WEEKS * i), _BLOCK_WEEKS, TRAINABLE[aim])
        for i, aim in enumerate(rng.choice(len(TRAINABLE), size=4) if trained else ())
    )
    posterior = fit(Problem(person, athlete.observations, blocks, on), draws=draws)
    return {
        "next": [change.verdict in ("rise", "fall") for change in changes(posterior)],
        "first": [change.verdict in ("rise", "fall") for change in since_first(posterior)],
    }


def plateau_outcome(
    rng: np.random.Generator,
    on: dt.date,
    quality: Quality,
    testing: Schedule,
    *,
    onset_week: float | None,
    wander: float,
    least_gain: float = 0.0,
    draws: int = 160,
) -> PlateauOutcome:
    """A block aimed at a quality whose gain stops in some week, or goes on.

    Parameters
    ----------
    rng : Generator
        Of the draw.
    on : date
        First day of the block.
    quality : Quality
        What it is aimed at.
    testing : Schedule
        How often.
    onset_week : float or None
        When the gain stops.
    wander : float
        How much the true qualities wander besides, over what the prior grants a season that
        nobody wrote down.
    least_gain : float
        Of :func:`weekly_gain` while it rises: athletes are drawn until one gains so much.
    draws : int
        Of each posterior; the call rests on its mode.
    """
    weeks = _SEASON_WEEKS if onset_week is None else int(np.floor(onset_week)) + _FOUND_WITHIN
    last = on + dt.timedelta(weeks=weeks)
    tests = _tests(on, weeks, quality, testing)
    days = [on + each for each in _days(weeks, testing.sessions_per_week)]
    held = [test for day in days for test in battery(["cmj"], day)]
    gaining = _block(on, weeks if onset_week is None else onset_week, quality)
    while True:
        person = random_person(rng, on)
        prior = prior_for(person)
        athlete = virtual_athlete(
            person,
            [*tests, *held],
            rng,
            on=last,
            blocks=(gaining,),
            prior=replace(prior, walk_sd=wander * prior.walk_sd),
        )
        if weekly_gain(athlete, quality) >= least_gain:
            break
    placeholders = {id(test) for test in held}
    ordered = sorted([*tests, *held], key=lambda test: test.date)
    done = [
        test
        for was, test in zip(ordered, athlete.observations, strict=True)
        if id(was) not in placeholders
    ]
    lifts = _sets(athlete, days, [*(test.date for test in ordered), last], testing, rng)
    block = _block(on, weeks, quality)
    called = []
    for week in range(_LOOKS_FROM, weeks + 1):
        today = on + dt.timedelta(weeks=week)
        posterior = fit(Problem(person, done, (block,), today), draws=draws)
        told = [each for each in plateaus(posterior, (block,), lifts) if each.quality is quality]
        if told and told[0].plateau:
            called.append(week)
    return PlateauOutcome(onset_week, tuple(called))


def weekly_gain(athlete: VirtualAthlete, quality: Quality) -> float:
    """What a week of an ordinary block truly brings an athlete at first.

    As a share: of the squat maximum for max strength, else of the quality itself.
    """
    state, segment = athlete.states[0], np.exp(athlete.constants[Constant.SEGMENT])
    gained = block_effect(
        state,
        segment,
        quality,
        response=np.exp(athlete.constants[RESPONSE[quality]]),
        training_years=prior_for(athlete.person).training_years,
        dose=1 / BLOCK_WEEKS,
    )
    if quality is not Quality.MAX_STRENGTH:
        return float(np.expm1(gained[TRAINED[quality]]))
    before, after = (
        parallel_squat_kg(np.exp(each[State.TORQUE]), np.exp(each[State.SPEED]), segment, 1.0)
        for each in (state, state + gained)
    )
    return float(after / before - 1)


def _days(weeks: int, per_week: float) -> list[dt.timedelta]:
    if not per_week:
        return []
    return [dt.timedelta(days=round(7 * i / per_week)) for i in range(int(weeks * per_week) + 1)]


def _sets(
    athlete: VirtualAthlete,
    days: Sequence[dt.date],
    dates: Sequence[dt.date],
    testing: Schedule,
    rng: np.random.Generator,
) -> list[LiftTest]:
    """The hardest set of each leg lift on each of these days, with the published errors.

    Formulas and the athlete's habit of telling what is left err alike in all sets of a lift.
    """
    if not days:
        return []
    place = {date: i for i, date in enumerate(sorted(set(dates)))}
    state = athlete.states[[place[day] for day in days]]
    maximum = parallel_squat_kg(
        np.exp(state[:, State.TORQUE]),
        np.exp(state[:, State.SPEED]),
        np.exp(athlete.constants[Constant.SEGMENT]),
        np.array([athlete.person.mass_kg(day) for day in days]),
    ) * np.exp(athlete.constants[Constant.SQUAT_SKILL])
    told = RepSet(date=days[0], lift=Lift.BACK_SQUAT, load_kg=1.0, reps=_REPS, reserve=_RESERVE)
    factor, sd = maximum_from_reps(told)
    own = 0.5 * (sd**2 - MAXIMUM_CV**2)
    form = 0.5 * MAXIMUM_CV**2

    def error(variance: float) -> NDArray[np.float64]:
        scale = testing.set_error * np.sqrt(variance * (FREEDOM - 2) / FREEDOM)
        return np.asarray(scale * rng.standard_t(FREEDOM, len(days)))

    common = error(form)
    sets: list[LiftTest] = []
    for lift in _LIFTS[: testing.lifts]:
        of_day = maximum * np.exp(common + error(form))
        loads = of_day * np.exp(np.sqrt(own) * rng.standard_normal() + error(own)) / factor
        sets += [
            replace(told, date=day, lift=lift, load_kg=float(load))
            for day, load in zip(days, loads, strict=True)
        ]
        if testing.bar_speeds:
            sets += _bar_speeds(lift, days, loads, of_day, rng)
    return sets


def _bar_speeds(
    lift: Lift,
    days: Sequence[dt.date],
    loads: NDArray[np.float64],
    of_day: NDArray[np.float64],
    rng: np.random.Generator,
) -> list[BarSpeedSet]:
    """Speeds of the sets up to each of these loads, under the maxima of these days.

    They follow the published curve, not the line by which they are read; the speed at the maximum
    and how fast it falls to that differ between people.
    """
    at_maximum, spread = SPEED_AT_MAXIMUM[lift]
    speeds = np.linspace(2.0, 0.2, 200)
    shares = percent_of_maximum(speeds) / 100
    usual = np.interp(1.0, shares, speeds)
    slowest = max(at_maximum + spread * rng.standard_normal(), 0.5 * at_maximum)
    steeper = np.exp(_FALL_SPREAD * rng.standard_normal())
    sets = []
    for day, load, one_rm in zip(days, loads, of_day, strict=True):
        steps = load * np.array(_UP_TO_THE_SET)
        fall = np.interp(steps / one_rm, shares, speeds) - usual
        read = slowest + steeper * fall + SPEED_SD_M_S * rng.standard_normal(steps.size)
        sets.append(
            BarSpeedSet(
                date=day,
                lift=lift,
                loads_kg=tuple(map(float, steps)),
                speeds_m_s=tuple(float(each) for each in np.clip(read, 0.11, 1.49).round(2)),
            )
        )
    return sets


_OWN_TEST = {
    Quality.MAX_STRENGTH: "squat",
    Quality.RATE_OF_FORCE_DEVELOPMENT: "pull",
    Quality.PUSH_OFF_SPEED: "loaded",
    Quality.STRETCH_SHORTENING_GAIN: "sj",
}


def _tests(on: dt.date, weeks: int, quality: Quality, testing: Schedule) -> tuple[Observation, ...]:
    days: dict[int, list[str]] = {0: ["cmj", _OWN_TEST[quality]]}
    for name, per_week in (
        ("cmj", testing.jumps_per_week),
        (_OWN_TEST[quality], testing.own_per_week),
    ):
        for after in _days(weeks, per_week)[1:]:
            names = days.setdefault(after.days, [])
            if name not in names:
                names.append(name)
    return tuple(
        test for day, names in days.items() for test in battery(names, on + dt.timedelta(days=day))
    )


def _block(start: dt.date, weeks: float, aim: Quality) -> TrainingBlock:
    emphasis = {quality: 1.0 if quality is aim else UPKEEP for quality in TRAINABLE}
    return TrainingBlock(start, start + dt.timedelta(days=round(7 * weeks) - 1), emphasis)


def _truth(athlete: VirtualAthlete, like: Posterior) -> Posterior:
    """The truth as a posterior of one draw."""
    return replace(
        like, states=athlete.states[None], constants=athlete.constants[None], weights=np.ones(1)
    )


def _side(estimate: Estimate, truth: float) -> int:
    return int(truth > estimate.high) - int(truth < estimate.low)

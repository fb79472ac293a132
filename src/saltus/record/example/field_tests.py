"""Tests of an invented athlete: what a coach would have read, errors and biases included."""

import math
from dataclasses import replace

import numpy as np

from saltus.athlete.broad_jump import broad_jump_distance_m
from saltus.athlete.load_velocity import percent_of_maximum
from saltus.athlete.measurement_error import (
    ATTEMPT_CV,
    CONTACT_ATTEMPT_CV,
    CONTACT_DAY_CV,
    DAY_CV,
    METHODS,
    isometric_error,
    true_drop,
)
from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    Observation,
    RepSet,
)
from saltus.athlete.pushoff import Start
from saltus.athlete.strength import LIFT_RATIO, maximum_from_reps
from saltus.record.example.truth import Athlete

__all__ = ["Coach"]

_STARTS = {
    JumpStyle.SQUAT: Start.SQUAT,
    JumpStyle.COUNTERMOVEMENT: Start.COUNTERMOVEMENT,
    JumpStyle.APPROACH: Start.COUNTERMOVEMENT,
}
_LIFT_CV = 0.025
_BAR_SPEED_SD_M_S = 0.02
_WEIGHTLIFTS = (Lift.POWER_CLEAN, Lift.POWER_SNATCH, Lift.JERK)
_EARLY_MS = (50, 100, 150, 200, 250)


class Coach:
    """Whoever does the testing: biases that stay, errors that are new every time.

    Parameters
    ----------
    athlete : Athlete
        Who is tested.
    rng : Generator
        Of the biases, which are this athlete's for good.
    """

    def __init__(self, athlete: Athlete, rng: np.random.Generator) -> None:
        self.athlete = athlete
        self._bias_m = {
            method: METHODS[method].bias_m + METHODS[method].bias_sd_m * rng.standard_normal()
            for method in JumpMethod
        }

    def reading(self, test: Observation, rng: np.random.Generator) -> Observation:
        """Return the same test with what was read off.

        Parameters
        ----------
        test : Observation
            What was done; its values are only counted.
        rng : Generator
            Of the errors.
        """
        match test:
            case Jump():
                return replace(test, heights_m=self._heights(test, rng))
            case DropJump():
                return self._drop_jump(test, rng)
            case BroadJump():
                return self._broad_jump(test, rng)
            case Maximum():
                load = self._maximum_kg(test.lift, test, rng)
                return replace(test, load_kg=load)
            case RepSet():
                share = maximum_from_reps(replace(test, load_kg=1.0))[0]
                return replace(test, load_kg=self._maximum_kg(test.lift, test, rng) / share)
            case BarSpeedSet():
                return self._bar_speeds(test, rng)
            case IsometricPull():
                return self._pull(test, rng)

    def _attempts(
        self, n: int, rng: np.random.Generator
    ) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        """Form of the day and of each attempt, shape (n,)."""
        day = DAY_CV * rng.standard_normal()
        return 1 + day + ATTEMPT_CV * rng.standard_normal(n)

    def _heights(self, test: Jump, rng: np.random.Generator) -> tuple[float, ...]:
        truth = self.athlete.truth
        push = self.athlete.push(_STARTS[test.style], test.date, load_kg=test.load_kg)
        height = float(push.height_m[0])
        approach = test.style is JumpStyle.APPROACH
        if test.arms or approach:
            height *= truth.arms
        if approach:
            height *= truth.approach
        n = len(test.heights_m)
        reading = METHODS[test.method].reading_sd_m * rng.standard_normal(n)
        heights = height * self._attempts(n, rng) + self._bias_m[test.method] + reading
        return tuple(float(h) for h in heights)

    def _drop_jump(self, test: DropJump, rng: np.random.Generator) -> DropJump:
        truth = self.athlete.truth
        drop = test.drop_m if test.true_drop else true_drop(test.drop_m)[0]
        push = self.athlete.push(Start.DROP, test.date, drop_m=drop)
        n = len(test.heights_m)
        heights = float(push.height_m[0]) * truth.rebound_height * self._attempts(n, rng)
        heights += self._bias_m[test.method]
        day = 1 + CONTACT_DAY_CV * rng.standard_normal()
        form = day + CONTACT_ATTEMPT_CV * rng.standard_normal(n)
        contacts = float(push.contact_s[0]) * truth.rebound_contact * form
        return replace(
            test,
            heights_m=tuple(float(h) for h in heights),
            contacts_s=tuple(float(c) for c in contacts) if test.contacts_s else (),
        )

    def _broad_jump(self, test: BroadJump, rng: np.random.Generator) -> BroadJump:
        height = float(self.athlete.push(Start.COUNTERMOVEMENT, test.date).height_m[0])
        if test.arms:
            height *= self.athlete.truth.arms
        distance = broad_jump_distance_m(
            height, stature_m=self.athlete.person.stature_m or 1.75, arms=test.arms
        )
        attempts = distance * self._attempts(len(test.distances_m), rng)
        return replace(test, distances_m=tuple(float(d) for d in attempts))

    def _maximum_kg(
        self, lift: Lift, test: Observation, rng: np.random.Generator | None = None
    ) -> float:
        maximum = self.athlete.squat_kg(test.date) * LIFT_RATIO[lift].mean
        if lift in _WEIGHTLIFTS:
            maximum *= self.athlete.truth.clean_skill
        return maximum if rng is None else maximum * math.exp(_LIFT_CV * rng.standard_normal())

    def _bar_speeds(self, test: BarSpeedSet, rng: np.random.Generator) -> BarSpeedSet:
        maximum = self._maximum_kg(test.lift, test, rng)
        grid = np.linspace(0.2, 1.5, 1301)
        percent = percent_of_maximum(grid)  # falls with speed
        wanted = 100 * np.asarray(test.loads_kg) / maximum
        speeds = np.interp(-wanted, -percent, grid)
        speeds += _BAR_SPEED_SD_M_S * rng.standard_normal(speeds.size)
        return replace(test, speeds_m_s=tuple(float(v) for v in speeds))

    def _pull(self, test: IsometricPull, rng: np.random.Generator) -> IsometricPull:
        peak = self.athlete.pull_n(test.date) * math.exp(isometric_error() * rng.standard_normal())
        shared = rng.standard_normal()  # a late onset shifts all the early forces alike
        early = {
            ms: min(
                self.athlete.pull_n(test.date, ms / 1000)
                * math.exp(0.5 * isometric_error(ms) * (shared + rng.standard_normal())),
                0.99 * peak,
            )
            for ms in _EARLY_MS
        }
        return replace(test, peak_n=peak, force_at_n=early if test.force_at_n else {})

"""What an invented athlete truly is: qualities that no test shows directly."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.history import BLOCK_WEEKS, TrainingBlock
from saltus.athlete.person import Person
from saltus.athlete.postures import SEGMENT_PER_STATURE, isometric_pull_n, parallel_squat_kg
from saltus.athlete.prediction import NOMINAL_PULL_EFFICIENCY
from saltus.athlete.prior import N_STATE, State
from saltus.athlete.pushoff import Pushes, Start, simulate
from saltus.athlete.response import block_effect

__all__ = ["Athlete", "Truth"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Truth:
    """Qualities on the day of the first test, and what is the athlete's own.

    Parameters
    ----------
    torque_nm_kg, speed_rad_s, rfd_nm_s_kg, stretch_gain, distance_m : float
        Of the push-off model, per kg of body mass.
    arms, approach : float
        Height with arms over without, and with a run-up over a standing jump with arms.
    rebound_height, rebound_contact : float
        Rebound and contact time over those of the model.
    squat_skill, clean_skill, pull_efficiency : float
        Lifted and pulled over what the leg would give.
    response : float
        Gain from a block over the ordinary gain.
    landing_bend_m : float
        How much lower the centre of mass is at landing than at take-off, m.
    left_share : float
        Share of the weight on the left foot.
    """

    torque_nm_kg: float
    speed_rad_s: float
    rfd_nm_s_kg: float
    stretch_gain: float
    distance_m: float
    arms: float = 1.24
    approach: float = 1.15
    rebound_height: float = 1.35
    rebound_contact: float = 1.0
    squat_skill: float = 1.0
    clean_skill: float = 1.0
    pull_efficiency: float = 1.0
    response: float = 1.0
    landing_bend_m: float = 0.015
    left_share: float = 0.505


class Athlete:
    """An invented athlete on any day: the truth, carried on by the training done.

    Parameters
    ----------
    truth : Truth
        On the day of the first test.
    person : Person
        For body mass, stature and training age.
    blocks : sequence of TrainingBlock
        Training done, which changes the truth.
    first : date
        The day of the first test.
    """

    def __init__(
        self, truth: Truth, person: Person, blocks: Sequence[TrainingBlock], first: dt.date
    ) -> None:
        self.truth = truth
        self.person = person
        self.segment_m = SEGMENT_PER_STATURE * (person.stature_m or 1.75)
        self._blocks = sorted(blocks, key=lambda block: block.start)
        self._first = first

    def state(self, on: dt.date) -> NDArray[np.float64]:
        """Log-qualities on a day, shape (5,)."""
        state = np.empty(N_STATE)
        state[State.TORQUE] = np.log(self.truth.torque_nm_kg)
        state[State.SPEED] = np.log(self.truth.speed_rad_s)
        state[State.RATE] = np.log(self.truth.rfd_nm_s_kg)
        state[State.STRETCH] = np.log(self.truth.stretch_gain)
        state[State.DISTANCE] = np.log(self.truth.distance_m)
        for block in self._blocks:
            weeks = block.weeks_within(self._first, on)
            before = state.copy()
            for quality, emphasis in block.emphasis.items():
                state += block_effect(
                    before,
                    np.array(self.segment_m),
                    quality,
                    response=self.truth.response,
                    training_years=self.person.training_age_years,
                    dose=emphasis * weeks / BLOCK_WEEKS,
                )
        return state

    def qualities(self, on: dt.date) -> dict[str, float]:
        """Arguments of the simulator on a day; masses and torques are those of the person."""
        torque, speed, rate, stretch, distance = np.exp(self.state(on))
        mass = self.person.mass_kg(on)
        return {
            "mass_kg": mass,
            "segment_m": self.segment_m,
            "torque_nm": float(torque) * mass,
            "speed_rad_s": float(speed),
            "rfd_nm_s": float(rate) * mass,
            "distance_m": float(distance),
            "stretch_gain": float(stretch),
        }

    def push(
        self, start: Start, on: dt.date, *, load_kg: float = 0.0, drop_m: float = 0.0
    ) -> Pushes:
        """Simulate one jump without arms on a day."""
        return simulate(start, **self.qualities(on), load_kg=load_kg, drop_m=drop_m)

    def squat_kg(self, on: dt.date) -> float:
        """Back squat that can be lifted once on a day, kg."""
        state = np.exp(self.state(on))
        load = parallel_squat_kg(
            state[State.TORQUE], state[State.SPEED], self.segment_m, self.person.mass_kg(on)
        )
        return float(load) * self.truth.squat_skill

    def pull_n(self, on: dt.date, after_s: float = np.inf) -> float:
        """Isometric pull so long after its onset on a day, body weight included, N."""
        state = np.exp(self.state(on))
        efficiency = NOMINAL_PULL_EFFICIENCY * self.truth.pull_efficiency
        force = isometric_pull_n(
            state[State.TORQUE],
            state[State.RATE],
            self.segment_m,
            self.person.mass_kg(on),
            efficiency=efficiency,
            after_s=after_s,
        )
        return float(force)

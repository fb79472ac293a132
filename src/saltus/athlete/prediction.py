"""What the model says each reading should be, for many athletes at once."""

import datetime as dt
from collections.abc import Callable, Hashable, Sequence

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.person import Person
from saltus.athlete.postures import isometric_pull_n, parallel_squat_kg
from saltus.athlete.prior import N_STATE, Constant, State
from saltus.athlete.pushoff import Start, simulate_later
from saltus.athlete.readings import Reading, ReadingKind

__all__ = ["IMPOSSIBLE", "NOMINAL_PULL_EFFICIENCY", "Predictor", "jump_height_m"]

NOMINAL_PULL_EFFICIENCY = 0.65
"""Share of the leg's own isometric force that a mid-thigh pull shows (design figure)."""

_START = {
    ReadingKind.SQUAT_JUMP: Start.SQUAT,
    ReadingKind.COUNTERMOVEMENT_JUMP: Start.COUNTERMOVEMENT,
    ReadingKind.REBOUND_HEIGHT: Start.DROP,
    ReadingKind.REBOUND_CONTACT: Start.DROP,
}
IMPOSSIBLE = 1e-6
"""Stands for a jump that cannot be made (a load that cannot be stood up with): far below
anything that was read, so that such qualities are as good as ruled out."""


def jump_height_m(
    start: Start,
    state: NDArray[np.float64],
    segment_m: NDArray[np.float64],
    mass_kg: float | NDArray[np.float64],
    *,
    load_kg: float = 0.0,
    drop_m: float = 0.0,
) -> NDArray[np.float64]:
    """Height of the jump without arms, m, for log-qualities of shape (..., 5).

    Parameters
    ----------
    start : Start
        Squat, countermovement or drop.
    state : ndarray, shape (..., 5)
        Log-qualities per kg of `mass_kg`.
    segment_m : ndarray, broadcast with shape (...)
        Half the outstretched leg, m.
    mass_kg, load_kg, drop_m : float
        Body mass, external load, true drop.

    Returns
    -------
    ndarray, shape (...)
        Almost 0 where the jump cannot be made.
    """
    height, _ = _jumped(start, state, segment_m, mass_kg, load_kg=load_kg, drop_m=drop_m)()
    return height


def _jumped(
    start: Start | NDArray[np.int64],
    state: NDArray[np.float64],
    segment_m: NDArray[np.float64],
    mass_kg: float | NDArray[np.float64],
    *,
    load_kg: float | NDArray[np.float64],
    drop_m: float | NDArray[np.float64],
) -> Callable[[], tuple[NDArray[np.float64], NDArray[np.float64]]]:
    """Begin to simulate; the callable waits, and gives heights (m) and contact times (s)."""
    shape = state.shape[:-1]

    def each(values: float | NDArray[np.float64]) -> NDArray[np.float64]:
        return np.broadcast_to(np.asarray(values, dtype=float), shape).ravel()

    natural = np.exp(state.reshape(-1, N_STATE))
    mass = each(mass_kg)
    running = simulate_later(
        start if isinstance(start, Start) else np.broadcast_to(start, shape).ravel(),
        {
            "mass_kg": mass,
            "segment_m": each(segment_m),
            "torque_nm": natural[:, State.TORQUE] * mass,
            "speed_rad_s": natural[:, State.SPEED],
            "rfd_nm_s": natural[:, State.RATE] * mass,
            "distance_m": natural[:, State.DISTANCE],
            "stretch_gain": natural[:, State.STRETCH],
            "load_kg": each(load_kg),
            "drop_m": each(drop_m),
        },
    )

    def done() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        pushes = running()
        height = np.where(pushes.feasible, pushes.height_m, IMPOSSIBLE)
        contact = np.where(pushes.feasible, pushes.contact_s, 1.0)
        return height.reshape(shape), contact.reshape(shape)

    return done


class Predictor:
    """Predicts a fixed list of readings from states at their dates and the constants.

    Parameters
    ----------
    readings : sequence of Reading, length m
        What is to be predicted.
    dates : sequence of date
        All dates of the state; every reading's date is among them.
    person : Person
        For body mass.
    """

    def __init__(self, readings: Sequence[Reading], dates: Sequence[dt.date], person: Person):
        self.readings = tuple(readings)
        place = {date: i for i, date in enumerate(dates)}
        self.date_index = np.array([place[r.date] for r in self.readings], dtype=int)
        self.mass_kg = np.array([person.mass_kg(r.date) for r in self.readings])
        self.is_log = np.array([r.is_log for r in self.readings], dtype=bool)
        self.shift = np.array([r.shift for r in self.readings])
        values = np.array([r.value for r in self.readings])
        self.value = np.where(self.is_log, np.log(np.where(self.is_log, values, 1.0)), values)
        self.sd = np.array([r.sd for r in self.readings])
        self._log_terms = _incidence([r.log_terms for r in self.readings])
        self._add_terms = _incidence([r.add_terms for r in self.readings])
        self.alike = _alike([(r.kind, r.load_kg, r.drop_m, r.after_s) for r in self.readings])
        # Readings of one push differ in their method alone, or tell its height and its contact.
        pushed = [i for i, r in enumerate(self.readings) if r.kind in _START]
        pushes = _alike(
            [
                (self.date_index[i], _START[r.kind], r.load_kg, r.drop_m)
                for i, r in ((i, self.readings[i]) for i in pushed)
            ]
        )
        members = [np.array(pushed)[places] for places in pushes]
        self._pushed = np.array([each[0] for each in members], dtype=int)
        firsts = [self.readings[i] for i in self._pushed]
        self._start = np.array([_START[r.kind].code for r in firsts], dtype=int)
        self._load_kg = np.array([r.load_kg for r in firsts])
        self._drop_m = np.array([r.drop_m for r in firsts])
        self._push_of = np.full(len(self.readings), -1)
        for push, each in enumerate(members):
            self._push_of[each] = push
        told = np.array([r.kind is ReadingKind.REBOUND_CONTACT for r in self.readings], dtype=bool)
        self._contacts = np.flatnonzero(told)
        self._heights = np.flatnonzero((self._push_of >= 0) & ~told)

    def __len__(self) -> int:
        return len(self.readings)

    def raw(
        self, state: NDArray[np.float64], segment_m: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        """Readings before the constants of person and method: the expensive part.

        Parameters
        ----------
        state : ndarray, shape (n, m, 5)
            Log-qualities at each reading's date.
        segment_m : ndarray, shape (n,)
            Half the outstretched leg, m.

        Returns
        -------
        ndarray, shape (n, m)
            m, s, kg or N.
        """
        return self.raw_later(state, segment_m)()

    def raw_later(
        self, state: NDArray[np.float64], segment_m: NDArray[np.float64]
    ) -> Callable[[], NDArray[np.float64]]:
        """Begin what :meth:`raw` does; the callable waits for it, and gives the readings."""
        out = np.empty(state.shape[:2])
        for members in self.alike:
            reading = self.readings[members[0]]
            if reading.kind not in _START:
                at = state[:, members]
                segment = np.broadcast_to(segment_m[:, None], at.shape[:2])
                out[:, members] = _closed_form(
                    reading.kind, at, segment, self.mass_kg[members], reading.after_s
                )
        if not self._pushed.size:
            return lambda: out
        running = _jumped(
            self._start,
            state[:, self._pushed],
            segment_m[:, None],
            self.mass_kg[self._pushed],
            load_kg=self._load_kg,
            drop_m=self._drop_m,
        )

        def done() -> NDArray[np.float64]:
            height, contact = running()
            out[:, self._heights] = height[:, self._push_of[self._heights]]
            out[:, self._contacts] = contact[:, self._push_of[self._contacts]]
            return out

        return done

    def finish(
        self, raw: NDArray[np.float64], constants: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        """Readings on the scale on which they are compared: m, or a logarithm.

        Parameters
        ----------
        raw : ndarray, shape (n, m)
            From :meth:`raw`.
        constants : ndarray, shape (n, 19)
            The athlete's constants.

        Returns
        -------
        ndarray, shape (n, m)
        """
        gain = constants @ self._log_terms.T
        added = constants @ self._add_terms.T + self.shift
        logs = np.log(np.maximum(raw, IMPOSSIBLE)) + gain + added
        return np.asarray(np.where(self.is_log, logs, raw * np.exp(gain) + added))

    def pulled_back(
        self,
        by_reading: NDArray[np.float64],
        raw: NDArray[np.float64],
        constants: NDArray[np.float64],
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Slopes in what :meth:`finish` takes, from slopes in what it returns.

        Parameters
        ----------
        by_reading : ndarray, shape (n, m)
            Slopes of a function in the finished readings.
        raw, constants : ndarray, shapes (n, m) and (n, 19)
            Where.

        Returns
        -------
        by_log_raw : ndarray, shape (n, m)
            In the logarithm of `raw`.
        by_constant : ndarray, shape (n, 19)
        """
        grown = raw * np.exp(constants @ self._log_terms.T)
        by_log_raw = by_reading * np.where(self.is_log, 1.0, grown)
        by_constant = by_log_raw @ self._log_terms + by_reading @ self._add_terms
        return by_log_raw, by_constant


def _closed_form(
    kind: ReadingKind,
    state: NDArray[np.float64],
    segment_m: NDArray[np.float64],
    mass_kg: NDArray[np.float64],
    after_s: float,
) -> NDArray[np.float64]:
    """Readings that need no simulation, shape of `segment_m`."""
    natural = np.exp(state)
    torque = natural[..., State.TORQUE]
    if kind is ReadingKind.DISTANCE:
        return natural[..., State.DISTANCE]
    if kind is ReadingKind.SQUAT_MAXIMUM:
        return parallel_squat_kg(torque, natural[..., State.SPEED], segment_m, mass_kg)
    return isometric_pull_n(
        torque,
        natural[..., State.RATE],
        segment_m,
        mass_kg,
        efficiency=NOMINAL_PULL_EFFICIENCY,
        after_s=after_s,
    )


def _alike(keys: Sequence[Hashable]) -> tuple[NDArray[np.int64], ...]:
    """Places of each key, in the order in which keys first come."""
    places: dict[Hashable, list[int]] = {}
    for i, key in enumerate(keys):
        places.setdefault(key, []).append(i)
    return tuple(np.array(each) for each in places.values())


def _incidence(terms: Sequence[tuple[Constant, ...]]) -> NDArray[np.float64]:
    matrix = np.zeros((len(terms), len(Constant)))
    for row, constants in enumerate(terms):
        matrix[row, list(constants)] = 1.0
    return matrix

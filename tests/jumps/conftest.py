"""Invented movements on a plate, with their truth known from the formulas they are made of."""

import math
from dataclasses import dataclass

import numpy as np
import pytest

from saltus.athlete.pushoff_terms import Start
from saltus.athlete.pushoff_trace import trace
from saltus.quantities import STANDARD_GRAVITY as G
from saltus.recordings.recording import Recording

MASS = 78.0
WEIGHT = MASS * G

ATHLETE = {
    "mass_kg": MASS,
    "segment_m": 0.505,
    "torque_nm": 900.0,
    "speed_rad_s": 18.0,
    "rfd_nm_s": 6000.0,
    "distance_m": 0.42,
    "stretch_gain": 0.1,
}


@dataclass(frozen=True)
class Truth:
    """A jump of half-sine pushes: velocities and times follow from the impulses."""

    force: np.ndarray
    take_off_velocity: float
    flight_time: float
    onset: float
    fastest: float
    lowest: float
    take_off: float
    landing: float
    depth: float

    @property
    def height(self):
        return self.take_off_velocity**2 / (2 * G)


class Plate:
    """Builds forces out of pieces, all at one sampling rate, in newtons."""

    weight = WEIGHT
    mass = MASS

    def __init__(self, rate=1000.0, seed=0):
        self.rate = rate
        self.rng = np.random.default_rng(seed)

    def time(self, seconds):
        return np.arange(round(seconds * self.rate)) / self.rate

    def still(self, seconds):
        return np.full(self.time(seconds).size, WEIGHT)

    def empty(self, seconds):
        return np.zeros(self.time(seconds).size)

    def step_on(self):
        t = self.time(0.5)
        return WEIGHT * (1 - np.exp(-t / 0.08)) * (1 + 0.25 * np.sin(4 * np.pi * t))

    def step_off(self):
        return WEIGHT * (1 - self.time(0.4) / 0.4)

    def bend(self, depth, seconds):
        """Down and up again, on the feet."""
        t = self.time(seconds)
        omega = 2 * np.pi / seconds
        return MASS * (G - depth / 2 * omega**2 * np.cos(omega * t))

    def model(self, start, **options):
        return trace(start, **{**ATHLETE, **options}, rate_hz=self.rate)

    def cmj(self, **options):
        return self.model(Start.COUNTERMOVEMENT, **options).force_n

    def sj(self, **options):
        return self.model(Start.SQUAT, **options).force_n

    def dj(self, drop_m=0.3, **options):
        return self.model(Start.DROP, drop_m=drop_m, **options).force_n

    def sines(self, sink=1.1, rise=2.5, *, before=1.5, after=2.0, lower=0.0):
        """Stand, sink, push, fly, land, stand: every piece with a known impulse.

        `sink` is the fastest sinking and `rise` the take-off velocity, m/s; the body lands
        `lower` metres lower than it took off.
        """
        t_sink, t_push, t_off, t_land = 0.3, 0.42, 0.04, 0.3
        fine = 1 / 20_000
        drop = math.sqrt(rise**2 + 2 * G * lower)
        flight = (rise + drop) / G
        edges = np.cumsum([before, t_sink, t_push, t_off, flight, t_land, after])
        gain = rise + sink + G * t_off / 2

        def acceleration(t):
            a = np.zeros_like(t)
            at = (t >= edges[0]) & (t < edges[1])
            a[at] = -sink * np.pi / (2 * t_sink) * np.sin(np.pi * (t[at] - edges[0]) / t_sink)
            at = (t >= edges[1]) & (t < edges[2])
            a[at] = gain * np.pi / (2 * t_push) * np.sin(np.pi * (t[at] - edges[1]) / t_push)
            at = (t >= edges[2]) & (t < edges[3])
            a[at] = -G * (t[at] - edges[2]) / t_off
            a[(t >= edges[3]) & (t < edges[4])] = -G
            at = (t >= edges[4]) & (t < edges[5])
            a[at] = drop * np.pi / (2 * t_land) * np.sin(np.pi * (t[at] - edges[4]) / t_land)
            return a

        t = np.arange(int(edges[-1] * self.rate)) / self.rate
        dense = np.arange(edges[0], edges[3], fine)
        v = np.cumsum(acceleration(dense)) * fine
        x = np.cumsum(v) * fine
        below = np.flatnonzero(v <= 0)[-1]
        return Truth(
            force=MASS * (G + acceleration(t)),
            take_off_velocity=rise,
            flight_time=flight,
            onset=edges[0],
            fastest=edges[1],
            lowest=dense[below],
            take_off=edges[3],
            landing=edges[4],
            depth=-x[below],
        )

    def squat(self, dip=0.0, rise=2.3):
        """Stand, sink slowly, hold the squat, dip by so many metres, push, fly, land."""
        t = self.time(1.2)
        down = 0.35 * 2 * np.pi / 1.2**2 * np.sin(2 * np.pi * t / 1.2)
        pieces = [self.still(1.5), MASS * (G - down), self.still(1.2)]
        speed = 0.0
        if dip > 0:
            # Sinking for 0.2 s, then as much again of braking within the push.
            speed = dip / 0.2
            s = self.time(0.2)
            pieces.append(MASS * (G - speed * np.pi / 0.4 * np.sin(np.pi * s / 0.2)))
        s = self.time(0.4)
        gain = rise + speed + G * 0.02
        pieces.append(MASS * (G + gain * np.pi / 0.8 * np.sin(np.pi * s / 0.4)))
        pieces.append(MASS * G * (1 - self.time(0.04) / 0.04))
        pieces.append(self.empty(2 * rise / G))
        s = self.time(0.3)
        pieces += [MASS * (G + rise * np.pi / 0.6 * np.sin(np.pi * s / 0.3)), self.still(2.0)]
        return np.concatenate(pieces)

    def hops(self, count, *, contact=0.2, flight=0.4, stand=True):
        """Hops of half-sine contacts, from a stand or from the air, and a landing."""
        v = G * flight / 2
        pieces = []
        if stand:
            s = self.time(0.3)
            pieces += [
                self.still(2.0),
                WEIGHT + MASS * v / 0.3 * np.pi / 2 * np.sin(np.pi * s / 0.3),
            ]
        s = self.time(contact)
        push = (2 * MASS * v + WEIGHT * contact) * np.pi / (2 * contact)
        for i in range(count):
            if i > 0 or not stand:
                pieces.append(push * np.sin(np.pi * s / contact))
            pieces.append(self.empty(flight))
        s = self.time(0.4)
        pieces += [WEIGHT + MASS * v / 0.4 * np.pi / 2 * np.sin(np.pi * s / 0.4), self.still(1.5)]
        return np.concatenate(pieces)

    def pull(self, peak=2500.0, tau=0.12, seconds=4.0):
        """A pull that rises as 1 - exp(-t/tau) and is let go in 0.3 s."""
        t = self.time(seconds)
        share = (1 - np.exp(-t / tau)) * np.clip((seconds - t) / 0.3, 0, 1)
        return WEIGHT + (peak - WEIGHT) * share

    def recording(self, *pieces, noise=1.5, level=0.0, split=None, doubts=()):
        """Join pieces into a recording with noise; `split` is the share of the left foot."""
        force = np.concatenate(pieces)
        force = force + level + noise * self.rng.standard_normal(force.size)
        if split is None:
            return Recording(self.rate, force, source="invented", doubts=doubts)
        left = np.asarray(split) * force
        return Recording(self.rate, force, left, force - left, source="invented", doubts=doubts)


@pytest.fixture
def plate():
    return Plate()


@pytest.fixture(scope="session")
def plate_at():
    """A plate with another sampling rate."""
    return Plate

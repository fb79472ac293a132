"""Standard errors are honest: over many athletes, plates and stands, misses are as large as told.

Each replicate is another athlete of the push-off model on another plate: sampling rate 500
to 2000 Hz, noise 0.5 to 5 N, and a sway of the body of up to 5 mm/s while standing. A miss
divided by its standard error then has a standard deviation of about 1 and a mean near 0.
"""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter1d, minimum_filter1d

from saltus.athlete.pushoff_terms import Start
from saltus.athlete.pushoff_trace import trace
from saltus.errors import ModelError
from saltus.jumps.analyse import analyse
from saltus.recordings.recording import Recording

REPLICATES = 150


def athlete(rng, start):
    mass = float(rng.uniform(50, 100))
    return {
        "mass_kg": mass,
        "segment_m": 0.505,
        "torque_nm": mass * 11.5 * np.exp(0.15 * rng.standard_normal()),
        "speed_rad_s": 17.5 * np.exp(0.1 * rng.standard_normal()),
        "rfd_nm_s": mass * 75 * np.exp(0.3 * rng.standard_normal()),
        "distance_m": 0.41 * np.exp(0.07 * rng.standard_normal()),
        "stretch_gain": 0.1,
        "drop_m": float(rng.uniform(0.15, 0.5)) if start is Start.DROP else 0.0,
        "rate_hz": float(rng.choice([500, 600, 1000, 1200, 2000])),
        "quiet_before_s": float(rng.uniform(1.2, 2.0)),
        "after_s": float(rng.uniform(2.0, 3.0)),
    }


def swaying(rng, made):
    """Sway of the velocity while standing, that leaves the jump itself as it was."""
    rate, n = made.rate_hz, made.force_n.size
    free = gaussian_filter1d(rng.standard_normal(n + int(2 * rate)), 0.12 * rate)
    free = free[int(rate) : int(rate) + n]
    calm = np.abs(made.force_n / made.weight_n - 1) < 0.004
    calm &= np.abs(made.velocity_m_s) < 0.004
    calm &= (made.time_s < made.take_off_s) | (made.time_s > made.landing_s + 0.8)
    window = minimum_filter1d(calm.astype(float), int(0.12 * rate))
    window = np.where(calm, gaussian_filter1d(window, 0.02 * rate), 0.0)
    velocity = rng.uniform(0, 0.005) * free / free.std() * window
    return made.weight_n / 9.80665 * np.gradient(velocity) * rate


def truth(made, start):
    first, last = np.searchsorted(made.time_s, [made.start_s, made.take_off_s])
    moving = slice(first, last)
    found = {
        "body_weight": made.weight_n,
        "flight_time": made.landing_s - made.take_off_s,
        "height_flight": made.height_m,
        "height_impulse": made.height_m,
        "take_off_velocity": made.take_off_velocity_m_s,
        "peak_power": float((made.force_n * made.velocity_m_s)[moving].max()),
    }
    if start is not Start.SQUAT:
        found["propulsion_time"] = made.take_off_s - made.turn_s
    if start is Start.COUNTERMOVEMENT:
        fastest = first + int(np.argmin(made.velocity_m_s[moving]))
        found["depth"] = -float(made.displacement_m[moving].min())
        found["braking_time"] = made.turn_s - made.time_s[fastest]
    if start is Start.DROP:
        found["contact_time"] = made.take_off_s - made.start_s
        found["rsi"] = made.height_m / found["contact_time"]
    return found


@pytest.mark.parametrize("start", list(Start))
def test_misses_are_as_large_as_told(start):
    rng = np.random.default_rng(20)
    misses, done = {}, 0
    while done < REPLICATES:
        try:
            options = athlete(rng, start)
            if start is not Start.DROP:
                del options["drop_m"]
            made = trace(start, **options)
        except ModelError:
            continue  # this one cannot stand up from so deep
        done += 1
        noise = float(np.exp(rng.uniform(np.log(0.5), np.log(5.0))))
        force = made.force_n + swaying(rng, made) + noise * rng.standard_normal(made.time_s.size)
        (jump,) = analyse(Recording(made.rate_hz, force)).jumps
        for name, value in truth(made, start).items():
            if name in jump.measures:
                measure = jump.measures[name]
                misses.setdefault(name, []).append((measure.value - value) / measure.se)

    for name, z in misses.items():
        assert len(z) > 0.9 * REPLICATES, name
        assert 0.7 < np.std(z) < 1.4, name
        # How softly feet meet the ground is not known: that bias is within the error.
        assert abs(np.mean(z)) < 1.3, name
        assert np.mean(np.abs(z) < 3) > 0.95, name


def test_the_error_of_a_height_knows_of_a_plate_that_drifts(plate_at):
    """Somewhat more or less by the end of the recording, as charge amplifiers do (common
    practice). Errors that only knew of sway and noise would be five times too small.
    """
    rng = np.random.default_rng(3)
    misses, errors = [], []
    for seed in range(60):
        plate = plate_at(1000.0)
        plate.rng = np.random.default_rng(seed)
        before, after = rng.uniform(1.2, 2.0), rng.uniform(1.6, 2.6)
        truth = plate.sines(before=before, after=after)
        since = np.arange(truth.force.size) / plate.rate - truth.take_off
        (jump,) = analyse(plate.recording(truth.force + rng.normal(0, 4) * since / 3)).jumps
        if "height_impulse" in jump.measures:
            measure = jump.measures["height_impulse"]
            misses.append((measure.value - truth.height) / measure.se)
            errors.append(measure.value - truth.height)

    assert len(misses) > 50
    assert np.std(errors) > 0.004
    assert np.std(misses) < 1.3

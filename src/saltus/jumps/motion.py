"""Force, velocity and displacement of one jump over time."""

import numpy as np
from scipy.integrate import cumulative_trapezoid

from saltus.jumps.jump import Analysis, Jump, Motion
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["motion"]


def motion(analysis: Analysis, jump: Jump) -> Motion:
    """Force, velocity and displacement over the stretch that shows `jump` whole.

    Parameters
    ----------
    analysis : Analysis
        Of the recording that holds the jump.
    jump : Jump
        One of ``analysis.jumps``.

    Returns
    -------
    Motion
        Velocity and displacement are None where `jump` could not be integrated.

    Notes
    -----
    Trapezoid rule over the sampled force (Owen et al. 2014 find it as good as Simpson's at
    1000 Hz), forwards and backwards from the moment at which the body is known to be still.
    """
    recording = analysis.recording
    rate, force = recording.rate_hz, recording.total_n

    def index(time_s: float) -> int:
        return int(np.clip(round((time_s - recording.start_s) * rate), 0, len(recording) - 1))

    first, last = index(jump.start_s), index(jump.end_s) + 1
    time = recording.time_s[first:last]
    if jump.integration is None:
        return Motion(time, force[first:last].copy())
    how = jump.integration
    zero = index(how.zero_s)
    low, high = min(first, zero), max(last, zero + 1)
    acceleration = STANDARD_GRAVITY * ((force[low:high] - how.level_n) / how.weight_n - 1)
    velocity = cumulative_trapezoid(acceleration, dx=1 / rate, initial=0)
    velocity += how.velocity_m_s - velocity[zero - low]
    displacement = cumulative_trapezoid(velocity, dx=1 / rate, initial=0)
    displacement -= displacement[zero - low]
    shown = slice(first - low, last - low)
    return Motion(time, force[first:last].copy(), velocity[shown], displacement[shown])

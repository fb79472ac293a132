"""Isometric pulls and squats: how well their peak and their early force repeat."""

import itertools

from saltus.errors import TestError

__all__ = ["isometric_error"]

PEAK_CV = 0.05
"""Between sessions at most 5.3 % in strength-trained adults (Applied Sciences, December
2024), up to 7.3 % in girls (Moeskops et al. 2018, JSCR 32:1892-1901)."""

_EARLY_CV = ((30, 0.20), (50, 0.15), (100, 0.12), (150, 0.10), (200, 0.09), (250, 0.08))
# Force at 30 to 250 ms: CV 5 to 24 % after and 19 to 37 % before the growth spurt (Moeskops et
# al. 2018); ICC 0.70 to 0.90 at 50 to 250 ms in adults (Applied Sciences, December 2024). The
# earlier, the more a late or early onset tells. RFD itself is left out: CV above 10 %.

EARLIEST_MS, LATEST_MS = 30, 500


def isometric_error(at_ms: int | None = None) -> float:
    """Give the standard deviation of the log of an isometric force from day to day.

    Parameters
    ----------
    at_ms : int or None
        Milliseconds after the onset, 30 to 500; None for the peak.

    Returns
    -------
    float
        Interpolated between the published times; held after 250 ms.

    Raises
    ------
    TestError
        If no published error covers that time.
    """
    if at_ms is None:
        return PEAK_CV
    if not EARLIEST_MS <= at_ms <= LATEST_MS:
        raise TestError(
            f"Force {at_ms} ms after the onset is of no use: give it at {EARLIEST_MS} to "
            f"{LATEST_MS} ms, such as 50, 100, 150, 200 and 250."
        )
    for (t0, cv0), (t1, cv1) in itertools.pairwise(_EARLY_CV):
        if at_ms <= t1:
            return cv0 + (cv1 - cv0) * (at_ms - t0) / (t1 - t0)
    return _EARLY_CV[-1][1]

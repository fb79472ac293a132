"""Measures as a person reads them: in the trade's units, rounded to what is known."""

from saltus.jumps.jump import Measure

__all__ = ["shown", "unit_shown"]

# Unit of a measure: unit shown, factor, decimals.
_UNITS = {
    "m": ("cm", 100.0, 1),
    "s": ("ms", 1000.0, 0),
    "m/s": ("m/s", 1.0, 2),
    "N": ("N", 1.0, 0),
    "N/s": ("N/s", 1.0, 0),
    "N·s": ("N·s", 1.0, 1),
    "W": ("W", 1.0, 0),
    "W/kg": ("W/kg", 1.0, 1),
    "N/m": ("kN/m", 0.001, 1),
    "N/m/kg": ("N/m/kg", 1.0, 0),
    "BW": ("BW", 1.0, 2),
    "%": ("%", 1.0, 1),
    "": ("", 1.0, 2),
}


def unit_shown(unit: str) -> str:
    """Unit in which a measure with this SI unit is told."""
    return _UNITS.get(unit, (unit, 1.0, 3))[0]


def shown(measure: Measure, *, fine: bool = False) -> str:
    """Value and standard error in the unit of :func:`unit_shown`, without the unit.

    Parameters
    ----------
    measure : Measure
        In SI.
    fine : bool
        Show up to two more decimals, where the standard error has its first digit there.

    Returns
    -------
    str
        Such as ``"31.8 ± 0.4"``. A standard error too small for the decimals is rounded up: it
        is never told as zero.
    """
    _, factor, digits = _UNITS.get(measure.unit, (measure.unit, 1.0, 3))
    se = measure.se * factor
    most = digits + 2 if fine else digits
    while 0 < se < 0.5 * 10**-digits and digits < most:
        digits += 1
    if se > 0:
        se = max(se, 10**-digits)
    return f"{measure.value * factor:.{digits}f} ± {se:.{digits}f}"

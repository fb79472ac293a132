"""Units of force and time at the edge of a file; newtons and seconds inside."""

from saltus.errors import RecordingError
from saltus.quantities import KILOGRAM_FORCE, POUND, STANDARD_GRAVITY

__all__ = [
    "FORCE_UNITS",
    "LARGEST_STANDING_N",
    "SMALLEST_STANDING_N",
    "TIME_UNITS",
    "force_factor",
    "rough_factor",
    "unlabelled_force_unit",
]

FORCE_UNITS = {
    "n": "N",
    "newton": "N",
    "newtons": "N",
    "kn": "kN",
    "kilonewton": "kN",
    "kgf": "kgf",
    "kg": "kgf",
    "kp": "kgf",
    "lbf": "lbf",
    "lb": "lbf",
    "lbs": "lbf",
    "bw": "BW",
    "xbw": "BW",
    "n/bw": "BW",
    "body weight": "BW",
    "body weights": "BW",
    "bodyweight": "BW",
    "bodyweights": "BW",
}
"""Spellings (lower case) and the unit each stands for. A plate labelled kg shows kgf."""

TIME_UNITS = {
    "s": 1.0,
    "sec": 1.0,
    "secs": 1.0,
    "second": 1.0,
    "seconds": 1.0,
    "ms": 1e-3,
    "msec": 1e-3,
    "millisecond": 1e-3,
    "milliseconds": 1e-3,
    "us": 1e-6,
    "µs": 1e-6,
    "μs": 1e-6,
}
"""Spellings (lower case) and the seconds in each."""

SMALLEST_STANDING_N, LARGEST_STANDING_N = 150.0, 6000.0
"""N. A small child stands with 150 N; nobody pulls or carries 6000 N for half a recording."""

_FACTORS = {
    "N": 1.0,
    "kN": 1000.0,
    "kgf": KILOGRAM_FORCE,
    "lbf": POUND * STANDARD_GRAVITY,
}

# An unlabelled number is read as newtons only where it cannot be another unit as well:
# 200 kgf and 200 lbf standing are beyond what people weigh in recordings of jumps.
_UNLABELLED_N = (220.0, 3000.0)


def force_factor(unit: str, mass_kg: float | None, source: str) -> float:
    """Newtons in one `unit`.

    Parameters
    ----------
    unit : str
        One of the spellings in `FORCE_UNITS`.
    mass_kg : float or None
        Body mass, kg, for body weights.
    source : str
        File name for the message.

    Raises
    ------
    RecordingError
        If the force is in body weights and no mass was given.
    """
    name = FORCE_UNITS[unit.lower()]
    if name == "BW":
        if mass_kg is None:
            raise RecordingError(
                f"{source}: the force is in body weights, which are no newtons without the "
                "body mass; give it with --mass, in kg."
            )
        return mass_kg * STANDARD_GRAVITY
    return _FACTORS[name]


def rough_factor(unit: str | None) -> float:
    """Newtons in one `unit`, near enough to compare two columns of different units."""
    return 800.0 if unit == "BW" else _FACTORS.get(unit or "N", 1.0)


def unlabelled_force_unit(standing: float, source: str) -> str:
    """Unit of a force without a label, from what a standing person weighs.

    Parameters
    ----------
    standing : float
        Median of the force while somebody is on the plate, in the unknown unit.
    source : str
        File name for the message.

    Returns
    -------
    str
        ``"N"``, the only unit that is ever taken without being told.

    Raises
    ------
    RecordingError
        If the numbers are not those of a person in newtons.
    """
    low, high = _UNLABELLED_N
    if standing == 0:
        raise RecordingError(
            f"{source}: nobody stands on the plate: the force is zero throughout. If it is another "
            "column, name it with --force."
        )
    if low <= standing <= high:
        return "N"
    if 0.2 <= standing < 3.0:
        guess = "kilonewtons (--unit kN) or body weights (--unit BW --mass KG)"
    elif 15.0 <= standing < low:
        guess = "kilograms (--unit kgf), pounds (--unit lbf) or newtons of a small child (--unit N)"
    else:
        guess = "no unit in which a person would weigh that; is this the vertical force?"
    raise RecordingError(
        f"{source}: no unit is given for the force, and the numbers (about {standing:.4g} while "
        f"standing) do not say it for sure: {guess}. Give --unit."
    )

"""Published equations from jump height and body mass to power, for comparing with old records.

They describe the group they were fitted to. Where a force plate gives power, use that.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from saltus.quantities import CENTIMETRE, STANDARD_GRAVITY

__all__ = ["POWER_EQUATIONS", "PowerEquation", "falling_body_power_w"]


@dataclass(frozen=True, slots=True)
class PowerEquation:
    """A regression of power on jump height and body mass.

    Parameters
    ----------
    title : str
        Author, year and what power it gives.
    per_cm, per_kg, constant : float
        W/cm, W/kg and W, as published.
    source : str
        Where it stands.
    """

    title: str
    per_cm: float
    per_kg: float
    constant: float
    source: str

    def power_w(self, height_m: float, mass_kg: float) -> float:
        """Power, W, of a jump of `height_m` (m) at `mass_kg` (kg)."""
        return self.per_cm * height_m / CENTIMETRE + self.per_kg * mass_kg + self.constant


_SAYERS = "Sayers et al. 1999, Med Sci Sports Exerc 31:572-577; coefficients from memory"
_HARMAN = "Harman et al. 1991; coefficients from memory"

POWER_EQUATIONS: Mapping[str, PowerEquation] = {
    "sayers_sj": PowerEquation("Sayers 1999, peak, squat jump", 60.7, 45.3, -2055, _SAYERS),
    "sayers_cmj": PowerEquation(
        "Sayers 1999, peak, countermovement jump", 51.9, 48.9, -2007, _SAYERS
    ),
    "harman_peak": PowerEquation("Harman 1991, peak", 61.9, 36.0, -1822, _HARMAN),
    "harman_mean": PowerEquation("Harman 1991, mean", 21.2, 23.0, -1393, _HARMAN),
    "canavan_vescovi": PowerEquation(
        "Canavan & Vescovi 2004, peak, women",
        65.1,
        25.8,
        -1413.1,
        "Canavan & Vescovi 2004, Med Sci Sports Exerc 36:1589-1593",
    ),
}
"""The peak forms and their constants reproduce the group means of Canavan & Vescovi 2004."""


def falling_body_power_w(
    height_m: float, mass_kg: float, gravity: float = STANDARD_GRAVITY
) -> float:
    """Lewis's formula, W: ``sqrt(4.9) m g sqrt(h)``.

    It is the mean power of the body falling back, ignores the push-off distance, and means
    nothing as power of the push-off. It stands here only so that old records can be read.
    """
    return math.sqrt(4.9) * mass_kg * gravity * math.sqrt(height_m)

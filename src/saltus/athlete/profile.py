"""The published force-velocity profile of the jump, with its intervals."""

from dataclasses import dataclass

from saltus.quantities import Estimate

__all__ = ["ForceVelocityPoint", "ForceVelocityProfile", "LinePoint"]


@dataclass(frozen=True, slots=True)
class ForceVelocityPoint:
    """Mean force and mean velocity of the push at one load, per kg of body mass.

    Parameters
    ----------
    load_kg : float
        External load.
    force_n_kg : Estimate
        Mean force, N/kg of body mass.
    velocity_m_s : Estimate
        Mean velocity, m/s.
    """

    load_kg: float
    force_n_kg: Estimate
    velocity_m_s: Estimate


@dataclass(frozen=True, slots=True)
class LinePoint:
    """The fitted line at one velocity: m/s, and the force there, N/kg, with its interval."""

    velocity_m_s: float
    force_n_kg: Estimate


@dataclass(frozen=True, slots=True)
class ForceVelocityProfile:
    """The straight line through the points, and what is read off it.

    Parameters
    ----------
    F0_n_kg, v0_m_s, Pmax_w_kg : Estimate
        Intercepts, N/kg and m/s, and maximal power, W/kg.
    slope, optimal_slope : Estimate
        N s/m/kg, negative.
    balance : Estimate
        slope / optimal_slope; below 1 is a force deficit, above 1 a velocity deficit.
    points : tuple of ForceVelocityPoint
        What it was fitted to.
    doubts : tuple of str
        Plain warnings: loads too few or too close, slope unreliable.
    line : tuple of LinePoint
        The line from F0 to v0, to be drawn with its band.
    """

    F0_n_kg: Estimate
    v0_m_s: Estimate
    Pmax_w_kg: Estimate
    slope: Estimate
    optimal_slope: Estimate
    balance: Estimate
    points: tuple[ForceVelocityPoint, ...]
    doubts: tuple[str, ...] = ()
    line: tuple[LinePoint, ...] = ()

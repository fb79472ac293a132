"""Who is in the invented squad, and what each truly is."""

from dataclasses import dataclass

from saltus.record.example.truth import Truth

__all__ = ["SQUAD", "Member"]


@dataclass(frozen=True, slots=True)
class Member:
    """One of the squad.

    Parameters
    ----------
    name : str
        Of the file, without its ending.
    truth : Truth
        What no test shows directly.
    rate_hz, plates : float, int
        Of the force plates, where there are any.
    bent_landings : tuple of (str, int)
        Recordings with a landing on bent knees, and in which attempt, from 0: such things
        happen, and Saltus must notice.
    """

    name: str
    truth: Truth
    rate_hz: float = 1000.0
    plates: int = 2
    bent_landings: tuple[tuple[str, int], ...] = ()


SQUAD: tuple[Member, ...] = (
    # A volleyball player with strength enough and force that comes too slowly.
    Member(
        "ines-adler",
        Truth(
            torque_nm_kg=10.5,
            speed_rad_s=17.6,
            rfd_nm_s_kg=44.0,
            stretch_gain=0.10,
            distance_m=0.42,
            approach=1.17,
            left_share=0.512,
        ),
        bent_landings=(("recordings/ines-adler/2026-05-18-cmj.csv", 1),),
    ),
    # A beginner: everything is to be had.
    Member(
        "tomas-breck",
        Truth(
            torque_nm_kg=8.8,
            speed_rad_s=17.0,
            rfd_nm_s_kg=70.0,
            stretch_gain=0.07,
            distance_m=0.43,
            squat_skill=0.93,
            response=1.1,
        ),
    ),
    # Strong but slow.
    Member(
        "viktor-hallan",
        Truth(
            torque_nm_kg=13.1,
            speed_rad_s=16.2,
            rfd_nm_s_kg=46.0,
            stretch_gain=0.06,
            distance_m=0.40,
            squat_skill=1.05,
            clean_skill=1.02,
        ),
    ),
    # Fast but weak.
    Member(
        "lea-morand",
        Truth(
            torque_nm_kg=8.1,
            speed_rad_s=18.8,
            rfd_nm_s_kg=95.0,
            stretch_gain=0.13,
            distance_m=0.39,
            arms=1.28,
        ),
    ),
    # The springy one.
    Member(
        "kofi-arden",
        Truth(
            torque_nm_kg=11.5,
            speed_rad_s=18.2,
            rfd_nm_s_kg=105.0,
            stretch_gain=0.24,
            distance_m=0.40,
            approach=1.25,
            rebound_height=1.46,
            rebound_contact=0.92,
        ),
    ),
    # Sixteen years old.
    Member(
        "nele-ostrin",
        Truth(
            torque_nm_kg=7.7,
            speed_rad_s=16.8,
            rfd_nm_s_kg=66.0,
            stretch_gain=0.09,
            distance_m=0.39,
        ),
    ),
    # Coming back from a sore tendon.
    Member(
        "jonas-feld",
        Truth(
            torque_nm_kg=11.0,
            speed_rad_s=17.8,
            rfd_nm_s_kg=78.0,
            stretch_gain=0.08,
            distance_m=0.42,
            left_share=0.485,
        ),
    ),
    # A master of more than fifty years.
    Member(
        "piet-harlow",
        Truth(
            torque_nm_kg=9.1,
            speed_rad_s=15.8,
            rfd_nm_s_kg=52.0,
            stretch_gain=0.07,
            distance_m=0.38,
            response=0.8,
        ),
    ),
    # One with only a tape.
    Member(
        "sanna-lund",
        Truth(
            torque_nm_kg=9.0,
            speed_rad_s=16.8,
            rfd_nm_s_kg=70.0,
            stretch_gain=0.10,
            distance_m=0.40,
        ),
    ),
    # One with a single force plate.
    Member(
        "ruben-castell",
        Truth(
            torque_nm_kg=12.3,
            speed_rad_s=18.6,
            rfd_nm_s_kg=84.0,
            stretch_gain=0.12,
            distance_m=0.43,
            approach=1.22,
        ),
        rate_hz=1200.0,
        plates=1,
    ),
)
"""In the order in which they are written."""

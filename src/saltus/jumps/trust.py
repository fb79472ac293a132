"""How far to trust one jump, and what to do better next time.

A jump is *rejected* when no height of it can be given, *doubtful* when something about it
stands in the way of comparing it with another, *sound* otherwise. What is not believed is
taken out of the measures, so that it is never shown.
"""

from dataclasses import dataclass
from typing import Final

from saltus.jumps.integrate import Basis, Source
from saltus.jumps.jump import JumpKind, Measure, Trust
from saltus.jumps.push import NEEDS_VELOCITY
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["Verdict", "Witness", "judge"]

TOLERATED_DIFFERENCE_M: Final = 0.025
"""Height from flight time and from take-off velocity differ by +1.7 cm on average, with typical
errors up to 2.6 cm (Baumgart et al. 2017, Asian J Sports Med 8:e12921)."""

LARGEST_LANDING_M: Final = 0.15
"""Nobody gains more by bending the legs in the air: the feet came down elsewhere first."""

WORST_HEIGHT_SE_M: Final = 0.02
POOR_HEIGHT_SE_M: Final = 0.01

TOLERATED_DIP_M: Final = 0.015

LEAST_DROP_M: Final = 0.08
"""Lower than any box in use."""

_TOO_HIGH_M: Final = 1.3

_NOBODY_M: Final = 1.0
"""No jump that takes off from a plate rises so much: the highest are some 0.8 m (from memory).
Where flight and impulse both say so, time runs wrongly: height grows with its square."""


@dataclass(frozen=True, slots=True)
class Witness:
    """What is known about a jump beside its measures.

    Parameters
    ----------
    kind : JumpKind
    basis : Basis or None
    weighed : bool
        Whether body weight is known.
    landed : bool
        Whether the recording shows a landing.
    cut_off : bool
        Whether the recording stops in the flight.
    held : bool
        For squat jumps: whether the squat was held still.
    onset_known : bool
    dipped_twice, beside, bounced : bool
        Whether there was a swing before, part of the body landed beside the plate, the
        landing bounced.
    starts_late : bool
        Whether the recording starts inside the movement.
    dropped : bool
        Whether the contact began with a landing and was short.
    stood_otherwise : bool
        Whether somebody stood still before it with a force that is not body weight.
    doubts : tuple of str
        About the recording as a whole.
    """

    kind: JumpKind
    basis: Basis | None
    weighed: bool = True
    landed: bool = True
    cut_off: bool = False
    held: bool = True
    onset_known: bool = True
    dipped_twice: bool = False
    beside: bool = False
    bounced: bool = False
    starts_late: bool = False
    dropped: bool = True
    stood_otherwise: bool = False
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Verdict:
    """A grade, its reasons, and the measures that are left.

    `landed` is whether the next contact is believed to be the landing of this jump.
    """

    trust: Trust
    reasons: tuple[str, ...]
    measures: dict[str, Measure]
    landed: bool = True


_STAND_STILL = "Stand still for a second before the jump"


def _without(measures: dict[str, Measure], names: frozenset[str]) -> dict[str, Measure]:
    return {name: m for name, m in measures.items() if name not in names}


_FLIGHT_NAMES: Final = frozenset(
    {
        "flight_time",
        "height_flight",
        "height_difference",
        "flight_time_to_contraction_time",
        "rsi",
        "rsi_flight_to_contact",
    }
)


def _stillness(witness: Witness) -> list[str]:
    """Reasons that lie in how the jump was begun and ended."""
    basis, kind = witness.basis, witness.kind
    air = kind in (JumpKind.DJ, JumpKind.HOPS)
    out = []
    if witness.starts_late:
        out.append("The recording starts inside the movement: start it a few seconds earlier.")
    if basis is None or not basis.independent:
        if kind is JumpKind.DJ:
            out.append(
                "Nobody stood still after the landing, so body weight, drop height and take-off "
                "velocity are unknown: stand still for a second after the landing."
            )
        elif kind is not JumpKind.HOPS:
            out.append(
                f"{_STAND_STILL}: nobody stood still before it or after it, so there is no "
                "height from take-off velocity."
            )
    elif basis.source is Source.AFTER and witness.stood_otherwise:
        pass  # told below: it is not stillness that was lacking
    elif basis.source is Source.AFTER and not air:
        out.append(
            f"{_STAND_STILL}: this one was measured back from the stand after the landing, "
            "and its start is unknown."
        )
    elif basis.source is Source.SHORT:
        stand = basis.line.stands[0]
        out.append(
            f"{_STAND_STILL}: the recording shows only "
            f"{stand.seconds:.2f} s of it, too short to weigh well."
        )
    lone = basis is not None and basis.source is Source.AFTER and witness.stood_otherwise
    if basis is not None and (basis.broken or lone):
        out.append(
            "Body weight before the jump and after it do not agree: keep both feet on the plate "
            "and touch nothing else; if nobody did, zero the plate."
        )
    return out


def _form(witness: Witness, measures: dict[str, Measure]) -> list[str]:
    """Reasons that lie in how the jump was done."""
    out = []
    if witness.kind is JumpKind.SJ:
        dip = measures.get("dip")
        if not witness.held:
            out.append(
                "The squat was not held: go down, hold it still for a second or two, then push."
            )
        elif dip is not None and dip.value - dip.se > TOLERATED_DIP_M:
            out.append(
                f"The squat jump began with a dip of {dip.value * 100:.0f} cm: hold the squat "
                "still and push straight up."
            )
    if witness.kind is JumpKind.DJ and not witness.dropped:
        out.append(
            "The recording shows no drop with a short contact before this jump: start with the "
            "plate empty, drop, and jump at once."
        )
    drop = measures.get("drop_height")
    if drop is not None and witness.dropped and drop.value + 2 * drop.se < LEAST_DROP_M:
        out.append(
            f"The fall before this contact was only {drop.value * 100:.0f} cm: a step or an "
            "approach rather than a drop; drop from a box, or say what it was with --kind."
        )
    if witness.dipped_twice:
        out.append("There was a swing or a second dip before the jump: go down once, then up.")
    elif (
        witness.kind is JumpKind.CMJ
        and not witness.onset_known
        and not witness.starts_late
        and witness.basis is not None
        and witness.basis.before is not None
    ):
        out.append(
            "The start of the movement cannot be told: stand still until you go, so that "
            "time to take-off can be had."
        )
    if witness.beside:
        out.append("Part of the body landed beside the plate: jump from the middle, land there.")
    if witness.bounced:
        out.append("The landing bounced: land once and stay.")
    return out


def judge(witness: Witness, measures: dict[str, Measure]) -> Verdict:
    """Grade a jump, say why, and withhold what is not believed."""
    reasons = list(witness.doubts)
    if not witness.weighed and witness.kind is not JumpKind.DJ:
        reasons.append("Body weight is unknown: stand still on the plate for a second.")
    reasons += _stillness(witness)
    kept = dict(measures)
    if witness.basis is None or not witness.basis.independent:
        kept = _without(kept, NEEDS_VELOCITY)

    flight, impulse = kept.get("height_flight"), kept.get("height_impulse")
    if impulse is not None and _impossible(flight, impulse):
        reasons.append(
            f"A height of {impulse.value * 100:.0f} cm is more than anybody jumps: the sampling "
            "rate is probably wrong; give the true one with --rate."
        )
        return Verdict(Trust.REJECTED, tuple(reasons), {}, witness.landed)
    if flight is not None and flight.value > _TOO_HIGH_M:
        kept = _without(kept, _FLIGHT_NAMES)
        reasons.append("The time off the plate is longer than any jump: left the plate.")
    if impulse is not None and (impulse.se > WORST_HEIGHT_SE_M or impulse.value <= 0):
        kept = _without(kept, NEEDS_VELOCITY)
        reasons.append(
            f"The stand was too unquiet or too far from the jump for a height from take-off "
            f"velocity (its error would be {impulse.se * 100:.0f} cm): stand still for a full "
            "second right before the jump."
            if impulse.value > 0
            else "Take-off velocity makes no sense: stand still for a second before the jump."
        )
        impulse = None
    elif impulse is not None and impulse.se > POOR_HEIGHT_SE_M:
        reasons.append(
            f"Height from take-off velocity is only known to {impulse.se * 100:.1f} cm: stand "
            "still for a full second right before the jump and after the landing."
        )
    if "height_flight" in kept and flight is not None and impulse is not None:
        kept, why = _compared(kept, flight, impulse)
        reasons += why
    if not witness.landed:
        reasons.append(
            "The recording stops before the landing: let it run for two more seconds."
            if witness.cut_off
            else "Left the plate: the landing was beside it, so there is no flight time."
        )
    reasons += _form(witness, kept)
    landed = witness.landed and (flight is None or "flight_time" in kept)
    if not landed:
        kept = {name: m for name, m in kept.items() if "landing" not in name}

    if "height_flight" not in kept and "height_impulse" not in kept:
        return Verdict(Trust.REJECTED, tuple(reasons), {}, landed)
    return Verdict(Trust.DOUBTFUL if reasons else Trust.SOUND, tuple(reasons), kept, landed)


def _impossible(flight: Measure | None, impulse: Measure) -> bool:
    """Whether everything that tells the height tells one that nobody jumps."""
    known = [impulse] if flight is None else [flight, impulse]
    return all(height.value - 2 * height.se > _NOBODY_M for height in known)


def _compared(
    measures: dict[str, Measure], flight: Measure, impulse: Measure
) -> tuple[dict[str, Measure], list[str]]:
    """Hold the two heights of a jump against each other."""
    difference = flight.value - impulse.value
    se = measures["height_difference"].se if "height_difference" in measures else impulse.se
    if difference > LARGEST_LANDING_M:
        return _without(measures, _FLIGHT_NAMES), [
            "Left the plate: the time in the air is much longer than this take-off allows."
        ]
    if abs(difference) <= TOLERATED_DIFFERENCE_M:
        return measures, []
    if difference < 3 * se or impulse.se > POOR_HEIGHT_SE_M:
        # No landing is higher than its take-off by so much, and a poor weighing is no witness
        # against a landing: weight or stillness is wrong.
        why = (
            f"Take-off velocity and flight time disagree by {abs(difference) * 100:.0f} cm, more "
            "than a landing explains: stand still for a second before the jump."
        )
        return _without(measures, NEEDS_VELOCITY), [why]
    v = (2 * STANDARD_GRAVITY * impulse.value) ** 0.5
    too_long = measures["flight_time"].value - 2 * v / STANDARD_GRAVITY
    why = (
        f"You landed with bent knees: the flight time is {too_long * 1000:.0f} ms too long; "
        "land on the balls of the feet with the legs as straight as at take-off."
    )
    return measures, [why]

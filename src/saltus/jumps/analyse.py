"""From a recording to its jumps."""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from saltus.jumps import asymmetry, hops, isometric
from saltus.jumps.beginning import Occasion
from saltus.jumps.catalogue import measure
from saltus.jumps.classify import FEWEST_HOPS
from saltus.jumps.find import Leap, leaps
from saltus.jumps.flight import LONGEST_FLIGHT_S, Visit, visits
from saltus.jumps.integrate import Weight, weight_of
from saltus.jumps.jump import Analysis, Jump, JumpKind, Measure, Trust
from saltus.jumps.measuring import measured_leap
from saltus.jumps.plate import Trace, prepare
from saltus.jumps.weighing import (
    LEAST_WEIGHT_N,
    SHORTEST_STAND_S,
    Stand,
    of_one_weight,
    still_stretches,
)
from saltus.recordings.recording import Recording

__all__ = ["analyse"]

_ZERO_SEEN_N: Final = 1.0
_OTHER_PERSON: Final = 0.05
_LANDING_S: Final = 0.2
_LANDING_BW: Final = 1.8
"""Landings reach 3.3 body weights (Wallace et al. 2010, J Strength Cond Res 24:207-212), steps
little more than one (common practice)."""


def analyse(recording: Recording, *, kind: JumpKind | None = None) -> Analysis:
    """Find and measure every jump in a recording.

    Parameters
    ----------
    recording : Recording
        Of any length, with any number of jumps.
    kind : JumpKind, optional
        What the jumps are, where the coach knows better than the force does.

    Returns
    -------
    Analysis
        With an empty ``jumps`` and a note that says why, where nobody jumped.
    """
    if len(recording) < 0.5 * recording.rate_hz:
        return Analysis(
            recording, None, (), ("The recording is shorter than half a second.",), recording.doubts
        )
    trace = prepare(recording)
    notes: list[str] = []
    if abs(trace.plate.level_n) >= _ZERO_SEEN_N:
        notes.append(
            f"The empty plate read {trace.plate.level_n:.1f} N; that was taken off the force."
        )
    found: list[Jump] = []
    weights: list[Weight] = []
    came = visits(trace)
    for visit in came:
        jumps, weight, remarks = _visit(trace, visit, kind, recording.doubts)
        offset = max((j.series or 0 for j in found), default=0)
        found += [replace(j, series=j.series + offset) if j.series else j for j in jumps]
        notes += remarks
        if weight is not None:
            weights.append(weight)
    jumps_with_spread = asymmetry.with_spread_between_jumps(found)
    notes += _series_notes(jumps_with_spread)
    body_weight, remark = _body_weight(weights, jumps_with_spread)
    if remark:
        notes.append(remark)
    if not found:
        notes.append(_why_none(trace, came, kind))
    return Analysis(recording, body_weight, jumps_with_spread, tuple(notes), recording.doubts)


def _visit(
    trace: Trace, visit: Visit, kind: JumpKind | None, doubts: tuple[str, ...]
) -> tuple[list[Jump], Weight | None, list[str]]:
    """Jumps and pulls of one visit, its weight, and remarks."""
    usual = float(trace.force_n[visit.first : visit.last].mean())
    if usual < 0.5 * LEAST_WEIGHT_N:
        return [], None, []
    stretches = still_stretches(trace, visit)
    still = of_one_weight(trace, visit, stretches)
    otherwise = [stretch for stretch in stretches if stretch not in still]
    weight = weight_of(trace, visit, still)
    remarks: list[str] = []
    found: list[Jump] = []
    if kind in (None, JumpKind.ISOMETRIC) and weight is not None:
        pulled = isometric.pulls(trace, visit, weight)
        found += [_pull(trace, visit, pull, weight, doubts) for pull in pulled]
    if kind is JumpKind.ISOMETRIC:
        return found, weight, remarks
    jumped = leaps(trace, visit, weight.value_n if weight is not None else usual)
    more, weight = _leaps(trace, visit, jumped, (still, otherwise), weight, kind, doubts)
    found += more
    found.sort(key=lambda jump: jump.start_s)
    return found, weight, remarks


def _leaps(
    trace: Trace,
    visit: Visit,
    jumped: Sequence[Leap],
    still: tuple[Sequence[Stand], Sequence[Stand]],
    weight: Weight | None,
    kind: JumpKind | None,
    doubts: tuple[str, ...],
) -> tuple[list[Jump], Weight | None]:
    """Jumps with a flight, and body weight, which a series of hops may know better.

    `still` are the stands at body weight and the still stretches at other levels.
    """
    take_offs = [leap.take_off.position for leap in jumped]
    landings = [leap.landing.position if leap.landing else math.nan for leap in jumped]
    chain = hops.chains(take_offs, landings, trace.rate_hz)
    found: list[Jump] = []
    series = 0
    best = weight
    for number in sorted(set(chain)):
        members = [i for i, own in enumerate(chain) if own == number]
        in_series = len(members) >= FEWEST_HOPS if kind is None else kind is JumpKind.HOPS
        known = weight
        if in_series:
            series += 1
            own = hops.weight_of_series(
                trace, [take_offs[i] for i in members], [landings[i] for i in members]
            )
            if known is None or (own is not None and own.se_n < known.se_n):
                known = own
            if known is not None and (best is None or known.se_n < best.se_n):
                best = known
        for i in members:
            occasion = Occasion(
                leap=jumped[i],
                stands=still[0],
                stood_otherwise=_stood_before(jumped[i], still[1]),
                weight=known,
                starts_inside=not visit.came_on and jumped[i].contact.first == 0,
                until=_until(trace, jumped, i),
                in_series=in_series,
                kind=kind,
                doubts=doubts,
            )
            jump = measured_leap(trace, occasion)
            found.append(replace(jump, series=series) if in_series else jump)
    return found, best


def _stood_before(leap: Leap, stretches: Sequence[Stand]) -> bool:
    """Whether a long enough still stretch lies in the contact that a leap is pushed from."""
    return any(
        stretch.seconds >= SHORTEST_STAND_S
        and leap.contact.first <= stretch.first
        and stretch.last <= leap.take_off.position
        for stretch in stretches
    )


def _until(trace: Trace, jumped: Sequence[Leap], i: int) -> int:
    """Where the landing of a leap ends at the latest: with its contact."""
    contact = jumped[i].landing_contact
    return len(trace) if contact is None else contact.last


def _pull(
    trace: Trace, visit: Visit, pull: isometric.Pull, weight: Weight, doubts: tuple[str, ...]
) -> Jump:
    noise = trace.noise(pull.first, pull.last)
    measures, onset = isometric.pull_measures(trace, visit, pull, weight, noise)
    measures |= asymmetry.left_right(trace, "left_right_peak", pull.first, pull.last)
    reasons = list(doubts)
    if onset is None:
        reasons.append(
            "There was no quiet moment before the pull, so its start and the early force are "
            "unknown: hold still for a second, then pull."
        )
    pretension = measures.get("pretension")
    if pretension is not None and pretension.value > max(0.1 * weight.value_n, 50.0):
        reasons.append(
            f"The bar was already pulled with {pretension.value:.0f} N before the start: take up "
            "the slack only, hold still, then pull."
        )
    start = onset.position if onset is not None else float(pull.first)
    return Jump(
        kind=JumpKind.ISOMETRIC,
        start_s=trace.time(max(start - trace.samples(1.0), 0)),
        end_s=trace.time(min(pull.last + trace.samples(0.5), len(trace) - 1)),
        trust=Trust.DOUBTFUL if reasons else Trust.SOUND,
        reasons=tuple(reasons),
        measures=measures,
        phases=(),
        onset_s=trace.time(onset.position) if onset is not None else None,
    )


def _series_notes(jumps: Sequence[Jump]) -> list[str]:
    numbers = sorted({jump.series for jump in jumps if jump.series is not None})
    return [hops.described([j for j in jumps if j.series == number]) for number in numbers]


def _body_weight(
    weights: Sequence[Weight], jumps: Sequence[Jump]
) -> tuple[Measure | None, str | None]:
    """The best-known weight of the recording, and a remark."""
    known = [(w.value_n, w.se_n, w.how) for w in weights]
    for jump in jumps:
        own = jump.measures.get("body_weight")
        if own is not None and jump.integration is not None:
            known.append((own.value, own.se, ""))
    if not known:
        return None, None
    value, se, how = min(known, key=lambda one: one[1])
    remark = None
    if any(abs(w.value_n / value - 1) > _OTHER_PERSON for w in weights):
        remark = "Different weights stood on the plate; body weight is that of the best weighing."
    elif how.startswith("from"):
        remark = f"Nobody stood still: body weight was had {how}."
    return measure("body_weight", value, se), remark


def _starts_in_the_air(trace: Trace, visit: Visit) -> bool:
    """Whether the first contact is a landing: nobody steps on a plate with so much force."""
    first = visit.contacts[0].first
    if not visit.came_on or first > trace.samples(LONGEST_FLIGHT_S):
        return False
    peak = float(trace.force_n[first : first + trace.samples(_LANDING_S)].max())
    return peak > _LANDING_BW * float(np.median(trace.force_n[visit.first : visit.last]))


def _why_none(trace: Trace, came: Sequence[Visit], kind: JumpKind | None) -> str:
    if not came:
        return "Nobody stood on the plate."
    if kind is JumpKind.ISOMETRIC:
        return "No pull was found: the force never stayed well above body weight for a second."
    if _starts_in_the_air(trace, came[0]):
        return "The recording starts in the air: start it while the athlete stands still."
    if all(len(visit.contacts) == 1 for visit in came):
        return "Nobody jumped: the feet never left the plate and came back."
    return "Nobody jumped: the feet left the plate, but no push came before it."

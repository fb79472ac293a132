"""What was found in a recording, for the page."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from saltus.jumps.catalogue import CATALOGUE
from saltus.jumps.jump import JumpKind, Measure
from saltus.jumps.wording import shown as measure_shown
from saltus.jumps.wording import unit_shown
from saltus.quantities import CENTIMETRE, INCH
from saltus.record.entries import JumpDecision, RecordedTest
from saltus.record.trials import Quantity
from saltus.web.decimals import decimals
from saltus.web.models import IncomingRecording, StoredRecording
from saltus.web.testdays.trace_told import PHASES
from saltus.web.testdays.typed import shown
from saltus.web.units import current_units

__all__ = ["JumpRow", "incoming_row", "jump_rows"]

_KINDS = {
    JumpKind.CMJ: lazy("Countermovement jump"),
    JumpKind.SJ: lazy("Squat jump"),
    JumpKind.DJ: lazy("Drop jump"),
    JumpKind.HOPS: lazy("Hop"),
    JumpKind.ISOMETRIC: lazy("Isometric pull"),
}
_TRUST = {"sound": lazy("sound"), "doubtful": lazy("doubtful"), "rejected": lazy("rejected")}


@dataclass(frozen=True, slots=True)
class JumpRow:
    """One jump of a recording in words and figures.

    Parameters
    ----------
    number : int
        From 1.
    kind, trust, trust_words : str
        What it is, and how far to trust it.
    reasons : list of str
        Why it is not sound.
    headline : str
        Its height, or peak force.
    phases : list of tuple
        Name and length in milliseconds.
    measures : list of tuple
        Title, value with standard error, unit.
    decision : JumpDecision or None
        What the coach decided.
    seen : str
        Token of the decision.
    counts : bool
        Whether it counts in the record.
    """

    number: int
    kind: str
    trust: str
    trust_words: str
    reasons: list[str]
    headline: str
    phases: list[tuple[str, str]]
    measures: list[tuple[str, str, str]]
    decision: JumpDecision | None
    seen: str
    counts: bool


def jump_rows(recording: StoredRecording, test: RecordedTest | None) -> list[JumpRow]:
    """Every jump of a recording, with what the record says of it."""
    decisions = {d.jump: d for d in test.decisions} if test is not None else {}
    return [
        _row(number, jump, decisions.get(number), in_record=test is not None)
        for number, jump in enumerate(recording.analysis.get("jumps", []), start=1)
    ]


def _row(
    number: int, jump: Mapping[str, Any], decision: JumpDecision | None, *, in_record: bool
) -> JumpRow:
    measures = {
        name: Measure(m["value"], m["se"] or 0.0, m["unit"], CATALOGUE[name][1])
        for name, m in jump["measures"].items()
        if name in CATALOGUE and m["value"] is not None
    }
    dropped = decision is not None and not decision.keep
    usable = jump["trust"] != "rejected" and jump["kind"] != JumpKind.HOPS
    return JumpRow(
        number=number,
        kind=str(_KINDS[JumpKind(jump["kind"])]),
        trust=jump["trust"],
        trust_words=str(_TRUST[jump["trust"]]),
        reasons=jump["reasons"],
        headline=_headline(measures, rejected=jump["trust"] == "rejected"),
        phases=[
            (
                str(PHASES.get(phase["name"], phase["name"])),
                f"{1000 * (phase['end_s'] - phase['start_s']):.0f}",
            )
            for phase in jump["phases"]
        ],
        measures=[
            (_(measure.title), *_in_units(measure, fine=True)) for measure in measures.values()
        ],
        decision=decision,
        seen="" if decision is None else f"{int(decision.keep)} {decision.why}",
        counts=in_record and usable and not dropped,
    )


def _in_units(measure: Measure, *, fine: bool = False) -> tuple[str, str]:
    """Value with standard error, and its unit, as whoever reads thinks."""
    unit = unit_shown(measure.unit)
    if unit == "cm" and current_units.get().length == "in":
        to_inches = CENTIMETRE / INCH
        measure = replace(measure, value=measure.value * to_inches, se=measure.se * to_inches)
        unit = "in"
    return decimals(measure_shown(measure, fine=fine)), unit


def _headline(measures: Mapping[str, Measure], *, rejected: bool) -> str:
    """Height by impulse, else by flight; of a pull, the peak force."""
    if rejected:
        return "–"
    for name, words in (
        ("height_impulse", _("%(figure)s by impulse")),
        ("height_flight", _("%(figure)s by flight time")),
    ):
        if name in measures:
            return words % {"figure": " ".join(_in_units(measures[name]))}
    if "isometric_peak_force" in measures:
        measure = measures["isometric_peak_force"]
        return _("peak %(figure)s N") % {"figure": decimals(measure_shown(measure))}
    return "–"


def _said(options: Mapping[str, Any]) -> list[str]:
    """Load and box that it is read with, as its name or the coach said."""
    units = current_units.get()
    said = []
    if load := options.get("load_kg"):
        weight = f"{shown(load, Quantity.MASS, units)} {units.mass}"
        said.append(_("with %(load)s") % {"load": weight})
    if box := options.get("box_m"):
        height = f"{shown(box, Quantity.LENGTH, units)} {units.length}"
        said.append(_("from %(height)s") % {"height": height})
    return said


def incoming_row(incoming: IncomingRecording) -> dict[str, Any]:
    """A waiting file: what was found in it, or why it cannot be read."""
    jumps = incoming.analysis.get("jumps", [])
    found: dict[str, int] = {}
    for jump in jumps:
        words = f"{_KINDS[JumpKind(jump['kind'])]}, {_TRUST[jump['trust']]}"
        found[words] = found.get(words, 0) + 1
    heights = [
        _headline(
            {
                name: Measure(m["value"], m["se"] or 0.0, m["unit"], "")
                for name, m in jump["measures"].items()
                if m["value"] is not None
            },
            rejected=jump["trust"] == "rejected",
        )
        for jump in jumps[:8]
    ]
    return {
        "incoming": incoming,
        "found": [f"{number} × {words}" for words, number in found.items()],
        "said": _said(incoming.options),
        "heights": heights,
        "columns": incoming.analysis.get("columns", []),
    }

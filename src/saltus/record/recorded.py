"""From a recording named in a record to observations.

A sound jump counts. A doubtful one counts too, because the model gives outliers little
weight, but it is noted. A rejected one is left out, and said. The coach may drop any jump,
and may vouch for a doubtful one, with a reason; what was rejected stays out.
"""

from collections import defaultdict
from dataclasses import replace
from pathlib import Path
from typing import Any

from saltus.athlete.observations import (
    DropJump,
    IsometricPull,
    JumpMethod,
    JumpStyle,
    Observation,
)
from saltus.athlete.observations import Jump as TestedJump
from saltus.errors import SaltusError
from saltus.jumps.jump import Jump, JumpKind, Measure, Trust
from saltus.quantities import STANDARD_GRAVITY
from saltus.record.checking import Checker
from saltus.record.entries import RecordedTest
from saltus.record.record import Record
from saltus.recordings.options import ReadOptions

__all__ = ["analyse_all", "observations_of", "read_options", "weight_note"]

_STYLES = {JumpKind.CMJ: JumpStyle.COUNTERMOVEMENT, JumpKind.SJ: JumpStyle.SQUAT}
_EARLY_MS = (50, 100, 150, 200, 250)
_FOREIGN_WEIGHT = 0.08
# A weight that differs by more than this share is somebody else's, or holds a load that the
# record does not tell: nobody gains or loses so much between weighings.


def analyse_all(record: Record, checker: Checker) -> Record:
    """Return the record with every recording analysed.

    Files that are missing or cannot be read are noted with `checker`, under the field
    ``file``; what was left out or is doubtful is among the notes of the result.
    """
    notes: list[str] = []
    tests: list[Observation | RecordedTest] = []
    for i, test in enumerate(record.tests):
        if not isinstance(test, RecordedTest):
            tests.append(test)
            continue
        where = ("test", i, "file")
        if record.source is None:
            checker.fault(where, "a record that stands in no file has no recordings beside it.")
            continue
        path = record.source.parent / test.file
        if not path.is_file():
            checker.fault(
                where, f"there is no recording {test.file} beside the record: check the name."
            )
            continue
        try:
            observations, said = _analysed(test, path, record.person.mass_kg(test.date))
        except SaltusError as error:
            checker.fault(where, f"the recording cannot be used: {error}")
            continue
        notes += [f"{test.file}: {words}" for words in said]
        tests.append(replace(test, observations=observations))
    return replace(record, tests=tuple(tests), notes=(*record.notes, *notes))


def _analysed(
    test: RecordedTest, path: Path, mass_kg: float
) -> tuple[tuple[Observation, ...], list[str]]:
    # Reading files and analysing them is heavy; the rest of this module is not.
    from saltus.jumps.analyse import analyse
    from saltus.recordings.read import read

    kind = JumpKind(test.jump) if test.jump else None
    analysis = analyse(read(path, options=read_options(test, mass_kg)), kind=kind)
    observations, notes = observations_of(analysis.jumps, test)
    weight = weight_note(analysis.body_weight_n, mass_kg + test.load_kg)
    if not analysis.jumps:
        notes = [*analysis.notes, "it adds no test."]
    return observations, weight + notes


def read_options(test: RecordedTest, mass_kg: float) -> ReadOptions:
    """How the recording of a test is to be read, for an athlete of that body mass (kg)."""
    return ReadOptions(
        time=test.time,
        force=test.force,
        left=test.left,
        right=test.right,
        rate_hz=test.rate_hz,
        unit=test.unit,
        mass_kg=mass_kg + test.load_kg if test.unit == "BW" else None,
        resample=test.resample,
        first_plate=test.first_plate,
    )


def weight_note(weight: Measure | None, mass_kg: float) -> list[str]:
    """Say that somebody else, or an untold load, seems to have stood on the plate.

    Parameters
    ----------
    weight : Measure or None
        What stood there, N.
    mass_kg : float
        What the record expects, the load included, kg.

    Returns
    -------
    list of str
        Empty where the two agree or the weight is not known.
    """
    expected = mass_kg * STANDARD_GRAVITY
    if weight is None or abs(weight.value - expected) <= _FOREIGN_WEIGHT * expected:
        return []
    said = (
        f"{weight.value / STANDARD_GRAVITY:.1f} kg stood on the plate, but the record says "
        f"{mass_kg:.1f} kg: check the body mass, the load and whose recording it is."
    )
    return [said]


def observations_of(
    jumps: tuple[Jump, ...], test: RecordedTest
) -> tuple[tuple[Observation, ...], list[str]]:
    """Gather what was found in one recording into observations, and say what was not used.

    Parameters
    ----------
    jumps : tuple of Jump
        As analysed.
    test : RecordedTest
        Day, load, box, remark and the coach's decisions.

    Returns
    -------
    observations : tuple of Observation
        One for each kind of jump and each way of measuring; of several isometric pulls, the
        strongest.
    notes : list of str
        Doubtful and rejected jumps with their reasons, and jumps that the model cannot use.
    """
    notes: list[str] = []
    usable: list[Jump] = []
    decisions = {decision.jump: decision for decision in test.decisions}
    for number, jump in enumerate(jumps, start=1):
        why = " ".join(jump.reasons)
        name = f"{jump.kind.in_words} {number}"
        decided = decisions.get(number)
        if decided is not None and not decided.keep:
            notes.append(f"{name} was dropped. {decided.why}")
        elif jump.trust is Trust.REJECTED:
            notes.append(f"{name} is left out. {why}")
        elif jump.kind is JumpKind.HOPS:
            notes.append(f"{name} is left out: hops say nothing that the model can use yet.")
        else:
            usable.append(jump)
            if jump.trust is Trust.DOUBTFUL and decided is not None:
                notes.append(f"{name} is doubtful and was kept. {decided.why}")
            elif jump.trust is Trust.DOUBTFUL:
                notes.append(f"{name} is doubtful and counts all the same. {why}")
    common: dict[str, Any] = {"date": test.date, "note": test.note, "label": str(test.file)}
    found = [
        *_floor_jumps(usable, test, common),
        *_drop_jumps([j for j in usable if j.kind is JumpKind.DJ], test, common, notes),
        *_pulls([j for j in usable if j.kind is JumpKind.ISOMETRIC], common),
    ]
    return tuple(found), notes


def _height(jump: Jump) -> tuple[JumpMethod, float] | None:
    """Height by impulse; by flight time where the impulse is withheld."""
    if jump.height_impulse_m is not None:
        return JumpMethod.PLATE_IMPULSE, jump.height_impulse_m
    if jump.height_flight_m is not None:
        return JumpMethod.PLATE_FLIGHT, jump.height_flight_m
    return None


def _floor_jumps(
    jumps: list[Jump], test: RecordedTest, common: dict[str, Any]
) -> list[Observation]:
    heights: dict[tuple[JumpStyle, JumpMethod], list[float]] = defaultdict(list)
    for jump in jumps:
        measured = _height(jump)
        if jump.kind in _STYLES and measured is not None:
            heights[_STYLES[jump.kind], measured[0]].append(measured[1])
    return [
        TestedJump(
            style=style,
            method=method,
            heights_m=tuple(attempts),
            arms=test.arms,
            load_kg=test.load_kg,
            **common,
        )
        for (style, method), attempts in heights.items()
    ]


def _drop_jumps(
    jumps: list[Jump], test: RecordedTest, common: dict[str, Any], notes: list[str]
) -> list[Observation]:
    """One observation for each way of measuring, at the true drop where the landing tells it."""
    groups: dict[JumpMethod, list[tuple[float, Jump]]] = defaultdict(list)
    for jump in jumps:
        measured = _height(jump)
        if measured is not None and jump.value("contact_time") is not None:
            groups[measured[0]].append((measured[1], jump))
    found: list[Observation] = []
    for method, attempts in groups.items():
        drops = [drop for _, jump in attempts if (drop := jump.value("drop_height")) is not None]
        true_drop = len(drops) == len(attempts)
        if not true_drop and test.box_m is None:
            notes.append(
                "the drop jumps are left out: the landing does not tell the drop, so give box_cm."
            )
            continue
        found.append(
            DropJump(
                drop_m=sum(drops) / len(drops) if true_drop else float(test.box_m or 0),
                true_drop=true_drop,
                heights_m=tuple(height for height, _ in attempts),
                contacts_s=tuple(float(jump.value("contact_time") or 0) for _, jump in attempts),
                method=method,
                arms=test.arms,
                **common,
            )
        )
    return found


def _pulls(jumps: list[Jump], common: dict[str, Any]) -> list[Observation]:
    pulls = [(peak, jump) for jump in jumps if (peak := jump.value("isometric_peak_force"))]
    if not pulls:
        return []
    peak, best = max(pulls, key=lambda pull: pull[0])
    early = {ms: best.value(f"force_{ms}ms") for ms in _EARLY_MS}
    return [
        IsometricPull(
            peak_n=peak,
            force_at_n={ms: force for ms, force in early.items() if force is not None},
            **common,
        )
    ]

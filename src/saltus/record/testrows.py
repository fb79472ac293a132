"""From the checked rows of ``[[test]]`` to observations."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import PurePosixPath
from typing import Any

from saltus.athlete.broad_jump import broad_jump_height
from saltus.athlete.jump_height import height_from_flight_time, reach_height
from saltus.athlete.measurement_error import (
    drop_jump_error,
    isometric_error,
    jump_error,
    maximum_from,
)
from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    Observation,
    RepSet,
)
from saltus.errors import TestError
from saltus.quantities import CENTIMETRE, STANDARD_GRAVITY
from saltus.record.checking import Checker, Row
from saltus.record.entries import JumpDecision, RecordedTest
from saltus.record.schema import JUMP_KINDS

__all__ = ["test_of"]

_FLIGHT_METHODS = (JumpMethod.MAT, JumpMethod.FILM, JumpMethod.PLATE_FLIGHT)
_WAYS = ("heights", "touched", "flight", "frames")

Heights = tuple[float, ...] | None


def test_of(
    row: Row,
    kind: str,
    checker: Checker,
    *,
    stature_m: float | None,
    standing_reach_m: float | None,
    mass_kg: float | None,
) -> Observation | RecordedTest | None:
    """Turn one checked row into a test.

    Parameters
    ----------
    row : Row
        The row, of the table of that kind.
    kind : str
        Kind of test.
    checker : Checker
        Collects what does not fit together.
    stature_m, standing_reach_m : float or None
        The athlete's, m.
    mass_kg : float or None
        Body mass on the day, for what must exceed body weight.

    Returns
    -------
    Observation, RecordedTest or None
        None where the row is at fault.
    """
    before = len(checker.faults)
    common = {"date": row["date"], "note": row["note"], "label": f"test[{row.path[-1]}]"}
    if common["date"] is None:
        return None
    test: Observation | RecordedTest | None
    if kind in JUMP_KINDS:
        test = _jump(row, JumpStyle(JUMP_KINDS[kind]), checker, standing_reach_m, common)
    elif kind == "isometric_pull":
        test = _pull(row, checker, mass_kg, common)
    else:
        test = _BUILDERS[kind](row, checker, common)
    if len(checker.faults) > before or test is None:
        return None
    try:
        _use(replace(test, label=""), stature_m)  # the fault says where it stands
    except TestError as error:
        checker.fault(row.path, str(error))
        return None
    return test


test_of.__test__ = False  # type: ignore[attr-defined]  # not a test case for pytest


def _use(test: Observation | RecordedTest, stature_m: float | None) -> None:
    """Put a test to the equation that will read it, so that a fault is told with its line.

    Raises
    ------
    TestError
        If the equation has no use for it.
    """
    match test:
        case Jump():
            jump_error(test)
        case DropJump():
            drop_jump_error(test)
        case BroadJump():
            broad_jump_height(test, stature_m)
        case Maximum() | RepSet() | BarSpeedSet():
            maximum_from(test)
        case IsometricPull():
            for after_ms in test.force_at_n:
                isometric_error(after_ms)
        case RecordedTest():
            pass


def _heights(row: Row, checker: Checker, reach_m: float | None) -> Heights:
    """Heights of the attempts, in whichever of the ways they are given."""
    given = [way for way in _WAYS if way in row.keys]
    if len(given) > 1:
        names = " and ".join(row.keys[way] for way in given)
        checker.fault_in(row, given[1], f"the jump is given twice, by {names}; keep one.")
        return None
    if not given:
        ways = ["heights_cm", "flight_s"]
        if any(f.name == "touched" for f in row.table.fields):
            ways += ["touched_cm", "frames"]
        checker.fault(row.path, f"holds no result: give {', '.join(ways[:-1])} or {ways[-1]}.")
        return None
    way = given[0]
    if way not in row:
        return None
    try:
        return _in_metres(row, way, reach_m)
    except TestError as error:
        checker.fault_in(row, way, str(error))
        return None


def _in_metres(row: Row, way: str, reach_m: float | None) -> tuple[float, ...]:
    values: tuple[float, ...] = row[way]
    if way == "heights":
        return values
    if way == "touched":
        if reach_m is None:
            raise TestError(
                "a touched height needs standing_reach_cm, here or under [athlete]: how high the "
                "fingertips reach without a jump."
            )
        return tuple(round(reach_height(value, reach_m), 6) for value in values)
    if way == "frames":
        rate = row["frame_rate"]
        if rate is None:
            raise TestError("frames need frame_rate_hz: at how many frames a second it was filmed.")
        values = tuple(value / rate for value in values)
    return tuple(round(height_from_flight_time(value), 6) for value in values)


def _method(row: Row, checker: Checker) -> JumpMethod | None:
    """How the jump was measured, from the field or from the way it is given."""
    way = next((way for way in _WAYS if way in row.keys), "heights")
    implied = {"touched": JumpMethod.REACH, "frames": JumpMethod.FILM}.get(way)
    if "method" not in row:
        if implied is None and "method" not in row.keys:
            checker.fault(
                row.path,
                "method is missing: how was it measured, by reach, mat, film, plate_flight or "
                "plate_impulse?",
            )
        return implied
    method = JumpMethod(row["method"])
    if implied is not None and method is not implied:
        checker.fault_in(
            row, "method", f"{method} does not go with {row.keys[way]}: that is {implied}."
        )
    if way == "flight" and method not in _FLIGHT_METHODS:
        checker.fault_in(
            row,
            "method",
            f"{method} gives no flight time: write mat, film or plate_flight, or give heights_cm.",
        )
    return method


def _jump(
    row: Row, style: JumpStyle, checker: Checker, reach_m: float | None, common: dict[str, Any]
) -> Observation | None:
    reach = row.get("standing_reach", reach_m)
    heights = _heights(row, checker, reach)
    method = _method(row, checker)
    if heights is None or method is None:
        return None
    for height in heights:
        low, high = 0.02, 1.5
        if not low <= height <= high:
            checker.fault(
                row.path,
                f"the jump comes to {height / CENTIMETRE:.1f} cm, which cannot be right: it lies "
                f"between {low / CENTIMETRE:g} and {high / CENTIMETRE:g} cm; check the numbers "
                "and their units.",
            )
            return None
    swings = method is JumpMethod.REACH or style is JumpStyle.APPROACH
    return Jump(
        style=style,
        method=method,
        heights_m=heights,
        arms=row.get("arms", swings),
        load_kg=row["load"],
        frame_rate_hz=row["frame_rate"],
        **common,
    )


def _drop_jump(row: Row, checker: Checker, common: dict[str, Any]) -> Observation | None:
    heights = _heights(row, checker, None)
    contacts: tuple[float, ...] = row["contacts"] or ()
    if heights and contacts and len(contacts) != len(heights):
        checker.fault_in(
            row,
            "contacts",
            f"{len(contacts)} contact times for {len(heights)} attempts: give one for each.",
        )
    method = JumpMethod(row["method"])
    if "frames" in row.keys:
        if "method" in row.keys and method is not JumpMethod.FILM:
            checker.fault_in(
                row, "method", f"{method} does not go with frames: that is {JumpMethod.FILM}."
            )
        method = JumpMethod.FILM
    if heights is None or "box" not in row:
        return None
    return DropJump(
        drop_m=row["box"],
        heights_m=heights,
        contacts_s=contacts,
        method=method,
        arms=row["arms"],
        true_drop=row["true_drop"],
        frame_rate_hz=row["frame_rate"],
        **common,
    )


def _broad_jump(row: Row, checker: Checker, common: dict[str, Any]) -> Observation | None:
    del checker
    if "distances" not in row:
        return None
    return BroadJump(distances_m=row["distances"], arms=row["arms"], **common)


def _maximum(row: Row, checker: Checker, common: dict[str, Any]) -> Observation | None:
    del checker
    if "lift" not in row or "load" not in row:
        return None
    return Maximum(lift=Lift(row["lift"]), load_kg=row["load"], **common)


def _rep_set(row: Row, checker: Checker, common: dict[str, Any]) -> Observation | None:
    del checker
    if any(name not in row for name in ("lift", "load", "reps")):
        return None
    return RepSet(
        lift=Lift(row["lift"]),
        load_kg=row["load"],
        reps=row["reps"],
        reserve=row["reserve"],
        **common,
    )


def _bar_speed(row: Row, checker: Checker, common: dict[str, Any]) -> Observation | None:
    if any(name not in row for name in ("lift", "loads", "speeds")):
        return None
    loads, speeds = row["loads"], row["speeds"]
    if len(loads) != len(speeds):
        checker.fault_in(
            row, "speeds", f"{len(speeds)} speeds for {len(loads)} loads: give one for each."
        )
    return BarSpeedSet(lift=Lift(row["lift"]), loads_kg=loads, speeds_m_s=speeds, **common)


def _pull(
    row: Row, checker: Checker, mass_kg: float | None, common: dict[str, Any]
) -> Observation | None:
    if "peak" not in row:
        return None
    peak: float = row["peak"]
    forces: dict[int, float] = row["force_at"] or {}
    if mass_kg is not None and peak < mass_kg * STANDARD_GRAVITY:
        checker.fault_in(
            row,
            "peak",
            f"{peak:g} N is less than body weight ({mass_kg * STANDARD_GRAVITY:.0f} N): give the "
            "whole force, body weight included.",
        )
    for after, force in forces.items():
        if force > peak:
            checker.fault_in(
                row,
                "force_at",
                f"{force:g} N after {after} ms is above the peak of {peak:g} N: check both.",
            )
    return IsometricPull(peak_n=peak, force_at_n=forces, **common)


def _recording(row: Row, checker: Checker, common: dict[str, Any]) -> RecordedTest | None:
    if "file" not in row:
        return None
    if ("left" in row) != ("right" in row):
        checker.fault(row.path, "one foot only is named: give both left and right, or force.")
    if "force" in row and "left" in row:
        checker.fault(row.path, "give either force (both feet together) or left and right.")
    return RecordedTest(
        file=PurePosixPath(row["file"]),
        jump=row["jump"],
        box_m=row["box"],
        load_kg=row["load"],
        arms=row["arms"],
        rate_hz=row["rate"],
        time=row["time"],
        force=row["force"],
        left=row["left"],
        right=row["right"],
        unit=row["unit"],
        first_plate=row["first_plate"],
        resample=row["resample"],
        decisions=_decisions(row, checker),
        **common,
    )


def _decisions(row: Row, checker: Checker) -> tuple[JumpDecision, ...]:
    decisions: dict[int, JumpDecision] = {}
    for each in row["decisions"] or ():
        if any(name not in each for name in ("jump", "keep", "why")):
            continue
        if each["jump"] in decisions:
            checker.fault(each.path, f"jump {each['jump']} is decided twice: keep one.")
        decisions[each["jump"]] = JumpDecision(each["jump"], each["keep"], each["why"])
    return tuple(decisions.values())


_BUILDERS: dict[
    str, Callable[[Row, Checker, dict[str, Any]], Observation | RecordedTest | None]
] = {
    "drop_jump": _drop_jump,
    "broad_jump": _broad_jump,
    "maximum": _maximum,
    "rep_set": _rep_set,
    "bar_speed": _bar_speed,
    "recording": _recording,
}

"""Analyses as data for others: the JSON document and the table of jumps."""

import json
import math
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import polars as pl

from saltus.errors import UsageError
from saltus.jumps.catalogue import CATALOGUE
from saltus.jumps.jump import Analysis, Jump, Measure

__all__ = [
    "TABLE_FORMATS",
    "analysis_document",
    "check_table_path",
    "documents_as_json",
    "failure_document",
    "jumps_table",
    "write_jumps",
]

TABLE_FORMATS = (".csv", ".parquet", ".json")


Document = dict[str, Any]


def _number(value: float | None) -> float | None:
    """Return a number that JSON can hold; what is not finite is unknown."""
    return None if value is None or not math.isfinite(value) else float(value)


def _measure_document(measure: Measure) -> Document:
    return {"value": _number(measure.value), "se": _number(measure.se), "unit": measure.unit}


def _jump_document(jump: Jump) -> Document:
    return {
        "kind": jump.kind.value,
        "onset_s": _number(jump.onset_s),
        "take_off_s": _number(jump.take_off_s),
        "landing_s": _number(jump.landing_s),
        "flight_time_s": _number(jump.flight_time_s),
        "height_flight_m": _number(jump.height_flight_m),
        "height_impulse_m": _number(jump.height_impulse_m),
        "take_off_velocity_m_s": _number(jump.take_off_velocity_m_s),
        "trust": jump.trust.value,
        "reasons": list(jump.reasons),
        "series": jump.series,
        "phases": [
            {"name": phase.name, "start_s": phase.start_s, "end_s": phase.end_s}
            for phase in jump.phases
        ],
        "measures": {name: _measure_document(m) for name, m in jump.measures.items()},
    }


def analysis_document(file: str, analysis: Analysis) -> Document:
    """Turn one analysed recording into what ``saltus analyse --json`` lists.

    Parameters
    ----------
    file : str
        The file as the person named it.
    analysis : Analysis
        Of that file.

    Returns
    -------
    dict
        ``file``, ``rate_hz``, ``body_weight_n`` (null when withheld), ``jumps``, ``notes`` and
        ``doubts``; SI throughout.
    """
    weight = analysis.body_weight_n
    return {
        "file": file,
        "rate_hz": analysis.recording.rate_hz,
        "body_weight_n": None if weight is None else _number(weight.value),
        "body_weight_se_n": None if weight is None else _number(weight.se),
        "jumps": [_jump_document(jump) for jump in analysis.jumps],
        "notes": [*analysis.recording.notes, *analysis.notes],
        "doubts": list(dict.fromkeys((*analysis.recording.doubts, *analysis.doubts))),
    }


def failure_document(file: str, error: Exception) -> Document:
    """Turn a file that could not be read into its place in the list."""
    return {"file": file, "error": str(error)}


def documents_as_json(documents: Sequence[Document]) -> str:
    """One JSON text of all documents; never NaN."""
    return json.dumps(documents, indent=2, allow_nan=False)


def jumps_table(documents: Iterable[Document]) -> pl.DataFrame:
    """One row for each jump.

    Parameters
    ----------
    documents : iterable of dict
        From :func:`analysis_document`; failures are passed over.

    Returns
    -------
    polars.DataFrame
        File, number and kind, moments (s), trust and reasons, and then each measure that was
        taken anywhere with its standard error, the unit in the column's name; empty
        cells where a jump does not have it.
    """
    rows, names = [], set()
    for document in documents:
        for number, jump in enumerate(document.get("jumps", ()), start=1):
            names.update(jump["measures"])
            rows.append((document, number, jump))
    columns: dict[str, pl.Series] = {
        "file": pl.Series([d["file"] for d, _, _ in rows], dtype=pl.String),
        "jump": pl.Series([number for _, number, _ in rows], dtype=pl.Int64),
        "kind": pl.Series([j["kind"] for _, _, j in rows], dtype=pl.String),
        "series": pl.Series([j["series"] for _, _, j in rows], dtype=pl.Int64),
    }
    for moment in ("onset_s", "take_off_s", "landing_s"):
        columns[moment] = pl.Series([j[moment] for _, _, j in rows], dtype=pl.Float64)
    columns["trust"] = pl.Series([j["trust"] for _, _, j in rows], dtype=pl.String)
    columns["reasons"] = pl.Series([" ".join(j["reasons"]) for _, _, j in rows], dtype=pl.String)
    for name in (n for n in CATALOGUE if n in names):
        unit = f" [{CATALOGUE[name][0]}]" if CATALOGUE[name][0] else ""
        for part, words in (("value", name), ("se", f"{name} se")):
            columns[words + unit] = pl.Series(
                [j["measures"].get(name, {}).get(part) for _, _, j in rows], dtype=pl.Float64
            )
    return pl.DataFrame(columns)


def check_table_path(path: Path) -> None:
    """Refuse a name under which jumps cannot be written.

    Raises
    ------
    UsageError
        If the ending is not known, or the folder is not there.
    """
    if path.suffix.lower() not in TABLE_FORMATS:
        raise UsageError(
            f"Jumps cannot be written as {path.name}: end the name in {', '.join(TABLE_FORMATS)}."
        )
    if not path.parent.is_dir():
        raise UsageError(f"{path} cannot be written: there is no folder {path.parent}.")


def write_jumps(documents: Sequence[Document], path: Path) -> None:
    """Write all jumps as a table (``.csv``, ``.parquet``) or all documents (``.json``).

    Raises
    ------
    UsageError
        If the extension is none of these, or the file cannot be written.
    """
    check_table_path(path)
    try:
        match path.suffix.lower():
            case ".csv":
                jumps_table(documents).write_csv(path)
            case ".parquet":
                jumps_table(documents).write_parquet(path)
            case _:
                path.write_text(documents_as_json(documents) + "\n", encoding="utf-8")
    except OSError as error:
        raise UsageError(f"{path} cannot be written: {error.strerror or error}.") from error

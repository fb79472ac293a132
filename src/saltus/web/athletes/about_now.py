"""What the record of an athlete tells now, with results of recordings that were read before."""

from collections import defaultdict
from typing import Any

from saltus.record.about import about
from saltus.web.models import Athlete, StoredAssessment
from saltus.web.records import record_of

__all__ = ["about_now"]


def about_now(athlete: Athlete, kept: StoredAssessment | None) -> dict[str, Any]:
    """As :func:`saltus.record.about.about`.

    Parameters
    ----------
    athlete : Athlete
        Whose record.
    kept : StoredAssessment or None
        The latest assessment. If the record was changed since, its recordings still say the
        same; to read them again would take too long for a page.

    Raises
    ------
    RecordError
        If the text of the record is at fault.
    """
    if kept is not None and kept.document["revision"] == athlete.revision:
        return dict(kept.document["about"])
    told = about(record_of(athlete, recordings=False))
    if kept is not None:
        read = defaultdict(list)
        for test in kept.document["about"]["tests"]:
            if test["file"] and test["values"]:
                read[test["file"], test["date"]].append(test)
        told["tests"] = [
            found
            for test in told["tests"]
            for found in read.pop((test["file"], test["date"]), [test])
        ]
    return told

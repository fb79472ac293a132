"""A recording read apart from the server, and why one could not be."""

import json
import os
import re
import subprocess
import sys
import threading
from dataclasses import asdict
from pathlib import Path
from typing import Any

from django.utils.translation import gettext as _

from saltus.recordings.options import ReadOptions
from saltus.web.sentences import told

__all__ = ["analysis_of", "in_page_words"]

_SECONDS = 180
_READER = [sys.executable, "-m", "saltus.web.testdays.reader"]
_AT_ONCE = threading.BoundedSemaphore(2)
_COMMAND = re.compile(
    r"(, for example|, by name or number, for example)?:\s+saltus analyse.*", re.DOTALL
)
_OPTION = re.compile(r"--([a-z-]+)")


def analysis_of(path: Path, name: str, options: ReadOptions, kind: str | None) -> dict[str, Any]:
    """Analyse a file in a process of its own, with limits of memory and time.

    Parameters
    ----------
    path : Path
        The file; figures are written beside it.
    name : str
        As the coach called it.
    options : ReadOptions
        How to read it.
    kind : str or None
        What was done, where the coach said so.

    Returns
    -------
    dict
        As :func:`saltus.jumps.export.analysis_document`, with ``figures``: the numbers of the
        jumps on each; or ``error``, with ``columns`` where they are the question.
    """
    request = {"path": str(path), "name": name, "options": asdict(options), "kind": kind}
    answer = _answer_apart(request)
    if answer.pop("too_large", False):
        return {"error": _("This file takes more memory or time than a recording should.")}
    if answer.pop("too_long", False):
        return {"error": _("This file takes longer to read than a recording should.")}
    if "error" in answer:
        answer["error"] = in_page_words(answer["error"])
    return answer


def _answer_apart(request: dict[str, Any]) -> dict[str, Any]:
    """What :func:`saltus.web.testdays.reader.answer_to` says, in a process of its own."""
    environment = {**os.environ, "POLARS_MAX_THREADS": "2", "OMP_NUM_THREADS": "1"}
    environment["OPENBLAS_NUM_THREADS"] = "1"
    with _AT_ONCE:
        try:
            done = subprocess.run(
                _READER,
                input=json.dumps(request).encode(),
                capture_output=True,
                timeout=_SECONDS,
                env=environment,
                cwd=Path(request["path"]).parent,
                check=False,
            )
        except subprocess.TimeoutExpired:
            return {"too_long": True}
    try:
        answer: dict[str, Any] = json.loads(done.stdout)
    except ValueError:
        return {"too_large": True}
    return answer


def in_page_words(sentence: str) -> str:
    """A sentence of the command line for somebody who has a form in front of them."""
    words = {
        "time": _("“Time column”"),
        "force": _("“Column of both feet together”"),
        "left": _("“Column of the left foot”"),
        "right": _("“Column of the right foot”"),
        "rate": _("“Readings a second”"),
        "unit": _("“Unit of the force”"),
        "mass": _("the body mass in the record"),
        "resample": _("“Even out the time”"),
        "first-plate": _("“Foot on the first plate”"),
    }
    short = _COMMAND.sub(".", sentence)
    short = told(re.sub(r"\s*Say which ones to take\.?$", "", short))
    return _OPTION.sub(lambda match: words.get(match[1], match[0]), short).strip()

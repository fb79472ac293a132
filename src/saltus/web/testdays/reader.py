"""Reads one recording in a process of its own: ``python -m saltus.web.testdays.reader``.

A file of unknown origin must not exhaust the server's memory or hang it. The request comes as
JSON on standard input, the answer goes as JSON to standard output. Django is not loaded here.
"""

import json
import os
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

__all__ = ["answer_to", "main"]

_MEMORY_BYTES = 3 << 30
_PROCESSOR_S = 120
_WRITTEN_BYTES = 64 << 20
MOST_FIGURES = 60
"""Figures drawn of one recording; an hour of hops may hold hundreds."""


def main() -> None:
    """Answer one request."""
    out = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)  # what libraries print must not get into the answer
    request = json.load(sys.stdin)
    _load()
    _limit()
    json.dump(answer_to(request), out)
    out.close()


def answer_to(request: dict[str, Any]) -> dict[str, Any]:
    """Analyse a file, and write its figures beside it; see :func:`reading.analysis_of`."""
    from saltus.errors import AmbiguousColumns, SaltusError
    from saltus.figures.draw import specification
    from saltus.figures.jump_trace import page_of, traces
    from saltus.jumps.analyse import analyse
    from saltus.jumps.export import analysis_document
    from saltus.jumps.jump import JumpKind
    from saltus.recordings.options import ReadOptions
    from saltus.recordings.read import read

    path, name = Path(request["path"]), request["name"]
    answer: dict[str, Any]
    try:
        kind = JumpKind(request["kind"]) if request["kind"] else None
        recording = read(path, options=ReadOptions(**request["options"]))
        analysis = analyse(replace(recording, source=name), kind=kind)
        answer = analysis_document(name, analysis)
        numbers = {id(jump): number for number, jump in enumerate(analysis.jumps, start=1)}
        found = traces([analysis])
        answer["figures"] = [[numbers[id(jump)] for jump in trace.jumps] for trace in found]
        for number, trace in enumerate(found[:MOST_FIGURES], start=1):
            target = path.with_name(f"{path.stem}.{number}.json")
            target.write_text(json.dumps(specification(page_of(trace))), encoding="utf-8")
    except SaltusError as error:
        answer = {"error": str(error).replace(path.name, name).removeprefix(f"{name}: ")}
        if isinstance(error, AmbiguousColumns):
            answer["columns"] = list(error.columns)
    except MemoryError:
        answer = {"error": "", "too_large": True}
    return answer


def _load() -> None:
    """Load the libraries before memory is limited: they take address space of their own."""
    import saltus.figures.jump_trace
    import saltus.jumps.analyse
    import saltus.recordings.read  # noqa: F401


def _limit() -> None:
    """Hold this process to what the longest sensible recording needs, several times over."""
    try:
        import resource
    except ImportError:  # not on every system; the parent's time limit still holds
        return
    resource.setrlimit(resource.RLIMIT_AS, (_MEMORY_BYTES, _MEMORY_BYTES))
    resource.setrlimit(resource.RLIMIT_CPU, (_PROCESSOR_S, _PROCESSOR_S))
    resource.setrlimit(resource.RLIMIT_FSIZE, (_WRITTEN_BYTES, _WRITTEN_BYTES))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


if __name__ == "__main__":
    main()

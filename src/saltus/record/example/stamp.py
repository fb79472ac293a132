"""Which version wrote a folder, and what: light, so that a second run ends at once."""

from collections.abc import Sequence
from pathlib import Path

from saltus import __version__

__all__ = ["STAMP", "is_written", "stamp"]

STAMP = ".saltus-example"
"""Name of the file that says which version wrote the folder."""


def is_written(folder: Path) -> bool:
    """Whether this version of Saltus wrote the squad to the folder, and all of it is there."""
    path = folder / STAMP
    if not path.is_file():
        return False
    version, *names = path.read_text(encoding="utf-8").splitlines()
    return version == __version__ and all((folder / name).is_file() for name in names)


def stamp(folder: Path, names: Sequence[str] | None) -> None:
    """Say which files this version wrote; None while it is still writing."""
    lines = ["unfinished"] if names is None else [__version__, *names]
    (folder / STAMP).write_text("\n".join(lines) + "\n", encoding="utf-8")

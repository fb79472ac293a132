"""What wrote a folder, and which files: light, so that a second run ends at once."""

import hashlib
from collections.abc import Sequence
from pathlib import Path

import saltus

__all__ = ["STAMP", "is_written", "maker", "stamp"]

STAMP = ".saltus-example"
"""Name of the file that says what wrote the folder."""

_FLOORS = ("athlete", "record", "recordings")
"""The floors of Saltus that make the squad."""


def maker() -> str:
    """Version of Saltus, and a digest of the floors that make the squad.

    The digest tells two states of one version apart, such as before and after an update of
    the source.
    """
    package = Path(saltus.__file__).parent
    digest = hashlib.sha256()
    for floor in _FLOORS:
        for path in sorted((package / floor).rglob("*")):
            if path.suffix in {".py", ".toml", ".txt"}:
                digest.update(path.relative_to(package).as_posix().encode())
                digest.update(path.read_bytes())
    return f"{saltus.__version__} {digest.hexdigest()[:16]}"


def is_written(folder: Path) -> bool:
    """Whether this very Saltus wrote the squad to the folder, and all of it is there."""
    path = folder / STAMP
    if not path.is_file():
        return False
    by, *names = path.read_text(encoding="utf-8").splitlines()
    return by == maker() and all((folder / name).is_file() for name in names)


def stamp(folder: Path, names: Sequence[str] | None) -> None:
    """Say which files this Saltus wrote; None while it is still writing."""
    lines = ["unfinished"] if names is None else [maker(), *names]
    (folder / STAMP).write_text("\n".join(lines) + "\n", encoding="utf-8")

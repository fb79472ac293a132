"""Which files are taken for recordings, before any is opened."""

from collections.abc import Iterable
from pathlib import Path

from saltus.errors import RecordingError

__all__ = ["EXTENSIONS", "find_recordings"]

EXTENSIONS = (".c3d", ".csv", ".dat", ".mot", ".sto", ".tsv", ".txt")
"""Files of a folder that are taken for recordings (in lower case)."""


def find_recordings(paths: Iterable[Path | str]) -> list[Path]:
    """List the recordings among files and folders.

    A file that is named is taken whatever its extension; in a folder, and the folders in it,
    the known extensions are.

    Parameters
    ----------
    paths : iterable of path-like
        Files and folders.

    Returns
    -------
    list of Path
        In the order given, those of a folder sorted by name; none twice.

    Raises
    ------
    RecordingError
        If a path does not exist, or a folder holds no recordings.
    """
    found: dict[Path, None] = {}
    for path in map(Path, paths):
        if path.is_dir():
            inside = sorted(
                p
                for p in path.rglob("*")
                if p.is_file()
                and p.suffix.lower() in EXTENSIONS
                and not any(part.startswith(".") for part in p.relative_to(path).parts)
            )
            if not inside:
                known = ", ".join(EXTENSIONS)
                raise RecordingError(f"{path}: the folder holds no recordings ({known}).")
            found.update(dict.fromkeys(inside))
        elif path.exists():
            found[path] = None
        else:
            raise RecordingError(f"{path}: there is no such file or folder.")
    return list(found)

"""One door for every file of a force plate."""

from pathlib import Path

from saltus.errors import RecordingError
from saltus.recordings.assemble import assemble
from saltus.recordings.c3d import read_c3d
from saltus.recordings.c3d_structure import looks_like_c3d
from saltus.recordings.choose import choose
from saltus.recordings.columns import recognise, wanted
from saltus.recordings.delimited import load
from saltus.recordings.motion_storage import is_motion_storage, read_motion_storage
from saltus.recordings.options import ReadOptions
from saltus.recordings.recording import Recording
from saltus.recordings.signals import Signals
from saltus.recordings.sniff import sniff

__all__ = ["read"]

_OTHER_FILES = (
    (b"PK\x03\x04", "a spreadsheet or a zip archive"),
    (b"\xd0\xcf\x11\xe0", "a spreadsheet"),
    (b"\x1f\x8b", "a compressed file"),
    (b"%PDF", "a PDF page"),
    (b"\x89PNG", "a picture"),
)


def read(path: Path | str, *, options: ReadOptions | None = None) -> Recording:
    """Read the vertical ground force in a file.

    The reader is chosen by what the file holds; its extension is only asked where that does
    not decide.

    Parameters
    ----------
    path : path-like
        Delimited text of any common shape, a motion-storage table or a C3D file.
    options : ReadOptions, optional
        What the file does not say itself.

    Returns
    -------
    Recording
        In newtons, evenly sampled; what was done to it is in its notes.

    Raises
    ------
    AmbiguousColumns
        If several columns could be meant.
    RecordingError
        If the file cannot be read, or not without guessing.
    """
    path = Path(path)
    options = options or ReadOptions()
    try:
        signals = _signals(path, options)
        return assemble(signals, options)
    except OSError as error:
        raise RecordingError(f"{path.name}: {error.strerror or error}.") from error


def _signals(path: Path, options: ReadOptions) -> Signals:
    if path.is_dir():
        raise RecordingError(f"{path.name} is a folder; name a file in it.")
    with path.open("rb") as file:
        head = file.read(512)
    if looks_like_c3d(head):
        return read_c3d(path, options)
    for start, kind in _OTHER_FILES:
        if head.startswith(start):
            raise RecordingError(
                f"{path.name}: this is {kind}, whatever its name says; open it and save the "
                "recording as text (CSV) or C3D."
            )
    layout = sniff(path)
    if is_motion_storage(layout):
        signals = read_motion_storage(path, layout, options)
    else:
        table = load(path, layout, wanted(recognise(layout.headings), options))
        signals = choose(table, options)
    if path.suffix.lower() == ".c3d":
        signals.notes = [
            f"{path.name} is text, although its name says C3D; it was read as text.",
            *(signals.notes or ()),
        ]
    return signals

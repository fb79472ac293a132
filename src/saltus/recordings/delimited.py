"""Delimited text into a table of numbers, a block at a time so that memory stays small."""

import codecs
import io
import re
import warnings
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import polars as pl

from saltus.errors import RecordingError
from saltus.recordings.sniff import MISSING, Layout
from saltus.recordings.table import BadCell, Table

__all__ = ["load"]

BLOCK_BYTES = 16 << 20
"""Bytes parsed at once; a multiple of this is the memory that reading needs beside the numbers."""


def load(path: Path, layout: Layout, wanted: Collection[int]) -> Table:
    """Read the `wanted` columns of a text file.

    Parameters
    ----------
    path : Path
        The file.
    layout : Layout
        Its shape, from `sniff`.
    wanted : collection of int
        Columns to read, from 0.

    Returns
    -------
    Table
        Float columns; empty cells are null, the first unreadable cell of each is kept in `bad`.

    Raises
    ------
    RecordingError
        If the file stops in the middle of a line.
    """
    reading = _Reading(path, layout, tuple(sorted(wanted)))
    for block in _blocks(path, layout):
        if not reading.add(block):
            break
    return reading.table()


@dataclass(slots=True)
class _Reading:
    """Rows read so far."""

    path: Path
    layout: Layout
    wanted: tuple[int, ...]
    frames: list[pl.DataFrame] = field(default_factory=list)
    bad: dict[int, BadCell] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    rows: int = 0
    last_lines: list[bytes] = field(default_factory=list)

    def add(self, block: bytes) -> bool:
        """Parse one block of whole lines; False once the table has ended."""
        frame = self._parse(block, text=False)
        lines = block.count(b"\n") + (not block.endswith(b"\n"))
        if frame.height != lines:
            raise RecordingError(
                f"{self.path.name}: near line {self._line(frame.height)} a quoted cell is never "
                "closed; export the recording again."
            )
        end = None
        unread = [c for c in frame.columns if frame[c].null_count()]
        if unread:
            end = self._judge(frame, block, unread)
        if end is not None:
            frame = frame.head(end)
        self.frames.append(frame)
        self.rows += frame.height
        self.last_lines = (self.last_lines + block[-20_000:].split(b"\n")[-25:])[-25:]
        return end is None

    def table(self) -> Table:
        """Everything read."""
        layout = self.layout
        if self.last_lines:
            self._check_last_line()
        values = pl.concat(self.frames) if self.frames else pl.DataFrame()
        del self.frames[:]
        return Table(
            source=self.path.name,
            path=str(self.path),
            headings=layout.headings,
            values=values,
            first_line=layout.first_line,
            bad=self.bad,
            stated_rate_hz=layout.stated_rate_hz,
            notes=tuple(self.notes),
        )

    def _line(self, row: int) -> int:
        return self.layout.first_line + self.rows + row

    def _parse(self, block: bytes, *, text: bool) -> pl.DataFrame:
        layout = self.layout
        width = len(layout.headings)
        kind = pl.String if text else pl.Float64
        if text:  # a stray byte must not stop the message about it
            block = block.decode(errors="replace").encode()
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", UserWarning)  # unclosed quotes are found by counting
            return pl.read_csv(
                io.BytesIO(block),
                has_header=False,
                schema={str(i): kind for i in range(width)},
                columns=list(self.wanted),
                separator="\t" if layout.delimiter == " " else layout.delimiter,
                quote_char='"' if layout.quoted else None,
                decimal_comma=layout.decimal_comma and not text,
                ignore_errors=True,
                truncate_ragged_lines=True,
                extra_columns="ignore",
                missing_columns="insert",
            )

    def _judge(self, frame: pl.DataFrame, block: bytes, unread: list[str]) -> int | None:
        """Tell empty cells from rubbish; return the row at which the table ends, if it does."""
        cells = self._parse(block, text=True)
        first: dict[str, int] = {}
        for name in unread:
            text = cells[name].str.strip_chars().str.to_lowercase().fill_null("")
            rubbish = frame[name].is_null() & ~text.is_in(MISSING)
            row = rubbish.arg_max()
            if row is not None and rubbish[row]:
                first[name] = row
        if not first:
            return None
        row = min(first.values())
        lines = block.split(b"\n")
        end = None
        above = row - 1
        while above >= 0 and not lines[above].strip(b" \t\r,;|"):
            end, above = above, above - 1
        if end is not None:
            self.notes.append(
                f"The table ends at line {self._line(end)}; what stands below it was not read."
            )
            return end
        for name, bad_row in first.items():
            shown = str(cells[name][bad_row])[:40]
            self.bad.setdefault(int(name), BadCell(self._line(bad_row), shown))
        return None

    def _check_last_line(self) -> None:
        """Refuse a file cut off between two cells; drop a last number that may have been cut."""
        *before, last = [line for line in self.last_lines if line.strip()] or [b""]
        if not before or self.notes or self.bad:
            return
        layout = self.layout
        width = len(layout.headings)
        cells, above = (
            layout.cells(line.decode("utf-8", errors="replace")) for line in (last, before[-1])
        )
        if len(cells) < len(above) and len(above) >= width:
            raise RecordingError(
                f"{self.path.name}: the file stops in the middle of line "
                f"{layout.first_line + self.rows - 1}: it was cut off. Export or copy it again."
            )
        if self.last_lines[-1] and self.frames and self.frames[-1].height:
            shortest = min(len(layout.cells(line.decode(errors="replace"))[-1]) for line in before)
            if len(cells[-1]) < shortest:
                self.frames[-1] = self.frames[-1].head(-1)
                self.notes.append("The last line looks cut off and was left out.")


def _blocks(path: Path, layout: Layout) -> Iterator[bytes]:
    """Yield clean UTF-8 blocks of whole rows, from the first row of numbers on."""
    decode = codecs.getincrementaldecoder(layout.encoding)(errors="replace").decode
    utf16 = layout.encoding.startswith("utf-16")
    skip = layout.first_line - 1
    rest = b""
    with path.open("rb") as file:
        file.seek(layout.skip_bytes)
        bare_returns: bool | None = None
        while raw := file.read(BLOCK_BYTES):
            chunk = decode(raw).encode() if utf16 else raw
            if bare_returns is None:
                bare_returns = b"\r" in chunk and b"\n" not in chunk
            if bare_returns:
                chunk = chunk.replace(b"\r", b"\n")
            chunk = rest + chunk
            cut = chunk.rfind(b"\n") + 1
            chunk, rest = chunk[:cut], chunk[cut:]
            while skip and chunk:
                chunk = chunk[chunk.index(b"\n") + 1 :]
                skip -= 1
            if chunk:
                yield _clean(chunk, layout)
    if rest.strip(b"\0 \t\r\n"):
        yield _clean(rest, layout)


_THOUSANDS = {
    mark: re.compile(
        rb"(?<![^;\t|\s\"])([+-]?\d{1,3})((?:\%b\d{3})+)(?=(?:\%b\d*)?(?:[;\t|\s\"]|$))" % marks,
        re.MULTILINE,
    )
    for mark, marks in ((b".", (b".", b",")), (b",", (b",", b".")))
}
"""Numbers with a mark between their thousands, by the mark; it is the one that no decimals have."""


def _without_thousands(block: bytes, layout: Layout) -> bytes:
    """Leave out marks between thousands; "1.005" of a decimal comma is no number near one."""
    mark = b"." if layout.decimal_comma or layout.whole else b","
    between = layout.delimiter.encode() == mark
    if mark not in block or (between and not layout.quoted):
        return block
    return _THOUSANDS[mark].sub(lambda m: m[1] + m[2].replace(mark, b""), block)


def _clean(block: bytes, layout: Layout) -> bytes:
    """Make every row parse alike: one tab between cells, or no blanks beside a delimiter."""
    block = _without_thousands(block, layout)
    if layout.delimiter == " ":
        block = re.sub(rb"[ \t]+", b"\t", block)
        block = block.replace(b"\n\t", b"\n")
        return block[1:] if block.startswith(b"\t") else block
    if b" " in block:
        block = block.translate(None, b" ")
    return block

"""The shape of a text file of numbers: encoding, delimiter, decimal mark, heading, first row.

Nothing here knows what the columns mean; see `columns` for that.
"""

import codecs
import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from saltus.errors import RecordingError
from saltus.recordings.table import Heading
from saltus.recordings.units import FORCE_UNITS, TIME_UNITS

__all__ = ["MISSING", "Layout", "sniff"]

SAMPLE_BYTES = 1 << 20
"""Bytes looked at: far more than any preamble and enough rows to judge."""

_LONG_RUN = 50  # rows of one shape in a row: this is the table, not a block of settings
_ENOUGH = 400  # rows of one shape that need no further proof
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_LINE_END = re.compile(r"\r\n|\n|\r")
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
_COMMA_NUMBER = re.compile(r"[+-]?(\d+,?\d*|,\d+)([eE][+-]?\d+)?")
_CLOCK = re.compile(r"(\d{4}-\d\d-\d\d[T ]?)?\d{1,2}:\d\d(:\d\d)?([.,]\d+)?")
_SAMPLING = re.compile(r"sampl|scan|acqui|abtast|muestr|amostr|campion", re.IGNORECASE)
_NOT_A_RATE = re.compile(r"filter|cut-?off|marker|camera", re.IGNORECASE)
_OTHER_UNITS = frozenset({"m", "mm", "cm", "nm", "n.m", "n·m", "n*m", "n.mm", "nmm", "deg", "-"})
_SHORT_NAME = re.compile(r"[lr]?v?(f|grf)[xyzv]?[lr]?\d?|cop.?|[lrt]|[mpv][xyz]\d?")
MISSING = frozenset(
    {"", "nan", "na", "n/a", "#n/a", "#nv", "null", "none", "-", "--", "inf", "-inf"}
)
_THOUSAND = re.compile(r"(?<![\d.])[1-9]\d{0,2}\.\d{3}(?![\d.])")
_HUNDREDS = re.compile(r"(?<![\d.])[1-9]\d\d(?![\d.])")
_ODD_POINT = re.compile(r"(?<!\d)0?\.\d|\d{4}\.|\.(?!\d{3}(?!\d))|[eE][+-]?\d")
_UNIT_AT_END = re.compile(r"^(?P<name>.*?)\s*[\[(<]\s*(?P<unit>[^\])>]*?)\s*[\])>]\s*$")
_UNIT_INSIDE = re.compile(r"[\[(]\s*(?P<unit>[^\])]+?)\s*[\])]")
_UNIT_SUFFIX = re.compile(r"^(?P<name>.*[^_\s/,])\s*[_/,]\s*(?P<unit>ms|s|N|kN|kgf|lbf|BW|bw)$")
_RATE = re.compile(
    r"(?:sampl\w*|scan|frame|acquisition|abtast\w*)?[\s_-]*(?:rate|freq\w*|frequency|hz|fs)\b"
    r"[^0-9]*(?P<rate>\d+(?:[.,]\d+)?)|(?P<rate_before>\d+(?:[.,]\d+)?)\s*(?:hz|samples/s)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Layout:
    r"""How a text file is laid out.

    Parameters
    ----------
    encoding : str
        Python's name of it.
    skip_bytes : int
        Length of the byte-order mark.
    delimiter : str
        ``","``, ``";"``, ``"\t"``, ``"|"`` or ``" "`` (any run of blanks).
    decimal_comma : bool
        Whether 1,5 is one and a half.
    preamble : tuple of str
        Lines above the heading.
    headings : tuple of Heading
        One for each column; without names where the file has none.
    first_line : int
        Line of the first row of numbers, from 1.
    quoted : bool
        Whether cells are quoted.
    stated_rate_hz : float or None
        Sampling rate that the preamble states.
    whole : bool
        Whether all numbers are whole ones, with points between their thousands.
    """

    encoding: str
    skip_bytes: int
    delimiter: str
    decimal_comma: bool
    preamble: tuple[str, ...]
    headings: tuple[Heading, ...]
    first_line: int
    quoted: bool
    stated_rate_hz: float | None
    whole: bool = False

    def cells(self, line: str) -> list[str]:
        """Split one line of the file into cells."""
        return _cells(line, self.delimiter)


@dataclass(frozen=True, slots=True)
class _Run:
    """Rows of one shape: where they start, how many, how they were split.

    `texts` counts the cells of a row that are neither numbers nor empty.
    """

    start: int
    length: int
    width: int
    delimiter: str
    decimal_comma: bool
    texts: int = 0

    @property
    def numbers(self) -> int:
        return self.length * self.width


def sniff(path: Path) -> Layout:
    """Find out how the text file at `path` is laid out.

    Raises
    ------
    RecordingError
        If the file is empty, is no text, or holds no rows of numbers.
    """
    with path.open("rb") as file:
        sample = file.read(SAMPLE_BYTES + 1)
    whole = len(sample) <= SAMPLE_BYTES
    if not sample.strip(b"\0\r\n\t \xef\xbb\xbf\xff\xfe"):
        raise RecordingError(f"{path.name}: the file is empty.")
    encoding, skip = _encoding(sample, path.name)
    text = sample[skip:].decode(encoding, errors="replace")
    lines = _LINE_END.split(text)
    if not whole and len(lines) > 1:
        lines.pop()
    quoted = any('"' in line for line in lines[:2000])
    run = _table(lines, path.name)
    if _commas_of_two_kinds(lines, run):
        raise RecordingError(
            f"{path.name}: the numbers have decimal commas, and commas stand between the columns "
            "too, so that nobody can tell them apart. Export it with decimal points, or with "
            "semicolons between the columns."
        )
    names, units, preamble_end = _heading(lines, run)
    headings = tuple(
        Heading(i, name, unit) for i, (name, unit) in enumerate(zip(names, units, strict=True))
    )
    preamble = tuple(lines[:preamble_end])
    return Layout(
        encoding=encoding,
        skip_bytes=skip,
        delimiter=run.delimiter,
        decimal_comma=run.decimal_comma,
        preamble=preamble,
        headings=headings,
        first_line=run.start + 1,
        quoted=quoted,
        stated_rate_hz=_stated_rate(preamble),
        whole=not run.decimal_comma and _points_part_thousands(lines[run.start :]),
    )


def _encoding(sample: bytes, source: str) -> tuple[str, int]:
    """Encoding and length of the byte-order mark; binary rubbish is refused."""
    for bom, name in _BOMS:
        if sample.startswith(bom):
            return name, len(bom)
    head = sample[:65536]
    if head.count(0) > len(head) // 4:
        even, odd = head[::2].count(0), head[1::2].count(0)
        if odd > 0.9 * (len(head) // 2) and even == 0:
            return "utf-16-le", 0
        if even > 0.9 * (len(head) // 2) and odd == 0:
            return "utf-16-be", 0
    control = len(head) - len(head.translate(None, bytes(range(9)) + bytes(range(14, 32))))
    if control > len(head) // 1000:
        raise RecordingError(
            f"{source}: this is neither text nor C3D, or it was damaged on the way; "
            "export the recording again as text (CSV) or C3D."
        )
    try:
        codecs.getincrementaldecoder("utf-8")().decode(sample)
    except UnicodeDecodeError:
        return "cp1252", 0
    return "utf-8", 0


def _cells(line: str, delimiter: str) -> list[str]:
    if delimiter == " ":
        return line.replace('"', "").split()
    if '"' in line:
        return _quoted_cells(line, delimiter)
    return [cell.strip() for cell in line.split(delimiter)]


def _quoted_cells(line: str, delimiter: str) -> list[str]:
    cells, cell, inside = [], "", False
    for character in line:
        if character == '"':
            inside = not inside
        elif character == delimiter and not inside:
            cells.append(cell.strip())
            cell = ""
        else:
            cell += character
    return [*cells, cell.strip()]


def _mask(cells: Sequence[str], number: re.Pattern[str]) -> str:
    """One letter a cell: n for a number or the time of a clock, m for missing, t for text."""
    letters = []
    for cell in cells:
        if number.fullmatch(cell) or _CLOCK.fullmatch(cell):
            letters.append("n")
        else:
            letters.append("m" if cell.lower() in MISSING else "t")
    return "".join(letters)


def _table(lines: Sequence[str], source: str) -> _Run:
    """Find the run of rows that is the table, trying each delimiter and decimal mark."""
    shapes = [(";", True), (";", False), ("\t", True), ("\t", False), (",", False)]
    shapes += [("|", False), ("|", True), (" ", False), (" ", True)]
    if any('"' in line for line in lines[:2000]):
        shapes.append((",", True))
    # Shapes whose delimiter stands in the middle of the file first: once the table is found,
    # the others need not be sought beyond it.
    middle = lines[len(lines) // 2]
    found: dict[tuple[str, bool], _Run] = {}
    look = lines
    for shape in sorted(shapes, key=lambda shape: shape[0] not in middle):
        run = _first_long_run(look, *shape)
        if run is None:
            continue
        found[shape] = run
        if run.length >= _ENOUGH:
            look = look[: run.start + run.length]
    runs = [found[shape] for shape in shapes if shape in found]
    if not runs:
        raise RecordingError(
            f"{source}: no rows of numbers were found; the file must hold the force, one row "
            "for each moment."
        )
    longest = max(run.length for run in runs)
    runs = [run for run in runs if run.length >= 0.9 * longest]
    best = max(runs, key=lambda run: (-run.texts, _score(run, lines), run.numbers))
    if best.length < 3 and best.width > 50:
        raise RecordingError(
            f"{source}: the numbers stand in {best.width} columns and {best.length} row(s); turn "
            "the table, so that there is one row for each moment."
        )
    if best.delimiter == "," and _is_one_decimal_column(lines, best):
        return _Run(best.start, best.length, 1, " ", decimal_comma=True)
    return best


def _score(run: _Run, lines: Sequence[str]) -> tuple[bool, bool, int]:
    """Prefer a split that uses its delimiter, and a decimal comma only where commas are used."""
    rows = lines[run.start : run.start + min(run.length, 200)]
    delimiter_used = run.width > 1 or run.delimiter == " "
    commas = any("," in row for row in rows)
    comma_right = run.decimal_comma == (commas and run.delimiter != ",")
    if run.delimiter == "," and run.decimal_comma:  # quoted numbers with a decimal comma
        comma_right = any(re.search(r'"[+-]?\d*,\d+"', row) for row in rows)
    # a comma followed by blanks is still a comma: "1.0, 2.0" is no table of blanks
    return (comma_right, delimiter_used, 0 if run.delimiter == " " else 1)


def _first_long_run(lines: Sequence[str], delimiter: str, decimal_comma: bool) -> _Run | None:
    """First run of at least `_LONG_RUN` rows of one shape, or the longest there is."""
    number = _COMMA_NUMBER if decimal_comma else _NUMBER
    best: _Run | None = None
    start, width, texts = 0, -1, 0
    count = 0
    for i, line in enumerate(lines):
        row_width = -1
        if line.strip():
            cells = _cells(line, delimiter)
            mask = _mask(cells, number)
            # text columns (a remark, a label) may stand beside the numbers
            if "n" in mask and mask.count("t") < mask.count("n"):
                row_width = len(cells)
                texts = mask.count("t")
        if row_width != -1 and row_width == width:
            count += 1
        else:
            start, width, count = i, row_width, int(row_width != -1)
        if count and (best is None or count > best.length):
            best = _Run(start, count, width, delimiter, decimal_comma, texts)
        if best is not None and best.length >= _LONG_RUN and count < best.length:
            break
        if count >= _ENOUGH:
            break
    return best


def _is_one_decimal_column(lines: Sequence[str], run: _Run) -> bool:
    """Whether ``633,21`` on every line is one decimal number rather than two columns."""
    if run.width != 2 or run.decimal_comma:
        return False
    rows = [line.strip() for line in lines[run.start : run.start + run.length]]
    parts = [row.split(",") for row in rows]
    if not all(re.fullmatch(r"-?\d+", a) and re.fullmatch(r"\d+", b) for a, b in parts):
        return False
    if run.start > 0 and len(_cells(lines[run.start - 1], ",")) == 2:
        return False  # two names stand above: two columns
    first = [int(a) for a, _ in parts]
    if len(first) > 2 and all(b - a == first[1] - first[0] > 0 for a, b in pairwise(first)):
        return False  # the first column counts: it is time
    return len({len(b) for _, b in parts}) <= 2


def _points_part_thousands(rows: Sequence[str]) -> bool:
    """Whether points stand in whole numbers of a thousand and more, and in no others.

    Whoever leaves out zeros at the end writes 780.25 beside 780.125 and 781; only whole numbers
    have three digits without a point, and with one always three more behind it.
    """
    text = "\n".join(rows)
    return (
        _ODD_POINT.search(text) is None
        and _THOUSAND.search(text) is not None
        and _HUNDREDS.search(text) is not None
    )


def _commas_of_two_kinds(lines: Sequence[str], run: _Run) -> bool:
    """Whether every number was split in two at its decimal comma.

    Then each second column holds whole numbers without a sign, with as many digits in every row
    and zeros in front, and the heading has half as many names as the rows have cells.
    """
    if run.delimiter != "," or run.decimal_comma or run.width % 2:
        return False
    rows = [_cells(line, ",") for line in lines[run.start : run.start + min(run.length, 500)]]
    if not all(re.fullmatch(r"[+-]?\d+", cell) for row in rows for cell in row):
        return False
    decimals = [[row[i] for row in rows] for i in range(1, run.width, 2)]
    if not all(len({len(cell) for cell in column}) == 1 for column in decimals):
        return False
    if not all(cell.isdigit() for column in decimals for cell in column):
        return False
    padded = any(len(cell) > 1 and cell[0] == "0" for column in decimals for cell in column)
    above = _cells(lines[run.start - 1], ",") if run.start > 0 else []
    named = any(re.search(r"[^\W\d_]", cell) for cell in above)
    return len(above) == run.width // 2 if named else padded


def _heading(lines: Sequence[str], run: _Run) -> tuple[list[str], list[str | None], int]:
    """Names, units and the line at which the heading begins."""
    width = run.width
    top = run.start
    rows: list[list[str]] = []
    while top > 0 and len(rows) < 3:
        line = lines[top - 1]
        if not line.strip():
            if rows:
                break
            top -= 1
            continue
        cells = _heading_cells(line, run)
        if cells is None:
            break
        rows.insert(0, cells)
        top -= 1
    units: list[str | None] = [None] * width
    begin = run.start
    names: list[str] = [""] * width
    if rows and _are_units(rows[-1]):
        units = [_bare_unit(cell) for cell in rows.pop()]
        begin -= 1
    if rows:
        names = rows.pop()
        begin = max(begin - 1, 0)
        if rows and len(set(names)) < len(names) and any(rows[-1]):
            names = _under_groups(rows.pop(), names)
            begin -= 1
    split = [_split_unit(name) for name in names]
    units = [u if u is not None else inner for u, (_, inner) in zip(units, split, strict=True)]
    return [name for name, _ in split], units, max(begin, 0)


def _heading_cells(line: str, run: _Run) -> list[str] | None:
    """Cells of a heading line that fit the table's width, or None."""
    width = run.width
    text = line.strip().lstrip("#%/").strip() if line.lstrip()[:1] in "#%/" else line.rstrip("\r")
    choices = [_cells(text, run.delimiter)]
    if run.delimiter == " ":
        bare = text.strip()
        choices = [
            [c.strip() for c in re.split(pattern, bare) if c.strip()]
            for pattern in (r"\t+", r"\s{2,}|\t", r"\s*;\s*", r"\s*,\s*", r"\s+(?![\[(<])")
        ]
        choices = [c for c in choices if len(c) == width]
        if not choices:
            return None
    cells = choices[0]
    while len(cells) > width and not cells[-1]:
        cells = cells[:-1]
    if len(cells) == width - 1 and width > 1:
        cells = [*cells, ""]  # the rows end with a delimiter, the heading does not
    if len(cells) != width or not any(re.search(r"[^\W\d_]", cell) for cell in cells):
        return None
    if width > 1 and sum(bool(cell) for cell in cells) < 2 and width > 2:
        return None  # a title in the first cell, the rest empty
    return cells


def _are_units(cells: Sequence[str]) -> bool:
    """Whether a line holds units, such as ``s;N;N`` or ``(ms),(kN)``."""
    bare = [cell.strip("[]()<> \t").lower() for cell in cells]
    filled = [cell for cell in bare if cell]
    known = [c for c in filled if c in FORCE_UNITS or c in TIME_UNITS]
    # a short word that is no unit known here may still be one, such as C or W, but no name
    return bool(known) and all(
        c in FORCE_UNITS
        or c in TIME_UNITS
        or c in _OTHER_UNITS
        or "/" in c
        or (len(c) <= 3 and not _SHORT_NAME.fullmatch(c))
        for c in filled
    )


def _bare_unit(cell: str) -> str | None:
    return cell.strip("[]()<> \t") or None


def _under_groups(groups: Sequence[str], names: Sequence[str]) -> list[str]:
    """Put the group above (``Left``, then empty cells) before each name of the heading."""
    out, group = [], ""
    for above, name in zip(groups, names, strict=True):
        group = above or group
        out.append(f"{group} {name}".strip())
    return out


def _split_unit(name: str) -> tuple[str, str | None]:
    match = _UNIT_AT_END.match(name)
    if match and match["name"]:
        return match["name"].strip(), match["unit"] or None
    match = _UNIT_SUFFIX.match(name)
    if match:
        return match["name"].strip(), match["unit"]
    for match in _UNIT_INSIDE.finditer(name):  # "Fz (kN) - left"
        if match["unit"].lower() in FORCE_UNITS or match["unit"].lower() in TIME_UNITS:
            return name, match["unit"]
    return name, None


def _stated_rate(preamble: Sequence[str]) -> float | None:
    """Sampling rate that a line above the table states, if exactly one is stated."""
    sure: set[float] = set()
    likely: set[float] = set()
    for line in preamble:
        if _NOT_A_RATE.search(line):
            continue
        for match in _RATE.finditer(line):
            rate = float((match["rate"] or match["rate_before"]).replace(",", "."))
            if 10 <= rate <= 100_000:
                (sure if _SAMPLING.search(line) else likely).add(rate)
    rates = sure or likely
    return rates.pop() if len(rates) == 1 else None

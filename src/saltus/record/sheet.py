"""Cells of a spreadsheet that somebody uploads: .xlsx, .ods or .csv, told by its content.

Nothing is taken on trust: the size, what a packed file unpacks to, and the number of cells
are limited before anything is parsed.
"""

import csv
import io
import zipfile

from saltus.errors import UsageError

__all__ = ["MOST_BYTES", "MOST_COLUMNS", "MOST_ROWS", "cell_name", "read_cells"]

MOST_BYTES = 2_000_000
MOST_ROWS = 500
MOST_COLUMNS = 60
_MOST_UNPACKED = 40_000_000
_MOST_MEMBERS = 500
_LONGEST_CELL = 500
_OLD_BINARY = b"\xd0\xcf\x11\xe0"
_ODS = b"application/vnd.oasis.opendocument.spreadsheet"


def read_cells(content: bytes) -> list[list[str]]:
    """Cells of the first sheet as texts, by row; every row is as long as the longest.

    Parameters
    ----------
    content : bytes
        The file, at most :data:`MOST_BYTES`.

    Raises
    ------
    UsageError
        If it is no spreadsheet, or too large; the sentence says what to do.
    """
    if len(content) > MOST_BYTES:
        raise UsageError(
            f"The file is larger than {MOST_BYTES // 1_000_000} MB: leave only the list of "
            "athletes in it."
        )
    if content.startswith(_OLD_BINARY):
        raise UsageError("This is an old or locked spreadsheet: save it as .xlsx without password.")
    packed = content.startswith(b"PK")
    rows = _unpacked(content) if packed else _separated(content)
    rows = [[cell.strip()[:_LONGEST_CELL] for cell in row] for row in rows]
    while rows and not any(rows[-1]):
        rows.pop()
    width = max((i + 1 for row in rows for i, cell in enumerate(row) if cell), default=0)
    if not width:
        raise UsageError("The first sheet is empty: put the list of athletes there.")
    if len(rows) > MOST_ROWS or width > MOST_COLUMNS:
        raise UsageError(
            f"The first sheet has {len(rows)} rows and {width} columns; at most {MOST_ROWS} and "
            f"{MOST_COLUMNS} are read: leave only the list of athletes in it."
        )
    return [[*row[:width], *[""] * (width - len(row))] for row in rows]


def cell_name(row: int, column: int) -> str:
    """Name of a cell as spreadsheets show it, such as C4; both are counted from 0."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{letters}{row + 1}"


def _unpacked(content: bytes) -> list[list[str]]:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            members = archive.infolist()
            names = {member.filename for member in members}
            unpacked = sum(member.file_size for member in members)
            kind = archive.read("mimetype")[:100] if "mimetype" in names else b""
    except (zipfile.BadZipFile, OSError, ValueError, RuntimeError) as error:
        raise UsageError("The file is damaged: save it again as .xlsx, .ods or .csv.") from error
    if "xl/workbook.xml" not in names and kind != _ODS:
        raise UsageError("This is a packed file but no spreadsheet: send .xlsx, .ods or .csv.")
    if unpacked > _MOST_UNPACKED or len(members) > _MOST_MEMBERS:
        raise UsageError(
            "The spreadsheet is too large: copy the list of athletes into a new one and send that."
        )
    import fastexcel

    try:
        sheet = fastexcel.read_excel(content).load_sheet(
            0, header_row=None, n_rows=MOST_ROWS + 1, dtypes="string"
        )
        frame = sheet.to_polars()
    except fastexcel.FastExcelError as error:
        raise UsageError(
            "The spreadsheet cannot be read: save it again as .xlsx, .ods or .csv."
        ) from error
    return [[_plain(cell) for cell in row] for row in frame.iter_rows()]


def _plain(cell: object) -> str:
    text = "" if cell is None else str(cell)
    text = text.removesuffix(" 00:00:00")  # a date without a time of day
    return text.removesuffix(".0") if text.removesuffix(".0").isdecimal() else text


def _separated(content: bytes) -> list[list[str]]:
    if b"\0" in content:
        raise UsageError("This is no spreadsheet: send .xlsx, .ods or .csv.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")
    head = text.splitlines()[:10]
    separator = max(";\t,", key=lambda mark: min((line.count(mark) for line in head), default=0))
    if not any(separator in line for line in head):
        separator = max(";\t,", key=lambda mark: sum(line.count(mark) for line in head))
    try:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
        rows = []
        for row in reader:
            rows.append(row)
            if len(rows) > 2 * MOST_ROWS:
                break
    except csv.Error as error:
        raise UsageError(f"The file cannot be read as a table ({error}).") from error
    return rows

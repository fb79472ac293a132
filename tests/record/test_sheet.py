import datetime as dt
import io
import zipfile

import pytest
import xlsxwriter

from saltus.errors import UsageError
from saltus.record.sheet import MOST_BYTES, cell_name, read_cells
from saltus.record.typed import date_typed

ROWS = [["Name", "Height (cm)"], ["Ada", "178"], ['Bö; the "2nd"', "180.5"]]
_SHEET = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"


def packed(members):
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return buffer.getvalue()


def escaped(text):
    return text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")


def xlsx(rows=ROWS, **more):
    """The least that the open standard (ECMA-376) asks of a workbook."""

    def cell(text, row, column):
        at = cell_name(row, column)
        if text.replace(".", "", 1).isdecimal():
            return f'<c r="{at}"><v>{text}</v></c>'
        return f'<c r="{at}" t="inlineStr"><is><t>{escaped(text)}</t></is></c>'

    data = "".join(
        f'<row r="{r + 1}">' + "".join(cell(t, r, c) for c, t in enumerate(texts) if t) + "</row>"
        for r, texts in enumerate(rows)
    )
    return packed(
        {
            "[Content_Types].xml": '<Types xmlns="http://schemas.openxmlformats.org/package/2006/'
            'content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-'
            'package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>'
            "</Types>",
            "_rels/.rels": f'<Relationships xmlns="{_RELATIONS}"><Relationship Id="r1" '
            f'Type="{_OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
            "xl/workbook.xml": f'<workbook xmlns="{_SHEET}" xmlns:r="{_OFFICE}"><sheets>'
            '<sheet name="One" sheetId="1" r:id="r1"/></sheets></workbook>',
            "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_RELATIONS}"><Relationship '
            f'Id="r1" Type="{_OFFICE}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
            "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{_SHEET}"><sheetData>{data}'
            "</sheetData></worksheet>",
            **more,
        }
    )


def ods(rows=ROWS):
    """The least that the open standard (ISO/IEC 26300) asks of a spreadsheet."""
    office = "urn:oasis:names:tc:opendocument:xmlns:"
    data = "".join(
        "<table:table-row>"
        + "".join(
            f'<table:table-cell office:value-type="string"><text:p>{escaped(t)}</text:p>'
            "</table:table-cell>"
            for t in texts
        )
        + "</table:table-row>"
        for texts in rows
    )
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    return packed(
        {
            "mimetype": kind,
            "META-INF/manifest.xml": f'<manifest:manifest xmlns:manifest="{office}manifest:1.0">'
            f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{kind}"/>'
            "</manifest:manifest>",
            "content.xml": f'<office:document-content xmlns:office="{office}office:1.0" '
            f'xmlns:table="{office}table:1.0" xmlns:text="{office}text:1.0"><office:body>'
            f'<office:spreadsheet><table:table table:name="One">{data}</table:table>'
            "</office:spreadsheet></office:body></office:document-content>",
        }
    )


@pytest.mark.parametrize("make", [xlsx, ods])
def test_packed_spreadsheets(make):
    assert read_cells(make()) == ROWS


def test_dates_numbers_and_formulas_of_a_workbook_written_by_others():
    buffer = io.BytesIO()
    with xlsxwriter.Workbook(buffer, {"default_date_format": "dd.mm.yyyy"}) as book:
        sheet = book.add_worksheet()
        sheet.write_datetime(0, 0, dt.date(2003, 5, 17))
        sheet.write(0, 1, 178)
        sheet.write(0, 2, 70.5)
        sheet.write_formula(0, 3, "=2+2", None, 4)
    [cells] = read_cells(buffer.getvalue())

    assert date_typed(cells[0]) == dt.date(2003, 5, 17)
    assert cells[1:] == ["178", "70.5", "4"]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252"])
def test_text_with_any_separator_and_encoding(separator, encoding):
    text = (
        f'Name{separator}Height (cm)\r\nAda{separator}178\r\n"Bö; the ""2nd"""{separator}180.5\r\n'
    )

    assert read_cells(text.encode(encoding)) == ROWS


def test_decimal_commas_do_not_split_cells():
    assert read_cells(b"Name;Mass\nAda;70,5\nBo;80,5\n")[1] == ["Ada", "70,5"]


def test_empty_ends_are_cut_and_short_rows_filled():
    assert read_cells(b"Name,Mass,\nAda\n,,\n\n") == [["Name", "Mass"], ["Ada", ""]]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "is empty"),
        (b" , \n", "is empty"),
        (b"\x89PNG\0\0", "no spreadsheet"),
        (b"\xd0\xcf\x11\xe0 and more", "save it as .xlsx"),
        (b"PK\x03\x04 broken", "damaged"),
        (packed({"a.txt": "hello"}), "no spreadsheet"),
        (b"a" * (MOST_BYTES + 1), "larger than"),
        (b"a,b\n" * 501, "501 rows"),
        (b"a," * 61 + b"b\n", "62 columns"),
        (xlsx(**{"xl/workbook.xml": "<not"}), "cannot be read"),
    ],
)
def test_what_is_no_list_of_athletes_is_refused_in_a_sentence(content, said):
    with pytest.raises(UsageError, match=said):
        read_cells(content)


def test_what_unpacks_to_too_much_is_not_unpacked():
    with pytest.raises(UsageError, match="too large"):
        read_cells(xlsx(**{"xl/media/big.bin": "\0" * 41_000_000}))


@pytest.mark.parametrize(
    ("row", "column", "name"),
    [(0, 0, "A1"), (3, 2, "C4"), (9, 25, "Z10"), (0, 26, "AA1"), (0, 701, "ZZ1")],
)
def test_names_of_cells(row, column, name):
    assert cell_name(row, column) == name

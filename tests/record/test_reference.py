"""The reference page says what the code does."""

from pathlib import Path

import pytest

from saltus.record import parse, render, schema
from saltus.record.reference import EXAMPLE, reference

PAGE = Path(__file__).parents[2] / "docs" / "record.md"


def test_page_is_up_to_date():
    assert PAGE.read_text(encoding="utf-8") == reference(), (
        "run: python -m saltus.record.reference > docs/record.md"
    )


def test_example_is_a_sound_record_that_keeps_its_comments():
    record = parse(EXAMPLE)

    assert record.person.name == "Ines Adler"
    assert render(record, EXAMPLE) == EXAMPLE


@pytest.mark.parametrize("table", schema.TABLES, ids=lambda table: table.title or table.name)
def test_every_field_stands_on_the_page_with_its_default(table):
    page = reference()

    for field in table.fields:
        names = ", ".join(f"`{key}`" for key in field.units_by_key())
        (row, *_) = [line for line in page.splitlines() if line.startswith(f"| {names} |")]
        assert row.count(" | ") == 3


def test_tables_and_units_have_one_name_each():
    names = [t.name for t in schema.TABLES if t.name != "test"]

    assert len(names) == len(set(names))
    for table in schema.TABLES:
        keys = [key for field in table.fields for key in field.units_by_key()]
        assert len(keys) == len(set(keys)), table.name

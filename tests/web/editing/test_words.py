"""What fields of a record are called, and what the form says below them."""

import re

import pytest
from django.utils import translation

from saltus.record import schema
from saltus.record.fields import Kind
from saltus.web.editing.words import help_of, label

TABLES = [
    *schema.TABLES,
    *(field.rows for table in schema.TABLES for field in table.fields if field.rows is not None),
    *schema.TESTS.values(),
]
DAYS = [
    (table.name, field) for table in TABLES for field in table.fields if field.kind is Kind.DATE
]


def words_of(text):
    """Words of a sentence without articles and the full stop, in small letters."""
    articles = {"the", "a", "an", "der", "die", "das", "ein", "eine", "einen"}
    return set(re.findall(r"\w+", text.casefold())) - articles


@pytest.mark.parametrize("language", ["en", "de"])
def test_help_below_a_field_says_more_than_its_label(language):
    with translation.override(language):
        said = [
            (table.name, label(field), help_of(table.name, field))
            for table in TABLES
            for field in table.fields
        ]
    assert len(said) > 50
    assert [each for each in said if each[2] and words_of(each[2]) <= words_of(each[1])] == []


def test_no_date_is_explained_as_the_day():
    idle = {"day"}, {"day", "of", "test"}
    assert len(DAYS) > 10
    assert [name for name, field in DAYS if words_of(help_of(name, field)) in idle] == []

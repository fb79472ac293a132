"""A text is cut where a reader would cut it."""

import pytest

from saltus.errors import RecordError
from saltus.record.layout import cut, joined

TEXT = """\
# Kept by the coach.
saltus_record = 1

# Who she is.
[athlete]
name = "Ada"
# she prefers it short

# ---- Pains ----

# Before the season.
[[pain]]
level = 1
note = '''
[not a table]
'''

[[pain]]
level = 2
"""


@pytest.fixture
def sections():
    return cut(TEXT, "ada.toml")


def test_joined_it_is_the_text_again(sections):
    assert joined(sections) == TEXT
    assert joined(cut(TEXT.rstrip("\n"), "ada.toml")) == TEXT.rstrip("\n")
    assert joined(cut("", "ada.toml")) == ""


def test_each_table_is_a_section(sections):
    assert [section.name for section in sections] == ["", "athlete", "pain", "pain"]


def test_comments_that_touch_a_table_are_its_own(sections):
    athlete, pain = sections[1:3]

    assert athlete.text.startswith("# Who she is.\n[athlete]\n")
    assert athlete.text.endswith("# she prefers it short\n")
    assert pain.text.startswith("# Before the season.\n[[pain]]\n")


def test_a_heading_between_tables_is_no_table_s(sections):
    assert sections[1].tail == "\n# ---- Pains ----\n\n"


def test_brackets_inside_a_text_begin_no_table(sections):
    assert "[not a table]" in sections[2].text


def test_rubbish_is_told():
    with pytest.raises(RecordError, match="line 1"):
        cut("rubbish", "ada.toml")

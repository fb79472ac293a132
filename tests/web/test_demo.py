"""Where the demo may lie; what is in it is looked at by tests/browser."""

import json

import pytest

from saltus.errors import UsageError
from saltus.web import demo


def test_a_folder_with_something_else_in_it_is_left_alone(tmp_path):
    mine = tmp_path / "saltus.sqlite3"
    mine.write_text("mine")
    with pytest.raises(UsageError, match="holds files of its own"):
        demo.prepare_demo(tmp_path, print, fresh=True)
    assert mine.read_text() == "mine"
    with pytest.raises(UsageError, match="is a file"):
        demo.prepare_demo(mine, print)


def test_it_is_made_anew_when_what_makes_it_changed_or_it_is_old(tmp_path):
    mark = tmp_path / demo.MARK
    assert not demo._is_current(demo._read(mark))
    mark.write_text("not json")
    assert demo._read(mark) == {}
    mark.write_text(json.dumps({"today": "2020-01-01"}))
    assert not demo._is_current(demo._read(mark))
    assert demo._maker() == demo._maker()


def test_it_lies_apart_from_the_coach_s_own_data():
    import platformdirs

    assert not demo.default_folder().is_relative_to(platformdirs.user_data_path("saltus"))

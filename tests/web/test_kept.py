"""Answers that are kept: worked out once, and the one that nobody asks for goes first."""

import pytest

from saltus.web.kept import Kept


def test_an_answer_is_worked_out_once():
    kept, asked = Kept(2), []

    def work():  # None is an answer like any other
        asked.append(True)

    assert [kept.get("a", work) for _ in range(3)] == [None] * 3
    assert len(asked) == 1


def test_the_one_that_was_not_asked_for_the_longest_goes():
    kept = Kept(2)
    for key in "abac":
        kept.get(key, lambda: "first")

    assert {key: kept.get(key, lambda: "again") for key in "acb"} == {
        "a": "first",
        "c": "first",
        "b": "again",
    }


def test_what_could_not_be_worked_out_is_tried_again():
    kept = Kept(2)
    with pytest.raises(ZeroDivisionError):
        kept.get("a", lambda: 1 / 0)

    assert kept.get("a", lambda: "found") == "found"

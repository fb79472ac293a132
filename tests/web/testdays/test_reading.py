"""A file of unknown origin neither hangs nor exhausts the server."""

import json
import sys
from dataclasses import asdict

import pytest

from saltus.recordings.options import ReadOptions
from saltus.web.testdays import reading
from saltus.web.testdays.reader import answer_to
from saltus.web.testdays.reading import analysis_of

SMALL_MEMORY = """
import saltus.web.testdays.reader as reader
reader._MEMORY_BYTES = 1
reader.main()
"""


@pytest.fixture
def path(recorded, tmp_path):
    file = tmp_path / "0123.csv"
    file.write_bytes(recorded().read())
    return file


def read(path):
    return analysis_of(path, "Ada 1.csv", ReadOptions(), None)


def test_a_recording_is_analysed_and_drawn(path):
    answer = read(path)

    assert [jump["kind"] for jump in answer["jumps"]] == ["countermovement_jump"]
    assert answer["figures"] == [[1]]
    assert "Ada 1.csv" in path.with_name("0123.1.json").read_text()


def test_a_process_of_its_own_says_the_same(path):
    apart = read(path)
    here = answer_to(
        {"path": str(path), "name": "Ada 1.csv", "options": asdict(ReadOptions()), "kind": None}
    )

    assert apart == json.loads(json.dumps(here))


def test_more_memory_than_a_recording_should_take_is_told(path, monkeypatch):
    monkeypatch.setattr(reading, "_READER", [sys.executable, "-c", SMALL_MEMORY])

    assert read(path) == {"error": "This file takes more memory or time than a recording should."}


def test_a_reader_that_dies_is_told(path, monkeypatch):
    dying = "import os, sys; sys.stdin.read(); os.abort()"
    monkeypatch.setattr(reading, "_READER", [sys.executable, "-c", dying])

    assert "more memory or time" in read(path)["error"]


def test_a_reader_that_hangs_is_ended(path, monkeypatch):
    monkeypatch.setattr(reading, "_READER", [sys.executable, "-c", "import time; time.sleep(60)"])
    monkeypatch.setattr(reading, "_SECONDS", 0.5)

    assert "takes longer" in read(path)["error"]


def test_what_libraries_print_does_not_spoil_the_answer(path, monkeypatch):
    noisy = (
        "import saltus.jumps.analyse as a, os; old = a.analyse\n"
        "def loud(*x, **y): os.write(1, b'noise'); print('noise'); return old(*x, **y)\n"
        "a.analyse = loud; import saltus.web.testdays.reader as r; r.main()"
    )
    monkeypatch.setattr(reading, "_READER", [sys.executable, "-c", noisy])

    assert read(path)["figures"] == [[1]]

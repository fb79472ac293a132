"""``saltus example``: the invented squad on the command line."""

import subprocess
import sys

import pytest
from typer.testing import CliRunner

from saltus.cli import app
from saltus.errors import UsageError
from saltus.record.example.squad import SQUAD
from saltus.record.example.stamp import STAMP


def run(*arguments):
    return CliRunner().invoke(app, ["example", *map(str, arguments)], catch_exceptions=False)


@pytest.fixture(autouse=True)
def _two_of_the_squad(monkeypatch):
    """The whole squad is written by the tests of the folder; here two will do."""
    two = [member for member in SQUAD if member.name in {"sanna-lund", "ruben-castell"}]
    monkeypatch.setattr("saltus.record.example.folder.SQUAD", two)


@pytest.fixture
def folder(tmp_path):
    assert run(tmp_path / "squad").exit_code == 0
    return tmp_path / "squad"


def test_it_writes_the_squad_and_says_what_to_try(tmp_path):
    result = run(tmp_path / "squad")

    assert result.exit_code == 0
    assert "Wrote an invented squad of 2" in result.stdout
    assert "saltus assess" in result.stdout
    assert (tmp_path / "squad" / "sanna-lund.toml").is_file()
    assert (tmp_path / "squad" / "recordings" / "ruben-castell").is_dir()


def test_if_changed_leaves_what_is_there(folder):
    before = {p: p.stat().st_mtime_ns for p in folder.rglob("*") if p.is_file()}

    result = run(folder, "--if-changed")

    assert "already" in result.stdout
    assert {p: p.stat().st_mtime_ns for p in folder.rglob("*") if p.is_file()} == before


def test_if_changed_writes_again_what_another_version_wrote(folder):
    stamp = folder / STAMP
    text = stamp.read_text(encoding="utf-8")
    record = folder / "sanna-lund.toml"
    sound = record.read_bytes()
    stamp.write_text("0.0.0\n" + text.partition("\n")[2], encoding="utf-8")
    record.write_text("stale", encoding="utf-8")

    result = run(folder, "--if-changed")

    assert "Wrote" in result.stdout
    assert record.read_bytes() == sound
    assert stamp.read_text(encoding="utf-8") == text


def test_if_changed_writes_again_what_is_missing(folder):
    (folder / "sanna-lund.toml").unlink()

    result = run(folder, "--if-changed")

    assert "Wrote" in result.stdout
    assert (folder / "sanna-lund.toml").is_file()


def test_a_folder_of_somebody_elses_is_refused(tmp_path):
    (tmp_path / "mine.txt").write_text("mine", encoding="utf-8")

    with pytest.raises(UsageError, match="files of its own"):
        run(tmp_path)


def test_a_second_run_is_light(folder):
    code = (
        "import sys; from saltus.cli import app\n"
        f"app(['example', {str(folder)!r}, '--if-changed'], standalone_mode=False)\n"
        "print(sorted({'numpy', 'numba', 'polars', 'scipy'} & set(sys.modules)))"
    )

    result = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )

    assert result.stdout.splitlines()[-1] == "[]"

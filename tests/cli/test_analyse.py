import json
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import polars as pl
import pytest
from typer.testing import CliRunner

from saltus.cli import app
from saltus.errors import UsageError
from saltus.quantities import STANDARD_GRAVITY as G

OPEN_RECORDINGS = Path(__file__).parents[3] / "shared" / "open-recordings"
MASS = 75.0
TAKE_OFF = 2.5
HEIGHT = TAKE_OFF**2 / (2 * G)


def _pulse(seconds: float, gain: float, rate: float) -> np.ndarray:
    """Force of a half sine that changes the velocity by `gain`."""
    n = round(seconds * rate)
    shape = np.sin(np.pi * (np.arange(n) + 0.5) / n)
    return MASS * (G + shape * gain * rate / shape.sum())


def a_countermovement_jump(rate: float = 1000.0) -> np.ndarray:
    """Force of a jump of known height that lands as it took off, in newtons."""
    still = np.full(round(1.5 * rate), MASS * G)
    force = np.concatenate(
        [
            still,
            _pulse(0.3, -1.0, rate),
            _pulse(0.4, 1.0 + TAKE_OFF, rate),
            np.zeros(round(2 * TAKE_OFF / G * rate)),
            _pulse(0.35, TAKE_OFF, rate),
            still,
        ]
    )
    return force + np.random.default_rng(5).normal(0, 1.5, force.size)


def write(path: Path, force: np.ndarray, *, rate: float = 1000.0, timed: bool = True) -> Path:
    rows = ["time (s),Fz (N)"] if timed else ["Fz (N)"]
    rows += [f"{i / rate:.4f},{f:.2f}" if timed else f"{f:.2f}" for i, f in enumerate(force)]
    path.write_text("\n".join(rows) + "\n")
    return path


def run(*arguments: object):
    return CliRunner().invoke(app, ["analyse", *map(str, arguments)])


def document(*arguments: object, status: int = 0) -> list[dict]:
    result = run(*arguments, "--json")
    assert result.exit_code == status, result.output
    return json.loads(result.stdout)


@pytest.fixture
def jump(tmp_path) -> Path:
    return write(tmp_path / "jump.csv", a_countermovement_jump())


def test_the_document_holds_the_jump_with_its_true_height(jump):
    (recording,) = document(jump)
    assert recording["file"] == str(jump)
    assert recording["rate_hz"] == 1000
    assert recording["body_weight_n"] == pytest.approx(MASS * G, abs=1)
    (found,) = recording["jumps"]
    assert found["kind"] == "countermovement_jump"
    assert found["height_impulse_m"] == pytest.approx(HEIGHT, abs=0.005)
    assert found["height_flight_m"] == pytest.approx(HEIGHT, abs=0.005)
    assert found["take_off_velocity_m_s"] == pytest.approx(TAKE_OFF, abs=0.02)
    assert found["flight_time_s"] == pytest.approx(2 * TAKE_OFF / G, abs=0.003)
    assert found["onset_s"] < found["take_off_s"] < found["landing_s"]
    assert found["trust"] == "sound"
    assert found["reasons"] == []
    depth = found["measures"]["depth"]
    assert set(depth) == {"value", "se", "unit"}
    assert depth["unit"] == "m"


def test_the_kind_can_be_said(jump):
    (recording,) = document(jump, "--kind", "sj")
    assert recording["jumps"][0]["kind"] == "squat_jump"


def test_a_file_that_cannot_be_read_is_named_and_the_others_are_analysed(jump, tmp_path):
    broken = tmp_path / "broken.csv"
    broken.write_text("")
    bad, good = document(broken, jump, status=1)
    assert set(bad) == {"file", "error"}
    assert bad["file"] == str(broken)
    assert "empty" in bad["error"]
    assert len(good["jumps"]) == 1


def test_a_path_that_is_not_there_is_named_and_the_others_are_analysed(jump, tmp_path):
    missing, good = document(tmp_path / "missing.csv", jump, status=1)
    assert "no such file" in missing["error"]
    assert len(good["jumps"]) == 1


def test_a_folder_is_searched_and_what_is_no_recording_passed_over(jump, tmp_path):
    (tmp_path / "README.md").write_text("# Not a recording\n")
    (tmp_path / "LICENSE.jumps").write_text("Free.\n")
    assert [d["file"] for d in document(tmp_path)] == [str(jump)]


def test_a_file_named_twice_is_analysed_once(jump, tmp_path):
    assert len(document(jump, tmp_path, jump)) == 1


def test_the_rate_is_for_files_without_time(tmp_path, jump):
    force = a_countermovement_jump(600.0)
    untimed = write(tmp_path / "untimed.txt", force, timed=False)
    rates = {Path(d["file"]).name: d["rate_hz"] for d in document(jump, untimed, "--rate", 600)}
    assert rates == {"jump.csv": 1000, "untimed.txt": 600}
    for recording in document(jump, untimed, "--rate", 600):
        assert recording["jumps"][0]["height_impulse_m"] == pytest.approx(HEIGHT, abs=0.01)


def test_without_the_rate_a_file_without_time_asks_for_it(tmp_path):
    untimed = write(tmp_path / "untimed.txt", a_countermovement_jump(), timed=False)
    (failed,) = document(untimed, status=1)
    assert "--rate" in failed["error"]


def test_the_table_shows_heights_with_errors_trust_and_what_they_mean(jump):
    result = run(jump)
    assert result.exit_code == 0
    assert "1 countermovement jump" in result.stdout
    assert re.search(r"3[12]\.\d ± 0\.\d +3[12]\.\d ± 0\.\d .* sound", result.stdout)
    assert "standard error" in result.stdout
    assert result.stderr == ""


def test_every_measure_is_printed_when_asked(jump):
    assert "peak landing force" not in run(jump).stdout
    assert "peak landing force" in run(jump, "--measures").stdout


def test_a_withheld_measure_is_null_and_a_dash_with_the_way_out(tmp_path):
    # Nobody stands still here, so nothing that needs a known velocity may be told.
    file = write(tmp_path / "never-still.csv", a_countermovement_jump()[1500:-1500])
    (recording,) = document(file)
    (found,) = recording["jumps"]
    assert found["height_impulse_m"] is None
    assert found["take_off_velocity_m_s"] is None
    assert found["trust"] != "sound"
    printed = run(file).stdout
    (row,) = [line for line in printed.splitlines() if line.strip().startswith("1  ")]
    assert row.split()[2] == "–"
    assert "Stand still for a second before the jump" in printed


def test_a_recording_without_a_jump_says_so(tmp_path):
    file = write(tmp_path / "standing.csv", np.full(3000, MASS * G))
    result = run(file)
    assert result.exit_code == 0
    assert "No jump was found" in result.stdout
    assert document(file)[0]["jumps"] == []


@pytest.mark.parametrize("suffix", [".csv", ".parquet"])
def test_the_exported_table_holds_what_the_document_says(jump, tmp_path, suffix):
    out = tmp_path / f"jumps{suffix}"
    (recording,) = document(jump, "--out", out)
    table = (pl.read_csv if suffix == ".csv" else pl.read_parquet)(out)
    row = table.row(0, named=True)
    found = recording["jumps"][0]
    assert table.height == 1
    assert row["file"] == str(jump)
    assert row["kind"] == "countermovement_jump"
    assert row["trust"] == found["trust"]
    assert row["take_off_s"] == pytest.approx(found["take_off_s"])
    for name, measure in found["measures"].items():
        unit = f" [{measure['unit']}]" if measure["unit"] else ""
        assert row[f"{name}{unit}"] == pytest.approx(measure["value"])
        assert row[f"{name} se{unit}"] == pytest.approx(measure["se"])


def test_the_json_file_is_the_document(jump, tmp_path):
    out = tmp_path / "jumps.json"
    assert document(jump, "--out", out) == json.loads(out.read_text())


def test_an_export_without_jumps_has_its_columns(tmp_path):
    file = write(tmp_path / "standing.csv", np.full(3000, MASS * G))
    assert run(file, "--out", tmp_path / "none.csv").exit_code == 0
    assert pl.read_csv(tmp_path / "none.csv").columns[:3] == ["file", "jump", "kind"]


def test_the_figure_names_the_phases(jump, tmp_path):
    figure = tmp_path / "jump.svg"
    assert run(jump, "--figure", figure).exit_code == 0
    svg = figure.read_text()
    for word in ("unweighting", "braking", "propulsion", "flight", "landing", "velocity (m/s)"):
        assert word in svg


def test_a_figure_of_nothing_is_said_and_the_results_still_printed(tmp_path):
    file = write(tmp_path / "standing.csv", np.full(3000, MASS * G))
    result = run(file, "--figure", tmp_path / "none.svg")
    assert isinstance(result.exception, UsageError)
    assert "no jump to draw" in str(result.exception)
    assert "No jump was found" in result.stdout
    assert not (tmp_path / "none.svg").exists()


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--kind", "somersault"), "cmj, sj, dj, hops, isometric"),
        (("--out", "jumps.xlsx"), ".csv, .parquet, .json"),
        (("--figure", "jumps.gif"), ".svg, .pdf, .png"),
        (("--out", "nowhere/jumps.csv"), "there is no folder nowhere"),
        (("--figure", "nowhere/jumps.svg"), "there is no folder nowhere"),
        (("--first-plate", "middle"), "left or right"),
        (("--rate", "-5"), "--rate must be a positive"),
        (("--left", "a"), "--right"),
        (("--unit", "stone"), "no unit of force"),
    ],
)
def test_options_that_cannot_be_obeyed_are_refused_before_anything_runs(jump, options, says):
    result = run(jump, *options)
    assert isinstance(result.exception, UsageError)
    assert says in str(result.exception)
    assert result.stdout == ""


def test_help_stays_light():
    heavy = "{'numpy', 'numba', 'scipy', 'polars', 'altair', 'vl_convert', 'ezc3d', 'ortools'}"
    code = f"import sys, saltus.cli; sys.exit(sorted({heavy} & set(sys.modules)).__len__())"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.skipif(not OPEN_RECORDINGS.is_dir(), reason="the open recordings are not here")
def test_the_open_recordings_give_seven_jumps_and_none_besides():
    # Flight times of an independent look at the recordings, in their README.
    flights = {
        "cmj-600hz.txt": [0.425],
        "squat-jumps-a.csv": [0.290, 0.309, 0.304],
        "squat-jumps-b.csv": [0.278, 0.324, 0.313],
    }
    recordings = document(OPEN_RECORDINGS, "--rate", 600)
    assert [Path(r["file"]).name for r in recordings] == sorted(flights)
    for recording in recordings:
        jumps = recording["jumps"]
        expected = flights[Path(recording["file"]).name]
        assert [j["flight_time_s"] for j in jumps] == pytest.approx(expected, abs=0.004)
        for jump in jumps:
            if jump["height_impulse_m"] is not None:
                assert abs(jump["height_impulse_m"] - jump["height_flight_m"]) < 0.025

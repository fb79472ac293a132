"""Motion-storage tables: what the header says must be what the table holds."""

import numpy as np
import pytest

from saltus.errors import RecordingError
from saltus.recordings.options import ReadOptions
from saltus.recordings.read import read


@pytest.fixture
def table(jump, tmp_path):
    force = np.round(jump(noise_n=0.5), 4)

    def write(name="jump.mot", sep="\t", rows=None, columns=None, names=None, bom=""):
        names = names or [f"ground_force{p}_{a}" for p in (1, 2) for a in ("vx", "vy", "vz", "px")]
        names = ["time", *names]
        head = [
            "a jump",
            "version=1",
            f"nRows={rows or force.size}",
            f"nColumns={columns or len(names)}",
            "inDegrees=yes",
            "endheader",
        ]
        shares = {"vx": 0.01, "vy": 0.5, "vz": -0.02, "px": 0.0}
        body = [
            sep.join([f"{i / 1000:.4f}", *(f"{shares[n[-2:]] * f:.5f}" for n in names[1:])])
            for i, f in enumerate(force)
        ]
        # a spreadsheet fills every line up to the width of the table
        fill = sep * (len(names) - 1) if sep == "," else ""
        text = "\n".join([*(line + fill for line in head), sep.join(names), *body]) + "\n"
        path = tmp_path / name
        path.write_text(bom + text, encoding="utf-8")
        return path, force

    return write


@pytest.mark.parametrize(
    ("name", "sep", "bom"),
    [
        ("jump.mot", "\t", ""),
        ("jump.sto", "  ", ""),
        ("jump.csv", ",", "\ufeff"),
        ("jump", "\t", ""),
    ],
)
def test_reads_newtons_with_y_up(name, sep, bom, table):
    path, force = table(name, sep, bom=bom)

    recording = read(path)

    assert recording.rate_hz == 1000
    assert not any("no unit" in note for note in recording.notes)
    np.testing.assert_allclose(recording.total_n, force, atol=0.2)


def test_feet_may_be_named(table):
    path, force = table(names=["r_ground_force_vy", "l_ground_force_vy"])

    recording = read(path)

    assert recording.left_n is not None
    assert not any("foot" in note for note in recording.notes)
    np.testing.assert_allclose(recording.left_n, 0.5 * force, atol=0.2)


def test_a_size_that_is_not_the_tables_is_refused(table):
    with pytest.raises(RecordingError, match=r"announces 9999 rows, the table has \d+: it was cut"):
        read(table(rows=9999)[0])
    with pytest.raises(RecordingError, match="announces 4 columns, the table has 9"):
        read(table(columns=4)[0])


def test_a_column_can_be_named(table):
    path, force = table()

    recording = read(path, options=ReadOptions(force="ground_force1_vy"))

    np.testing.assert_allclose(recording.total_n, 0.5 * force, atol=0.2)

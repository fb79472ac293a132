"""What the words in a column's name say."""

import pytest

from saltus.errors import AmbiguousColumns, RecordingError
from saltus.recordings.columns import find, recognise
from saltus.recordings.read import read
from saltus.recordings.table import Heading

# name, unit, kind, side, axis, plate
NAMES = [
    ("time", "s", "time", None, None, None),
    ("t", None, "time", None, None, None),
    ("Elapsed time", "ms", "time", None, None, None),
    ("Zeit", None, "time", None, None, None),
    ("Frame", None, "count", None, None, None),
    ("Sample No.", None, "count", None, None, None),
    ("Fz", "N", "force", None, "z", None),
    ("Fz1", None, "force", None, "z", 1),
    ("FzL", None, "force", "left", "z", None),
    ("RFz", None, "force", "right", "z", None),
    ("Fz_total", None, "force", "total", "z", None),
    ("GRFz", "kN", "force", None, "z", None),
    ("vGRF left", "N", "force", "left", "v", None),
    ("VerticalForceRight", "N", "force", "right", "v", None),
    ("Vertical GRF", None, "force", None, "v", None),
    ("ground_force2_vy", None, "force", None, "y", 2),
    ("1_ground_force_vy", None, "force", None, "y", 1),
    ("l_ground_force_vy", None, "force", "left", "y", None),
    ("ground_force2_px", None, "pressure", None, "x", 2),
    ("COPx", "m", "pressure", None, "x", None),
    ("Centre of pressure x 1", "mm", "pressure", None, "x", 1),
    ("ground_torque1_x", None, "other", None, "x", 1),
    ("Mz", "Nm", "other", None, "z", None),
    ("Velocity", "m/s", "other", None, None, None),
    ("Horizontal force", "N", "other", None, None, None),
    ("Left", "N", "force", "left", None, None),
    ("right", None, "force", "right", None, None),
    ("Kraft links", "N", "force", "left", None, None),
    ("força direita", None, "force", "right", None, None),
    ("Force plate 2 Fz", None, "force", None, "z", 2),
    ("channel 3", "N", "force", None, None, None),
    ("remark", None, "unknown", None, None, None),
    ("", None, "unknown", None, None, None),
]


@pytest.mark.parametrize(("name", "unit", "kind", "side", "axis", "plate"), NAMES)
def test_names_are_recognised_by_general_words(name, unit, kind, side, axis, plate):
    (column,) = recognise([Heading(0, name, unit)])

    assert (column.kind, column.side) == (kind, side)
    if kind in ("force", "pressure"):
        assert (column.axis, column.plate) == (axis, plate)


HEADINGS = (Heading(0, "time", "s"), Heading(1, "Fz", "N"), Heading(2, "Fz", "kN"), Heading(3, "2"))


@pytest.mark.parametrize(
    ("wanted", "index"),
    [("time", 0), ("TIME [s]", 0), ("Fz [kN]", 2), ("fz (n)", 1), ("1", 0), ("3", 2), ("2", 3)],
)
def test_a_column_is_found_by_name_or_number(wanted, index):
    assert find(HEADINGS, wanted) == index


@pytest.mark.parametrize(
    ("wanted", "message"),
    [
        ("Fz", r"Several columns are called 'Fz': give a number instead \(2, 3\)"),
        ("9", "There is no column 9: the file has 4"),
        ("force", r"There is no column 'force'. The columns are: 1 time \[s\], 2 Fz \[N\]"),
    ],
)
def test_a_column_that_is_not_there_is_said(wanted, message):
    with pytest.raises(RecordingError, match=message):
        find(HEADINGS, wanted)


def test_a_column_that_is_the_sum_of_the_others_is_no_third_plate(tmp_path):
    """Adding it in would make one person two."""
    path = tmp_path / "three.csv"
    rows = (f"{i / 1000},700,{340 + i % 3},{360 - i % 3}" for i in range(3000))
    path.write_text("time,f1,f2,f3\n" + "\n".join(rows) + "\n")

    with pytest.raises(AmbiguousColumns, match="f1 is what the others add up to"):
        read(path)

"""Any valid file, written in any shape, comes back as what was written."""

import tempfile
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from saltus.quantities import KILOGRAM_FORCE
from saltus.recordings.options import ReadOptions
from saltus.recordings.read import read
from saltus.recordings.recording import Recording
from saltus.recordings.write import write_c3d, write_delimited

FORCE_UNITS = {"N": 1.0, "kN": 1000.0, "kgf": KILOGRAM_FORCE}
PREAMBLE = st.lists(
    st.text(st.characters(codec="cp1252", exclude_categories=("Cc", "Zl", "Zp", "Zs", "Nd")))
    .map(lambda text: text.replace('"', ""))
    .map(lambda text: f"Remark: {text}"),
    max_size=30,
)
STYLES = [
    (",", False),
    (";", False),
    (";", True),
    ("\t", False),
    ("\t", True),
    ("  ", False),
    (" ", True),
    ("|", False),
    (", ", False),
    ("; ", True),
]
NAMES = [
    ("Fz left", "Fz right", "Fz"),
    ("Left force", "Right force", "Total force"),
    ("L_Fz", "R_Fz", "vertical GRF"),
    ("Fz1", "Fz2", "Fz"),
]
OTHERS = ["Velocity (m/s)", "COPx (m)", "Remark", "Temperature (C)", "Fx (N)", "Power (W)"]


@st.composite
def shapes(draw):
    sep, comma = draw(st.sampled_from(STYLES))
    return {
        "sep": sep,
        "comma": comma,
        "encoding": draw(st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "cp1252"])),
        "line_end": draw(st.sampled_from(["\n", "\r\n", "\r"])),
        "preamble": draw(PREAMBLE),
        "blank_lines": draw(st.integers(0, 2)),
        "units_row": draw(st.booleans()),
        "time": draw(st.sampled_from(["s", "ms", None])),
        "unit": draw(st.sampled_from(list(FORCE_UNITS))),
        "feet": draw(st.booleans()),
        # two plates with the very same force would be asked about
        "share": draw(st.one_of(st.floats(0.35, 0.48), st.floats(0.52, 0.65))),
        "names": draw(st.sampled_from(NAMES)),
        "others": draw(st.lists(st.sampled_from(OTHERS), max_size=3, unique=True)),
        "order": draw(st.randoms(use_true_random=False)),
        "rate": draw(st.sampled_from([250.0, 500.0, 600.0, 1000.0, 1200.0, 2000.0])),
        "weight": draw(st.floats(300.0, 1500.0)),
        "offset": draw(st.sampled_from([0.0, 0.0, 7.0, -12.0])),
        "flight": draw(st.floats(0.2, 0.6)),
        "last_line_ends": draw(st.booleans()),
        "seed": draw(st.integers(0, 10_000)),
    }


def columns_of(shape, force):
    """(name, unit, values, decimals) of each column, time first, and the two feet."""
    n = force.size
    time = np.arange(n) / shape["rate"]
    factor = FORCE_UNITS[shape["unit"]]
    left, right, total = shape["names"]
    out = []
    if shape["time"] is not None:
        scale = 1000 if shape["time"] == "ms" else 1
        out.append(("Time", shape["time"], time * scale, 4 if scale == 1000 else 7))
    if shape["feet"]:
        out.append((left, shape["unit"], shape["share"] * force / factor, 7))
        out.append((right, shape["unit"], (1 - shape["share"]) * force / factor, 7))
    else:
        out.append((total, shape["unit"], force / factor, 7))
    for other in shape["others"]:
        name, _, unit = other.partition(" (")
        values = 0.01 * force if name == "Fx" else np.sin(np.arange(n) / 50)
        out.append((name, unit.rstrip(")") or None, values, 3))
    shape["order"].shuffle(out)
    return out


def text_of(shape, columns):
    sep = shape["sep"]
    lines = [*shape["preamble"], *[""] * shape["blank_lines"]]
    blanks = sep.strip() == "" and sep != "\t"
    names = [name.replace(" ", "_") if blanks else name for name, *_ in columns]
    if shape["units_row"]:
        lines.append(sep.join(names))
        lines.append(sep.join(unit or "-" for _, unit, *_ in columns))
    else:
        lines.append(
            sep.join(
                f"{name}[{unit}]" if unit else name
                for name, (_, unit, *_) in zip(names, columns, strict=True)
            )
        )
    cells = [[f"{v:.{decimals}f}" for v in values] for _, _, values, decimals in columns]
    if shape["comma"]:
        cells = [[cell.replace(".", ",") for cell in column] for column in cells]
    lines += [sep.join(row) for row in zip(*cells, strict=True)]
    text = shape["line_end"].join(lines)
    return text + (shape["line_end"] if shape["last_line_ends"] else "")


@settings(max_examples=80, deadline=None)
@given(shape=shapes())
def test_a_valid_table_of_any_shape_comes_back(shape, jump):
    force = jump(
        rate_hz=shape["rate"],
        weight_n=shape["weight"],
        flight_s=shape["flight"],
        seed=shape["seed"],
        stand_s=0.4,
    )
    text = text_of(shape, columns_of(shape, force + shape["offset"]))
    options = ReadOptions(rate_hz=None if shape["time"] else shape["rate"])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "any.txt"
        path.write_bytes(text.encode(shape["encoding"]))

        recording = read(path, options=options)

    assert recording.rate_hz == pytest.approx(shape["rate"], rel=1e-6)
    assert len(recording) == force.size
    # the offset is known from the flight to a fraction of the noise of 1 N
    np.testing.assert_allclose(recording.total_n, force, atol=0.9)
    assert (recording.left_n is not None) == shape["feet"]
    if shape["feet"]:
        np.testing.assert_allclose(recording.left_n, shape["share"] * force, atol=9)


@settings(max_examples=25, deadline=None)
@given(
    rate=st.sampled_from([500.0, 600.0, 960.0, 1000.0, 1200.0, 2000.0]),
    weight=st.floats(300.0, 1500.0),
    feet=st.booleans(),
    share=st.floats(0.3, 0.7),
    style=st.sampled_from([(",", False), (";", True), ("\t", True), ("\t", False)]),
    start=st.sampled_from([0.0, 12.5]),
)
def test_what_saltus_writes_it_reads(rate, weight, feet, share, style, start, jump):
    force = jump(rate_hz=rate, weight_n=weight)
    force -= np.mean(force[force < 5])
    parts = (share * force, (1 - share) * force) if feet else (None, None)
    recording = Recording(rate, force, *parts, source="x", start_s=start)
    delimiter, decimal_comma = style
    with tempfile.TemporaryDirectory() as folder:
        text, binary = Path(folder) / "x.csv", Path(folder) / "x.c3d"
        write_delimited(recording, text, delimiter=delimiter, decimal_comma=decimal_comma)
        write_c3d(recording, binary)

        for path in (text, binary):
            back = read(path)

            assert back.rate_hz == rate
            assert (back.left_n is not None) == feet
            np.testing.assert_allclose(back.total_n, force, atol=0.6)
        assert read(text).start_s == start


def test_a_decimal_comma_needs_another_delimiter(tmp_path, jump):
    with pytest.raises(ValueError, match="another delimiter"):
        write_delimited(Recording(1000.0, jump()), tmp_path / "x.csv", decimal_comma=True)

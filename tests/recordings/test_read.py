"""Every shape of file that a coach may have, and every bad one."""

import shlex

import numpy as np
import pytest

from saltus.errors import AmbiguousColumns, RecordingError
from saltus.recordings.options import ReadOptions
from saltus.recordings.read import read

RATE = 1000.0


def table(
    columns, *, heading=None, sep=",", comma=False, before=(), decimals=4, units=None, ends=""
):
    lines = list(before)
    if heading is not None:
        lines.append(sep.join(heading))
    if units is not None:
        lines.append(sep.join(units))
    for row in zip(*columns, strict=True):
        form = ".7e" if decimals == "e" else f".{decimals}f"
        cells = [format(value, form) for value in row]
        if comma:
            cells = [cell.replace(".", ",") for cell in cells]
        lines.append(sep.join(cells) + ends)
    return "\n".join(lines) + "\n"


@pytest.fixture(scope="module")
def force(jump):
    return np.round(jump(), 3)


@pytest.fixture(scope="module")
def time(force):
    return np.arange(force.size) / RATE


@pytest.fixture
def saved(tmp_path):
    def save(text, name="jump.csv", encoding="utf-8"):
        path = tmp_path / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode(encoding))
        return path

    return save


# what is written: (name, keywords of `table`, columns as functions of time and force)
BOTH = [lambda t, f: t, lambda t, f: f]
SHAPES = {
    "comma": (BOTH, {"heading": ["time [s]", "Fz [N]"]}),
    "semicolon and decimal comma": (
        BOTH,
        {"heading": ["Time (s)", "Force (N)"], "sep": ";", "comma": True},
    ),
    "tab": (BOTH, {"heading": ["Time", "Vertical force [N]"], "sep": "\t"}),
    "tab and decimal comma": (BOTH, {"heading": ["Zeit", "Kraft [N]"], "sep": "\t", "comma": True}),
    "blanks": (BOTH, {"heading": ["time", "Fz"], "sep": "   "}),
    "blanks in the names too": (BOTH, {"heading": ["time (s)", "Fz (N)"], "sep": "  "}),
    "blanks and decimal comma": (BOTH, {"heading": ["time", "Fz"], "sep": " ", "comma": True}),
    "comma and blank": (BOTH, {"heading": ["time", "Fz"], "sep": ", "}),
    "preamble": (
        BOTH,
        {
            "heading": ["Time", "Fz"],
            "before": ["Session of a morning", "", "Name,Somebody", "Mass,79.5", "a,b,c,d,e"] * 9,
        },
    ),
    "units row": (BOTH, {"heading": ["Time", "Force"], "units": ["s", "N"]}),
    "units row in brackets": (
        BOTH,
        {"heading": ["Time", "Force"], "units": ["[s]", "[N]"], "sep": ";"},
    ),
    "milliseconds": ([lambda t, f: 1000 * t, lambda t, f: f], {"heading": ["Time (ms)", "Fz"]}),
    "milliseconds by their step": (
        [lambda t, f: 1000 * t, lambda t, f: f],
        {"heading": ["Time", "Fz"]},
    ),
    "kilonewtons": (
        [lambda t, f: t, lambda t, f: f / 1000],
        {"heading": ["t", "Fz (kN)"], "decimals": 7},
    ),
    "kilograms": (
        [lambda t, f: t, lambda t, f: f / 9.80665],
        {"heading": ["t", "Load [kgf]"], "decimals": 6},
    ),
    "pounds": (
        [lambda t, f: t, lambda t, f: f / 4.4482216152605],
        {"heading": ["t", "Force [lbf]"], "decimals": 6},
    ),
    "y is up": (
        [lambda t, f: t, lambda t, f: 0.02 * f, lambda t, f: f, lambda t, f: -0.05 * f],
        {"heading": ["time", "Fx", "Fy", "Fz"]},
    ),
    "z is up": (
        [lambda t, f: t, lambda t, f: 0.02 * f, lambda t, f: 0.03 * f, lambda t, f: f],
        {"heading": ["time", "Fx", "Fy", "Fz"]},
    ),
    "pushing down": ([lambda t, f: t, lambda t, f: -f], {"heading": ["time", "Fz (N)"]}),
    "no names": (BOTH, {}),
    "names that look like units": (
        [lambda t, f: 1000 * t, lambda t, f: f],
        {"heading": ["ms", "Fz"]},
    ),
    "unit within the name": (
        [lambda t, f: t, lambda t, f: f / 1000],
        {"heading": ["time (s)", "Fz (kN) - both"], "decimals": 7},
    ),
    "rows that end with a delimiter": (BOTH, {"heading": ["time", "Fz"], "ends": ";", "sep": ";"}),
    "scientific": (BOTH, {"heading": ["time", "Fz"], "decimals": "e"}),
    "comment sign": (BOTH, {"heading": ["# time", "Fz"], "sep": " "}),
    "padded": (BOTH, {"heading": ["   time", "    Fz"], "sep": "     ", "before": ["% made by"]}),
    "other columns beside it": (
        [
            lambda t, f: np.arange(t.size),
            lambda t, f: t,
            lambda t, f: f,
            lambda t, f: 0.001 * f,
            lambda t, f: np.cumsum(f) / 1e6,
        ],
        {"heading": ["Frame", "Time (s)", "Vertical GRF (N)", "COPx (m)", "Velocity (m/s)"]},
    ),
}
FEET = {
    "left and right": ["time", "Left", "Right"],
    "letters": ["time", "Fz_L (N)", "Fz_R (N)"],
    "glued": ["time", "LFz", "RFz"],
    "camel case": ["time", "FzLeft", "FzRight"],
    "long": ["Time [s]", "Left foot vertical force [N]", "Right foot vertical force [N]"],
    "german": ["Zeit (s)", "Kraft links (N)", "Kraft rechts (N)"],
    "french": ["temps", "force gauche", "force droite"],
    "spanish": ["tiempo", "fuerza izquierda", "fuerza derecha"],
    "portuguese": ["tempo", "força esquerda", "força direita"],
    "italian": ["tempo", "forza sinistra", "forza destra"],
    "plates": ["time", "Fz1", "Fz2"],
    "numbered": ["time", "Force plate 1 Fz", "Force plate 2 Fz"],
}


@pytest.mark.parametrize("shape", SHAPES)
def test_reads_a_table_of_any_common_shape(shape, saved, time, force):
    columns, keywords = SHAPES[shape]

    recording = read(saved(table([make(time, force) for make in columns], **keywords)))

    assert recording.rate_hz == pytest.approx(RATE)
    assert recording.left_n is None
    np.testing.assert_allclose(recording.total_n, force, atol=0.06)


@pytest.mark.parametrize("names", FEET.values(), ids=FEET)
def test_reads_the_force_of_each_foot(names, saved, time, force):
    recording = read(saved(table([time, 0.45 * force, 0.55 * force], heading=names)))

    np.testing.assert_allclose(recording.left_n, 0.45 * force, atol=0.6)
    np.testing.assert_allclose(recording.right_n, 0.55 * force, atol=0.6)
    np.testing.assert_allclose(recording.total_n, recording.left_n + recording.right_n)


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
)
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_reads_every_encoding_and_line_end(encoding, line_end, saved, time, force):
    text = table([time, force], heading=["Temps", "Force intégrée vertical [N]"])

    recording = read(saved(text.replace("\n", line_end), encoding=encoding))

    np.testing.assert_allclose(recording.total_n, force, atol=0.06)


def test_quoted_cells_may_hold_a_decimal_comma(saved, time, force):
    rows = [f'"{t:.3f}","{f:.3f}"'.replace(".", ",") for t, f in zip(time, force, strict=True)]
    text = '"time [s]","Fz [N]"\n' + "\n".join(rows) + "\n"

    np.testing.assert_allclose(read(saved(text)).total_n, force, atol=0.06)


def test_a_group_row_above_the_names_says_which_foot(saved, time, force):
    columns = [time, 0.01 * force, 0.4 * force, 0.01 * force, 0.6 * force]
    text = table(columns, heading=["time", "Fx", "Fz", "Fx", "Fz"], before=["", ",Left,,Right,"])

    recording = read(saved(text))

    np.testing.assert_allclose(recording.left_n, 0.4 * force, atol=0.6)
    np.testing.assert_allclose(recording.right_n, 0.6 * force, atol=0.6)


def test_tables_side_by_side_may_differ_in_length(saved, time, force):
    lines = ["Time (s),Left (N),,Time (s),Right (N),,Trial,Note"]
    for i, (t, f) in enumerate(zip(time, force, strict=True)):
        more = f"{i},text" if i < 3 else ","
        lines.append(f"{t:.3f},{0.5 * f:.3f},,{t:.3f},{0.5 * f:.3f},,{more}")
    lines += [",,,,,,," for _ in range(5)]

    recording = read(saved("\n".join(lines) + "\n"))

    assert len(recording) == force.size
    assert any("empty rows" in note for note in recording.notes)
    np.testing.assert_allclose(recording.total_n, force, atol=0.6)


def test_a_second_table_below_is_left_alone_and_said(saved, time, force):
    text = table([time, force], heading=["time", "Fz"])
    text += "\nMarkers\nFrame,X,Y\n1,2.5,3.5\n2,2.6,3.6\n"

    recording = read(saved(text))

    assert len(recording) == force.size
    assert any("what stands below it was not read" in note for note in recording.notes)


def test_one_column_of_numbers_needs_the_rate(saved, force):
    path = saved("".join(f"{value:.2f}\n" for value in force), "one.txt")

    with pytest.raises(RecordingError, match=r"no time column.*--rate"):
        read(path)

    recording = read(path, options=ReadOptions(rate_hz=1000))
    np.testing.assert_allclose(recording.total_n, force, atol=0.06)


def test_one_column_with_a_decimal_comma(saved, force):
    path = saved("".join(f"{value:.2f}\n".replace(".", ",") for value in force), "one.txt")

    recording = read(path, options=ReadOptions(rate_hz=1000))

    np.testing.assert_allclose(recording.total_n, force, atol=0.06)


@pytest.mark.parametrize(
    "line",
    [
        "Sampling rate: 1000 Hz",
        "Frequency (Hz);1000",
        "rate=1000",
        "Sample rate,1000\nLow-pass filter frequency (Hz),50\nFrame rate,100",
    ],
)
def test_the_rate_stated_above_the_table_is_taken_and_said(line, saved, force):
    text = "\n".join(["Some jump", line, "Fz [N]", *(f"{value:.3f}" for value in force)]) + "\n"

    recording = read(saved(text, "stated.txt"))

    assert recording.rate_hz == 1000
    assert any("stated above the table" in note for note in recording.notes)


def test_rounded_time_is_even(saved, jump):
    force = jump(rate_hz=600.0)
    time = np.arange(force.size) / 600

    recording = read(saved(table([time, force], heading=["time", "Fz"], decimals=3)))

    assert recording.rate_hz == 600


def test_body_weights_need_the_mass(saved, time, force):
    path = saved(table([time, force / 780], heading=["time", "Force (BW)"], decimals=6))

    with pytest.raises(RecordingError, match=r"body weights.*--mass"):
        read(path)

    recording = read(path, options=ReadOptions(mass_kg=780 / 9.80665))
    np.testing.assert_allclose(recording.total_n, force, atol=0.06)


@pytest.mark.parametrize(
    ("options", "column"),
    [
        (ReadOptions(force="filtered"), 2),
        (ReadOptions(force="FILTERED [n]"), 2),
        (ReadOptions(force="3"), 2),
        (ReadOptions(force="raw"), 1),
        (ReadOptions(force="2", time="1"), 1),
    ],
)
def test_a_column_can_be_named_or_numbered(options, column, saved, time, force):
    columns = [time, force, 1.1 * force]
    path = saved(table(columns, heading=["time", "raw [N]", "filtered [N]"]))

    recording = read(path, options=options)

    np.testing.assert_allclose(recording.total_n, columns[column], atol=0.6)


def test_feet_can_be_named(saved, time, force):
    path = saved(table([time, 0.4 * force, 0.6 * force], heading=["time", "A", "B"]))

    recording = read(path, options=ReadOptions(left="B", right="A", unit="N"))

    np.testing.assert_allclose(recording.left_n, 0.6 * force, atol=0.6)


def test_the_first_plate_can_be_the_right_foot(saved, time, force):
    path = saved(table([time, 0.4 * force, 0.6 * force], heading=["time", "Fz1", "Fz2"]))

    recording = read(path, options=ReadOptions(first_plate="right"))

    np.testing.assert_allclose(recording.right_n, 0.4 * force, atol=0.6)


def test_a_plate_that_nobody_stood_on_is_named_and_not_a_foot(saved, time, force):
    noise = np.random.default_rng(3).normal(0, 1, force.size)
    path = saved(table([time, force, noise], heading=["time", "Fz1", "Fz2"]))

    recording = read(path)

    assert recording.left_n is None
    assert any("Nobody stood on Fz2" in note for note in recording.notes)
    np.testing.assert_allclose(recording.total_n, force, atol=6)


AMBIGUOUS = {
    "two forces": ["time", "raw [N]", "filtered [N]"],
    "no meaning": ["time", "A", "B"],
    "no names at all": None,
    "trials side by side": ["time", "Fz", "Fz"],
}


@pytest.mark.parametrize("names", AMBIGUOUS.values(), ids=AMBIGUOUS)
def test_asks_with_the_columns_and_the_command_when_it_is_ambiguous(names, saved, time, force):
    path = saved(table([time, force, 1.1 * force], heading=names), "two of them.csv")

    with pytest.raises(AmbiguousColumns) as caught:
        read(path)

    message = str(caught.value)
    assert len(caught.value.columns) == 3
    assert f"saltus analyse {shlex.quote(str(path))} --time " in message
    assert "--force " in message
    assert "--left " in message
    assert "--right " in message
    assert "--unit N" in message
    for name in names or ():
        assert name in message


def test_the_commands_it_shows_work(saved, time, force):
    """Whatever command the question shows can be given as it stands."""
    path = saved(table([time, force, 1.1 * force], heading=["time", "A a", "B"]))
    with pytest.raises(AmbiguousColumns) as caught:
        read(path)
    assert "--time time --force 'A a' --unit N" in str(caught.value)

    recording = read(path, options=ReadOptions(time="time", force="A a", unit="N"))

    np.testing.assert_allclose(recording.total_n, force, atol=0.6)


def test_the_axis_is_asked_for_when_two_bear_weight(saved, time, force):
    path = saved(table([time, force, 0.8 * force], heading=["time", "Fy", "Fz"]))

    with pytest.raises(AmbiguousColumns, match="which axis points up"):
        read(path)


def test_left_and_right_that_do_not_make_the_total_are_asked_about(saved, time, force):
    columns = [time, force, 0.7 * force, 0.7 * force]
    path = saved(table(columns, heading=["time", "Total", "Left", "Right"]))

    with pytest.raises(AmbiguousColumns, match="do not add up"):
        read(path)


def test_gaps_are_bridged_only_when_told_and_short(saved, time, force):
    lines = table([time, force], heading=["time", "Fz"]).splitlines()
    for i in (500, 501, 502):
        lines[i] = lines[i].split(",")[0] + ","
    path = saved("\n".join(lines) + "\n")

    with pytest.raises(RecordingError, match=r"1 gap, the longest of 3 samples at line 501.*--res"):
        read(path)

    recording = read(path, options=ReadOptions(resample=True))
    np.testing.assert_allclose(recording.total_n, force, atol=6)
    assert any("bridged" in note for note in recording.notes)


def test_uneven_time_is_resampled_only_when_told(saved, time, force):
    uneven = time + np.random.default_rng(5).uniform(-0.0004, 0.0004, time.size)
    path = saved(
        table([uneven, np.interp(uneven, time, force)], heading=["t (s)", "Fz"], decimals=6)
    )

    with pytest.raises(RecordingError, match=r"uneven: line \d+ is .* --resample"):
        read(path)

    recording = read(path, options=ReadOptions(resample=True))
    assert recording.rate_hz == 1000
    assert any("resampled evenly" in note for note in recording.notes)
    assert np.median(np.abs(recording.total_n[5:-20] - force[5 : len(recording) - 20])) < 3


def test_slow_sampling_is_doubtful_and_slower_is_refused(saved, jump):
    for rate, outcome in ((499.0, "doubt"), (250.0, "doubt"), (199.0, "refusal"), (500.0, "fine")):
        force = jump(rate_hz=rate)
        path = saved(
            table([np.arange(force.size) / rate, force], heading=["time", "Fz"], decimals=6)
        )
        if outcome == "refusal":
            with pytest.raises(RecordingError, match=r"199 Hz.*too slowly.*200 Hz"):
                read(path)
        else:
            doubts = read(path).doubts
            assert bool(doubts) == (outcome == "doubt")
            assert all(f"only {rate:g} Hz" in doubt for doubt in doubts)


def test_a_clipped_signal_is_doubtful(saved, time, force):
    recording = read(saved(table([time, np.minimum(force, 1500.0)], heading=["time", "Fz [N]"])))

    assert any("cut off at 1500 N" in doubt for doubt in recording.doubts)
    assert not read(saved(table([time, force], heading=["time", "Fz [N]"]))).doubts


@pytest.mark.parametrize("offset", [6.0, -25.0, 80.0, -300.0, 240.0])
def test_a_plate_that_was_not_zeroed_is_corrected_and_said(offset, saved, time, force):
    recording = read(saved(table([time, force + offset], heading=["time", "Fz [N]"])))

    np.testing.assert_allclose(recording.total_n, force, atol=0.8)
    assert any(f"{offset:+.0f}" in note.replace(".0", "") for note in recording.notes) or any(
        "was not zeroed" in note for note in recording.notes
    )
    assert bool(recording.doubts) == (abs(offset) > 50)


def test_a_plate_zeroed_under_the_person_is_corrected(saved, time, force):
    recording = read(saved(table([time, force - 780], heading=["time", "Fz [N]"])))

    np.testing.assert_allclose(recording.total_n, force, atol=0.8)
    assert any("zero the plate" in doubt for doubt in recording.doubts)


def _spoilt(time, force, change):
    lines = table([time, force], heading=["time [s]", "Fz [N]"]).splitlines()
    change(lines)
    return "\n".join(lines) + "\n"


def _replace(i, text):
    def change(lines):
        lines[i] = text

    return change


def _delete(first, last):
    def change(lines):
        del lines[first:last]

    return change


BAD_LINES = {
    "not a number": (
        _replace(700, "0.699,abc"),
        r"line 701, column 2 \(Fz \[N\]\): 'abc' is not a",
    ),
    "gap": (_replace(700, "0.6990,"), r"Fz has 1 gap, the longest of 1 samples at line 701"),
    "nan": (_replace(700, "0.6990,NaN"), r"Fz has 1 gap"),
    "missing rows": (_delete(700, 730), r"30 samples are missing after line 700 .*31 ms"),
    "repeated time": (_replace(700, "0.6980,780.0"), r"time stands still at line 701 .*--rate"),
    "backward time": (_replace(700, "0.2000,780.0"), r"time runs backward at line 701"),
    "no time": (_replace(700, ",780.0"), r"line 701 has no time"),
    "time is text": (_replace(700, "soon,780.0"), r"line 701, column 1 .*'soon' is not a number"),
    "a word at the end": (lambda lines: lines.append("END"), r"line 3752, column 1 .*'END' is not"),
    "a second heading": (
        _replace(2000, "time,Fz"),
        r"line 2001, column 2 .*'Fz' is not a number",
    ),
    "thousands by twos": (_replace(1500, '1.4990,"12,34.5"'), r"'12,34.5' is not a number"),
    "a spreadsheet's fault": (_replace(700, "0.6990,#N/A"), r"Fz has 1 gap"),
    "cut in a line": (_replace(-1, "2.7"), r"stops in the middle of line \d+: it was cut off"),
    "impossible force": (_replace(700, "0.6990,9e9"), r"which is no person"),
}


@pytest.mark.parametrize("spoilt", BAD_LINES)
def test_a_bad_line_is_named(spoilt, saved, time, force):
    change, message = BAD_LINES[spoilt]

    with pytest.raises(RecordingError, match=message) as caught:
        read(saved(_spoilt(time, force, change)))

    assert "jump.csv" in str(caught.value)


THOUSANDS = {
    "semicolon": (";", "{:,.1f}", "{:.3f}", False),
    "semicolon, no decimals": (";", "{:,.0f}", "{:.3f}", False),
    "decimal comma": (";", "{:,.1f}", "{:.3f}", True),
    "decimal comma, none in the force": (";", "{:,.0f}", "{:.3f}", True),
    "tab and decimal comma": ("\t", "{:,.2f}", "{:.3f}", True),
    "quoted": (",", '"{:,.1f}"', "{:.3f}", False),
    "time too": (";", "{:,.1f}", "{:,.1f}", False),
    "points in whole numbers": (";", "{:,.0f}", "{:,.0f}", True),
}


@pytest.mark.parametrize("shape", THOUSANDS)
def test_marks_between_thousands_are_left_out(shape, saved, time, force):
    """A decimal comma makes "1.005" a thousand and five, and never one."""
    separator, form, time_form, comma = THOUSANDS[shape]
    unit, scale = ("ms", 1000) if "," in time_form else ("s", 1)
    rows = [f"time [{unit}]{separator}Fz [N]"]
    for t, f in zip(time * scale, force, strict=True):
        row = f"{time_form.format(t)}{separator}{form.format(f)}"
        rows.append(row.translate(str.maketrans(".,", ",.")) if comma else row)
    assert force.max() > 1000
    recording = read(saved("\n".join(rows)))

    assert recording.rate_hz == RATE
    np.testing.assert_allclose(recording.total_n, force, atol=0.51)


def test_whole_numbers_alone_may_have_points_too(saved, force):
    """One column, as some plates save it: 1.005 stands between 998 and 1.013."""
    rows = [f"{f:,.0f}".replace(",", ".") for f in force]
    recording = read(saved("\n".join(rows)), options=ReadOptions(rate_hz=RATE))

    np.testing.assert_allclose(recording.total_n, force, atol=0.51)


def test_decimals_without_their_last_zeros_stay_decimals(saved, time, force):
    rounded = np.round(force * 8) / 8
    rows = [f"{t:g}\t{f:.10g}" for t, f in zip(time * 1000, rounded, strict=True)]
    recording = read(saved("time [ms]\tFz [N]\n" + "\n".join(rows)))

    np.testing.assert_allclose(recording.total_n, rounded, atol=0.001)


def test_kilonewtons_with_three_decimals_stay_decimals(saved, time, force):
    rows = [f"{t:.0f};{f / 1000:.3f}" for t, f in zip(time * 1000, force, strict=True)]
    recording = read(saved("time [ms];Fz [kN]\n" + "\n".join(rows)))

    np.testing.assert_allclose(recording.total_n, force, atol=0.51)


def test_decimals_and_dates_are_no_thousands(saved, time, force):
    """Three decimals of a point, in a table with a decimal point, stay decimals."""
    rows = [f"{t:.3f};{f:.3f};28.11.2026" for t, f in zip(time, force, strict=True)]
    recording = read(saved("time;Fz [N];day\n" + "\n".join(rows)))

    np.testing.assert_allclose(recording.total_n, force, atol=0.001)


def test_a_stated_rate_that_time_contradicts_is_told(saved, time, force):
    text = table([time, force], heading=["time [s]", "Fz [N]"], before=["Sampling rate: 500 Hz"])
    recording = read(saved(text))

    assert recording.rate_hz == RATE
    assert any("500 Hz are stated, but time runs at 1000 Hz" in n for n in recording.notes)
    agrees = read(saved(text.replace("500 Hz", "1000 Hz")))
    assert not any("stated" in note for note in agrees.notes)


BAD_FILES = {
    "commas of two kinds": (
        "".join(f"{i // 1000},{i % 1000:03},{780 + i % 3},{i % 100:02}\n" for i in range(2000)),
        "decimal commas, and commas stand between the columns too",
    ),
    "commas of two kinds under names": (
        "time,Fz [N]\n" + "".join(f"0,{i + 100},{780 + i % 3},5\n" for i in range(800)),
        "decimal commas, and commas stand between the columns too",
    ),
    "nothing but zeros": (
        "time,Fz\n" + "".join(f"{i / 1000},0\n" for i in range(2000)),
        "nobody stands on the plate: the force is zero throughout",
    ),
    "empty": (b"", "the file is empty"),
    "blank": (b"\n \n\t\n", "the file is empty"),
    "only a byte-order mark": (b"\xef\xbb\xbf", "the file is empty"),
    "zeros": (bytes(5000), "the file is empty|neither text nor C3D"),
    "rubbish": (np.random.default_rng(0).bytes(50_000), "neither text nor C3D"),
    "prose": (b"Dear coach,\nthe plate is broken.\n" * 40, "no rows of numbers"),
    "names only": (b"time,Fz\n", "no rows of numbers"),
    "one row": (b"time,Fz\n0.0,780\n", "1 samples are no recording"),
    "short": (
        ("time,Fz\n" + "".join(f"{i / 1000},780\n" for i in range(100))).encode(),
        r"100 samples at 1000 Hz are 0.1 s, too short",
    ),
    "one line": (", ".join("780.5" for _ in range(2000)).encode(), "2000 columns and 1 row"),
    "spreadsheet": (b"PK\x03\x04" + bytes(range(256)) * 8, "spreadsheet or a zip"),
    "compressed": (b"\x1f\x8b" + bytes(range(256)) * 8, "a compressed file"),
    "nobody": (
        ("time,Fz [N]\n" + "".join(f"{i / 1000},{i % 7}\n" for i in range(2000))).encode(),
        "nobody stands on the plate",
    ),
    "one foot": (
        ("time,Left [N]\n" + "".join(f"{i / 1000},{400 + i % 3}\n" for i in range(2000))).encode(),
        r"only the left foot was found.*right one is missing.*--right",
    ),
    "volts": (
        ("time,Fz [V]\n" + "".join(f"{i / 1000},{2 + i % 3}\n" for i in range(2000))).encode(),
        r"'V', which is no unit of force",
    ),
    "no unit and no newtons": (
        ("time,Fz\n" + "".join(f"{i / 1000},{79 + i % 3}\n" for i in range(2000))).encode(),
        r"no unit is given.*kilograms \(--unit kgf\)",
    ),
    "dead plate": (
        (
            "time,Left [N],Right [N]\n"
            + "".join(f"{i / 1000},{780 + i % 3},0\n" for i in range(2000))
        ).encode(),
        r"the right foot \(Right\) bears nothing",
    ),
    "milliseconds called seconds": (
        ("time [s],Fz [N]\n" + "".join(f"{i},{780 + i % 3}\n" for i in range(2000))).encode(),
        r"sampled at 1 Hz, too slowly",
    ),
    "counts without names": (
        "".join(f"{i},{780 + i % 3}\n" for i in range(2000)).encode(),
        r"may be milliseconds or sample numbers.*--rate",
    ),
    "sample numbers": (
        ("sample,Fz\n" + "".join(f"{i},{780 + i % 3}\n" for i in range(2000))).encode(),
        "no time column",
    ),
}


@pytest.mark.parametrize("bad", BAD_FILES)
def test_a_bad_file_gets_a_clear_message(bad, saved):
    content, message = BAD_FILES[bad]

    with pytest.raises(RecordingError, match=message) as caught:
        read(saved(content, "bad.txt"))

    assert str(caught.value).startswith("bad.txt")
    assert str(caught.value).rstrip().endswith((".", "0", "N"))


def test_text_that_begins_like_c3d_is_read_as_text(saved, time, force):
    """A line end and a capital P are the first two bytes of some C3D files too."""
    recording = read(saved("\n" + table([time, force], heading=["Period time", "Fz"])))

    np.testing.assert_allclose(recording.total_n, force, atol=0.06)


def test_text_that_is_called_c3d_is_read_as_text_and_said(saved, time, force):
    recording = read(saved(table([time, force], heading=["time", "Fz"]), "jump.c3d"))

    assert any("is text, although its name says C3D" in note for note in recording.notes)


def test_a_file_that_does_not_exist_or_is_a_folder(tmp_path):
    with pytest.raises(RecordingError, match="No such file"):
        read(tmp_path / "none.csv")
    with pytest.raises(RecordingError, match="is a folder"):
        read(tmp_path)


def test_a_last_number_cut_short_is_left_out_and_said(saved, time, force):
    text = table([time, force], heading=["time", "Fz"]).rstrip("\n")[:-6]

    recording = read(saved(text))

    assert len(recording) == force.size - 1
    assert any("cut off and was left out" in note for note in recording.notes)


def test_the_rate_given_overrides_time_and_a_contradiction_is_doubtful(saved, time, force):
    path = saved(table([time, force], heading=["time [s]", "Fz"]))

    assert not read(path, options=ReadOptions(rate_hz=1000)).doubts
    recording = read(path, options=ReadOptions(rate_hz=500))

    assert recording.rate_hz == 500
    assert any("the time column runs at 1000" in doubt for doubt in recording.doubts)


def test_the_time_of_a_clock_is_refused_with_the_way_out(saved, force):
    rows = [f"00:00:{i / 1000:06.3f},{value:.3f}" for i, value in enumerate(force)]
    path = saved("time,Fz [N]\n" + "\n".join(rows) + "\n")

    with pytest.raises(RecordingError, match=r"'00:00:00.000' is not a number.*--rate"):
        read(path)

    assert len(read(path, options=ReadOptions(rate_hz=1000))) == force.size

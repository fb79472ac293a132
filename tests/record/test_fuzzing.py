"""Whatever stands in a record, it is read or its faults are told; nothing else happens."""

import re

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from saltus.errors import RecordError
from saltus.record import parse, render

ODD = [
    "0", "-1", "1e308", "inf", "-inf", "nan", "9" * 400, "0.0", "true", '""', '" "', '"?"', "[]",
    "[[]]", "[1, 2, 3]", '["mon", 5]', "{}", "{ a = 1 }", "[{ reps = 5 }]", "[{}]", "[nan]",
    "2026-01-10", "2026-01-10T07:00:00Z", "07:32:00", "0001-01-01", "9999-12-31", '"../../x"',
    '"2026-01-10"', "[[20, -1]]", "[[20, 1.5]]", "[[0, 1]]", "{ 100 = nan }", "{ -5 = 1 }",
    '"\\u0000"', "[true, false]", "[[20, 4], [20, 2]]", '"a:b"', '"."', '"/"',
]  # fmt: skip
odd = st.sampled_from(ODD) | st.floats().map(repr) | st.integers().map(str)
thorough = settings(
    max_examples=200,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)


def read_or_told(text):
    """Read a record, or be told its faults; each fault says something and where."""
    told = None
    try:
        return parse(text, recordings=False)
    except RecordError as error:
        told = error
    assert told.faults
    for fault in told.faults:
        assert fault.where
        assert len(fault.what) > 10
        assert fault.line is None or 1 <= fault.line <= text.count("\n") + 1
    return None


@thorough
@given(data=st.data())
def test_odd_values_are_read_or_told(full, data):
    lines = full.split("\n")
    places = [i for i, line in enumerate(lines) if re.match(r"\w+ = (?!\[$)", line)]
    for i in data.draw(st.lists(st.sampled_from(places), min_size=1, max_size=3, unique=True)):
        lines[i] = lines[i].partition("=")[0] + "= " + data.draw(odd)
    text = "\n".join(lines)

    record = read_or_told(text)

    if record is not None:
        assert render(record, text) == text
        _ = record.situation


@thorough
@given(data=st.data())
def test_lines_moved_doubled_and_lost_are_read_or_told(full, data):
    lines = full.split("\n")
    i = data.draw(st.integers(0, len(lines) - 1))
    j = data.draw(st.integers(0, len(lines) - 1))
    match data.draw(st.sampled_from(["lose", "double", "swap", "cut"])):
        case "lose":
            del lines[i : i + data.draw(st.integers(1, 12))]
        case "double":
            lines.insert(j, lines[i])
        case "swap":
            lines[i], lines[j] = lines[j], lines[i]
        case "cut":
            lines = lines[:i]

    read_or_told("\n".join(lines))

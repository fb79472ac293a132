import tomllib
from enum import StrEnum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saltus.errors import FaultyFile, MethodError
from saltus.tomltable import Table
from saltus.tomltext import Lines, dotted, parse_toml, read_toml

TEXT = '''\
a = 1
[x.y]
b = """
c = 3
"""
d = [
  1, # ]
  2,
]
e.f = "[\\""
[[z]]
g = 1
[[z]]
g = { h = 2 }
[z.sub]
"odd key" = 1
[[z.many]]
q = '#'
r = 2
'''

PLACES = [
    (("a",), 1),
    (("x",), None),
    (("x", "y"), 2),
    (("x", "y", "b"), 3),
    (("x", "y", "c"), 2),
    (("x", "y", "d"), 6),
    (("x", "y", "d", 1), 6),
    (("x", "y", "e", "f"), 10),
    (("z",), 11),
    (("z", 0), 11),
    (("z", 0, "g"), 12),
    (("z", 1, "g", "h"), 14),
    (("z", 1, "sub", "odd key"), 16),
    (("z", 1, "many", 0, "q"), 18),
    (("z", 1, "many", 0, "r"), 19),
    (("z", 1, "missing"), 13),
    (("nowhere",), None),
]


@pytest.mark.parametrize(("path", "line"), PLACES)
def test_every_field_is_found_on_its_line(path, line):
    _, lines = parse_toml(TEXT, "text")
    assert lines.of(path) == line


def test_names_are_dotted_as_a_person_would_say_them():
    assert dotted(("test", 3, "load_kg")) == "test[3].load_kg"


def test_odd_characters_shift_no_lines_and_crash_nothing():
    text = '# a\u2028b = 1\x85\n"q\\" = " = 2\nc = 3\n'
    data, lines = parse_toml(text, "text")
    assert data["c"] == 3
    assert lines.of(("c",)) == 3


names = st.text("abcdefg", min_size=1, max_size=4)


@given(st.dictionaries(names, st.dictionaries(names, st.integers(), min_size=1), min_size=1))
def test_lines_of_any_plain_file(tables):
    written, where = [], {}
    for table, fields in tables.items():
        written += ["# a remark", f"[{table}]"]
        for key, value in fields.items():
            written.append(f"{key} = {value}")
            where[(table, key)] = len(written)
    data, lines = parse_toml("\n".join(written), "text")
    assert data == tables
    assert {path: lines.of(path) for path in where} == where


@given(st.text(max_size=60))
def test_rubbish_is_told_and_never_crashes(text):
    try:
        parsed = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        with pytest.raises(MethodError, match="not valid TOML"):
            parse_toml(text, "text", MethodError)
    else:
        assert parse_toml(text, "text", MethodError)[0] == parsed


def test_a_file_with_a_byte_order_mark(tmp_path):
    path = tmp_path / "bom.toml"
    path.write_bytes(b"\xef\xbb\xbfa = 1\n")
    assert read_toml(path)[0] == {"a": 1}


def test_a_folder_is_no_file(tmp_path):
    with pytest.raises(FaultyFile, match="cannot be read"):
        read_toml(tmp_path)


class Colour(StrEnum):
    RED = "red"
    BLUE = "blue"


def read(text, how):
    data, lines = parse_toml(text, "text")
    faults = []
    return how(Table(data, (), lines, faults)), [str(fault) for fault in faults]


def test_fields_that_are_right_come_back_as_they_are():
    assert read("a = 'x'", lambda t: t.text("a")) == ("x", [])
    assert read("", lambda t: t.text("a", "given")) == ("given", [])
    assert read("a = true", lambda t: t.flag("a")) == (True, [])
    assert read("a = 2", lambda t: t.number("a", high=3)) == (2.0, [])
    assert read("a = 2", lambda t: t.count("a")) == (2, [])
    assert read("a = [1, 2.5]", lambda t: t.pair("a")) == ((1, 2.5), [])
    assert read("a = 2", lambda t: t.pair("a", whole=True)) == ((2, 2), [])
    assert read("a = ['x']", lambda t: t.texts("a")) == (("x",), [])
    assert read("a = 'red'", lambda t: t.choice("a", Colour)) == (Colour.RED, [])
    assert read("", lambda t: t.choice("a", Colour, Colour.BLUE)) == (Colour.BLUE, [])
    assert read("a = ['blue']", lambda t: t.choices("a", Colour)) == ((Colour.BLUE,), [])
    assert read("a = { red = 1 }", lambda t: t.shares("a", Colour)) == ({Colour.RED: 1.0}, [])
    assert read("", lambda t: t.table("a", optional=True)) == (None, [])
    assert read("", lambda t: t.tables("a")) == ((), [])


WRONG = [
    ("", lambda t: t.text("a"), "a: it is missing: add it."),
    ("a = 1", lambda t: t.text("a"), "line 1, a: it must be a text; this is 1."),
    ("a = 1", lambda t: t.flag("a"), "line 1, a: it must be true or false; this is 1."),
    ("a = 1.5", lambda t: t.count("a"), "line 1, a: it must be a whole number; this is 1.5."),
    (
        "a = inf",
        lambda t: t.number("a", high=9),
        "line 1, a: inf is out of range: it must be a finite number.",
    ),
    ("", lambda t: t.pair("a"), "a: it is missing: add it."),
    (
        "a = [1, 2, 3]",
        lambda t: t.pair("a"),
        "line 1, a: a range is written [low, high], two numbers; this is [1, 2, 3].",
    ),
    (
        "a = [1, 20]",
        lambda t: t.pair("a", high=9, unit="kg"),
        "line 1, a: 20 kg is out of range: the most allowed is 9 kg.",
    ),
    ("a = [1]", lambda t: t.texts("a"), "line 1, a: every entry must be a text; this is [1]."),
    (
        "a = 'rad'",
        lambda t: t.choice("a", Colour),
        'line 1, a: "rad" is not one of: red, blue. Did you mean "red"?',
    ),
    ("a = [1]", lambda t: t.tables("a"), "line 1, a: every entry must be a table; this is [1]."),
    ("a = 1", lambda t: t.table("a"), "line 1, a: it must be a table; this is 1."),
    (
        "zzz = 1",
        lambda t: t.known(["a", "b"]),
        "line 1, zzz: there is no such field. Known are: a, b.",
    ),
]


@pytest.mark.parametrize(("text", "how", "said"), WRONG)
def test_fields_that_are_wrong_are_told(text, how, said):
    assert read(text, how)[1] == [said]


def test_long_values_are_shown_short():
    (said,) = read(f"a = '{'x' * 200}'", lambda t: t.count("a"))[1]
    assert len(said) < 120


def test_a_text_that_was_never_scanned_has_no_lines():
    assert Lines("").of(("a",)) is None


@pytest.mark.parametrize("form", ["{} = 1", "[{}]", "x = {{ {} = 1 }}"])
@pytest.mark.parametrize("part", ["a", '"a b"', "'.'"])
def test_a_name_of_very_many_parts_is_refused_before_it_fills_the_memory(form, part):
    name = " . ".join([part] * 20_000)
    with pytest.raises(FaultyFile, match="parts, joined by points"):
        parse_toml(form.format(name), "long.toml")
    assert parse_toml(form.format(" . ".join([part] * 30)), "short.toml")


@pytest.mark.parametrize("mark", ["a", '"', "'", "-", "a.", '"a', "a "])
def test_looking_for_such_names_takes_no_longer_than_the_text_is_long(mark):
    with pytest.raises(FaultyFile):
        parse_toml("text = " + mark * 300_000, "long.toml")

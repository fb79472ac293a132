import io
import zipfile

import pytest

from saltus.errors import UsageError
from saltus.record.several import MOST_RECORDS, read_records

TEXT = """\
saltus_record = 1
[athlete]
name = "Invented"
[[body_mass]]
date = 2026-01-01
mass_kg = 70
"""


def packed(**members):
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name, content in members.items():
            archive.writestr(name.replace("__", "/") + ".toml", content)
        archive.writestr("README.txt", "no record")
    return buffer.getvalue()


def test_files_and_zips_together():
    recording = TEXT + '[[test]]\nkind = "recording"\ndate = 2026-01-01\nfile = "jump.csv"\n'
    found = read_records(
        [
            ("C:\\fakepath\\ada.toml", TEXT.replace("\n", "\r\n").encode()),
            ("all.zip", packed(squad__bo=TEXT, squad__cy=recording)),
        ]
    )

    assert [each.name for each in found] == ["ada.toml", "bo.toml", "cy.toml"]
    assert all(each.record for each in found)
    assert found[0].text == TEXT
    assert [each.recordings for each in found] == [0, 0, 1]


def test_names_in_a_zip_lead_nowhere():
    [each] = read_records([("x.zip", packed(**{"..__..__etc__evil": TEXT}))])
    assert each.name == "evil.toml"


def test_faults_are_told_by_line_and_the_others_read():
    found = read_records(
        [
            ("a.toml", TEXT.replace("70", "7").encode()),
            ("b.toml", b"\xff\xfe"),
            ("c.toml", TEXT.encode()),
        ]
    )

    assert "line 6, body_mass[0].mass_kg" in found[0].fault
    assert "UTF-8" in found[1].fault
    assert [bool(each.record) for each in found] == [False, False, True]


def test_one_that_is_too_large_is_not_parsed():
    [each] = read_records([("a.toml", b"#" * 2_000_001)])
    assert "too large" in each.fault


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("a.zip", b"PK\x03\x04 broken", "damaged"),
        ("a.zip", None, "holds no record"),
    ],
)
def test_a_zip_that_cannot_be_used(name, content, said):
    with pytest.raises(UsageError, match=said):
        read_records([(name, packed() if content is None else content)])


def test_too_many():
    with pytest.raises(UsageError, match="At most"):
        read_records([("a.toml", b"x")] * (MOST_RECORDS + 1))


def test_a_zip_that_unpacks_to_too_much():
    big = packed(**{f"r{i}": "#" * 1_900_000 for i in range(12)})
    with pytest.raises(UsageError, match="At most"):
        read_records([("big.zip", big)])

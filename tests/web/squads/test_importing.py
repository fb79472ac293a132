import json
from html import unescape

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile

from saltus.web.models import Athlete
from saltus.web.records import record_of

pytestmark = pytest.mark.django_db

CSV = """\
Name;Sex;Born;Height (cm);Weight (kg);Group
Bo Hansen;m;2004-02-29;185;82,5;juniors
Cy Lund;f;03/04/2005;17;64;
Ada Ilves;f;2003-05-17;178;70;
;f;2003-05-17;178;70;
"""


def html(answer):
    return " ".join(unescape(answer.content.decode()).split())


def upload(client, squad, content=CSV, **fields):
    file = SimpleUploadedFile("../squad.csv", content.encode())
    return client.post(
        "/squad/import/spreadsheet/", {"file": file, "squad": squad.pk, "group": "new", **fields}
    )


def page_of(answer, squad, **fields):
    """What the page would send back."""
    told = answer.context["told"]
    sent = {
        "cells": answer.context["cells"],
        "header": told.header,
        "squad": squad.pk,
        "group": "new",
        **told.reading,
        **{f"column-{i}": target for i, target in enumerate(told.columns)},
    }
    for line in answer.context["lines"]:
        for cell in line["cells"]:
            if cell["mend"]:
                sent[cell["mend"]] = cell["text"]
    return {**sent, **fields}


def test_the_preview_shows_each_problem_at_its_cell_and_adds_nothing(coach, squad, athlete):
    page = html(upload(coach, squad))

    assert "C3: '03/04/2005' could be two dates" in page
    assert "D3: 17 cm cannot be right" in page
    assert "A5: A name is needed" in page
    assert "1 athlete can be added" in page  # Ada is there already, two have faults
    assert "2 rows have problems" in page
    assert Athlete.objects.count() == 1


def test_mended_cells_are_added_and_nobody_twice(coach, squad, athlete):
    first = upload(coach, squad)
    sent = page_of(first, squad, dates="day", step="add", **{"cell-2-3": "170"})

    second = coach.post("/squad/import/spreadsheet/", sent)

    assert sorted(Athlete.objects.values_list("name", "group")) == [
        ("Ada Ilves", "seniors"),
        ("Bo Hansen", "juniors"),
        ("Cy Lund", "new"),
    ]
    assert str(record_of(Athlete.objects.get(name="Cy Lund")).person.born) == "2005-04-03"
    assert "A5: A name is needed" in html(second)  # what is left can still be mended

    third = page_of(second, squad, step="add", again="3", **{"cell-4-0": "Di Moe"})
    answer = coach.post("/squad/import/spreadsheet/", third)

    assert answer.url == "/"
    names = sorted(Athlete.objects.values_list("name", flat=True))
    assert names == ["Ada Ilves", "Ada Ilves", "Bo Hansen", "Cy Lund", "Di Moe"]


def test_who_stands_there_twice_is_added_once(coach, squad):
    content = "Name;Weight (kg)\nBo Hansen;82\nbo hansen;82\n"
    answer = upload(coach, squad, content)
    assert "1 athlete can be added" in html(answer)
    assert "There already: tick to add again" in html(answer)

    coach.post("/squad/import/spreadsheet/", page_of(answer, squad, step="add"))
    assert [athlete.name for athlete in Athlete.objects.all()] == ["Bo Hansen"]


def test_a_row_leads_to_its_cells_at_fault(coach, squad):
    page = html(upload(coach, squad))
    assert 'href="#cell-2-3"' in page
    assert 'id="cell-2-3"' in page


@pytest.mark.parametrize(
    ("language", "born", "weighed", "fault"),
    [
        (
            "en",
            "29 Feb 2004",
            "1 Oct 2026",
            "C3: 17 May 2099 is too late for somebody weighed on 2 ",
        ),
        (
            "de",
            "29. Feb. 2004",
            "1. Okt. 2026",
            "C3: 17. Mai 2099 ist zu spät für jemanden, der am ",
        ),
    ],
)
def test_days_are_written_as_whoever_reads_writes_them(
    coach, squad, language, born, weighed, fault
):
    coach.cookies[settings.LANGUAGE_COOKIE_NAME] = language
    type(squad.owner).objects.filter(pk=squad.owner.pk).update(language=language)
    content = (
        "Name;Weight (kg);Born;Weighed on\nBo;82;2004-02-29;01.10.2026\n"
        "Cy;64;2099-05-17;2026-10-02\n"
    )
    page = html(upload(coach, squad, content))

    assert f"<span>{born}</span>" in page
    assert f"<span>{weighed}</span>" in page
    assert fault in page
    assert 'value="2099-05-17"' in page  # to be mended as it was typed


def test_on_a_phone_each_cell_says_its_column(coach, squad):
    page = html(upload(coach, squad))
    assert '<td data-label="Height (cm)"> <span>185</span>' in page


def test_columns_can_be_named_otherwise(coach, squad):
    first = upload(coach, squad, "Who,How heavy\nBo,82\n")
    assert "0 athletes can be added" in html(first)

    sent = page_of(
        first, squad, step="add", **{"column-0": "athlete.name", "column-1": "body_mass.mass"}
    )
    coach.post("/squad/import/spreadsheet/", sent)

    assert Athlete.objects.get().name == "Bo"


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("cells", "[[1]]"),
        ("cells", "{}"),
        ("cells", "[" * 100_000),
        ("cells", json.dumps([["a", "b"], ["c"]])),
        ("header", "77"),
        ("header", "x"),
        ("length", "furlongs"),
        ("squad", "999"),
    ],
)
def test_a_page_that_was_tampered_with_is_refused(coach, squad, name, value):
    sent = page_of(upload(coach, squad), squad, step="add") | {name: value}
    assert coach.post("/squad/import/spreadsheet/", sent).status_code == 400
    assert not Athlete.objects.exists()


def test_what_is_no_spreadsheet_is_told_at_the_field(coach, squad):
    answer = upload(coach, squad, "\0\0")

    assert answer.status_code == 422
    assert "This is no spreadsheet" in html(answer).split('id="id_file_error"')[1][:200]


def test_records_are_added_and_faults_told(coach, squad, athlete):
    files = [
        SimpleUploadedFile("bo.toml", athlete.text.replace("Ada Ilves", "Bo").encode()),
        SimpleUploadedFile("ada.toml", athlete.text.encode()),
        SimpleUploadedFile("bad.toml", athlete.text.replace("178", "17").encode()),
    ]

    page = html(coach.post("/squad/import/records/", {"files": files, "squad": squad.pk}))

    assert "1 athlete added" in page
    assert "the name is there already" in page
    assert "line 7, athlete.stature_cm" in page
    bo = Athlete.objects.get(name="Bo")
    assert "# invented" in bo.text
    assert bo.revisions.count() == 1


def test_a_record_can_be_added_again(coach, squad, athlete):
    files = [SimpleUploadedFile("ada.toml", athlete.text.encode())]
    coach.post("/squad/import/records/", {"files": files, "squad": squad.pk, "again": "on"})
    assert Athlete.objects.filter(name="Ada Ilves").count() == 2


def test_a_broken_zip_is_told_at_the_field(coach, squad):
    files = [SimpleUploadedFile("all.zip", b"PK\x03\x04 broken")]
    answer = coach.post("/squad/import/records/", {"files": files, "squad": squad.pk})
    assert answer.status_code == 422
    assert "damaged" in html(answer)


def test_only_those_who_may_edit_import(client_of, reader, outsider, squad, athlete):
    assert client_of(reader).get("/squad/import/").status_code == 404
    assert upload(client_of(reader), squad).status_code == 404
    assert upload(client_of(outsider), squad).status_code == 422
    files = [SimpleUploadedFile("bo.toml", athlete.text.replace("Ada", "Bo").encode())]
    client_of(outsider).post("/squad/import/records/", {"files": files, "squad": squad.pk})
    assert Athlete.objects.count() == 1

"""Days in short are those of the reader's language, from dates and from documents."""

import datetime as dt
import re
from pathlib import Path

import pytest
from django.utils import translation
from django.utils.formats import date_format

import saltus.web
from saltus.web.days import iso_date, short_day
from saltus.web.formats.de import formats as german
from saltus.web.formats.en import formats as english


def test_a_day_is_told_in_the_language_of_whoever_reads():
    told = {}
    for language in ("en", "de", "en"):
        with translation.override(language):
            told[language] = short_day("2027-03-04")
    assert told == {"en": "4 Mar 2027", "de": "4. März 2027"}


def test_every_language_has_a_way_to_write_each_kind_of_day():
    named = [
        {name for name in vars(module) if name.endswith("_FORMAT")} for module in (english, german)
    ]
    assert named[0] == named[1]
    assert named[0] >= {each for _page, each in formats_on_pages() if each != "Y-m-d"}


def test_german_days_are_ordinals_and_have_a_comma_after_the_day_of_the_week():
    # Amtliches Regelwerk der deutschen Rechtschreibung, section 104 for the full stop and section
    # 77 (3) for the comma; from memory.
    day = dt.datetime(2026, 11, 28, 9, 5, tzinfo=dt.UTC)
    with translation.override("de"):
        written = {name: date_format(day, name) for name in vars(german) if "_FORMAT" in name}
    assert written.pop("DATETIME_FORMAT") == "28. Nov. 2026, 09:05"
    assert set(written.values()) == {
        "28. Nov. 2026",
        "28. Nov.",
        "28. November 2026",
        "Sa, 28. Nov. 2026",
        "Sa, 28. Nov.",
        "Sa, 28.",
        "Samstag, 28. November 2026",
        "Samstag, 28. November",
    }


def formats_on_pages():
    """Names of formats that templates give to the filter, with where."""
    for page in Path(saltus.web.__file__).parent.rglob("templates/**/*.html"):
        for name in re.findall(r"\|date:[\"']([^\"']+)[\"']", page.read_text()):
            yield page.name, name


def test_pages_name_how_a_day_is_written_and_leave_it_to_the_language():
    iso = "Y-m-d"  # for the machine: values, keys
    spelt_out = [each for each in formats_on_pages() if not each[1].endswith("_FORMAT")]
    assert [each for each in spelt_out if each[1] != iso] == []


def test_dates_and_documents_tell_the_same_day():
    assert short_day(dt.date(2027, 3, 4)) == short_day("2027-03-04")
    assert iso_date(dt.date(2027, 3, 4)) == iso_date("2027-03-04")


def test_what_is_no_date_is_an_error_of_the_caller():
    with pytest.raises(ValueError, match="month"):
        short_day("2027-13-04")

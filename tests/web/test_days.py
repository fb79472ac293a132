"""Days in short are those of the reader's language, from dates and from documents."""

import datetime as dt

import pytest
from django.utils import translation

from saltus.web.days import iso_date, short_day


def test_a_day_is_told_in_the_language_of_whoever_reads():
    told = {}
    for language in ("en", "de", "en"):
        with translation.override(language):
            told[language] = short_day("2027-03-04")
    assert told == {"en": "4 Mar 2027", "de": "4 Mär 2027"}


def test_dates_and_documents_tell_the_same_day():
    assert short_day(dt.date(2027, 3, 4)) == short_day("2027-03-04")
    assert iso_date(dt.date(2027, 3, 4)) == iso_date("2027-03-04")


def test_what_is_no_date_is_an_error_of_the_caller():
    with pytest.raises(ValueError, match="month"):
        short_day("2027-13-04")

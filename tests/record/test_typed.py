import datetime as dt

import pytest

from saltus.errors import UsageError
from saltus.record.typed import date_typed, measure_typed, number_typed


@pytest.mark.parametrize(
    ("text", "value"),
    [("27", 27), ("27.5", 27.5), ("27,5", 27.5), ("27 1/2", 27.5), ("1/2", 0.5), (" 3 ", 3)],
)
def test_numbers(text, value):
    assert number_typed(text) == value


@pytest.mark.parametrize("text", ["", "tall", "1/0", "1 2", "1e3", "nan", "inf"])
def test_no_numbers(text):
    with pytest.raises(UsageError, match="is no number"):
        number_typed(text)


@pytest.mark.parametrize(
    ("text", "measure"),
    [
        ("178", (178, None)),
        ("178 cm", (178, "cm")),
        ("1.78m", (1.78, "m")),
        ("1,78 m", (1.78, "m")),
        ("70 1/2 in", (70.5, "in")),
        ("154 lbs", (154, "lb")),
        ("5'10\"", (70, "in")),
        ("5 ft 10 1/2 in", (70.5, "in")),
        ("6'", (72, "in")),
    ],
)
def test_measures(text, measure):
    assert measure_typed(text) == measure


@pytest.mark.parametrize("text", ["tall", "cm", "178 furlongs", ""])
def test_no_measures(text):
    with pytest.raises(UsageError):
        measure_typed(text)


DAY = dt.date(2003, 5, 17)


@pytest.mark.parametrize(
    "text",
    ["2003-05-17", "2003-5-17", "2003-05-17 00:00:00", "17.05.2003", "17/05/2003", "05/17/2003"],
)
def test_dates(text):
    assert date_typed(text) == DAY


def test_a_date_that_could_be_two_is_not_guessed():
    with pytest.raises(UsageError, match="could be two dates"):
        date_typed("03/04/2001")
    assert date_typed("03/04/2001", day_first=True) == dt.date(2001, 4, 3)
    assert date_typed("03/04/2001", day_first=False) == dt.date(2001, 3, 4)
    assert date_typed("04/04/2001") == dt.date(2001, 4, 4)


@pytest.mark.parametrize("text", ["2003", "31.02.2003", "2003-13-01", "yesterday", "17-05/2003"])
def test_no_dates(text):
    with pytest.raises(UsageError):
        date_typed(text)

"""Figures come back as they were typed, in either system of units."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saltus.errors import UsageError
from saltus.record.trials import Quantity
from saltus.web.testdays.typed import shown, sign_of, to_si
from saltus.web.units import Units

METRIC, IMPERIAL = Units(), Units("in", "lb")


@pytest.mark.parametrize(
    ("text", "quantity", "units", "value"),
    [
        ("34,5", Quantity.LENGTH, METRIC, 0.345),
        ("27 1/2", Quantity.LENGTH, IMPERIAL, 0.6985),  # an inch is 25.4 mm by definition
        ("225", Quantity.MASS, IMPERIAL, 102.05828325),  # a pound is 0.45359237 kg by definition
        ("225 lb", Quantity.MASS, METRIC, 102.05828325),
        ("100kg", Quantity.MASS, IMPERIAL, 100.0),
        ('27 1/2"', Quantity.LENGTH, METRIC, 0.6985),
        ("9 ft 2", Quantity.LENGTH, METRIC, 2.794),  # a foot is twelve inches
        ("2.79 m", Quantity.LENGTH, IMPERIAL, 2.79),
        ("512 ms", Quantity.MILLISECONDS, METRIC, 0.512),
        ("512", Quantity.MILLISECONDS, IMPERIAL, 0.512),
        ("5", Quantity.COUNT, METRIC, 5.0),
    ],
)
def test_typed_figures_are_si_inside(text, quantity, units, value):
    assert to_si(text, quantity, units) == pytest.approx(value, rel=1e-12)


@given(
    tenths=st.integers(1, 40000),
    quantity=st.sampled_from([Quantity.LENGTH, Quantity.MASS, Quantity.MILLISECONDS]),
    units=st.sampled_from([METRIC, IMPERIAL]),
)
def test_what_is_typed_to_a_tenth_is_shown_alike(tenths, quantity, units):
    text = f"{tenths / 10:.1f}"

    again = shown(to_si(text, quantity, units), quantity, units)

    assert float(again) == float(text)


def test_whole_numbers_keep_their_noughts():
    assert shown(1.0, Quantity.LENGTH, METRIC) == "100"
    assert shown(2300.0, Quantity.FORCE, METRIC) == "2300"
    assert shown(0.28, Quantity.LENGTH, METRIC, digits=1) == "28.0"


@pytest.mark.parametrize(
    ("text", "quantity"), [("80 kg", Quantity.LENGTH), ("80 cm", Quantity.MASS)]
)
def test_a_unit_of_something_else_is_refused(text, quantity):
    with pytest.raises(UsageError, match="unit of something else"):
        to_si(text, quantity, METRIC)


def test_a_count_below_nought_is_none():
    with pytest.raises(UsageError):
        to_si("-1", Quantity.COUNT, METRIC)


def test_units_have_their_signs():
    assert [sign_of(q, IMPERIAL) for q in (Quantity.LENGTH, Quantity.MASS, Quantity.COUNT)] == [
        "in",
        "lb",
        "",
    ]


@pytest.mark.parametrize(
    ("text", "typed_in", "quantity", "read_in", "shown_as"),
    [
        ("15.6", IMPERIAL, Quantity.LENGTH, METRIC, "39.6"),  # 39.624 cm
        ("15 1/2", IMPERIAL, Quantity.LENGTH, METRIC, "39.4"),  # 39.37 cm
        ("40", METRIC, Quantity.LENGTH, IMPERIAL, "15.7"),  # 15.748 in
        ("39.62", METRIC, Quantity.LENGTH, METRIC, "39.62"),
        ("27 1/8", IMPERIAL, Quantity.LENGTH, IMPERIAL, "27.125"),
        ("15 1/4", IMPERIAL, Quantity.LENGTH, IMPERIAL, "15.25"),
        ("80", METRIC, Quantity.MASS, IMPERIAL, "176.4"),
        ("1.25", METRIC, Quantity.MASS, METRIC, "1.25"),
        ("2.5", IMPERIAL, Quantity.MASS, METRIC, "1.13"),
    ],
)
def test_a_converted_figure_claims_no_more_than_was_measured(
    text, typed_in, quantity, read_in, shown_as
):
    assert shown(to_si(text, quantity, typed_in), quantity, read_in) == shown_as

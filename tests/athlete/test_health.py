import datetime as dt

import pytest

from saltus.athlete.health import Pain, PainBand, Restriction, pain_band

DAY = dt.date(2026, 11, 1)


@pytest.mark.parametrize(
    ("level", "settled", "band"),
    [
        (0, None, PainBand.SAFE),
        (2, True, PainBand.SAFE),
        (2, False, PainBand.ACCEPTABLE),
        (3, None, PainBand.ACCEPTABLE),
        (5, True, PainBand.ACCEPTABLE),
        (5, False, PainBand.STOP),
        (6, True, PainBand.STOP),
        (10, False, PainBand.STOP),
    ],
)
def test_bands_of_the_published_scale(level, settled, band):
    """Silbernagel et al. 2007, Am J Sports Med 35:897-906: 2, 5, and the next morning."""
    assert pain_band(Pain(DAY, "left knee", level, settled)) is band


def test_a_restriction_holds_from_its_first_to_its_last_day():
    until_lifted = Restriction("jumping", DAY)
    week = Restriction("jumping", DAY, DAY + dt.timedelta(days=6))

    assert until_lifted.holds(DAY + dt.timedelta(days=900))
    assert week.holds(DAY)
    assert week.holds(DAY + dt.timedelta(days=6))
    assert not week.holds(DAY + dt.timedelta(days=7))
    assert not week.holds(DAY - dt.timedelta(days=1))

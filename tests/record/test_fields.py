"""Units at the edge: what is written in one is read back to the last digit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saltus.quantities import CENTIMETRE, INCH, POUND
from saltus.record.fields import CM, IN, KG, LB, MS


@pytest.mark.parametrize(
    ("unit", "size"), [(CM, CENTIMETRE), (IN, INCH), (KG, 1.0), (LB, POUND), (MS, 1e-3)]
)
def test_units_have_their_sizes(unit, size):
    assert unit.to_si(1.0) == size


@given(st.sampled_from([CM, IN, KG, LB, MS]), st.integers(0, 100000))
def test_what_people_write_comes_back(unit, hundredths):
    written = hundredths / 100

    assert unit.from_si(unit.to_si(written)) == written


def test_centimetres_are_read_as_the_nearest_number_of_metres():
    # 34.7 * 0.01 is 0.34700000000000003 in binary arithmetic.
    assert CM.to_si(34.7) == 0.347

import numpy as np
import pytest

from saltus.athlete.assessment import Worth
from saltus.athlete.history import BLOCK_WEEKS
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.quantities import Estimate
from saltus.training.dose import KNOTS, response, segments, weekly_worth


def test_an_ordinary_week_earns_its_share_of_the_block():
    assert response(0.0) == 0.0
    assert response(1.0) == pytest.approx(1.0)


def test_returns_diminish():
    doses = np.linspace(0.0, 2.0, 41)
    steps = np.diff([response(d) for d in doses])

    assert np.all(steps > 0)
    assert np.all(np.diff(steps) < 0)


def test_the_straight_pieces_touch_the_response_at_the_knots_and_lie_below_between():
    def straight(dose):
        return min(slope * dose + base for slope, base in segments())

    assert [straight(k) for k in KNOTS] == pytest.approx([response(k) for k in KNOTS])
    for dose in np.linspace(0.0, 2.0, 101):
        assert straight(dose) <= response(dose) + 1e-12
        assert straight(dose) >= response(dose) - 0.02


def test_a_quality_worth_nothing_is_still_kept_up():
    worth = [Worth(Quality.MAX_STRENGTH, Estimate.normal(0.03, 0.01), 0.9)]

    weekly = weekly_worth(worth)

    assert weekly[Quality.MAX_STRENGTH] == pytest.approx(0.03 / BLOCK_WEEKS)
    others = [weekly[q] for q in TRAINABLE if q is not Quality.MAX_STRENGTH]
    assert others == pytest.approx(3 * [0.003 / BLOCK_WEEKS])

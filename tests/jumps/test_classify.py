import pytest

from saltus.jumps.classify import Descent, descent, kind_of
from saltus.jumps.flight import visits
from saltus.jumps.integrate import curves
from saltus.jumps.jump import JumpKind
from saltus.jumps.plate import prepare

DEEP = Descent(1000.0, 800.0, 500.0, 0.30, 2.1)
SLOW = Descent(1000.0, 400.0, 100.0, 0.35, 1.15)
SHALLOW = Descent(1000.0, 950.0, 900.0, 0.02, 1.1)


@pytest.mark.parametrize(
    ("way", "facts", "kind"),
    [
        (DEEP, {}, JumpKind.CMJ),
        (SLOW, {}, JumpKind.SJ),
        (SHALLOW, {}, JumpKind.SJ),
        (DEEP, {"stood_before": False}, JumpKind.CMJ),
        # 8 cm from a squat is a dip, 8 cm from standing a countermovement.
        (Descent(1000.0, 900.0, 800.0, 0.08, 1.8), {"crouch_m": 0.35}, JumpKind.SJ),
        (Descent(1000.0, 900.0, 800.0, 0.08, 1.8), {}, JumpKind.CMJ),
        (DEEP, {"came_from_air": True, "contact_s": 0.25}, JumpKind.DJ),
        (DEEP, {"came_from_air": True, "contact_s": 2.5}, JumpKind.CMJ),
        (DEEP, {"came_from_air": True, "contact_s": 0.2, "in_series": True}, JumpKind.HOPS),
    ],
)
def test_kinds(way, facts, kind):
    usual = {
        "came_from_air": False,
        "contact_s": 3.0,
        "in_series": False,
        "stood_before": True,
        "crouch_m": None,
    }

    assert kind_of(way, **{**usual, **facts}) is kind


def test_the_way_down_is_found(plate):
    truth = plate.sines()
    trace = prepare(plate.recording(truth.force))
    assert len(visits(trace)) == 1
    curve = curves(trace, 1450, 2270, weight_n=plate.weight, momentum_n_s=0.0, at=1450.0)

    way = descent(curve, truth.take_off * 1000)

    assert way.fastest == pytest.approx(truth.fastest * 1000, abs=4)
    assert way.lowest == pytest.approx(truth.lowest * 1000, abs=2)
    assert way.dip_m == pytest.approx(truth.depth, abs=0.003)
    assert way.force_at_lowest > 1.8

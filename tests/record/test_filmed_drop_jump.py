"""A drop jump that was filmed: flight from frames, and the error that goes with the film."""

import pytest

from saltus.athlete.measurement_error import drop_jump_error
from saltus.athlete.observations import DropJump, JumpMethod
from saltus.errors import RecordError
from saltus.record import parse

RECORD = """\
saltus_record = 1

[athlete]
name = "Ada Ilves"

[[body_mass]]
date = 2026-01-10
mass_kg = 70.0

[[test]]
kind = "drop_jump"
date = 2026-01-10
box_cm = 30
frames = [120, 120]
frame_rate_hz = 240
contacts_ms = [200, 210]
"""


def test_frames_make_it_a_film_with_its_rate():
    (jump,) = parse(RECORD).tests
    assert isinstance(jump, DropJump)
    assert jump.method is JumpMethod.FILM
    assert jump.frame_rate_hz == 240
    assert jump.heights_m == pytest.approx((0.30646, 0.30646), abs=1e-5)


def test_a_slow_film_counts_for_less():
    (fast,) = parse(RECORD).tests
    slow_record = RECORD.replace("240", "30").replace("[120, 120]", "[15, 15]")
    (slow,) = parse(slow_record).tests
    assert drop_jump_error(slow).contact_sd_s > 2 * drop_jump_error(fast).contact_sd_s


def test_frames_go_with_no_other_method():
    with pytest.raises(RecordError, match="mat does not go with frames"):
        parse(RECORD.replace("box_cm", 'method = "mat"\nbox_cm'))

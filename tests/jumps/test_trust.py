import pytest

from saltus.jumps.catalogue import measure
from saltus.jumps.integrate import Basis, Source
from saltus.jumps.jump import JumpKind, Trust
from saltus.jumps.push import NEEDS_VELOCITY
from saltus.jumps.trust import Witness, judge
from saltus.jumps.weighing import RestLine, Stand

STAND = Stand(0, 1000, 765.0, 0.004, 1.0)
LINE = RestLine(765.0, 2000.0, 190.0, (1.0, 0.0, 1.0), 1.0, (STAND,))
SOUND = Witness(JumpKind.CMJ, Basis(LINE, Source.BOTH, STAND, STAND))


def heights(flight, impulse, *, impulse_se=0.002):
    found = {}
    if flight is not None:
        found["flight_time"] = measure("flight_time", (8 * flight / 9.80665) ** 0.5, 0.001)
        found["height_flight"] = measure("height_flight", flight, 0.001)
    if impulse is not None:
        found["height_impulse"] = measure("height_impulse", impulse, impulse_se)
        found["take_off_velocity"] = measure("take_off_velocity", 2.0, 0.01)
        found["peak_power"] = measure("peak_power", 3000.0, 10.0)
    if flight is not None and impulse is not None:
        found["height_difference"] = measure("height_difference", flight - impulse, impulse_se)
    return found


def test_two_heights_that_agree_are_sound():
    verdict = judge(SOUND, heights(0.31, 0.30))

    assert verdict.trust is Trust.SOUND
    assert verdict.reasons == ()
    assert verdict.measures["height_impulse"].value == 0.30


def test_a_height_that_nobody_jumps_is_not_shown():
    """Time that runs at half its rate makes 32 cm into 127 cm, by impulse and by flight alike."""
    verdict = judge(SOUND, heights(1.27, 1.27))

    assert verdict.trust is Trust.REJECTED
    assert verdict.measures == {}
    assert any("more than anybody jumps" in r and "--rate" in r for r in verdict.reasons)


def test_the_highest_jumps_there_are_are_shown():
    """Rises of some 0.8 m have been measured on plates (from memory)."""
    verdict = judge(SOUND, heights(0.85, 0.84))

    assert verdict.trust is Trust.SOUND


def test_bent_knees_are_told_in_milliseconds():
    """32 cm need 0.511 s; 38 cm read 0.557 s."""
    verdict = judge(SOUND, heights(0.38, 0.32))

    assert verdict.trust is Trust.DOUBTFUL
    assert any("bent knees" in r and "46 ms too long" in r for r in verdict.reasons)
    assert verdict.measures["height_impulse"].value == 0.32


def test_a_take_off_faster_than_its_flight_is_withheld():
    """No landing explains an impulse height far above the flight."""
    verdict = judge(SOUND, heights(0.095, 0.468))

    assert verdict.trust is Trust.DOUBTFUL
    assert "height_flight" in verdict.measures
    assert not NEEDS_VELOCITY & set(verdict.measures)


def test_a_poor_weighing_accuses_no_landing():
    verdict = judge(SOUND, heights(0.38, 0.32, impulse_se=0.015))

    assert "height_impulse" not in verdict.measures
    assert not any("bent knees" in reason for reason in verdict.reasons)


def test_time_in_the_air_that_no_take_off_allows_is_withheld():
    verdict = judge(SOUND, heights(0.9, 0.3))

    assert "height_flight" not in verdict.measures
    assert "flight_time" not in verdict.measures
    assert verdict.measures["height_impulse"].value == 0.3
    assert any("Left the plate" in reason for reason in verdict.reasons)


def test_an_uncertain_height_is_withheld_or_doubted():
    assert "height_impulse" not in judge(SOUND, heights(0.3, 0.3, impulse_se=0.03)).measures
    doubted = judge(SOUND, heights(0.3, 0.3, impulse_se=0.013))
    assert "height_impulse" in doubted.measures
    assert any("only known to 1.3 cm" in reason for reason in doubted.reasons)


def test_a_jump_without_any_height_is_rejected_and_shows_no_number():
    witness = Witness(JumpKind.CMJ, None, landed=False)
    verdict = judge(witness, heights(None, 0.3))

    assert verdict.trust is Trust.REJECTED
    assert verdict.measures == {}
    assert any("beside it" in reason for reason in verdict.reasons)


@pytest.mark.parametrize(
    ("witness", "words"),
    [
        (Witness(JumpKind.CMJ, None), "Stand still for a second before the jump"),
        (Witness(JumpKind.DJ, None), "stand still for a second after the landing"),
        (Witness(JumpKind.SJ, SOUND.basis, held=False), "hold it still"),
        (Witness(JumpKind.CMJ, SOUND.basis, dipped_twice=True), "go down once"),
        (Witness(JumpKind.CMJ, SOUND.basis, beside=True), "landed beside the plate"),
        (Witness(JumpKind.CMJ, SOUND.basis, bounced=True), "land once"),
        (Witness(JumpKind.CMJ, SOUND.basis, onset_known=False), "until you go"),
        (Witness(JumpKind.CMJ, SOUND.basis, starts_late=True), "start it a few seconds earlier"),
        (Witness(JumpKind.CMJ, SOUND.basis, landed=False, cut_off=True), "two more seconds"),
        (Witness(JumpKind.DJ, SOUND.basis, dropped=False), "no drop"),
        (Witness(JumpKind.CMJ, SOUND.basis, doubts=("Sampled slowly.",)), "Sampled slowly."),
        (
            Witness(JumpKind.CMJ, Basis(LINE, Source.BEFORE, STAND, STAND, broken=True)),
            "do not agree",
        ),
        (Witness(JumpKind.CMJ, Basis(LINE, Source.AFTER, None, STAND)), "measured back from"),
        (Witness(JumpKind.CMJ, Basis(LINE, Source.SHORT, STAND, None)), "too short to weigh"),
    ],
)
def test_every_reason_says_what_to_do(witness, words):
    verdict = judge(witness, heights(0.31, 0.30))

    assert verdict.trust is Trust.DOUBTFUL
    assert sum(words in reason for reason in verdict.reasons) == 1
    assert all(reason.endswith(".") for reason in verdict.reasons)

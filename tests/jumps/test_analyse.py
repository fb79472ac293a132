import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from saltus.athlete.pushoff_terms import Start
from saltus.jumps.analyse import analyse
from saltus.jumps.catalogue import CATALOGUE
from saltus.jumps.jump import JumpKind, Trust
from saltus.recordings.recording import Recording

CMJ, SJ, DJ = JumpKind.CMJ, JumpKind.SJ, JumpKind.DJ


@pytest.fixture(scope="module")
def session(plate_at):
    """Step on, jump, squat jump, step off; with the time of each take-off and its height."""
    plate = plate_at(1000.0)
    pieces = [plate.empty(1), plate.step_on(), plate.still(1.2)]
    truths = []
    for start in (Start.COUNTERMOVEMENT, Start.SQUAT):
        made = plate.model(start)
        truths.append((sum(p.size for p in pieces) / 1000 + made.take_off_s, made.height_m))
        pieces.append(made.force_n)
    pieces += [plate.step_off(), plate.empty(1.5)]
    return plate.recording(*pieces).total_n, truths


def test_every_jump_is_found_and_none_besides(plate):
    result = analyse(
        plate.recording(
            plate.empty(2),
            plate.step_on(),
            plate.still(1.5),
            plate.cmj(),
            plate.bend(0.4, 1.0),
            plate.still(1),
            plate.sj(),
            plate.cmj(),
            plate.step_off(),
            plate.empty(2),
            plate.dj(),
            plate.step_off(),
            plate.empty(1),
        )
    )

    assert [jump.kind for jump in result.jumps] == [CMJ, SJ, CMJ, DJ]
    assert all(jump.trust is Trust.SOUND for jump in result.jumps), [
        jump.reasons for jump in result.jumps
    ]
    assert result.body_weight_n.value == pytest.approx(plate.weight, abs=1.0)
    heights = [jump.height_impulse_m for jump in result.jumps]
    assert heights == pytest.approx([0.3315, 0.2995, 0.3315, 0.1769], abs=0.006)


@pytest.mark.parametrize(
    ("movement", "words"),
    [
        (lambda p: [p.still(3)], "never left the plate"),
        (lambda p: [p.empty(3)], "Nobody stood"),
        (lambda p: [p.still(2), p.step_off(), p.empty(0.5), p.step_on(), p.still(2)], "no push"),
        (lambda p: [p.still(0.2)], "shorter than half a second"),
    ],
)
def test_a_recording_without_jumps_says_why(plate, movement, words):
    result = analyse(plate.recording(*movement(plate)))

    assert result.jumps == ()
    assert any(words in note for note in result.notes)


def test_a_swing_before_the_jump_keeps_the_height_and_loses_the_time(plate):
    recording = plate.recording(plate.still(1.5), plate.bend(0.12, 0.5), plate.cmj()[1500:])
    (found,) = analyse(recording).jumps

    assert found.trust is Trust.DOUBTFUL
    assert any("second dip" in reason for reason in found.reasons)
    assert found.height_impulse_m == pytest.approx(0.3315, abs=0.004)
    assert found.value("time_to_take_off") is None


def test_without_a_stand_before_it_is_measured_back_from_the_landing(plate):
    (found,) = analyse(plate.recording(plate.cmj()[1650:])).jumps

    assert found.kind is CMJ
    assert found.trust is Trust.DOUBTFUL
    assert found.onset_s is None
    assert found.value("time_to_take_off") is None
    assert found.height_impulse_m == pytest.approx(
        0.3315, abs=3 * found.measures["height_impulse"].se
    )


def test_a_landing_beside_the_plate_leaves_the_take_off(plate):
    (found,) = analyse(plate.recording(plate.cmj()[:2195], plate.empty(3))).jumps

    assert found.trust is Trust.DOUBTFUL
    assert any(reason.startswith("Left the plate") for reason in found.reasons)
    assert found.landing_s is None
    assert found.flight_time_s is None
    assert found.height_impulse_m == pytest.approx(0.3315, abs=0.004)


def test_coming_back_after_a_walk_is_no_flight_time(plate):
    recording = plate.recording(
        plate.cmj()[:2195], plate.empty(0.95), plate.step_on(), plate.still(2)
    )
    (found,) = analyse(recording).jumps

    assert found.flight_time_s is None
    assert found.landing_s is None
    assert found.height_impulse_m == pytest.approx(0.3315, abs=0.004)
    assert not any("landing" in name for name in found.measures)
    assert [phase.name for phase in found.phases][-1] == "propulsion"


def test_where_the_stand_is_not_believed_the_flight_tells_the_phases(plate):
    """A bar leant on before the jump: forward integration would be far too fast."""
    truth = plate.sines(before=1.5)
    force = truth.force[:3300].copy()
    force[:1400] *= 0.93
    (found,) = analyse(plate.recording(force)).jumps
    at = {phase.name: phase for phase in found.phases}

    assert found.trust is Trust.DOUBTFUL
    assert found.height_impulse_m is None
    assert found.value("peak_power") is None
    assert found.height_flight_m == pytest.approx(truth.height, abs=0.003)
    assert at["propulsion"].start_s == pytest.approx(truth.lowest, abs=0.03)


def test_bent_knees_at_landing(plate):
    (found,) = analyse(plate.recording(plate.cmj(landing_bend_m=0.1))).jumps

    assert found.trust is Trust.DOUBTFUL
    assert any("bent knees" in reason for reason in found.reasons)
    assert found.height_impulse_m == pytest.approx(0.3315, abs=0.004)


def test_nobody_still_before_or_after(plate):
    (found,) = analyse(plate.recording(plate.cmj()[1700:2990])).jumps

    assert found.height_impulse_m is None
    assert found.take_off_velocity_m_s is None
    assert found.height_flight_m == pytest.approx(0.3315, abs=0.004)
    assert any("Stand still for a second before the jump" in r for r in found.reasons)


def test_the_coach_may_say_what_it_was(plate):
    recording = plate.recording(plate.cmj())

    for kind in (CMJ, SJ, DJ, JumpKind.HOPS):
        (found,) = analyse(recording, kind=kind).jumps
        assert found.kind is kind
    assert analyse(recording, kind=JumpKind.ISOMETRIC).jumps == ()


def test_doubts_about_the_recording_reach_every_jump(plate):
    recording = plate.recording(plate.cmj(), doubts=("Sampled at 300 Hz only.",))
    result = analyse(recording)

    assert result.doubts == ("Sampled at 300 Hz only.",)
    assert result.jumps[0].trust is Trust.DOUBTFUL
    assert result.jumps[0].reasons == ("Sampled at 300 Hz only.",)


def test_an_unzeroed_plate_is_taken_off_and_said(plate):
    result = analyse(plate.recording(plate.cmj(), level=15.0))

    assert result.body_weight_n.value == pytest.approx(plate.weight, abs=1.0)
    assert any("15.0 N" in note or "14.9 N" in note or "15.1 N" in note for note in result.notes)
    assert result.jumps[0].height_impulse_m == pytest.approx(0.3315, abs=0.003)


def test_two_people_of_different_weight_are_noticed(plate):
    lighter = 0.7 * np.concatenate([plate.still(2), plate.cmj()])
    result = analyse(plate.recording(plate.cmj(), plate.empty(2), lighter))

    assert len(result.jumps) == 2
    assert any("Different weights" in note for note in result.notes)
    assert result.jumps[1].value("body_weight") == pytest.approx(0.7 * plate.weight, abs=1.5)
    assert result.jumps[1].height_impulse_m == pytest.approx(0.3315, abs=0.004)


def test_measures_come_from_the_catalogue(plate):
    result = analyse(
        plate.recording(plate.cmj(), plate.sj(), plate.hops(4), plate.pull(), plate.still(1))
    )

    assert {j.kind for j in result.jumps} >= {CMJ, SJ, JumpKind.HOPS, JumpKind.ISOMETRIC}
    for jump in result.jumps:
        for name, measure in jump.measures.items():
            assert (measure.unit, measure.title) == CATALOGUE[name]
            assert type(measure.value) is float
            assert type(measure.se) is float


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_a_recording_cut_anywhere_never_shows_a_wrong_height(session, data):
    """Whatever is missing, a height that is shown is the height that was jumped."""
    force, truths = session
    first = data.draw(st.integers(0, force.size - 10), label="first")
    last = data.draw(st.integers(first + 5, force.size), label="last")

    result = analyse(Recording(1000.0, force[first:last]))

    for jump in result.jumps:
        truth = truths[int(np.argmin([abs(jump.take_off_s + first / 1000 - t) for t, _ in truths]))]
        for name in ("height_flight", "height_impulse"):
            measure = jump.measures.get(name)
            if measure is not None:
                assert abs(measure.value - truth[1]) < max(4 * measure.se, 0.012), name
        for phase, following in zip(jump.phases, jump.phases[1:], strict=False):
            assert phase.start_s <= phase.end_s == following.start_s


@settings(max_examples=60, deadline=None)
@given(
    seed=st.integers(0, 2**31),
    size=st.integers(1, 4000),
    rate=st.sampled_from([200.0, 1000.0, 2000.0]),
    shape=st.sampled_from(["noise", "steps", "waves", "walk", "spikes", "constant"]),
    kind=st.sampled_from([None, *JumpKind]),
)
def test_rubbish_is_analysed_without_a_crash(seed, size, rate, shape, kind):
    rng = np.random.default_rng(seed)
    t = np.arange(size) / rate
    force = {
        "noise": lambda: 500 + 300 * rng.standard_normal(size),
        "steps": lambda: np.repeat(rng.uniform(-100, 3000, size // 50 + 1), 50)[:size],
        "waves": lambda: 900 * np.abs(np.sin(2 * np.pi * t * rng.uniform(0.2, 20))),
        "walk": lambda: 700 + 20 * np.cumsum(rng.standard_normal(size)),
        "spikes": lambda: np.where(rng.random(size) < 0.002, 1e6, 0.0),
        "constant": lambda: np.full(size, rng.uniform(-50, 1000)),
    }[shape]()

    for jump in analyse(Recording(rate, force), kind=kind).jumps:
        for measure in jump.measures.values():
            assert np.isfinite(measure.value)
            assert measure.se >= 0
        if jump.trust is Trust.REJECTED:
            assert jump.measures == {}
        if jump.trust is not Trust.SOUND:
            assert jump.reasons


def test_a_recording_that_starts_in_the_air_says_so(plate):
    truth = plate.sines()
    middle = round((truth.take_off + 0.1) * plate.rate)
    analysis = analyse(plate.recording(truth.force[middle:]))

    assert analysis.jumps == ()
    assert any("starts in the air" in note for note in analysis.notes)


def test_somebody_who_steps_on_does_not_start_in_the_air(plate):
    analysis = analyse(plate.recording(plate.empty(0.5), plate.step_on(), plate.still(2.0)))

    assert not any("in the air" in note for note in analysis.notes)


def test_who_stood_still_with_another_weight_is_not_told_to_stand_still(plate):
    """A plate that drifts by 7 % on the way through the jump, or a hand on a rail before it."""
    truth = plate.sines(before=1.6, after=3.0)
    since = np.arange(truth.force.size) / plate.rate
    (jump,) = analyse(plate.recording(truth.force + 12.0 * since)).jumps

    assert jump.trust is Trust.DOUBTFUL
    assert any("before the jump and after it do not agree" in reason for reason in jump.reasons)
    assert not any("measured back from the stand" in reason for reason in jump.reasons)

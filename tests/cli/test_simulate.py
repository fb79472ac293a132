"""``saltus simulate``."""

import json

import pytest
from typer.testing import CliRunner

from saltus.athlete.pushoff import Start, simulate
from saltus.cli import app
from saltus.errors import ModelError, UsageError

ATHLETE = [
    "--mass", "78", "--segment", "0.505", "--torque", "900",
    "--speed", "18", "--rfd", "6000", "--distance", "0.42",
]  # fmt: skip
SAME = {
    "mass_kg": 78.0,
    "segment_m": 0.505,
    "torque_nm": 900.0,
    "speed_rad_s": 18.0,
    "rfd_nm_s": 6000.0,
    "distance_m": 0.42,
}
KEYS = {
    "height_m", "push_off_s", "time_to_take_off_s", "contact_s", "depth_m",
    "take_off_velocity_m_s", "peak_power_w", "mean_force_n",
}  # fmt: skip


def run(*options):
    return CliRunner().invoke(app, ["simulate", *ATHLETE, *options])


@pytest.mark.parametrize(
    ("options", "start", "more"),
    [
        ([], Start.SQUAT, {}),
        (["--load", "20"], Start.SQUAT, {"load_kg": 20.0}),
        (["--start", "countermovement"], Start.COUNTERMOVEMENT, {}),
        (
            ["--start", "countermovement", "--stretch-gain", "0.1"],
            Start.COUNTERMOVEMENT,
            {"stretch_gain": 0.1},
        ),
        (["--start", "drop", "--drop", "0.3"], Start.DROP, {"drop_m": 0.3}),
    ],
)
def test_prints_the_simulation_as_one_document(options, start, more):
    result = run(*options, "--json")
    assert result.exit_code == 0
    document = json.loads(result.stdout)
    assert set(document) >= KEYS
    pushes = simulate(start, **SAME, **more)
    for key in KEYS - {"contact_s", "depth_m"}:
        assert document[key] == getattr(pushes, key)[0]
    for key in ("contact_s", "depth_m"):
        assert document[key] == (getattr(pushes, key)[0] if start is Start.DROP else None)
    assert document["why"] is None


def test_answers_a_load_that_cannot_be_stood_up_with():
    result = run("--load", "200", "--json")
    assert result.exit_code == 0
    document = json.loads(result.stdout)
    assert all(document[key] is None for key in KEYS)
    assert "cannot be stood up with" in document["why"]
    spoken = run("--load", "200")
    assert spoken.exit_code == 0
    assert spoken.stdout.startswith("No jump. 200 kg cannot be stood up with")


def test_speaks_to_a_coach():
    result = run("--start", "drop", "--drop", "0.3", "--stretch-gain", "0.1")
    assert "drop jump: 17.7 cm" in result.stdout
    assert "0.212 s on the ground, 11.0 cm deep" in result.stdout
    result = run("--start", "countermovement", "--stretch-gain", "0.1")
    assert "countermovement jump: 33.1 cm" in result.stdout
    assert "0.694 s from the first dip" in result.stdout


def test_says_what_it_leaves_out():
    result = run("--drop", "0.3", "--stretch-gain", "0.1", "--json")
    assert "--drop is left out" in result.stderr
    assert "--stretch-gain is left out" in result.stderr
    assert json.loads(result.stdout)["height_m"] > 0


def test_a_drop_jump_needs_its_drop():
    result = run("--start", "drop")
    assert isinstance(result.exception, UsageError)
    assert "--drop 0.3" in str(result.exception)


def test_an_impossible_body_is_an_error_in_words():
    result = run("--mass", "0")
    assert isinstance(result.exception, ModelError)
    assert "mass_kg must be greater than 0" in str(result.exception)

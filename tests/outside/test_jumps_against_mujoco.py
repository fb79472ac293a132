"""Force-plate analysis against jumps made in a general physics engine.

The engine is MuJoCo (Todorov, Erez & Tassa 2012, IROS, 5026-5033): rigid bodies, joints and
contacts, none of it ours. A jumper of three segments (trunk, thigh, shank with a foot) stands
on a plane; the trunk runs on a frictionless upright rail and the hip bends with the knee, so
that it needs no sense of balance.
A rail pushes sideways only: the ground still gives all of the vertical force but gravity.
The vertical contact force is recorded at 1000 Hz as a plate would, with a plate's noise, and
the engine tells how far the centre of mass rose after the last contact.
"""

from dataclasses import dataclass

import numpy as np
import pytest

from saltus.jumps.analyse import analyse
from saltus.jumps.jump import JumpKind, Trust
from saltus.recordings.recording import Recording

mujoco = pytest.importorskip("mujoco")

G = 9.80665
STEP = 1e-4
EVERY = 10
"""Engine steps to a sample, which is their mean: a plate filters before it samples."""

JUMPER = f"""
<mujoco>
  <option timestep="{STEP}" gravity="0 0 -{G}" integrator="implicitfast"
          tolerance="1e-14" iterations="200"/>
  <default><geom contype="0" conaffinity="0"/></default>
  <worldbody>
    <geom name="ground" type="plane" size="2 2 0.1" condim="1" contype="1"
          conaffinity="1" solref="0.03 1" solimp="0 0.9 0.02 0.5 2"/>
    <body name="trunk" pos="0 0 0.93">
      <joint name="rail" type="slide" axis="0 0 1"/>
      <geom type="capsule" fromto="0 0 0.05 0 0 0.6" size="0.12" mass="48"/>
      <body name="thigh">
        <joint name="hip" axis="0 1 0"/>
        <geom type="capsule" fromto="0 0 0 0 0 -0.43" size="0.08" mass="15"/>
        <body name="shank" pos="0 0 -0.43">
          <joint name="knee" axis="0 1 0" limited="true" range="0 150" damping="0.5"/>
          <geom type="capsule" fromto="0 0 0 0 0 -0.43" size="0.05" mass="7"/>
          <geom name="foot" type="sphere" pos="0 0 -0.43" size="0.05" mass="2" condim="1"
                contype="1" conaffinity="1" solref="0.03 1" solimp="0 0.9 0.02 0.5 2"/>
        </body>
      </body>
    </body>
  </worldbody>
  <equality><joint joint1="hip" joint2="knee" polycoef="0 -0.5 0 0 0" solref="0.002 1"/></equality>
</mujoco>
"""


@dataclass
class Truth:
    """What the plate recorded, and what only the engine knows."""

    recording: Recording
    weight_n: float
    rise_m: float
    velocity_m_s: float
    take_off_s: float
    landing_s: float
    depth_m: float
    contact_s: float


class Jumper:
    """A knee with muscles, worked by hand."""

    def __init__(self):
        self.model = mujoco.MjModel.from_xml_string(JUMPER)
        self.data = mujoco.MjData(self.model)
        self.weight_n = float(self.model.body_subtreemass[0]) * G
        self.force, self.height, self.velocity = [], [], []

    def pose(self, bend, height=0.0):
        """Stand with the knee bent by so many radians, the soles at a height."""
        leg = 2 * 0.43 * np.cos(bend / 2) + 0.05
        self.data.qpos[:] = [leg + height - 0.93, -bend / 2, bend]
        self.data.qvel[:] = 0

    def ground_force(self):
        total, wrench = 0.0, np.zeros(6)
        for i in range(self.data.ncon):
            mujoco.mj_contactForce(self.model, self.data, i, wrench)
            # The first axis of a contact's frame is its normal: up, on a level ground.
            total += wrench[0] * abs(self.data.contact[i].frame[2])
        return total

    def step(self, torque, record=True):
        """One step of the engine with so much extending torque at the knee."""
        d = self.data
        d.qfrc_applied[2] = -torque
        mujoco.mj_step(self.model, d)
        mujoco.mj_subtreeVel(self.model, d)
        if record:
            self.force.append(self.ground_force())
            self.height.append(d.subtree_com[0, 2])
            self.velocity.append(d.subtree_linvel[0, 2])

    def hold(self, bend, seconds, stiffness=3000.0, damping=450.0, *, glide=0.0, record=True):
        """Keep the knee at a bend, or glide to it in so many seconds."""
        d, begin = self.data, float(self.data.qpos[2])
        for i in range(round(seconds / STEP)):
            s = min(i * STEP / glide, 1.0) if glide else 1.0
            want = begin + (bend - begin) * s**3 * (10 - 15 * s + 6 * s**2)
            carrying = self.weight_n * 0.43 * np.sin(d.qpos[2] / 2)
            torque = carrying + stiffness * (d.qpos[2] - want) + damping * d.qvel[2]
            # No leg bears more than a few body weights.
            self.step(min(max(torque, -carrying), 3 * carrying), record)

    def drop_into(self, bend):
        """Let go until the knee is bent so far."""
        while self.data.qpos[2] < bend:
            self.step(0.25 * self.weight_n * 0.43 * np.sin(self.data.qpos[2] / 2))

    def push(self, most, *, fastest=22.0, rise=0.12, begin=0.2):
        """Extend the knee with a torque of up to `most` until the feet are off the ground."""
        d, t = self.data, 0.0
        while True:
            drive = 1 - (1 - begin) * np.exp(-t / rise)
            x = -d.qvel[2] / fastest
            torque = max(1 - x, 0) / (1 + 0.3 * x) if x > 0 else 1.2
            if d.qpos[2] < 0.15:
                torque *= max(d.qpos[2] / 0.15, 0.0)
            carrying = self.weight_n * 0.43 * np.sin(d.qpos[2] / 2)
            self.step(min(drive * most * torque, 5 * carrying))
            t += STEP
            if self.force[-1] == 0 and t > 0.05:
                return

    def fly(self, bend=None):
        """Keep the legs as they are (or so bent) until the feet are on the ground."""
        d = self.data
        if bend is None:
            bend = d.qpos[2]
        while True:
            self.step(900 * (d.qpos[2] - bend) + 30 * d.qvel[2])
            if self.force[-1] > 0:
                return

    def land(self, bend=0.3, seconds=3.5):
        """Take up the fall and come to rest."""
        self.hold(bend, seconds, stiffness=1200.0, damping=220.0)

    def truth(self, empty_s=0.0):
        """Cut out the jump: the longest flight of the recording."""
        force, height = np.array(self.force), np.array(self.height)
        edges = np.flatnonzero(np.diff(np.concatenate([[0], force == 0, [0]])))
        first, last = max(edges.reshape(-1, 2), key=lambda e: e[1] - e[0])
        if empty_s:
            first, last = edges.reshape(-1, 2)[1]
        plate = np.concatenate([np.zeros(round(empty_s / STEP)), force])
        plate = plate[: plate.size // EVERY * EVERY].reshape(-1, EVERY).mean(axis=1)
        assert plate.max() < 12 * self.weight_n  # nobody's landing
        noise = np.random.default_rng(4).normal(0, 1.0, plate.size)
        touch = np.flatnonzero(force > 0)[0]
        return Truth(
            recording=Recording(1 / (STEP * EVERY), plate + noise, source="made by the engine"),
            weight_n=self.weight_n,
            rise_m=float(height[first:last].max() - height[first]),
            velocity_m_s=float(self.velocity[first]),
            take_off_s=empty_s + first * STEP,
            landing_s=empty_s + last * STEP,
            depth_m=float(height[touch] - height[touch:first].min()),
            contact_s=(first - touch) * STEP,
        )


def countermovement_jump(most):
    jumper = Jumper()
    jumper.pose(0.3)
    jumper.hold(0.3, 0.7, record=False)
    jumper.hold(0.3, 1.6)
    jumper.drop_into(1.4)
    jumper.push(most)
    jumper.fly()
    jumper.land()
    return jumper.truth()


def squat_jump(most):
    jumper = Jumper()
    jumper.pose(0.3)
    jumper.hold(0.3, 0.7, record=False)
    jumper.hold(0.3, 1.4)
    jumper.hold(1.8, 2.4, glide=1.3)
    jumper.push(most, begin=0.45)
    jumper.fly()
    jumper.land()
    return jumper.truth()


def drop_jump(most):
    jumper = Jumper()
    jumper.pose(0.7, height=0.25)
    jumper.fly(0.7)
    jumper.push(most, rise=0.06, begin=0.5)
    jumper.fly()
    jumper.land()
    return jumper.truth(empty_s=1.0)


JUMPS = {
    JumpKind.CMJ: countermovement_jump,
    JumpKind.SJ: squat_jump,
    JumpKind.DJ: drop_jump,
}
STRENGTHS = (900, 1500)


@pytest.fixture(scope="module", params=[(kind, most) for kind in JUMPS for most in STRENGTHS],
                ids=lambda p: f"{p[0].value}-{p[1]}")  # fmt: skip
def measured(request):
    kind, most = request.param
    truth = JUMPS[kind](most)
    analysis = analyse(truth.recording)
    assert len(analysis.jumps) == 1
    return kind, truth, analysis, analysis.jumps[0]


def test_kind_is_recognised_and_trusted(measured):
    kind, _, _, jump = measured
    assert jump.kind is kind
    assert jump.trust is Trust.SOUND, jump.reasons


def test_height_by_impulse_is_within_2_mm_of_the_true_rise(measured):
    _, truth, _, jump = measured
    assert truth.rise_m > 0.12
    assert jump.height_impulse_m == pytest.approx(truth.rise_m, abs=0.002)
    assert jump.take_off_velocity_m_s == pytest.approx(truth.velocity_m_s, abs=0.01)


def test_height_by_impulse_is_as_sure_as_it_says(measured):
    _, truth, _, jump = measured
    error = abs(jump.height_impulse_m - truth.rise_m)
    assert error < 4 * jump.measures["height_impulse"].se
    assert jump.measures["height_impulse"].se < 0.01


def test_events_are_within_two_samples(measured):
    _, truth, _, jump = measured
    assert jump.take_off_s == pytest.approx(truth.take_off_s, abs=0.002)
    assert jump.landing_s == pytest.approx(truth.landing_s, abs=0.002)


def test_height_by_flight_time_is_within_a_centimetre(measured):
    # The legs are kept as they were at take-off, but the sole is soft.
    _, truth, _, jump = measured
    assert jump.height_flight_m == pytest.approx(truth.rise_m, abs=0.01)


def test_body_weight_is_within_a_thousandth(measured):
    _, truth, analysis, _ = measured
    assert analysis.body_weight_n.value == pytest.approx(truth.weight_n, rel=1e-3)


def test_depth_of_the_way_down(measured):
    kind, truth, _, jump = measured
    if kind is JumpKind.SJ:
        assert "depth" not in jump.measures or jump.value("depth") < 0.01
    else:
        assert jump.value("depth") == pytest.approx(truth.depth_m, abs=0.003)


def test_contact_and_true_drop_of_a_drop_jump(measured):
    kind, truth, _, jump = measured
    if kind is JumpKind.DJ:
        assert jump.value("contact_time") == pytest.approx(truth.contact_s, abs=0.002)
        assert jump.value("drop_height") == pytest.approx(0.25, abs=0.01)
    else:
        assert "contact_time" not in jump.measures

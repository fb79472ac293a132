"""A record that uses every table, as text."""

import pytest

FULL = """\
# A record that uses every table.
saltus_record = 1

[athlete]
name = "Ada Ilves"
sex = "female"
born = 2003-05-17
stature_cm = 178.5
standing_reach_in = 91.5   # measured with a tape in inches
push_off_distance_cm = 41
training_age_years = 4
sport = "volleyball"
testing_tools = ["force_plate", "barbell"]
landing_practice_weeks = 6
remark = "Left-handed."

[[body_mass]]
date = 2026-03-01
mass_lb = 155

[[body_mass]]
date = 2026-01-10
mass_kg = 70.0

[goal]
date = 2027-04-17
touch_cm = 300
hand_above_cm = 10
approach = true
what = "the antenna"

[[test]]
kind = "countermovement_jump"
date = 2026-01-10
touched_cm = [275.41, 276.41]

[[test]]
kind = "countermovement_jump"
date = 2026-01-11
method = "film"
frames = [120, 125]
frame_rate_hz = 240

[[test]]
kind = "squat_jump"
date = 2026-01-12
method = "mat"
flight_ms = [500, 510]
load_lb = 44

[[test]]
kind = "approach_jump"
date = 2026-01-13
method = "reach"
heights_in = 20

[[test]]
kind = "drop_jump"
date = 2026-01-14
box_cm = 30
flight_s = [0.45, 0.46]
contacts_ms = [220, 230]

[[test]]
kind = "broad_jump"
date = 2026-01-15
distances_cm = [201, 204]

[[test]]
kind = "maximum"
date = 2026-01-16
lift = "back_squat"
load_lb = 200

[[test]]
kind = "rep_set"
date = 2026-01-17
lift = "front_squat"
load_kg = 62.5
reps = 5
reserve = 2

[[test]]
kind = "bar_speed"
date = 2026-01-18
lift = "back_squat"
loads_kg = [40, 60, 80]
speeds_m_s = [1.02, 0.81, 0.55]

[[test]]
kind = "isometric_pull"
date = 2026-01-19
peak_n = 2150
force_at_n = { 100 = 1150, 250 = 1700 }
note = "Grip slipped once."

[[block]]
start = 2025-11-01
end = 2025-12-15
max_strength = 1.0
push_off_speed = 0.3

[plan]
start = 2026-04-06
method = "mine.toml"
current = "plans/ada.json"

[[target]]
date = 2027-04-17
what = "cup final"

[[target]]
date = 2027-01-16
priority = "trial"

[week]
mon = 75
thu = 60

[[practice]]
weekdays = ["tue", "fri"]
start = 2026-09-01
landings = 60

[[match]]
date = 2026-12-05
landings = 90
what = "away"

[[blocked]]
start = 2026-12-20
end = 2027-01-03
why = "family"

[[blocked]]
start = 2026-11-11

[gym]
equipment = ["barbell", "rack", "boxes"]
unit = "lb"
bar_lb = 45
plates_lb = [[45, 4], [25, 2], [2.5, 2]]
boxes_in = [12, 18]
kettlebells_kg = [16, 24]
soft_surface = true

[[pain]]
date = 2026-02-02
place = "left knee"
level = 3
settled_next_morning = true

[[restriction]]
what = "depth_jump"
start = 2026-02-02
why = "until the knee is quiet"

[[agreed]]
caution = "Stop when it hurts."
date = 2026-01-10
by = "Ada Ilves"

[[session]]
date = 2026-03-02
minutes = 70
effort = 7
landings = 40
sets = [
  { exercise = "back_squat", sets = 3, reps = 5, load_kg = 65, reserve = 2 },
  { exercise = "box_jump", reps = 4, box_cm = 50, note = "crisp" },
]
"""

MINIMAL = """\
saltus_record = 1

[athlete]
name = "Ada Ilves"

[[body_mass]]
date = 2026-01-10
mass_kg = 70.0
"""


@pytest.fixture(scope="session")
def full() -> str:
    return FULL


@pytest.fixture(scope="session")
def minimal() -> str:
    return MINIMAL

import json

from saltus.record import parse
from saltus.record.about import about

TEXT = """\
saltus_record = 1

[athlete]
name = "Ada Ilves"
sex = "female"
born = 2003-05-17
stature_cm = 178
standing_reach_cm = 232
training_age_years = 4
testing_tools = ["tape", "barbell"]
remark = "Sleeps badly before matches."

[[body_mass]]
date = 2026-10-01
mass_kg = 70

[[test]]
kind = "countermovement_jump"
date = 2026-10-05
method = "mat"
heights_cm = [33, 34]
note = "new shoes"

[[test]]
kind = "rep_set"
date = 2026-10-07
lift = "back_squat"
load_kg = 80
reps = 5
reserve = 1

[[test]]
kind = "recording"
date = 2026-10-06
file = "plate.csv"
jump = "squat_jump"

[[pain]]
date = 2026-09-01
place = "left knee"
level = 3

[[restriction]]
what = "landing"
start = 2026-09-01
end = 2026-09-10
why = "sore"
"""


def test_everything_is_told_the_latest_first():
    told = json.loads(json.dumps(about(parse(TEXT, recordings=False))))

    assert [test["date"] for test in told["tests"]] == ["2026-10-07", "2026-10-06", "2026-10-05"]
    squat, recording, jump = told["tests"]
    assert squat["what"] == "back squat, 5 repetitions, 1 in reserve"
    assert (squat["values"], squat["unit"]) == ([80], "kg")
    assert (recording["what"], recording["file"], recording["values"]) == (
        "squat jump",
        "plate.csv",
        [],
    )
    assert (jump["values"], jump["unit"], jump["method"]) == ([0.33, 0.34], "m", "mat")
    assert jump["note"] == "new shoes"
    assert told["person"]["mass_kg"] == 70
    assert told["person"]["testing_tools"] == ["barbell", "tape"]
    assert told["remark"] == "Sleeps badly before matches."
    assert told["pains"] == [
        {"date": "2026-09-01", "place": "left knee", "level": 3, "settled": None}
    ]
    assert told["restrictions"][0]["end"] == "2026-09-10"

from saltus.web.athletes.record_told import record_told

KEPT = "ab12.csv"
ABOUT = {
    "tests": [
        {
            "date": "2026-10-05",
            "what": "countermovement jump",
            "method": "plate_impulse",
            "values": [0.33],
            "unit": "m",
            "file": KEPT,
            "note": "",
        }
    ],
    "notes": [f"recordings/{KEPT}: jump 2 is doubtful: it hurts", "recordings/other.csv: x"],
    "person": {"testing_tools": []},
    "gym": {
        "bar_kg": 20,
        "plates_kg": [],
        "dumbbells_kg": [],
        "kettlebells_kg": [],
        "boxes_m": [],
        "equipment": [],
    },
    "blocks": [],
    "pains": [],
    "restrictions": [],
    "remark": "",
}


def test_recordings_go_by_the_name_that_the_coach_gave_them():
    told = record_told(ABOUT, health=True, names={KEPT: "monday.csv"})
    assert told["tests"][0]["file"] == "monday.csv"
    assert told["about"]["notes"] == [
        "monday.csv: jump 2 is doubtful: it hurts",
        "recordings/other.csv: x",
    ]

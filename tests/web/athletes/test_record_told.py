import copy

from django.utils import translation

from saltus.quantities import POUND
from saltus.web.athletes.record_told import record_told
from saltus.web.units import Units, current_units

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
        "unit": "kg",
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


def test_equipment_is_told_in_words_and_weights_as_they_are_stamped():
    about = copy.deepcopy(ABOUT)
    about["person"]["testing_tools"] = ["force_plate", "tape"]
    about["gym"] |= {"equipment": ["barbell", "runway"], "plates_kg": [[1.25, 2], [20, 4]]}
    about["blocks"] = [
        {"start": "2026-01-05", "end": "2026-02-15", "emphasis": {"max_strength": 0.8}}
    ]
    token = current_units.set(Units("in", "lb"))
    try:
        with translation.override("de"):
            told = record_told(about, health=True)
        about["gym"] |= {"unit": "lb", "bar_kg": 45 * POUND}
        pounds = record_told(about, health=True)["equipment"]["weights"][0]
    finally:
        current_units.reset(token)
    assert told["equipment"]["tools"] == "eine Kraftmessplatte, ein Maßband"
    assert told["equipment"]["gym"].startswith("eine Langhantel und Scheiben, ")
    assert told["equipment"]["weights"] == ["Stange 20 kg", "Scheiben 2 × 1,25; 4 × 20 kg"]
    assert pounds == "bar 45 lb"
    assert told["blocks"][0]["words"] == "Maximalkraft 0,8"

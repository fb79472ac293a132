"""What the tables, fields and words of a record are called on a page.

What is not listed here goes by its own name (:func:`label`) and help text.
"""

import re
from collections.abc import Callable, Iterable
from functools import cache

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l

from saltus.athlete.health import PLACES
from saltus.athlete.observations import Lift
from saltus.record import schema
from saltus.record.fields import Field, Kind
from saltus.web.methods.words import restricted_words, restrictions_offered
from saltus.web.sentences import told
from saltus.web.testdays.words import LIFTS

__all__ = [
    "PARTS",
    "choice",
    "help_of",
    "label",
    "offered",
    "said",
    "title",
    "unsaid",
    "without_keys",
]

PARTS: dict[str, tuple[Promise, Promise]] = {
    "athlete": (_l("Who they are"), _l("What does not come out of a test.")),
    "body_mass": (_l("Weighings"), _l("Body mass on a day; at least one.")),
    "goal": (
        _l("Goal"),
        _l("What the athlete wants: a jump height, or a height to touch. Give one of the two."),
    ),
    "target": (
        _l("Days that count"),
        _l(
            "Tests and competitions to be at one's best on. "
            "The plan is laid back from the main one."
        ),
    ),
    "week": (
        _l("Free time"),
        _l("Minutes for training on each day of the week; leave a day empty that is not free."),
    ),
    "plan": (_l("Planning"), _l("Where planning starts from.")),
    "practice": (
        _l("Practices"),
        _l(
            "They cost landings and freshness. "
            "Give weekdays for what comes round every week, or a date."
        ),
    ),
    "match": (
        _l("Matches"),
        _l("Legs must be fresh. Give weekdays for what comes round every week, or a date."),
    ),
    "blocked": (_l("Days off"), _l("Days on which nothing may be planned.")),
    "gym": (_l("Gym"), _l("What there is to train with.")),
    "pain": (
        _l("Pains"),
        _l("As the athlete reports them. Saltus gives no medical advice: it stops what is risky."),
    ),
    "restriction": (_l("Restrictions"), _l("What may not be done, and by whose word.")),
    "block": (
        _l("Training done"),
        _l(
            "Stretches of training already done, with their emphasis: "
            "1 for a block aimed at a quality, 0.3 for upkeep."
        ),
    ),
    "agreed": (
        _l("Cautions agreed to"),
        _l("By the athlete or, for a minor, by a guardian too."),
    ),
    "test": (
        _l("Tests"),
        _l("What was measured. Those of several athletes are entered on a test day."),
    ),
    "session": (_l("Log"), _l("Sessions that were done.")),
}
"""Title and a sentence for each table, in the order of the page."""

_LABELS: dict[str, Promise] = {
    "born": _l("Date of birth"),
    "training_age_years": _l("Years of training"),
    "testing_tools": _l("To test with"),
    "landing_practice_weeks": _l("Weeks of landing practice"),
    "push_off_distance": _l("Push-off distance"),
    "standing_reach": _l("Standing reach"),
    "stature": _l("Stature"),
    "name": _l("Name"),
    "sex": _l("Sex"),
    "sport": _l("Sport"),
    "remark": _l("Remark"),
    "date": _l("Date"),
    "mass": _l("Body mass"),
    "jump": _l("Jump height"),
    "touch": _l("Height to touch"),
    "hand_above": _l("Hand above it"),
    "approach": _l("With a run-up"),
    "arms": _l("Arms swing"),
    "what": _l("What"),
    "start": _l("First day"),
    "end": _l("Last day"),
    "why": _l("Why"),
    "priority": _l("How much it counts"),
    "mon": _l("Monday"),
    "tue": _l("Tuesday"),
    "wed": _l("Wednesday"),
    "thu": _l("Thursday"),
    "fri": _l("Friday"),
    "sat": _l("Saturday"),
    "sun": _l("Sunday"),
    "weekdays": _l("Weekdays"),
    "landings": _l("Landings"),
    "equipment": _l("Equipment"),
    "unit": _l("Weights are stamped in"),
    "bar": _l("Weight of the bar"),
    "plates": _l("Plates"),
    "boxes": _l("Boxes"),
    "dumbbells": _l("Dumb-bells"),
    "kettlebells": _l("Kettlebells"),
    "soft_surface": _l("A forgiving surface is at hand"),
    "place": _l("Where"),
    "level": _l("How bad, 0 to 10"),
    "settled_next_morning": _l("Back to usual by the next morning"),
    "caution": _l("What was agreed to"),
    "by": _l("Who agreed"),
    "max_strength": _l("Max strength"),
    "rate_of_force_development": _l("Rate of force development"),
    "push_off_speed": _l("Push-off speed"),
    "stretch_shortening_gain": _l("Stretch-shortening gain"),
    "minutes": _l("Minutes"),
    "effort": _l("Effort, 0 to 10"),
    "note": _l("Note"),
    "kind": _l("Test"),
    "method": _l("Measured by"),
    "heights": _l("Heights"),
    "touched": _l("Heights touched"),
    "flight": _l("Flight times"),
    "frames": _l("Frames in the air"),
    "frame_rate": _l("Frame rate"),
    "load": _l("Load"),
    "loads": _l("Loads"),
    "speeds": _l("Speeds"),
    "lift": _l("Lift"),
    "reps": _l("Repetitions"),
    "reserve": _l("Repetitions left"),
    "box": _l("Box"),
    "true_drop": _l("The box height is the true drop"),
    "contacts": _l("Contact times"),
    "distances": _l("Distances"),
    "peak": _l("Peak force"),
    "force_at": _l("Force by milliseconds"),
    "file": _l("File"),
    "rate": _l("Sampling rate"),
    "id": _l("Name of the session"),
    "planned": _l("Planned for"),
    "free": _l("Not planned"),
    "sleep_hours": _l("Hours of sleep"),
    "pain": _l("Worst pain, 0 to 10"),
    "soreness": _l("Soreness"),
    "sets": _l("Sets"),
    "exercise": _l("Exercise"),
    "missed": _l("Missed"),
    "skipped": _l("Left out"),
    "speed": _l("Speed"),
    "contact": _l("Contact time"),
    "drop": _l("Height of the drop"),
    "soft_landings": _l("Soft landings"),
    "current": _l("Present plan"),
    "decisions": _l("Decisions"),
    "keep": _l("Counts"),
    "first_plate": _l("Foot on the first plate"),
    "force": _l("Column of both feet together"),
    "left": _l("Column of the left foot"),
    "right": _l("Column of the right foot"),
    "time": _l("Time column"),
    "resample": _l("Make the time even"),
}

_CHOICES: dict[str, Promise] = {
    "left": _l("left"),
    "right": _l("right"),
    "female": _l("female"),
    "male": _l("male"),
    "unstated": _l("not stated"),
    "tape": _l("a tape"),
    "phone": _l("a phone that films"),
    "mat": _l("a mat or optical cells"),
    "bar_sensor": _l("a sensor on the bar"),
    "force_plate": _l("a force plate"),
    "boxes": _l("boxes"),
    "main": _l("the main one"),
    "second": _l("second to it"),
    "trial": _l("a trial"),
    "reach": _l("reach, with a tape"),
    "film": _l("film"),
    "plate_flight": _l("force plate, flight time"),
    "plate_impulse": _l("force plate, impulse"),
    "countermovement_jump": _l("countermovement jump"),
    "squat_jump": _l("squat jump"),
    "approach_jump": _l("approach jump"),
    "drop_jump": _l("drop jump"),
    "broad_jump": _l("broad jump"),
    "maximum": _l("one-repetition maximum"),
    "rep_set": _l("set of several repetitions"),
    "bar_speed": _l("bar speed at several loads"),
    "isometric_pull": _l("isometric pull"),
    "recording": _l("recording"),
    "barbell": _l("a barbell and plates"),
    "rack": _l("a rack or stands"),
    "trap_bar": _l("a trap bar"),
    "dumbbells": _l("dumb-bells, in pairs"),
    "kettlebell": _l("a kettlebell"),
    "leg_press": _l("leg press"),
    "bench": _l("a bench"),
    "blocks": _l("blocks or pins"),
    "hurdles": _l("low hurdles"),
    "runway": _l("room for a run-up or a sprint (20 m)"),
    "nordic_bench": _l("a bench or partner that holds the heels"),
}

_HELP: dict[tuple[str, str], Promise | str] = {
    ("athlete", "name"): "",
    ("athlete", "sport"): "",
    ("athlete", "born"): _l("Where it is unknown, the caution due to a minor is taken."),
    ("athlete", "stature"): "",
    ("body_mass", "date"): "",
    ("body_mass", "mass"): "",
    ("gym", "bar"): "",
    ("gym", "unit"): _l("Loads are told in it."),
    ("pain", "level"): _l("0 is none, 10 the worst imaginable."),
    ("pain", "date"): "",
    ("pain", "settled_next_morning"): "",
    ("session", "free"): "",
    ("session", "pain"): _l("0 is none, 10 the worst imaginable."),
    ("goal", "arms"): "",
    ("goal", "approach"): "",
    ("restriction", "why"): "",
    ("week", "mon"): "",
    ("week", "tue"): "",
    ("week", "wed"): "",
    ("week", "thu"): "",
    ("week", "fri"): "",
    ("week", "sat"): "",
    ("week", "sun"): "",
    ("athlete", "testing_tools"): _l("The next test is chosen among these."),
    ("athlete", "training_age_years"): _l("Years of regular strength and jump training."),
    ("gym", "equipment"): _l("Exercises that need anything else are not planned."),
    ("gym", "plates"): _l("Weight and number of single plates, one kind a line, such as 20 x 4."),
    ("gym", "boxes"): _l("Heights of the boxes, such as 30, 45, 60."),
    ("gym", "dumbbells"): _l("Weights, one of each pair, such as 10, 12.5, 15."),
    ("gym", "kettlebells"): _l("Weights, such as 16, 20, 24."),
    ("goal", "what"): _l("In words, such as the rim."),
    ("goal", "touch"): _l("Needs the standing reach."),
    ("pain", "place"): _l("Such as left knee."),
    ("restriction", "what"): _l(
        "An exercise or a kind of work, in the words that are offered, such as depth jumps, "
        "landings or jumps."
    ),
    ("test", "method"): "",
    ("test", "frames"): _l("Frames in the air in each attempt, instead of heights."),
    ("test", "box"): _l("What the athlete steps off."),
    ("test", "true_drop"): _l(
        "Tick it where the drop was found from the landing on a force plate."
    ),
}

_SAID_BY_THE_LABEL = frozenset(
    {
        *("The day.", "The day of the test.", "First day.", "Last day.", "Days of the week."),
        *("How much it counts.", "Who agreed.", "What was agreed to, in words.", "In words."),
        *("The lift.", "The file.", "Repetitions done.", "Frame rate of the film."),
        *("What was done.", "Load.", "Height of the drop."),
    }
)
"""What the file's words for a field say is on the form already, above it."""

_UNSAID: dict[str, Promise] = {
    "method": _l("– choose –"),
    "arms": _l("as is usual in this test"),
}
"""What an open choice says where the file's words for it would be no coach's."""


_SAID: dict[tuple[str, str], Callable[[str], str]] = {
    ("pain", "place"): told,
    ("restriction", "what"): restricted_words,
}
"""Texts of the record that are told in other words than they are kept in."""

_OFFERED: dict[tuple[str, str], Callable[[], Iterable[str]]] = {
    ("pain", "place"): lambda: PLACES,
    ("restriction", "what"): restrictions_offered,
}


def said(table: str, field: Field, text: str) -> str:
    """A text of the record as a page tells it."""
    known = _SAID.get((table, field.name))
    return known(text) if known else text


def offered(table: str, field: Field) -> dict[str, str]:
    """What is proposed for a free text: as the page tells it, and as the record keeps it."""
    return {said(table, field, text): text for text in _OFFERED.get((table, field.name), tuple)()}


_KEY = re.compile(r"\[(\w+)\]|\b[a-z0-9]+(?:_[a-z0-9]+)+\b")


def without_keys(text: str) -> str:
    """A sentence with the labels of the forms in place of the keys of the file."""
    return _KEY.sub(_label_of_key, text)


def _label_of_key(found: re.Match[str]) -> str:
    key = found[0]
    if found[1] in PARTS:
        return f"“{title(found[1])}”"
    if key in _CHOICES:
        return str(_CHOICES[key])
    return f"“{label(_fields()[key])}”" if key in _fields() else key


@cache
def _fields() -> dict[str, Field]:
    tables = (*schema.TABLES, *schema.TESTS.values())
    return {
        key: field for table in tables for field in table.fields for key in field.units_by_key()
    }


def title(table: str) -> str:
    """What a table is called."""
    return str(PARTS[table][0])


def label(field: Field) -> str:
    """What a field is called."""
    if field.name == "jump" and field.kind is Kind.CHOICE:
        return _("What was done")
    known = _LABELS.get(field.name)
    return str(known) if known else field.name.replace("_", " ").capitalize()


def choice(field: Field, word: str) -> str:
    """What one of the words that a field allows means."""
    if field.name == "equipment" and word == "reach":
        return _("something to reach for: a net, a rim")
    if field.name == "lift":
        return str(LIFTS[Lift(word)])
    known = _CHOICES.get(word) or _LABELS.get(word)
    return str(known) if known else word.replace("_", " ")


def unsaid(field: Field) -> str:
    """What a choice says while nothing is chosen."""
    known = _UNSAID.get(field.name)
    if known:
        return str(known)
    return _(field.default_words).replace("`", "") if field.default_words else "–"


def help_of(table: str, field: Field) -> str:
    """A sentence on what belongs into a field; empty where the label says it all."""
    known = _HELP.get((table, field.name))
    if known is not None:
        return str(known)
    return "" if field.help in _SAID_BY_THE_LABEL else _(field.help).replace("`", "")

"""Tests, figures and reasons as a coach would say them."""

from collections.abc import Mapping

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from saltus.athlete.clearance import Objection, Why
from saltus.athlete.observations import Lift
from saltus.record.trials import Column, Quantity, Trial
from saltus.web.methods.words import restricted_words
from saltus.web.sentences import inside, told
from saltus.web.testdays.typed import shown, sign_of
from saltus.web.units import Units

__all__ = [
    "HOW",
    "KINDS",
    "LIFTS",
    "column_label",
    "column_name",
    "column_short",
    "default_warm_up",
    "how_words",
    "objection_words",
    "trial_title",
]

KINDS = {
    "body_mass": lazy("Body mass"),
    "standing_reach": lazy("Standing reach"),
    "countermovement_jump": lazy("Countermovement jump"),
    "squat_jump": lazy("Squat jump"),
    "approach_jump": lazy("Approach jump"),
    "drop_jump": lazy("Drop jump"),
    "broad_jump": lazy("Standing broad jump"),
    "maximum": lazy("One-repetition maximum"),
    "rep_set": lazy("Set of repetitions"),
    "bar_speed": lazy("Bar speed at several loads"),
    "isometric_pull": lazy("Isometric pull"),
}

LIFTS = {
    Lift.BACK_SQUAT: lazy("Back squat"),
    Lift.FRONT_SQUAT: lazy("Front squat"),
    Lift.LEG_PRESS: lazy("Leg press"),
    Lift.DEADLIFT: lazy("Deadlift"),
    Lift.TRAP_BAR_DEADLIFT: lazy("Trap-bar deadlift"),
    Lift.ROMANIAN_DEADLIFT: lazy("Romanian deadlift"),
    Lift.POWER_CLEAN: lazy("Power clean"),
    Lift.POWER_SNATCH: lazy("Power snatch"),
    Lift.JERK: lazy("Jerk"),
}

HOW = {
    "reach touched": lazy("Reach: height touched"),
    "reach heights": lazy("Reach: touched less standing reach"),
    "mat heights": lazy("Mat: height"),
    "mat flight": lazy("Mat: flight time"),
    "film frames": lazy("Film: frames in the air"),
    "film flight": lazy("Film: flight time"),
    "film heights": lazy("Film: height"),
    "plate_flight heights": lazy("Force plate: height by flight time"),
    "plate_flight flight": lazy("Force plate: flight time"),
    "plate_impulse heights": lazy("Force plate: height by impulse"),
}
"""How a jump is measured and what is written down: method and way."""

_NAMES = {
    "heights": lazy("height"),
    "touched": lazy("height touched"),
    "flight": lazy("flight time"),
    "frames": lazy("frames"),
    "contacts": lazy("contact time"),
    "distances": lazy("distance"),
    "load": lazy("load"),
    "loads": lazy("load"),
    "reps": lazy("reps"),
    "reserve": lazy("reps left"),
    "speeds": lazy("speed"),
    "peak": lazy("peak force"),
    "force_at": lazy("force"),
    "mass": lazy("body mass"),
    "standing_reach": lazy("standing reach"),
}


_SHORT = {
    "touched": lazy("touched"),
    "flight": lazy("flight"),
    "contacts": lazy("contact"),
    "reserve": lazy("left"),
    "peak": lazy("peak"),
    "mass": lazy("mass"),
    "standing_reach": lazy("reach"),
}
"""Names that are too long to stand in a small field."""


def trial_title(trial: Trial, units: Units) -> str:
    """What a coach calls a test: "Squat jump +20 kg, mat"."""
    title = str(KINDS[trial.kind])
    if trial.lift:
        title = f"{LIFTS[Lift(trial.lift)]}, {inside(title)}"
    if trial.load_kg:
        load = shown(trial.load_kg, Quantity.MASS, units)
        title = f"{title} +{load} {units.mass}"
    if trial.box_m:
        box = shown(trial.box_m, Quantity.LENGTH, units)
        title = _("%(test)s from %(box)s %(unit)s") % {
            "test": title,
            "box": box,
            "unit": units.length,
        }
    return title


def how_words(trial: Trial) -> str:
    """How it is measured: "mat: flight time, with arms"."""
    words = []
    if trial.method:
        words.append(str(HOW[f"{trial.method} {trial.way}"]))
        words.append(_("with arms") if trial.arms else _("without arms"))
    elif trial.kind == "broad_jump":
        words.append(_("with arms") if trial.arms else _("without arms"))
    if trial.frame_rate_hz:
        words.append(_("%(rate)g frames a second") % {"rate": trial.frame_rate_hz})
    return ", ".join(words)


def column_name(column: Column) -> str:
    """What one figure is: "height", "force at 100 ms"."""
    if column.name == "force_at":
        return _("force at %(ms)s ms") % {"ms": column.attempt}
    return str(_NAMES[column.name])


def column_short(column: Column) -> str:
    """The same, short enough to stand in a small field."""
    if column.name == "force_at":
        return _("%(ms)s ms") % {"ms": column.attempt}
    return str(_SHORT[column.name]) if column.name in _SHORT else column_name(column)


def column_label(column: Column, units: Units) -> str:
    """A figure's name with its attempt and its unit: "height, attempt 2, cm"."""
    words = [column_name(column)]
    if column.attempt and column.name != "force_at":
        words.append(_("attempt %(number)s") % {"number": column.attempt})
    sign = sign_of(column.quantity, units)
    return ", ".join([*words, sign] if sign else words)


def objection_words(objection: Objection, *, sees_health: bool) -> str:
    """Why somebody should not do a test, without telling health to whom it is not shown."""
    if objection.is_health and not sees_health:
        return _("Not to do this today: ask the coach in charge.")
    pain, restriction = objection.pain, objection.restriction
    values: Mapping[str, object]
    if pain is not None:
        values = {"level": pain.level, "place": told(pain.place)}
        if objection.why is Why.PAIN:
            return (
                _("Pain %(level)s/10, %(place)s: no jumping until somebody licensed has seen it.")
                % values
            )
        return _("Pain %(level)s/10, %(place)s: no drop jumps.") % values
    if restriction is not None:
        values = {"what": restricted_words(restriction.what), "why": restriction.why}
        if restriction.why:
            return _("No %(what)s: %(why)s") % values
        return _("No %(what)s until lifted.") % values
    return {
        Why.MINOR: _("Under 18: no maximal attempts; test a set of several repetitions instead."),
        Why.AGE_UNKNOWN: _("Age unknown: no maximal attempts, as with a minor."),
        Why.NOVICE: _("First year of training: no maximal attempts; test a set instead."),
    }[objection.why]


def default_warm_up() -> str:
    """A warm-up that suits most tests, with the usual cautions (common practice)."""
    return _(
        "5 minutes easy: skipping, cycling or jogging.\n"
        "Mobility: ankles, hips, back; 10 body-weight squats, 10 lunges.\n"
        "Landing practice: 2 x 3 snap-downs, soft and quiet, knees over the feet.\n"
        "Build up: 3 jumps at about 60, 80 and 90 %, then rest 2 minutes.\n"
        "Before lifts: sets of 8, 5 and 3 with rising load, well short of failure.\n"
        "\n"
        "Ask everybody: any pain, illness, or poor sleep today? Pain in a joint or tendon: no "
        "jumping, and have it seen.\n"
        "Jumps before lifts. At least 30 seconds between attempts, 2 to 3 minutes between "
        "tests.\n"
        "Dry floor, free space around, shoes tied; spotters and safety bars for lifts.\n"
        "Stop when a landing gets loud or stiff, when it hurts, or when somebody feels dizzy.\n"
        "Under 18: few attempts, supervised, no maximal lifts."
    )

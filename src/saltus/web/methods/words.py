"""What the parts of a method are called on a page."""

import re
from collections.abc import Iterable, Mapping

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l

from saltus.athlete.health import JUMPING, LANDING, PainBand, identifier_of
from saltus.training.exercises import Carrier, HeightKind, Place
from saltus.training.method import DropBy, Method, PhaseKind
from saltus.web.methods.asked import TITLES
from saltus.web.methods.using import copy_read

__all__ = [
    "CARRIERS",
    "DROP_BY",
    "HEIGHTS",
    "KINDS",
    "LOOSER",
    "PAIN",
    "PLACES",
    "SECTIONS",
    "exercise_called",
    "exercise_words",
    "family_words",
    "phase_words",
    "place_words",
    "restricted_words",
    "restrictions_offered",
    "rule_words",
]

PLACES: Mapping[Place, Promise] = {
    Place.STRENGTH: _l("strength"),
    Place.STRENGTH_SPEED: _l("strength at speed"),
    Place.SPEED_STRENGTH: _l("speed with little load"),
    Place.SPEED: _l("speed"),
    Place.REACTIVE: _l("reactive"),
    Place.SUPPORT: _l("support"),
    Place.PREPARATION: _l("preparation"),
}

KINDS: Mapping[PhaseKind, Promise] = {
    PhaseKind.BUILDING: _l("building"),
    PhaseKind.PEAKING: _l("peaking"),
    PhaseKind.UNLOADING: _l("unloading"),
}

CARRIERS: Mapping[Carrier, Promise] = {
    Carrier.BARBELL: _l("barbell"),
    Carrier.TRAP_BAR: _l("trap bar"),
    Carrier.DUMBBELLS: _l("dumbbells"),
    Carrier.DUMBBELL: _l("one dumbbell"),
    Carrier.KETTLEBELL: _l("kettlebell"),
    Carrier.MACHINE: _l("machine"),
}

HEIGHTS: Mapping[HeightKind, Promise] = {
    HeightKind.BOX: _l("a box to land on"),
    HeightKind.DROP: _l("a box to step off"),
    HeightKind.HURDLE: _l("a hurdle to jump over"),
}

DROP_BY: Mapping[DropBy, Promise] = {
    DropBy.HEIGHT: _l("the highest jump"),
    DropBy.RSI: _l("the highest jump for its time on the floor"),
}

PAIN: Mapping[PainBand, Promise] = {
    PainBand.SAFE: _l("up to 2 of 10"),
    PainBand.ACCEPTABLE: _l("up to 5 of 10"),
    PainBand.STOP: _l("any"),
}

SECTIONS: Mapping[str, Promise] = {
    "emphases": _l("how the building weeks are shared out"),
    "week": _l("what a week and a session may hold"),
    "back_off": _l("lighter weeks"),
    "careful": _l("the careful start"),
    "easing": _l("the weeks after a break"),
    "unloading": _l("the days before a test"),
    "budgets": _l("landing budgets"),
    "landing_steps": _l("how landings may grow"),
    "day": _l("what follows from the sets of a day"),
}
"""Parts of a method that have no identifier of their own."""

LOOSER: Mapping[str, Promise] = {
    "squat_per_mass": _l("a lower squat"),
    "landing_practice_weeks": _l("less landing practice"),
    "training_age_years": _l("fewer years of training"),
    "age_years": _l("a younger age"),
    "soft_surface": _l("a harder surface"),
    "adult_supervision": _l("no supervision of minors"),
    "pain": _l("more pain"),
    "height": _l("a greater height"),
    "landing": _l("landings counted as cheaper"),
    "budgets": _l("more landings"),
    "landing_steps": _l("landings that grow faster or count for less"),
    "careful": _l("a start that is heavier, higher or nearer to the last repetition"),
    "easing": _l("full work sooner after a break"),
    "spacings": _l("fewer days between"),
    "day": _l("loads or boxes that rise sooner on the day, or exercises that end later"),
}
"""What an exercise, or a part of the method, allows that it does not allow as it ships."""

_FAMILIES: Mapping[str, Promise] = {
    "approach_jump": _l("jumps with a run-up"),
    "box_jump": _l("box jumps"),
    "broad_jump": _l("broad jumps"),
    "calf": _l("calf work"),
    "depth_jump": _l("depth jumps"),
    "drop_landing": _l("drop landings"),
    "free_jump": _l("free jumps"),
    "hamstring": _l("hamstring work"),
    "heavy_legs": _l("heavy leg work"),
    "hinge": _l("hinges"),
    "hurdle_hop": _l("hurdle hops"),
    "jerk": _l("jerks"),
    "jump": _l("jumps"),
    "jump_squat": _l("jump squats"),
    "landing": _l("everything with landings"),
    "landing_practice": _l("landing practice"),
    "pogo": _l("pogo hops"),
    "single_leg": _l("one-leg strength"),
    "sprint": _l("sprints"),
    "squat": _l("squats"),
    "swing": _l("swings"),
    "trap_bar_jump": _l("trap-bar jumps"),
    "trunk": _l("trunk work"),
    "warm_up": _l("warm-up"),
    "weightlifting": _l("weightlifting"),
}


def family_words(family: str) -> str:
    """What a family of exercises is called; one of a coach's own goes by its identifier."""
    known = _FAMILIES.get(family)
    return str(known) if known else family.replace("_", " ")


def restricted_words(what: str) -> str:
    """What a restriction speaks of, in words; a coach's own words as they are."""
    word = identifier_of(what)
    if word in JUMPING:
        return str(_FAMILIES["jump"])
    if word in LANDING:
        return _("landings")
    if word in _FAMILIES:
        return family_words(word)
    return exercise_called(word) if word in copy_read(None).exercises else what.replace("_", " ")


def exercise_called(name: str) -> str:
    """What an exercise of the shipped method is called; another goes by its identifier."""
    exercise = copy_read(None).exercises.get(name)
    return name.replace("_", " ") if exercise is None else _(exercise.name)


def restrictions_offered() -> list[str]:
    """What a restriction may speak of in the shipped method, each once, as a record has it."""
    families = {family for e in copy_read(None).exercises.values() for family in e.families}
    found = ["jumping", "landing", *sorted(families - {"jump"}), *copy_read(None).exercises]
    once: dict[str, str] = {}
    for each in found:
        once.setdefault(restricted_words(each).casefold(), each)
    return list(once.values())


def rule_words(rule: str) -> str:
    """A rule's identifier as words."""
    return rule.replace("_", " ")


def exercise_words(names: Iterable[str], *methods: Method) -> list[str]:
    """What exercises are called, in order; one that none of the methods has, by its identifier."""
    return sorted(
        next((m.exercises[name].name for m in methods if name in m.exercises), rule_words(name))
        for name in names
    )


def phase_words(ids: Iterable[str], *methods: Method) -> list[str]:
    """What phases are called, in order of time."""
    found = {phase.id: phase.name for method in methods for phase in method.phases}
    order = list(found)
    known = sorted((one for one in ids if one in found), key=order.index)
    return [_(found[one]) for one in known]


def place_words(where: str, found: Method, gone: tuple[str | int, ...] = ()) -> str:
    """Where in a method a fault is, in words.

    Parameters
    ----------
    where : str
        The fault's own place, such as ``phase[1].use[0].rule``.
    found : Method
        The method as it was before, for the names of phases and exercises.
    gone : tuple
        What was taken out, such as ``("phase", 1)``: what stood behind it counts one less.
    """
    part, _dot, rest = where.partition(".")
    found_at = re.fullmatch(r"(\w+)(?:\[(\d+)\])?", part)
    if found_at is None or found_at[1] not in TITLES:
        return _("The method")
    part, name = found_at[1], ""
    if found_at[2] is not None:
        index = int(found_at[2])
        if gone and gone[0] == part and isinstance(gone[1], int) and index >= gone[1]:
            index += 1
        if part == "phase" and index < len(found.phases):
            name = _(found.phases[index].name)
        else:
            name = _("number %(n)d") % {"n": index + 1}
    elif part == "exercise" and rest:
        name = exercise_words([rest.partition(".")[0]], found)[0]
    elif part == "rule" and rest:
        name = rule_words(rest.partition(".")[0])
    title = str(TITLES[part])
    return _("%(part)s, %(name)s") % {"part": title, "name": name} if name else title

"""Items of a plan as a coach reads them, in the reader's units."""

import datetime as dt

from django.utils.formats import date_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from saltus.training.exercises import Carrier, Exercise
from saltus.training.gym_loads import put_together
from saltus.training.method import Method
from saltus.training.plan import Item
from saltus.training.situation import Gym
from saltus.web.decimals import decimals
from saltus.web.sentences import inside
from saltus.web.testdays.words import LIFTS
from saltus.web.units import Units

__all__ = [
    "day_words",
    "exercise_name",
    "height_words",
    "landings_words",
    "load_words",
    "moved_words",
    "percent_words",
    "rest_words",
    "sets_words",
    "side_words",
    "told_by_its_time",
]

_MINUTE_S = 60


def exercise_name(name: str, method: Method) -> str:
    """What a coach calls an exercise; of one that the method no longer has, its identifier."""
    exercise = method.exercises.get(name)
    text = name.replace("_", " ") if exercise is None else _(exercise.name)
    return capfirst(text)


def told_by_its_time(item: Item, exercise: Exercise | None) -> bool:
    """Whether the minutes of an item say more than "1 × 1": a warm-up."""
    return item.sets == item.reps == 1 and exercise is not None and not exercise.adds


def sets_words(item: Item, exercise: Exercise | None) -> str:
    """Sets and repetitions: "3 × 5", "3 × 5 each leg"."""
    if told_by_its_time(item, exercise):
        return _("%(minutes)d min") % {"minutes": round(item.minutes)}
    text = f"{item.sets} × {item.reps}"
    return _("%(sets)s each leg") % {"sets": text} if exercise and exercise.per_side else text


def load_words(kilograms: float | None, units: Units, gym: Gym) -> str:
    """A load in the reader's unit: "62.5 kg"; to a tenth where the plates have another unit."""
    if kilograms is None:
        return ""
    load = kilograms * units.kilogram
    figure = f"{load:.4g}" if gym.unit == units.mass else f"{load:.1f}".removesuffix(".0")
    return f"{decimals(figure)} {units.mass}"


def side_words(item: Item, exercise: Exercise | None, gym: Gym) -> str:
    """What to put on each side, as the plates are stamped: "20 + 1.25 a side"."""
    if item.load_kg is None or exercise is None:
        return ""
    loading = put_together(exercise, item.load_kg, gym)
    if loading is None:
        return _("this gym cannot make this load any more")
    per = gym.unit_kg
    if loading.carrier in (Carrier.BARBELL, Carrier.TRAP_BAR):
        if not loading.plates_kg:
            return _("the bar alone")
        plates = " + ".join(decimals(f"{plate / per:.4g}") for plate in loading.plates_kg)
        return _("%(plates)s %(unit)s a side") % {"plates": plates, "unit": gym.unit}
    if loading.carrier is Carrier.DUMBBELLS:
        each = decimals(f"{loading.total_kg / 2 / per:.4g} {gym.unit}")
        return _("two of %(weight)s") % {"weight": each}
    each = decimals(f"{loading.total_kg / per:.4g} {gym.unit}")
    match loading.carrier:
        case Carrier.DUMBBELL:
            return _("one dumb-bell of %(weight)s") % {"weight": each}
        case Carrier.KETTLEBELL:
            return _("kettlebell of %(weight)s") % {"weight": each}
    return _("%(weight)s on the machine") % {"weight": each}


def percent_words(item: Item) -> str:
    """What the load is a share of: "75 % of the back squat maximum"."""
    if item.percent is None or item.percent_of is None:
        return ""
    share = f"{item.percent:.0f}"
    if item.percent_of == "body_mass":
        return _("%(share)s %% of body mass") % {"share": share}
    lift = next((str(words) for key, words in LIFTS.items() if key.value == item.percent_of), "")
    lift = lift or item.percent_of.replace("_", " ")
    return _("%(share)s %% of the %(lift)s maximum") % {
        "share": share,
        "lift": inside(lift),
    }


def height_words(item: Item, units: Units) -> str:
    """Height of the box or the drop: "onto 45 cm", "from 30 cm"."""
    if item.drop_m is not None:
        height = f"{item.drop_m * units.metre:.0f} {units.length}"
        return _("from %(height)s") % {"height": height}
    if item.box_m is not None:
        height = f"{item.box_m * units.metre:.0f} {units.length}"
        return _("at %(height)s") % {"height": height}
    return ""


def rest_words(item: Item) -> str:
    """Rest between sets, and between repetitions where there is any."""
    if item.sets == 1 and item.reps == 1:
        return ""
    parts = []
    if item.sets > 1:
        parts.append(_duration(item.rest_s))
    if item.rest_between_reps_s:
        parts.append(
            _("%(time)s between repetitions") % {"time": _duration(item.rest_between_reps_s)}
        )
    return ", ".join(parts)


def moved_words(date: dt.date, to: dt.date) -> str:
    """What a coach asks for who moves a session."""
    return _("The session of %(from)s moved to %(to)s") % {
        "from": day_words(date),
        "to": day_words(to),
    }


def day_words(date: dt.date) -> str:
    """A day of a plan as one speaks of it: "Monday 4 January"."""
    return date_format(date, "FULL_WEEKDAY_MONTH_DAY_FORMAT")


def landings_words(landings: float) -> str:
    """How many landings."""
    count = round(landings)
    return ngettext("%(count)d landing", "%(count)d landings", count) % {"count": count}


def _duration(seconds: float) -> str:
    if seconds < 2 * _MINUTE_S:
        return _("%(seconds)d s") % {"seconds": round(seconds)}
    return ngettext("%(minutes)s min", "%(minutes)s min", round(seconds / _MINUTE_S)) % {
        "minutes": decimals(f"{seconds / _MINUTE_S:g}")
    }

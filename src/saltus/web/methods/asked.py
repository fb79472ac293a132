"""What the forms of a method ask for: every field of every table of the file, in a coach's words.

The limits are not told here: the reader of the file checks what a form gives.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum, auto

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _l

__all__ = ["EXERCISE", "PHASE", "RULE", "SECTIONS", "TITLES", "USE", "Ask", "Asked"]


class Ask(Enum):
    """How a field is asked for."""

    TEXT = auto()
    LONG_TEXT = auto()
    LINES = auto()
    """Texts, one a line."""
    NUMBER = auto()
    RANGE = auto()
    HEIGHT = auto()
    """A length in the reader's unit; m in the file."""
    HEIGHT_RANGE = auto()
    FLAG = auto()
    CHOICE = auto()
    TICKS = auto()
    NAMES = auto()
    """Identifiers by their names, one a line, in order."""
    RATIOS = auto()
    """Identifiers with a number each, one a line."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A field of a form.

    Parameters
    ----------
    at : str
        Place in the table, such as "sets" or "load.percent".
    ask : Ask
        How it is asked for.
    label, help : str
        In the coach's words.
    of : str
        Which choices: a key of :func:`saltus.web.methods.forms.choices_of`.
    """

    at: str
    ask: Ask
    label: str | Promise
    help: str | Promise = ""
    of: str = ""

    @property
    def name(self) -> str:
        """Name of the form's field."""
        return self.at.replace(".", "__")


_RULE = Asked("rule", Ask.CHOICE, _l("Rule that it follows"), of="rule")
_FAMILY = Asked("family", Ask.CHOICE, _l("Exercises"), of="family")
_FAMILY_OR_LANDING = Asked("family", Ask.CHOICE, _l("Exercises"), of="family_or_landing")

RULE = (
    Asked("text", Ask.LONG_TEXT, _l("What the rule says")),
    Asked(
        "source",
        Ask.LONG_TEXT,
        _l("Where it comes from"),
        _l("A publication, “common practice”, or “judgement”."),
    ),
)

PHASE = (
    Asked("name", Ask.TEXT, _l("Name")),
    Asked("rule", Ask.CHOICE, _l("Rule that it follows"), of="rule"),
    Asked(
        "weeks",
        Ask.RANGE,
        _l("Weeks, shortest and longest"),
        _l("Such as 2 to 26. Where time is short a phase may be left out."),
    ),
)

USE = (
    Asked("family", Ask.CHOICE, _l("Exercises"), of="family"),
    Asked("per_week", Ask.RANGE, _l("Times a week")),
    Asked("sets", Ask.RANGE, _l("Sets")),
    Asked("reps", Ask.RANGE, _l("Repetitions")),
    Asked("percent", Ask.RANGE, _l("% of maximum")),
    Asked("rule", Ask.CHOICE, _l("Rule"), of="rule"),
)

EXERCISE = (
    Asked("name", Ask.TEXT, _l("Name")),
    Asked(
        "place",
        Ask.CHOICE,
        _l("Place on the continuum"),
        _l("From slow and heavy to fast and light; support and preparation stand beside it."),
        of="place",
    ),
    Asked(
        "families",
        Ask.TICKS,
        _l("What kind it is"),
        _l(
            "Phases, spacings and an athlete’s restrictions speak of these. Where a phase uses "
            "several of them, the first in the phase counts."
        ),
        of="family",
    ),
    Asked("sets", Ask.RANGE, _l("Sets in a session"), _l("Such as 2 to 4, or 3.")),
    Asked("reps", Ask.RANGE, _l("Repetitions in a set")),
    Asked("per_side", Ask.FLAG, _l("Each set is done once with each leg")),
    Asked("per_week", Ask.RANGE, _l("Sessions a week in which it may stand")),
    Asked("rep_s", Ask.NUMBER, _l("One repetition (seconds)")),
    Asked(
        "rest_between_reps_s",
        Ask.NUMBER,
        _l("Rest between repetitions (seconds)"),
        _l("0 for none."),
    ),
    Asked("rest_s", Ask.NUMBER, _l("Rest between sets (seconds)")),
    Asked("set_up_min", Ask.NUMBER, _l("Setting up and warm-up sets (minutes)")),
    Asked(
        "load.of",
        Ask.CHOICE,
        _l("Per cent of what"),
        _l("Leave all of the load empty where the body alone is the load."),
        of="load_of",
    ),
    Asked("load.percent", Ask.RANGE, _l("Lightest and heaviest (%)")),
    Asked(
        "load.on",
        Ask.NAMES,
        _l("What holds it"),
        _l("One a line, the preferred one first."),
        of="carrier",
    ),
    Asked(
        "load.else_of",
        Ask.RATIOS,
        _l("Other lifts to take it from"),
        _l(
            "Where that lift was never tested: one a line, with the ratio of the maxima, such as "
            "back squat: 0.65."
        ),
        of="lift",
    ),
    Asked("load.may_be_none", Ask.FLAG, _l("May be done without any load")),
    Asked("height.kind", Ask.CHOICE, _l("Height of what"), of="height"),
    Asked("height.range_m", Ask.HEIGHT_RANGE, _l("Lowest and highest")),
    Asked(
        "height.start_m",
        Ask.HEIGHT,
        _l("Highest to begin with"),
        _l("Where no test has shown a better one."),
    ),
    Asked("landing.per_rep", Ask.NUMBER, _l("Landings in one repetition")),
    Asked(
        "landing.cost",
        Ask.NUMBER,
        _l("Cost of each landing"),
        _l("1 is the landing of a vertical jump."),
    ),
    Asked(
        "landing.cost_per_drop_m",
        Ask.NUMBER,
        _l("Added cost for each metre dropped"),
        _l("Only where there is a box to step off."),
    ),
    Asked("adds.max_strength", Ask.NUMBER, _l("Max strength")),
    Asked("adds.rate_of_force_development", Ask.NUMBER, _l("Rate of force development")),
    Asked("adds.push_off_speed", Ask.NUMBER, _l("Push-off speed")),
    Asked(
        "adds.stretch_shortening_gain",
        Ask.NUMBER,
        _l("Stretch-shortening gain"),
        _l("Each a share of a whole week’s work: 0.10 means that ten sets make a week."),
    ),
    Asked(
        "needs.squat_per_mass",
        Ask.NUMBER,
        _l("Squat maximum over body mass, at least"),
        _l("0 for none."),
    ),
    Asked("needs.landing_practice_weeks", Ask.NUMBER, _l("Weeks of landing practice, at least")),
    Asked("needs.training_age_years", Ask.NUMBER, _l("Years of regular training, at least")),
    Asked(
        "needs.age_years",
        Ask.NUMBER,
        _l("Age in years, at least"),
        _l("An unknown age does not pass."),
    ),
    Asked("needs.pain", Ask.CHOICE, _l("Worst pain that still allows it"), of="pain"),
    Asked("needs.soft_surface", Ask.FLAG, _l("Needs a forgiving surface")),
    Asked("needs.adult_supervision", Ask.FLAG, _l("Someone qualified must watch a minor do it")),
    Asked("equipment", Ask.TICKS, _l("What it needs"), of="equipment"),
    Asked(
        "stand_ins",
        Ask.NAMES,
        _l("Exercises that may stand in for it"),
        _l("One a line, the nearest first."),
        of="exercise",
    ),
    Asked("cues", Ask.LINES, _l("What to think of"), _l("One a line.")),
    Asked("not_for", Ask.LINES, _l("Who should not do it"), _l("One a line.")),
    Asked("source", Ask.LONG_TEXT, _l("Where the figures come from")),
)

SECTIONS: Mapping[str, tuple[Asked, ...]] = {
    "emphasis": (_RULE,),
    "week": (
        Asked("sessions", Ask.RANGE, _l("Sessions a week")),
        Asked("items", Ask.RANGE, _l("Exercises in a session"), _l("Warm-up included.")),
        Asked("sets", Ask.NUMBER, _l("Working sets in a session, at most")),
        Asked(
            "shortest_min",
            Ask.NUMBER,
            _l("Shortest session (minutes)"),
            _l("A shorter one is not worth the way."),
        ),
        _RULE,
    ),
    "spacing": (
        _FAMILY_OR_LANDING,
        Asked(
            "days",
            Ask.NUMBER,
            _l("Days from one to the next, at least"),
            _l("2 is Monday to Wednesday."),
        ),
        Asked("days_minors", Ask.NUMBER, _l("The same under 18, or age unknown")),
        _RULE,
    ),
    "match_gap": (
        _FAMILY_OR_LANDING,
        Asked("days_before", Ask.NUMBER, _l("Days clear before a match")),
        Asked("days_after", Ask.NUMBER, _l("Days clear after a match")),
        _RULE,
    ),
    "budget": (
        Asked("from_years", Ask.NUMBER, _l("From so many years of training")),
        Asked("minors", Ask.FLAG, _l("For those under 18, or of unknown age")),
        Asked(
            "per_session",
            Ask.NUMBER,
            _l("Landings on one day, at most"),
            _l("Counted by their cost."),
        ),
        Asked(
            "per_week",
            Ask.NUMBER,
            _l("Landings in one week, at most"),
            _l("Practices and matches included."),
        ),
        Asked("first_week", Ask.NUMBER, _l("Landings that the first week may add")),
        _RULE,
    ),
    "landing_steps": (
        Asked(
            "step",
            Ask.NUMBER,
            _l("Rise above the fullest week"),
            _l("As a share: 0.2 is a fifth."),
        ),
        Asked("allowance", Ask.NUMBER, _l("and so many landings more")),
        Asked("look_back", Ask.NUMBER, _l("Weeks looked back")),
        Asked("over_kg", Ask.NUMBER, _l("Bodies heavier than this (kg)")),
        Asked("heavy_share", Ask.NUMBER, _l("get this share of the budget")),
        Asked("practice_cost", Ask.NUMBER, _l("Cost of a landing in practice")),
        Asked("match_cost", Ask.NUMBER, _l("Cost of a landing in a match")),
        _RULE,
    ),
    "back_off": (
        Asked("every_weeks", Ask.NUMBER, _l("A lighter week every so many weeks")),
        Asked(
            "sets_share",
            Ask.NUMBER,
            _l("Sets in it, at most"),
            _l("As a share of the fullest week since the last lighter one."),
        ),
        _RULE,
    ),
    "progression": (
        _FAMILY,
        Asked(
            "start_share",
            Ask.NUMBER,
            _l("Where the first week starts in the range"),
            _l("0 is the lightest end, 1 the heaviest."),
        ),
        Asked("step_points", Ask.NUMBER, _l("Rise from one step to the next, at most (% points)")),
        Asked("every_weeks", Ask.NUMBER, _l("Weeks from one step to the next, at least")),
        _RULE,
    ),
    "careful": (
        Asked(
            "weeks",
            Ask.NUMBER,
            _l("Careful weeks at the start"),
            _l("Loads are taken from the low end of the estimates."),
        ),
        Asked(
            "ease_weeks",
            Ask.NUMBER,
            _l("Weeks after them"),
            _l("Loads pass evenly from the low end to the estimates, without a leap."),
        ),
        Asked(
            "height_share",
            Ask.NUMBER,
            _l("Height of boxes"),
            _l(
                "Share of the push-off distance that a box may stand above the low estimate of "
                "the jump."
            ),
        ),
        Asked("reserve_reps", Ask.NUMBER, _l("Repetitions that a set leaves undone, at least")),
        _RULE,
    ),
    "easing": (
        Asked("from_days", Ask.NUMBER, _l("Days without training that are a break, from")),
        Asked("weeks", Ask.NUMBER, _l("Weeks of easing in after it")),
        Asked(
            "load_share",
            Ask.NUMBER,
            _l("Loads in the first of them"),
            _l(
                "As a share of the last loads lifted, or of what the week would hold where that "
                "is less; it rises evenly over the weeks."
            ),
        ),
        Asked(
            "volume_share",
            Ask.NUMBER,
            _l("Sets and landings in the first of them"),
            _l("As a share of those of an ordinary week; it rises evenly over the weeks."),
        ),
        Asked("long_days", Ask.NUMBER, _l("Days without training that are a long break, from")),
        Asked("long_weeks", Ask.NUMBER, _l("Weeks of easing in after a long one")),
        Asked("long_load_share", Ask.NUMBER, _l("Loads in the first week after a long one")),
        Asked(
            "long_volume_share",
            Ask.NUMBER,
            _l("Sets and landings in the first week after a long one"),
        ),
        _RULE,
    ),
    "unloading": (
        Asked("no_jump_days", Ask.RANGE, _l("Days without planned jumps before the main test")),
        Asked(
            "sets_share",
            Ask.RANGE,
            _l("Sets of an unloading week"),
            _l("As a share of those of the last full week."),
        ),
        Asked("rest_days", Ask.NUMBER, _l("Free days before the test")),
        _RULE,
        Asked("second_rest_days", Ask.NUMBER, _l("Free days before a test of second rank")),
        Asked("second_no_jump_days", Ask.NUMBER, _l("Days without planned jumps before it")),
        Asked("second_rule", Ask.CHOICE, _l("Rule for tests of second rank"), of="rule"),
    ),
    "day": (
        Asked(
            "beginner_years",
            Ask.NUMBER,
            _l("Years of training up to which no load rises above the plan's"),
        ),
        Asked(
            "most_rise",
            Ask.NUMBER,
            _l("Rise above the plan, at most"),
            _l("As a share of the load. Never for those under 18."),
        ),
        Asked(
            "least_change",
            Ask.NUMBER,
            _l("Smallest change of a load"),
            _l("As a share of it; less is not worth the plates."),
        ),
        Asked(
            "most_reserve",
            Ask.NUMBER,
            _l("Repetitions left, above which a set says nothing of the maximum"),
        ),
        Asked(
            "missed_lighter",
            Ask.NUMBER,
            _l("Lighter after a missed repetition, at least"),
            _l("As a share of the load."),
        ),
        Asked("missed_sets", Ask.NUMBER, _l("Sets with a missed repetition that end an exercise")),
        Asked(
            "speed_loss",
            Ask.NUMBER,
            _l("Loss of bar speed that ends an exercise"),
            _l("As a share of the first set's."),
        ),
        Asked(
            "height_loss",
            Ask.NUMBER,
            _l("Loss of jump height that ends an exercise"),
            _l("As a share of the best of the day."),
        ),
        Asked(
            "below",
            Ask.NUMBER,
            _l("A day is below usual when so few ordinary days show as little"),
            _l("As a share: 0.1 is one in ten."),
        ),
        Asked("well_below", Ask.NUMBER, _l("And well below when so few do")),
        Asked(
            "below_lighter",
            Ask.NUMBER,
            _l("Lighter on a day below usual"),
            _l("As a share of the load."),
        ),
        Asked(
            "well_below_lighter",
            Ask.NUMBER,
            _l("Lighter on a day well below"),
            _l("As a share of the load."),
        ),
        Asked("well_below_sets", Ask.NUMBER, _l("Share of the sets left on a day well below")),
        Asked(
            "held_loss",
            Ask.NUMBER,
            _l("Height of loaded jumps that may be lost and still counts as held"),
            _l("As a share."),
        ),
        Asked(
            "held_probability", Ask.NUMBER, _l("Probability of that from which the weight may rise")
        ),
        Asked(
            "box_sessions", Ask.NUMBER, _l("Sessions with soft landings only before the box rises")
        ),
        Asked("box_step_m", Ask.HEIGHT, _l("Rise of the box at a time, at most")),
        Asked("drop_by", Ask.CHOICE, _l("The best box to drop from is that with"), of="drop_by"),
        Asked(
            "drop_probability",
            Ask.NUMBER,
            _l("Probability that it is better, below which a lower box is taken"),
        ),
        Asked(
            "end_sessions",
            Ask.NUMBER,
            _l("Sessions of depth jumps with measured jumps before their end is judged"),
        ),
        Asked(
            "end_gain",
            Ask.NUMBER,
            _l("Gain of a week that is worth another week"),
            _l("As a share of the height."),
        ),
        Asked(
            "end_probability", Ask.NUMBER, _l("Probability of it, below which the depth jumps end")
        ),
        _RULE,
    ),
}
"""By the table of the file; of the emphasis the shares come from the phases."""

TITLES: Mapping[str, Promise] = {
    "rule": _l("Rule"),
    "phase": _l("Phase"),
    "exercise": _l("Exercise"),
    "emphasis": _l("How the building weeks are shared out"),
    "week": _l("The week"),
    "spacing": _l("Days between"),
    "match_gap": _l("Round matches"),
    "budget": _l("Landing budget"),
    "landing_steps": _l("How landings may grow"),
    "back_off": _l("Lighter weeks"),
    "progression": _l("How a load creeps up"),
    "careful": _l("The careful start"),
    "easing": _l("After a break"),
    "unloading": _l("Before a test"),
    "day": _l("On the day"),
}

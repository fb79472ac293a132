"""What the columns of a spreadsheet may hold, in words."""

from django.utils.translation import gettext_lazy as _

from saltus.record.roster import GROUP

__all__ = ["TARGET_WORDS"]

TARGET_WORDS = {
    "athlete.name": _("name"),
    "first_name": _("first name"),
    "last_name": _("last name"),
    "athlete.sex": _("sex"),
    "athlete.born": _("date of birth"),
    "athlete.stature": _("stature"),
    "body_mass.mass": _("body mass"),
    "body_mass.date": _("day of weighing"),
    "athlete.standing_reach": _("standing reach"),
    "athlete.push_off_distance": _("push-off distance"),
    "athlete.sport": _("sport"),
    "athlete.training_age_years": _("years of training"),
    "athlete.testing_tools": _("what there is to test with"),
    "athlete.landing_practice_weeks": _("weeks of landing practice"),
    "athlete.remark": _("remark"),
    GROUP: _("group"),
    "goal.jump": _("wanted jump height"),
    "goal.date": _("day of the goal"),
    "week.mon": _("minutes on Mondays"),
    "week.tue": _("minutes on Tuesdays"),
    "week.wed": _("minutes on Wednesdays"),
    "week.thu": _("minutes on Thursdays"),
    "week.fri": _("minutes on Fridays"),
    "week.sat": _("minutes on Saturdays"),
    "week.sun": _("minutes on Sundays"),
}

"""What the squad page says, in words a coach would use."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

from django.utils import dateformat
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from saltus.record.glance import Coming, Concern, ConcernKind

__all__ = ["change_words", "coming_words", "concern_words", "day_words"]


def day_words(day: dt.date, today: dt.date) -> str:
    """A day near today as one would say it."""
    if day == today:
        return _("today")
    if day == today + dt.timedelta(days=1):
        return _("tomorrow")
    far = abs((day - today).days) > 180
    return dateformat.format(day, "j M Y" if far else "D j M")


def change_words(change: Mapping[str, Any] | None) -> str:
    """Whether a change is real."""
    if change is None:
        return ""
    return {
        "rise": _("a real rise"),
        "fall": _("a real fall"),
        "none": _("no change that matters"),
        "unclear": _("not clear yet"),
    }[change["verdict"]]


def concern_words(concern: Concern, today: dt.date) -> str:
    """A concern in a sentence."""
    day = day_words(concern.date, today) if concern.date else ""
    match concern.kind:
        case ConcernKind.PAIN_STOP:
            return _("Pain %(level)s/10, %(place)s, %(day)s: no jumping until it was seen") % {
                "level": concern.number,
                "place": concern.what,
                "day": day,
            }
        case ConcernKind.PAIN:
            return _("Sore: %(place)s, %(level)s/10, %(day)s") % {
                "level": concern.number,
                "place": concern.what,
                "day": day,
            }
        case ConcernKind.RESTRICTED:
            what = concern.what.replace("_", " ")
            if concern.date is None:
                return _("No %(what)s until lifted") % {"what": what}
            return _("No %(what)s until %(day)s") % {"what": what, "day": day}
        case ConcernKind.SESSIONS_MISSED:
            return ngettext(
                "%(number)s session missed since %(day)s",
                "%(number)s sessions missed since %(day)s",
                concern.number,
            ) % {"number": concern.number, "day": day}
        case ConcernKind.PLAN_ENDED:
            return _("The plan ended %(day)s") % {"day": day}
        case ConcernKind.PLAN_ENDS:
            return _("The plan ends %(day)s") % {"day": day}
        case ConcernKind.NEVER_TESTED:
            return _("Not tested yet")
        case ConcernKind.TEST_OVERDUE:
            weeks = concern.number // 7
            return ngettext(
                "Test overdue: the last was %(weeks)s week ago",
                "Test overdue: the last was %(weeks)s weeks ago",
                weeks,
            ) % {"weeks": weeks}


def coming_words(coming: Coming, next_test: str, today: dt.date) -> list[tuple[str, str]]:
    """What comes next, each with its label."""
    said = []
    if coming.session:
        said.append((_("Session"), day_words(coming.session, today)))
    if coming.match:
        said.append((_("Match"), day_words(coming.match, today)))
    if coming.target:
        day = day_words(coming.target, today)
        what = coming.target_what
        said.append((_("Counts"), f"{day}, {what}" if what else day))
    if next_test:
        said.append((_("Best next test"), next_test))
    return said

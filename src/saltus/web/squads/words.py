"""What the squad page says, in words a coach would use."""

import datetime as dt
from collections.abc import Mapping
from functools import cache
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext, ngettext

from saltus.record.glance import Coming, Concern, ConcernKind
from saltus.web.athletes.figures_told import VERDICTS
from saltus.web.decimals import signed
from saltus.web.methods.words import restricted_words
from saltus.web.sentences import told
from saltus.web.templatetags import figures_in_words as figures

__all__ = ["Wording"]


class Wording:
    """Says things on one day to one reader; what was said once is not looked up again.

    Parameters
    ----------
    today : date
        The day it is.
    """

    def __init__(self, today: dt.date):
        self.today = today
        self.say = cache(gettext)
        self.day = cache(self._day)
        self.quality = cache(figures.quality_words)
        self._interval = gettext("%(low)s to %(high)s")

    def _day(self, day: dt.date) -> str:
        """A day near today as one would say it."""
        if day == self.today:
            return gettext("today")
        if day == self.today + dt.timedelta(days=1):
            return gettext("tomorrow")
        far = abs((day - self.today).days) > 180
        return date_format(day, "DATE_FORMAT" if far else "WEEKDAY_MONTH_DAY_FORMAT")

    def interval(self, ends: Mapping[str, float]) -> str:
        """Ends of an interval of heights."""
        return self._interval % {
            "low": signed(figures.height(ends["low"])),
            "high": signed(figures.height(ends["high"])),
        }

    def change(self, change: Mapping[str, Any]) -> str:
        """Whether a change is real."""
        return self.say(VERDICTS[change["verdict"]])

    def limiting(self, limiting: Mapping[str, Any]) -> tuple[str, str]:
        """The limiting quality and how sure that is; "undecided" and what leads otherwise."""
        sure = figures.per_cent(limiting["probability"])
        if limiting["quality"]:
            return self.quality(limiting["quality"]), sure
        return self.say("undecided"), f"{self.quality(limiting['leading'])} {sure}"

    def concern(self, concern: Concern) -> str:
        """A concern in a sentence."""
        day = self.day(concern.date) if concern.date else ""
        values = {"level": concern.number, "place": told(concern.what), "day": day}
        match concern.kind:
            case ConcernKind.PAIN_STOP:
                text = self.say(
                    "Pain %(level)s/10, %(place)s, %(day)s: no jumping until it was seen"
                )
            case ConcernKind.PAIN:
                text = self.say("Pain %(level)s/10, %(place)s, %(day)s")
            case ConcernKind.RESTRICTED:
                values["what"] = restricted_words(concern.what)
                text = self.say("No %(what)s until %(day)s" if day else "No %(what)s until lifted")
            case ConcernKind.SESSIONS_MISSED:
                values["number"] = concern.number
                text = ngettext(
                    "%(number)s session missed since %(day)s",
                    "%(number)s sessions missed since %(day)s",
                    concern.number,
                )
            case ConcernKind.PLAN_ENDED:
                text = self.say("The plan ended %(day)s")
            case ConcernKind.PLAN_ENDS:
                text = self.say("The plan ends %(day)s")
            case ConcernKind.NEVER_TESTED:
                text = self.say("Not tested yet")
            case ConcernKind.TEST_OVERDUE:
                values["weeks"] = weeks = concern.number // 7
                text = ngettext(
                    "Test overdue: the last was %(weeks)s week ago",
                    "Test overdue: the last was %(weeks)s weeks ago",
                    weeks,
                )
        return text % values

    def coming(self, coming: Coming, next_test: str) -> list[tuple[str, str]]:
        """What comes next, each with its label."""
        said = []
        if coming.session:
            said.append((self.say("Session"), self.day(coming.session)))
        if coming.match:
            said.append((self.say("Match"), self.day(coming.match)))
        if coming.target:
            day, what = self.day(coming.target), coming.target_what
            said.append((self.say("Target"), f"{day}, {what}" if what else day))
        if next_test:
            said.append((self.say("Best next test"), next_test))
        return said


def _for_translators() -> None:
    """Texts that are looked up through `Wording.say`, where makemessages can find them."""
    _ = gettext
    _("undecided")
    _("Pain %(level)s/10, %(place)s, %(day)s: no jumping until it was seen")
    _("Pain %(level)s/10, %(place)s, %(day)s")
    _("No %(what)s until %(day)s")
    _("No %(what)s until lifted")
    _("The plan ended %(day)s")
    _("The plan ends %(day)s")
    _("Not tested yet")
    _("Session")
    _("Match")
    _("Target")
    _("Best next test")
    _("The record is at fault: open its text to mend it")
    _("No assessment: %(why)s")

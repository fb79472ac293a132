"""What the sheet of a day says in words that are no sentences: sets done, and loads."""

from django.utils.translation import gettext_noop as _

__all__ = ["TODAY"]

TODAY = (
    _("%(sets)s x %(reps)s x %(load)s"),
    _("%(sets)s x %(reps)s"),
    _("%(reps)s x %(load)s"),
    _("%(number)s missed"),
    _("%(number)s left"),
    _("jump %(number)s cm"),
    _("%(number)s m/s"),
    _("landing not soft"),
    _("%(load)s: the bar alone"),
    _("%(load)s: %(plates)s a side"),
    _("%(load)s: two of %(number)s"),
)

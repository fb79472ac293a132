"""The revision that a form was filled in from, sent along with it."""

from django.http import HttpRequest
from django.utils.translation import gettext as _

from saltus.errors import UsageError

__all__ = ["revision_sent"]


def revision_sent(request: HttpRequest) -> int:
    """Number of the revision that the person saw.

    Raises
    ------
    UsageError
        If the form does not say.
    """
    try:
        return int(request.POST.get("revision", ""))
    except ValueError as error:
        raise UsageError(_("The form is incomplete: reload the page.")) from error

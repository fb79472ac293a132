"""A change of a copy as a form asks for it: checked, its consequences seen first, then kept."""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpRequest
from django.utils.translation import gettext as _

from saltus.errors import MethodError
from saltus.training.method import Method
from saltus.training.method_file import parse_method
from saltus.web.access import user_of
from saltus.web.methods.copies import (
    Consequences,
    change_copy,
    consequences,
    in_short,
    meanwhile,
)
from saltus.web.methods.using import copy_read
from saltus.web.models import MethodCopy
from saltus.web.revisions import revision_sent

__all__ = ["Outcome", "revision_seen", "saved"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a form.

    Parameters
    ----------
    saved : bool
        Whether the change is kept.
    brings : Consequences or None
        What it would bring, where that has to be seen first.
    seen : str
        Stands for exactly this change: the form that comes back with it has seen what the
        change brings.
    """

    saved: bool
    brings: Consequences | None = None
    seen: str = ""


def revision_seen(request: HttpRequest, copy: MethodCopy) -> int:
    """The revision that a form was filled in from, which must be the present one.

    Raises
    ------
    EditedMeanwhile
        If the copy was changed since.
    UsageError
        If the form does not say.
    """
    seen = revision_sent(request)
    if seen != copy.revision:
        raise meanwhile(copy)
    return seen


def saved(
    request: HttpRequest,
    copy: MethodCopy,
    change: Callable[[], str],
    blame: Callable[[MethodError], None],
    *,
    what: str = "",
) -> Outcome:
    """Keep a change of a copy, unless it has faults or brings what has to be seen first.

    Parameters
    ----------
    request : HttpRequest
        Of the form, with the revision that it was filled in from.
    copy : MethodCopy
        Which.
    change : callable
        Gives the new text, or raises MethodError.
    blame : callable
        Is told the faults.
    what : str
        For the history, where it is not told by what the change changes.

    Raises
    ------
    EditedMeanwhile
        If the copy was changed since the form was opened.
    """
    revision = revision_seen(request, copy)
    try:
        text = change()
        after = parse_method(text, copy.name)
    except MethodError as error:
        blame(error)
        return Outcome(saved=False)
    seen = hashlib.sha256(text.encode()).hexdigest()
    before = _readable(copy)
    if before is not None and request.POST.get("seen") != seen:
        brings = consequences(before, after, copy.squads.all())
        if brings.to_be_seen:
            return Outcome(saved=False, brings=brings, seen=seen)
    if not what:
        what = in_short(before, after) if before is not None else _("faults mended")
    changed = change_copy(copy, user_of(request), text, revision=revision, what=what)
    if changed.revision == copy.revision:
        messages.info(request, _("Nothing was changed."))
    else:
        messages.success(request, _("%(name)s is saved.") % {"name": changed.name})
    return Outcome(saved=True)


def _readable(copy: MethodCopy) -> Method | None:
    try:
        return copy_read(copy)
    except MethodError:
        return None

"""Copies of the method in the database: make, change, put aside, and have a squad use one."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.db import transaction
from django.db.models import OuterRef, Subquery
from django.utils import timezone
from django.utils.translation import gettext as _

from saltus.errors import PlanError
from saltus.training.document import read_plan_document
from saltus.training.exercise_file import shipped_text
from saltus.training.method import Method
from saltus.training.method_compare import (
    Differences,
    Touched,
    differences,
    looser,
    looser_parts,
    touched,
)
from saltus.training.method_edit import with_name
from saltus.training.method_file import parse_method
from saltus.web.audit import note
from saltus.web.methods.using import copy_read
from saltus.web.methods.words import (
    LOOSER,
    SECTIONS,
    exercise_words,
    family_words,
    phase_words,
    rule_words,
)
from saltus.web.models import (
    Athlete,
    AuditEntry,
    MethodCopy,
    MethodRevision,
    Squad,
    StoredPlan,
    User,
)
from saltus.web.records import EditedMeanwhile

__all__ = [
    "Consequences",
    "TouchedPlan",
    "bring_back",
    "change_copy",
    "choose",
    "consequences",
    "in_short",
    "make_copy",
    "meanwhile",
    "put_aside",
]


@dataclass(frozen=True, slots=True)
class TouchedPlan:
    """An athlete whose plan uses what is said otherwise.

    Parameters
    ----------
    athlete : Athlete
        Whose.
    what : tuple of str
        What of it the plan uses, in words.
    """

    athlete: Athlete
    what: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Consequences:
    """What a change of method brings.

    Parameters
    ----------
    found : Differences
        What is said otherwise.
    told : tuple of (str, str)
        The same in words: which part, and which of it.
    plans : tuple of TouchedPlan
        The plans that use it from today on.
    looser : tuple of (str, str)
        Exercises and parts that come to ask for less caution than ships, and in what.
    """

    found: Differences
    told: tuple[tuple[str, str], ...]
    plans: tuple[TouchedPlan, ...]
    looser: tuple[tuple[str, str], ...]

    @property
    def to_be_seen(self) -> bool:
        """Whether they must have been seen before the change is made."""
        return bool(self.plans or self.looser)


def make_copy(user: User, name: str, text: str | None = None) -> MethodCopy:
    """Make a copy of a method's text, or of the method that ships, under a name.

    Raises
    ------
    MethodError
        If the text has faults.
    """
    text = with_name(shipped_text("method.toml") if text is None else text, name, name)
    with transaction.atomic():
        made = MethodCopy.objects.create(owner=user, name=_title(text), text=text)
        MethodRevision.objects.create(method=made, number=1, text=text, what=_("made"))
    note(user, AuditEntry.Action.METHOD_MADE, detail=made.name)
    return made


def change_copy(
    copy: MethodCopy, user: User, text: str, *, revision: int, what: str = ""
) -> MethodCopy:
    """Replace the text of a copy, and remember what it said before.

    Parameters
    ----------
    copy : MethodCopy
        Which.
    user : User
        Who changes it.
    text : str
        Exercises included.
    revision : int
        The revision that the person saw.
    what : str
        What is changed, in words, for the history.

    Raises
    ------
    EditedMeanwhile
        If the copy was changed since.
    MethodError
        If the text has faults.
    """
    name = _title(text)
    with transaction.atomic():
        locked = MethodCopy.objects.select_for_update().get(pk=copy.pk)
        if locked.revision != revision:
            raise meanwhile(locked)
        if text == locked.text:
            return locked
        locked.name, locked.text = name, text
        locked.revision += 1
        locked.save(update_fields=["name", "text", "revision", "changed"])
        MethodRevision.objects.create(
            method=locked, number=locked.revision, text=text, what=what[:300]
        )
        note(user, AuditEntry.Action.METHOD_CHANGED, detail=name)
    return locked


def meanwhile(copy: MethodCopy) -> EditedMeanwhile:
    """What to tell somebody whose page shows a copy that is no longer the newest."""
    return EditedMeanwhile(
        _(
            "%(name)s was changed since you opened it, in another window or on another device. "
            "Nothing was overwritten: go back, reload, and make your change again."
        )
        % {"name": copy.name}
    )


def put_aside(copy: MethodCopy, user: User) -> list[str]:
    """Delete a copy so that it can be brought back; its squads go on with the method that ships.

    Returns
    -------
    list of str
        Names of the squads that used it.
    """
    with transaction.atomic():
        names = list(copy.squads.order_by("name").values_list("name", flat=True))
        copy.squads.update(method=None)
        copy.deleted = timezone.now()
        copy.save(update_fields=["deleted"])
        note(user, AuditEntry.Action.METHOD_DELETED, detail=copy.name)
    return names


def bring_back(copy: MethodCopy, user: User) -> None:
    """Have a deleted copy again."""
    copy.deleted = None
    copy.save(update_fields=["deleted"])
    note(user, AuditEntry.Action.METHOD_BROUGHT_BACK, detail=copy.name)


def choose(squad: Squad, copy: MethodCopy | None, user: User) -> None:
    """Have a squad use a copy, or the method that ships."""
    squad.method = copy
    squad.save(update_fields=["method"])
    note(
        user,
        AuditEntry.Action.METHOD_CHOSEN,
        squad=squad,
        detail=copy.name if copy is not None else _("the method that ships"),
    )


def consequences(before: Method, after: Method, squads: Iterable[Squad]) -> Consequences:
    """What it brings to say `after` instead of `before` for these squads."""
    found = differences(before, after)
    since = timezone.localdate()
    shipped = copy_read(None)
    return Consequences(
        found=found,
        told=_told(found, after, before),
        plans=tuple(_touched(before, after, found, squads, since)) if found else (),
        looser=(*_looser_exercises(before, after, shipped), *_looser_parts(before, after, shipped)),
    )


def in_short(before: Method, after: Method) -> str:
    """What is said otherwise, in a line for the history."""
    told = _told(differences(before, after), after, before)
    return "; ".join(f"{part}: {words}" for part, words in told)


def _looser_exercises(before: Method, after: Method, shipped: Method) -> Iterable[tuple[str, str]]:
    """Exercises that come to ask for less caution than they ship with, and in what."""
    for name, exercise in after.exercises.items():
        if name in shipped.exercises and exercise != before.exercises.get(name):
            parts = looser(exercise, shipped.exercises[name])
            if parts:
                yield exercise.name, ", ".join(str(LOOSER[part]) for part in parts)


def _looser_parts(before: Method, after: Method, shipped: Method) -> Iterable[tuple[str, str]]:
    """Parts of the method that come to ask for less caution than those that ship, and in what."""
    for part in looser_parts(after, shipped):
        if getattr(after, part) != getattr(before, part):
            yield str(SECTIONS.get(part, _("days between"))), str(LOOSER[part])


def _touched(
    before: Method, after: Method, found: Differences, squads: Iterable[Squad], since: dt.date
) -> Iterable[TouchedPlan]:
    newest = StoredPlan.objects.filter(athlete=OuterRef("athlete"), accepted__isnull=False)
    plans = (
        StoredPlan.objects.filter(
            pk=Subquery(newest.order_by("-number").values("pk")[:1]),
            athlete__squad__in=list(squads),
            athlete__deleted=None,
        )
        .select_related("athlete")
        .order_by("athlete__name", "athlete_id")
    )
    for stored in plans.iterator(chunk_size=50):
        try:
            plan = read_plan_document(stored.plan, before.exercises)
        except PlanError:
            continue  # its own page says what is wrong with it
        used = touched(plan, found, before, since=since)
        if used:
            yield TouchedPlan(stored.athlete, _used_words(used, after, before))


def _used_words(used: Touched, *methods: Method) -> tuple[str, ...]:
    return (
        *exercise_words(used.exercises, *methods),
        *(_("phase %(name)s") % {"name": name} for name in phase_words(used.phases, *methods)),
        *(_("rule %(name)s") % {"name": rule_words(name)} for name in sorted(used.rules)),
        *(str(SECTIONS[name]) for name in sorted(used.sections)),
    )


def _told(found: Differences, *methods: Method) -> tuple[tuple[str, str], ...]:
    parts = (
        (_("Exercises"), exercise_words(found.exercises, *methods)),
        (_("Phases"), phase_words(found.phases, *methods)),
        (_("Limits on"), sorted(family_words(family) for family in found.families)),
        (_("Also"), [str(SECTIONS[name]) for name in sorted(found.sections)]),
        (_("Rules"), sorted(rule_words(rule) for rule in found.rules)),
    )
    told = tuple((part, ", ".join(words)) for part, words in parts if words)
    return told or ((_("Name"), methods[0].name),) if found else ()


def _title(text: str) -> str:
    """The name that a method's text gives it.

    Raises
    ------
    MethodError
        If the text has faults.
    """
    name = parse_method(text, _("the method")).name
    return "".join(mark for mark in name if mark.isprintable())[:120] or _("the method")

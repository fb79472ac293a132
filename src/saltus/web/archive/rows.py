"""Rows of the database as JSON and back, whatever fields they have.

Fields are found from the models, so that one that is added later is carried along as well.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.core.serializers.json import DjangoJSONEncoder
from django.db import models

from saltus.errors import UsageError
from saltus.web.models import (
    Athlete,
    MethodCopy,
    MethodRevision,
    PocketEntry,
    Revision,
    Squad,
    StoredPlan,
    StoredRecording,
    TestDay,
    User,
)

__all__ = ["APART", "as_json", "fill", "keep_times", "row"]

APART: dict[type[models.Model], frozenset[str]] = {
    # Texts and documents are files of their own; a summary is told anew from the record.
    User: frozenset({"password", "last_login", "is_superuser", "is_active", "is_coach", "joined"}),
    Squad: frozenset({"owner", "method"}),
    MethodCopy: frozenset({"owner", "text"}),
    MethodRevision: frozenset({"method", "text"}),
    Athlete: frozenset({"squad", "text", "name", "summary", "account"}),
    Revision: frozenset({"athlete", "text", "by"}),
    PocketEntry: frozenset({"athlete"}),
    StoredPlan: frozenset({"athlete", "plan", "by"}),
    StoredRecording: frozenset({"athlete", "by"}),
    TestDay: frozenset({"squad", "by"}),
}
"""The models whose rows are carried along, and which of their fields are told elsewhere."""


def row(instance: models.Model) -> dict[str, Any]:
    """Fields of a row, but its number and those told elsewhere."""
    return {
        field.name: field.value_from_object(instance) for field in _fields(instance._meta.model)
    }


def fill(instance: models.Model, values: Mapping[str, Any], where: str) -> None:
    """Put values, checked by the model's own rules, into a new row.

    Raises
    ------
    UsageError
        If a value is not of its kind: names the file and the field.
    """
    for field in _fields(instance._meta.model):
        if field.name not in values:
            continue
        try:
            value = field.to_python(values[field.name])
            # What is empty may be empty; null is for fields that have a null.
            sound = value is not None or field.null
            if value not in field.empty_values:
                field.run_validators(value)
        except (ValidationError, TypeError, ValueError):
            sound = False
        if not sound:
            raise UsageError(f"{where}: {field.name} is not as Saltus writes it.")
        setattr(instance, field.name, value)


def keep_times(instances: Iterable[models.Model], told: Iterable[Mapping[str, Any]]) -> None:
    """Give new rows the times that they had, which the database sets to now by itself."""
    for instance, values in zip(instances, told, strict=True):
        model = instance._meta.model
        times = {
            field.name: field.to_python(values[field.name])
            for field in _fields(model)
            if isinstance(field, models.DateTimeField)
            and (field.auto_now or field.auto_now_add)
            and values.get(field.name)
        }
        if times:
            model._default_manager.filter(pk=instance.pk).update(**times)


def as_json(document: Any) -> str:
    """A document as people can read it too."""
    return json.dumps(document, cls=_Exact, ensure_ascii=False, indent=1) + "\n"


class _Exact(DjangoJSONEncoder):
    """Times to the microsecond: Django's own rounds them."""

    def default(self, o: Any) -> Any:
        """Times as ISO 8601."""
        return o.isoformat() if hasattr(o, "isoformat") else super().default(o)


def _fields(model: type[models.Model]) -> list[models.Field]:
    apart = APART[model]
    return [
        field
        for field in model._meta.concrete_fields
        if not field.primary_key and field.name not in apart
    ]

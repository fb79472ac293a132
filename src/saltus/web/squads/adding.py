"""A new athlete, by a short form."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from saltus.errors import RecordError
from saltus.record import schema
from saltus.record.editing import built
from saltus.web.access import squads_of, user_of
from saltus.web.editing.forms import RowForm
from saltus.web.models import Squad, User
from saltus.web.records import add_athlete
from saltus.web.squads.forms import PlaceForm

__all__ = ["add", "editable_squads"]

_LATER = frozenset({"push_off_distance", "landing_practice_weeks", "remark"})


@login_required
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest) -> HttpResponse:
    """Add an athlete; everything that is not asked here can be filled in on their record."""
    user = user_of(request)
    squads = editable_squads(user)
    data = request.POST or None
    place = PlaceForm(data, squads=squads)
    person = RowForm(data, table=schema.ATHLETE, row={}, without=_LATER)
    mass = RowForm(data, table=schema.BODY_MASS, row={}, without=frozenset({"date"}))
    if data is not None and all([place.is_valid(), person.is_valid(), mass.is_valid()]):
        weighed = {"date": timezone.localdate(), **mass.raw()}
        raw = {
            schema.VERSION_FIELD: schema.VERSION,
            "athlete": person.raw(),
            "body_mass": [weighed],
        }
        try:
            record = built(raw)
        except RecordError as error:
            of_mass = [f for f in error.faults if f.where.startswith("body_mass")]
            mass.blame(of_mass, 0)
            person.blame([f for f in error.faults if f not in of_mass], None)
        else:
            chosen: Squad = place.cleaned_data["squad"]
            athlete = add_athlete(chosen, record, user, group=place.cleaned_data["group"])
            messages.success(
                request,
                _(
                    "%(name)s is in the squad. Next: tests, free time, the day that counts, and "
                    "what there is to train with."
                )
                % {"name": athlete.name},
            )
            return redirect("record", athlete_id=athlete.pk)
    context = {"place": place, "person": person, "mass": mass}
    status = 422 if data is not None else 200
    return render(request, "squads/add.html", context, status=status)


def editable_squads(user: User) -> QuerySet[Squad]:
    """Squads to which a person may add athletes, their own first; 404 where there is none."""
    squads = squads_of(user, edit=True).order_by("pk")
    if not squads:
        raise Http404
    return squads

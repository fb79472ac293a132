"""Who may see and change what: one helper for each kind of thing, 404 for everything else."""

from django.contrib.auth.models import AnonymousUser
from django.db.models import Q, QuerySet
from django.http import Http404, HttpRequest

from saltus.web.models import Athlete, MethodCopy, Share, Squad, TestDay, User

__all__ = [
    "athlete_for",
    "athletes_of",
    "host_of",
    "may_edit",
    "method_for",
    "own_athlete_for",
    "own_record_for",
    "own_squad_for",
    "sees_health",
    "squad_for",
    "squads_of",
    "test_day_for",
    "user_of",
]


def user_of(request: HttpRequest) -> User:
    """The signed-in person; 404 for nobody."""
    if isinstance(request.user, AnonymousUser):
        raise Http404
    return request.user


def squads_of(user: User, *, edit: bool = False) -> QuerySet[Squad]:
    """Squads that a person may see, or change."""
    shared = Q(shares__user=user, shares__can_edit=True) if edit else Q(shares__user=user)
    return Squad.objects.filter(Q(owner=user) | shared).distinct()


def athletes_of(user: User, *, edit: bool = False) -> QuerySet[Athlete]:
    """Athletes that a person may see, or change, the deleted left out."""
    return Athlete.objects.filter(squad__in=squads_of(user, edit=edit), deleted=None)


def squad_for(request: HttpRequest, squad_id: int, *, edit: bool = False) -> Squad:
    """A squad by its number; 404 where it is not this person's to see (or to change)."""
    squad = squads_of(user_of(request), edit=edit).filter(pk=squad_id).first()
    if squad is None:
        raise Http404
    return squad


def athlete_for(request: HttpRequest, athlete_id: object, *, edit: bool = False) -> Athlete:
    """An athlete; 404 where not this person's to see (or to change)."""
    athlete = (
        athletes_of(user_of(request), edit=edit)
        .filter(pk=athlete_id)
        .select_related("squad", "squad__method", "assessment")
        .first()
    )
    if athlete is None:
        raise Http404
    return athlete


def test_day_for(request: HttpRequest, test_day_id: int, *, edit: bool = False) -> TestDay:
    """A test day; 404 where not this person's to see (or to change)."""
    squads = squads_of(user_of(request), edit=edit)
    day = TestDay.objects.filter(pk=test_day_id, squad__in=squads).select_related("squad").first()
    if day is None:
        raise Http404
    return day


test_day_for.__test__ = False  # type: ignore[attr-defined]


def method_for(request: HttpRequest, method_id: int, *, deleted: bool = False) -> MethodCopy:
    """A copy of the method, present or deleted; 404 where it is not this person's own."""
    method = MethodCopy.objects.filter(
        pk=method_id, owner=user_of(request), deleted__isnull=not deleted
    ).first()
    if method is None:
        raise Http404
    return method


def may_edit(user: User, athlete: Athlete) -> bool:
    """Whether a person may change an athlete's record."""
    return athletes_of(user, edit=True).filter(pk=athlete.pk).exists()


def sees_health(user: User, athlete: Athlete) -> bool:
    """Whether pains, restrictions and remarks are shown: to the owner, and to whom allowed."""
    if athlete.squad.owner_id == user.pk:
        return True
    return (
        athlete.health_shared
        and Share.objects.filter(squad=athlete.squad_id, user=user, sees_health=True).exists()
    )


def own_squad_for(request: HttpRequest, squad_id: int) -> Squad:
    """A squad of which this person is the owner; 404 for everybody else's, shared or not."""
    squad = Squad.objects.filter(pk=squad_id, owner=user_of(request)).first()
    if squad is None:
        raise Http404
    return squad


def own_athlete_for(request: HttpRequest, athlete_id: object, *, deleted: bool = False) -> Athlete:
    """An athlete of an own squad, among the present or among the deleted; 404 otherwise."""
    athlete = (
        Athlete.objects.filter(
            pk=athlete_id, squad__owner=user_of(request), deleted__isnull=not deleted
        )
        .select_related("squad")
        .first()
    )
    if athlete is None:
        raise Http404
    return athlete


def own_record_for(request: HttpRequest) -> Athlete:
    """The athlete whose own account this is; 404 for everybody else.

    Whoever is put aside or deleted by the coach reads nothing any more.
    """
    athlete = (
        Athlete.objects.filter(account=user_of(request), deleted=None, archived=None)
        .select_related("squad", "squad__method", "assessment")
        .first()
    )
    if athlete is None:
        raise Http404
    return athlete


def host_of(request: HttpRequest) -> User:
    """Whoever keeps this installation (the first account); 404 for everybody else."""
    user = user_of(request)
    if not user.is_superuser:
        raise Http404
    return user

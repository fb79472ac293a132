"""Remember who did what, for the page "Who did what"."""

from saltus.web.models import Athlete, AuditEntry, Squad, User

__all__ = ["note"]


def note(
    by: User | None,
    action: AuditEntry.Action,
    *,
    squad: Squad | None = None,
    athlete: Athlete | None = None,
    about: User | None = None,
    detail: str = "",
) -> AuditEntry:
    """Keep that somebody did something; changes to records are in their revisions already.

    Parameters
    ----------
    by : User or None
        Who; None for the application itself.
    action : AuditEntry.Action
        What.
    squad, athlete : Squad or None, Athlete or None
        On what; the entry goes when these are deleted for good.
    about : User or None
        The other coach whom it concerns.
    detail : str
        A few words, without the name of a person who may be deleted later.
    """
    squad = squad or (athlete.squad if athlete else None)
    return AuditEntry.objects.create(
        by=by, action=action, squad=squad, athlete=athlete, about=about, detail=detail[:300]
    )

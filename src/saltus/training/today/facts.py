"""What the day's advice is made from, and the advice itself: types free of computation."""

import datetime as dt
from dataclasses import dataclass
from enum import IntEnum

from saltus.athlete.assessment import Assessment
from saltus.athlete.observations import Observation
from saltus.athlete.person import Person
from saltus.training.log import LoggedSession
from saltus.training.plan import Plan
from saltus.training.situation import Situation

__all__ = ["Advice", "Facts", "Form", "FormState"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is known of an athlete on a day.

    Parameters
    ----------
    date : date
        The day.
    person, assessment : Person, Assessment
        Who, and what is known of the qualities; the assessment may be of an earlier day.
    situation : Situation
        The gym, and pains and restrictions; a pain told today is among them.
    plan : Plan or None
        The plan that the session belongs to; None for a free session.
    log : tuple of LoggedSession
        What was done, sets of the day itself included.
    observations : tuple of Observation
        Tests.
    """

    date: dt.date
    person: Person
    assessment: Assessment
    situation: Situation
    plan: Plan | None = None
    log: tuple[LoggedSession, ...] = ()
    observations: tuple[Observation, ...] = ()

    @property
    def earlier(self) -> tuple[LoggedSession, ...]:
        """Sessions before the day, the latest last."""
        before = (session for session in self.log if session.date < self.date)
        return tuple(sorted(before, key=lambda session: session.date))


class FormState(IntEnum):
    """Form of the day against what this athlete shows on ordinary days, the worst first."""

    WELL_BELOW = 0
    BELOW = 1
    AS_USUAL = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """How the day began.

    Parameters
    ----------
    state : FormState
        In a word.
    probability : float
        That an ordinary day shows this little or less.
    expected, sd : float
        What an ordinary day shows, and its spread: m, or m/s.
    rule : str
        Identifier of a rule of the method.
    why : str
        A sentence.
    """

    state: FormState
    probability: float
    expected: float
    sd: float
    rule: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What to do in the next set of an item.

    Parameters
    ----------
    load_kg, box_m, drop_m : float or None
        For the next set, in loads and boxes that the gym has; None where the item has none.
    sets_left : int
        Sets still to do; 0 where it stops.
    stop : bool
        Whether the item ends here, before its planned sets are done.
    rule : str
        Identifier of a rule of the method; empty where everything goes as planned.
    why : str
        A sentence.
    """

    load_kg: float | None
    box_m: float | None
    drop_m: float | None
    sets_left: int
    stop: bool
    rule: str
    why: str

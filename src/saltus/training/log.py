"""The log: what was done in a session, set by set, and how it felt before and after."""

import datetime as dt
from dataclasses import dataclass

__all__ = ["LoggedSession", "LoggedSet", "Soreness"]


@dataclass(frozen=True, slots=True)
class Soreness:
    """How sore a place is, from 0 (not at all) to 10."""

    place: str
    level: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedSet:
    """What was done of one exercise; None is not written down.

    Parameters
    ----------
    exercise : str
        Its name in the method.
    sets, reps : int
        Sets, and repetitions done in each; 0 repetitions where it was skipped.
    missed : int
        Repetitions tried and missed in each set.
    load_kg, box_m, drop_m : float or None
        Load, box jumped onto, height dropped from.
    reserve : float or None
        Repetitions left in the last set.
    speed_m_s : float or None
        Mean speed of the fastest repetition.
    jump_m : float or None
        Height of the best jump of the set, as flight time or a tape gives it, m.
    contact_s : float or None
        Contact time of that jump, s.
    soft_landings : bool or None
        Whether every landing was quiet and on bent legs, the feet not yet reaching.
    skipped : str
        Why it was left out; empty where it was done.
    note : str
        Free text.
    """

    exercise: str
    reps: int
    sets: int = 1
    missed: int = 0
    load_kg: float | None = None
    box_m: float | None = None
    drop_m: float | None = None
    reserve: float | None = None
    speed_m_s: float | None = None
    jump_m: float | None = None
    contact_s: float | None = None
    soft_landings: bool | None = None
    skipped: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedSession:
    """A session that was done.

    Parameters
    ----------
    date : date
        The day.
    id : str
        Its name where it came from a phone; empty otherwise.
    planned : date or None
        Day of the plan whose session it is; None where that is not known or it was not planned.
    free : bool
        Whether it was not planned at all.
    what : str
        In words, such as "beach volleyball"; mainly for what was not planned.
    minutes, effort, landings : float or None
        How long (min), how hard it felt (0 to 10), landings from jumps (a plain count).
    sleep_hours : float or None
        Sleep of the night before, h.
    soreness : tuple of Soreness
        Asked before it.
    pain : int or None
        Worst pain before it, 0 to 10; the places are told by the pains of the record.
    sets : tuple of LoggedSet
        Exercise by exercise, in the order done.
    note : str
        Free text.
    """

    date: dt.date
    id: str = ""
    planned: dt.date | None = None
    free: bool = False
    what: str = ""
    minutes: float | None = None
    effort: float | None = None
    landings: float | None = None
    sleep_hours: float | None = None
    soreness: tuple[Soreness, ...] = ()
    pain: int | None = None
    sets: tuple[LoggedSet, ...] = ()
    note: str = ""

    @property
    def load(self) -> float | None:
        """Session load: rating times minutes (Foster et al. 2001, J Strength Cond Res 15:109-115).

        In arbitrary units; None where either was not written down.
        """
        if self.effort is None or self.minutes is None:
            return None
        return self.effort * self.minutes

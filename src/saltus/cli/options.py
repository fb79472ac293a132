"""What several commands are asked for alike."""

import datetime as dt
from enum import StrEnum

__all__ = ["Units", "day_given"]


class Units(StrEnum):
    """Units in which figures are told."""

    METRIC = "metric"
    IMPERIAL = "imperial"


def day_given(text: str, option: str) -> dt.date:
    """The day that an option gives.

    Parameters
    ----------
    text : str
        As it was typed.
    option : str
        Such as "--on", for the message.

    Raises
    ------
    UsageError
        If it is no date.
    """
    from saltus.errors import UsageError

    try:
        return dt.date.fromisoformat(text)
    except ValueError as error:
        raise UsageError(f"{option} {text} is no date: write it as 2026-11-25.") from error

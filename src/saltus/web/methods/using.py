"""The method that a squad uses: its owner's copy, or the one that ships."""

from functools import lru_cache

from saltus.training.method import Method
from saltus.training.method_file import parse_method
from saltus.web.models import MethodCopy, Squad

__all__ = ["copy_read", "method_of"]


def method_of(squad: Squad) -> Method:
    """The method that a squad's plans follow.

    Raises
    ------
    MethodError
        If the copy has faults (one that was brought in from elsewhere; forms keep none).
    """
    return copy_read(squad.method)


def copy_read(copy: MethodCopy | None) -> Method:
    """A copy of the method, read; None is the method that ships.

    Raises
    ------
    MethodError
        If the text has faults.
    """
    return _parsed("") if copy is None else _parsed(copy.text)


@lru_cache(maxsize=16)
def _parsed(text: str) -> Method:
    return parse_method(text)

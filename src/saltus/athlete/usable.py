"""Which tests say something of the qualities, and why the others do not."""

from collections.abc import Sequence

from saltus.athlete.broad_jump import broad_jump_height
from saltus.athlete.isometric import isometric_error
from saltus.athlete.measurement_error import drop_jump_error, jump_error, maximum_from, naming
from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    Maximum,
    Observation,
    RepSet,
)
from saltus.errors import TestError

__all__ = ["check_usable", "usable_tests"]


def check_usable(test: Observation) -> None:
    """Raise a TestError that says what is wrong, unless the test can be used."""
    match test:
        case Jump():
            jump_error(test)
        case DropJump():
            drop_jump_error(test)
        case BroadJump():
            broad_jump_height(test)
        case Maximum() | RepSet() | BarSpeedSet():
            maximum_from(test)
        case IsometricPull():
            with naming(test):
                for at_ms in test.force_at_n:
                    isometric_error(at_ms)


def usable_tests(
    observations: Sequence[Observation],
) -> tuple[tuple[Observation, ...], tuple[str, ...]]:
    """Sort out the tests that no equation can use, such as a set of 15 repetitions.

    One such test is no reason to say nothing of the athlete, and none to pass over it in
    silence.

    Returns
    -------
    usable : tuple of Observation
        In the order given.
    left_out : tuple of str
        A sentence for each of the others: which it is, why, and what to do instead.
    """
    usable, left_out = [], []
    for test in observations:
        try:
            check_usable(test)
        except TestError as error:
            left_out.append(f"Left out: {error}")
        else:
            usable.append(test)
    return tuple(usable), tuple(left_out)

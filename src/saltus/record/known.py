"""What a record says of its athlete: one way from the file to the posterior, for every caller."""

import datetime as dt

from saltus.athlete.assess import assess_known
from saltus.athlete.assessment import Assessment
from saltus.athlete.history import TrainingBlock
from saltus.athlete.known import Known, known_of, latest_day
from saltus.athlete.usable import usable_tests
from saltus.athlete.worth import DECIDED
from saltus.record.record import Record
from saltus.training.emphasis import logged_blocks
from saltus.training.method import Method
from saltus.training.method_file import load_method

__all__ = ["assess_record", "assessment_of", "blocks_from_log", "posterior_of"]


def blocks_from_log(
    record: Record, *, until: dt.date, method: Method | None = None
) -> tuple[TrainingBlock, ...]:
    """The training that the log tells of, on days that the record's own blocks do not cover.

    Parameters
    ----------
    record : Record
        Of one athlete.
    until : date
        Sessions on this day or later are left out.
    method : Method or None
        Says what the exercises are for; None for that of the record. It is only read where there
        is a log.

    Raises
    ------
    MethodError
        If the record's own method has faults.
    """
    if not record.log:
        return ()
    method = method or load_method(record.method_path)
    return logged_blocks(record.log, method.exercises, until=until, known=record.blocks)


def posterior_of(
    record: Record, *, on: dt.date | None = None, method: Method | None = None
) -> Known:
    """The posterior of a record: its tests that can be used, its blocks, and its log.

    Parameters
    ----------
    record : Record
        Of one athlete, its recordings analysed.
    on : date or None
        The day to speak of; None is that of the latest test that can be used, or of the latest
        weighing without tests.
    method : Method or None
        As in :func:`blocks_from_log`.

    Returns
    -------
    Known
        Its blocks are the record's own, then those from the log.
    """
    day = on or latest_day(record.person, usable_tests(record.observations)[0])
    blocks = (*record.blocks, *blocks_from_log(record, until=day, method=method))
    return known_of(record.person, record.observations, blocks=blocks, on=day)


def assessment_of(record: Record, known: Known, *, decided: float = DECIDED) -> Assessment:
    """The assessment of a record whose posterior is at hand.

    Parameters
    ----------
    record, known : Record, Known
        The record, and what :func:`posterior_of` made of it.
    decided : float
        Probability from which a limiting quality is named.

    Raises
    ------
    TestError
        If the goal cannot be used.
    """
    return assess_known(
        known,
        goal=record.goal,
        pains=record.pains,
        restrictions=record.restrictions,
        decided=decided,
    )


def assess_record(
    record: Record, *, on: dt.date | None = None, method: Method | None = None
) -> Assessment:
    """Everything that a record says of its athlete on a day; arguments as :func:`posterior_of`."""
    return assessment_of(record, posterior_of(record, on=on, method=method))

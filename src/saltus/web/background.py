"""Assessments that nobody waits for: worked out one at a time, beside the pages.

The worker starts with the first request for it and lives as long as the process; what is
left undone when that ends is asked for again by the next visit to the squad page.
"""

import logging
import queue
import threading
from collections.abc import Iterable
from uuid import UUID

from django.conf import settings
from django.db import DatabaseError, close_old_connections, connection

from saltus.errors import SaltusError

__all__ = ["ask", "bring_up_to_date", "pending", "work_off"]

_log = logging.getLogger(__name__)
_asked: dict[UUID, None] = {}
_queue: "queue.SimpleQueue[UUID]" = queue.SimpleQueue()
_lock = threading.Lock()
_worker: threading.Thread | None = None


def ask(athletes: Iterable[UUID]) -> None:
    """Have athletes brought up to date soon; once each, however often it is asked."""
    global _worker
    with _lock:
        for athlete_id in athletes:
            if athlete_id not in _asked:
                _asked[athlete_id] = None
                _queue.put(athlete_id)
        if _asked and settings.ASSESS_IN_BACKGROUND and (_worker is None or not _worker.is_alive()):
            _worker = threading.Thread(target=_work, name="saltus-assessments", daemon=True)
            _worker.start()


def pending(athlete_id: UUID) -> bool:
    """Whether an athlete is waiting or being worked out."""
    return athlete_id in _asked


def work_off() -> None:
    """Work off everything that was asked for, here and now."""
    while not _queue.empty():
        _one(_queue.get())


def bring_up_to_date(athlete_id: UUID) -> None:
    """Retell an athlete's summary, and assess them where their inputs have changed."""
    from saltus.web.assessments import assess_now, stored
    from saltus.web.models import Athlete
    from saltus.web.summaries import retell, tell_failure

    athlete = (
        Athlete.objects.select_related("assessment").filter(pk=athlete_id, deleted=None).first()
    )
    if athlete is None:
        return
    retell(athlete)
    if stored(athlete) is not None:
        return
    try:
        assess_now(athlete)
    except (SaltusError, ValueError, ArithmeticError) as error:
        if not isinstance(error, SaltusError):
            _log.exception("An assessment failed")
        athlete.refresh_from_db()
        tell_failure(athlete, str(error))


def _work() -> None:
    while True:
        athlete_id = _queue.get()
        close_old_connections()
        try:
            _one(athlete_id)
        finally:
            connection.close()


def _one(athlete_id: UUID) -> None:
    try:
        bring_up_to_date(athlete_id)
    except DatabaseError:
        _log.exception("The database refused an assessment; the next visit asks again")
    finally:
        with _lock:
            _asked.pop(athlete_id, None)

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

__all__ = ["ask", "bring_up_to_date", "work_off"]

_log = logging.getLogger(__name__)


class _Worker:
    """One thread and what it is asked for."""

    def __init__(self) -> None:
        self.waiting: set[UUID] = set()
        self.queue: queue.SimpleQueue[UUID] = queue.SimpleQueue()
        self.lock = threading.Lock()
        self.thread: threading.Thread | None = None

    def ask(self, athletes: Iterable[UUID]) -> None:
        with self.lock:
            for athlete_id in athletes:
                if athlete_id not in self.waiting:
                    self.waiting.add(athlete_id)
                    self.queue.put(athlete_id)
            idle = self.thread is None or not self.thread.is_alive()
            if self.waiting and idle and settings.ASSESS_IN_BACKGROUND:
                self.thread = threading.Thread(
                    target=self.run, name="saltus-assessments", daemon=True
                )
                self.thread.start()

    def run(self) -> None:
        while True:
            athlete_id = self.queue.get()
            close_old_connections()
            try:
                self.one(athlete_id)
            finally:
                connection.close()

    def one(self, athlete_id: UUID) -> None:
        try:
            bring_up_to_date(athlete_id)
        except DatabaseError:
            _log.exception("The database refused an assessment; the next visit asks again")
        finally:
            with self.lock:
                self.waiting.discard(athlete_id)


_worker = _Worker()


def ask(athletes: Iterable[UUID]) -> None:
    """Have athletes brought up to date soon; once each, however often it is asked."""
    _worker.ask(athletes)


def work_off() -> None:
    """Work off everything that was asked for, here and now."""
    while not _worker.queue.empty():
        _worker.one(_worker.queue.get())


def bring_up_to_date(athlete_id: UUID) -> None:
    """Retell an athlete's summary, and assess them where their inputs have changed."""
    from saltus.web.assessments import up_to_date
    from saltus.web.models import Athlete
    from saltus.web.summaries import retell, tell_failure

    athlete = (
        Athlete.objects.select_related("assessment").filter(pk=athlete_id, deleted=None).first()
    )
    if athlete is None:
        return
    retell(athlete)
    try:
        up_to_date(athlete)
    except (SaltusError, ValueError, ArithmeticError) as error:
        if not isinstance(error, SaltusError):
            _log.exception("An assessment failed")
        athlete.refresh_from_db()
        tell_failure(athlete, error)

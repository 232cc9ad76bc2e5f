"""How is a row that wants work done by one worker, once? Claimed, held, and ended in a state one can see.

A claim is one conditional UPDATE with a lease. A worker that is killed leaves its lease to run out, and
the sweep wakes another; one that lost its lease meanwhile marks nothing. After three tries the row says
failed and why, and can be asked for again.
"""

import hashlib
import logging
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any, Generic, TypeVar

from django.core.files.base import ContentFile
from django.db import models, transaction
from django.db.models import F, Q, QuerySet
from django.utils import timezone

from contractor.api.callers import SYSTEM, Caller
from contractor.api.numbered import Numbered
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from contractor.notices.wake import wake

log = logging.getLogger(__name__)
WANTED, DONE, FAILED = "wanted", "done", "failed"
LEASE = timedelta(seconds=75)
MOST_ATTEMPTS = 3
BATCH = 100
DIED = "The worker died three times."


class Lost(Exception):
    """Another worker holds the row by now; this one marks nothing."""


class Wanted(Numbered):
    """A row that a worker works on: where it stands, how often it was tried, what went wrong."""

    state = models.CharField(max_length=10)
    percent = models.PositiveSmallIntegerField(default=0)
    attempts = models.PositiveSmallIntegerField(default=0)
    lease_until = models.DateTimeField(null=True, blank=True)
    trouble = models.CharField(max_length=500, blank=True)
    asked_by = models.CharField(max_length=120)
    asked_at = models.DateTimeField(auto_now_add=True)
    done_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        abstract = True


Row = TypeVar("Row", bound=Wanted)


class Work(Generic[Row]):
    """The work that rows of one table want, and the only ways in which a row of it is taken and ended.

    Args:
        rows: the table.
        noun: what notices call a row of it; the task that works on one is `task`.
        busy: the state of a row in a worker's hands.
        taken, queued, given_up: what else a row says when it is taken, waits again, or is given up.
        lease: how long a worker may be silent.
    """

    def __init__(
        self,
        rows: type[Row],
        *,
        noun: str,
        task: str,
        busy: str,
        taken: dict[str, Any],
        queued: dict[str, Any] | None = None,
        given_up: dict[str, Any] | None = None,
        lease: timedelta = LEASE,
    ) -> None:
        self.rows, self.noun, self.task, self.busy, self.lease = rows, noun, task, busy, lease
        self.taken = taken
        self.queued = {"percent": 0, **(queued or {})}
        self.given_up = {"percent": 0, **(given_up or {})}

    def waiting(self, *, now: datetime) -> list[int]:
        """List the keys of rows that no living worker holds."""
        return list(self._free(now).values_list("pk", flat=True)[:BATCH])

    def do(self, *, key: int, now: datetime | None, by: Callable[[Row], bool]) -> bool:
        """Claim one row and do its work; returns what `by` answers, False when this call did not."""
        row = self.claim(key=key, now=now or timezone.now())
        if row is None:
            return False
        try:
            return by(row)
        except Lost:
            return False
        except Exception as error:
            log.exception("%s was not worked through", row.number)
            self.put_back(row, error)
            return False

    def claim(self, *, key: int, now: datetime) -> Row | None:
        """Take one row for a lease; one whose workers died three times is given up instead."""
        free = self._free(now).filter(pk=key)
        if free.filter(attempts__lt=MOST_ATTEMPTS).update(
            state=self.busy,
            lease_until=now + self.lease,
            attempts=F("attempts") + 1,
            **self.taken,
        ):
            return self.rows._default_manager.get(pk=key)
        self._mark(
            free.filter(attempts__gte=MOST_ATTEMPTS), key, "failed", state=FAILED, trouble=DIED,
            **self.given_up,
        )  # fmt: skip
        return None

    def hold(self, row: Row, **values: Any) -> None:
        """Say how far it is and hold the row for another lease.

        Raises:
            Lost: another worker has it by now.
        """
        if not self._mine(row).update(lease_until=timezone.now() + self.lease, **values):
            raise Lost

    def finish(self, row: Row, what: str = DONE, **values: Any) -> bool:
        """End the work well; returns whether the row was still this worker's."""
        return self._mark(
            self._mine(row), row.pk, what, state=DONE, percent=100, done_at=timezone.now(), **values
        )

    def finish_file(self, row: Any, stem: str, data: bytes, **values: Any) -> bool:
        """Keep a file, then mark its row; the one that is replaced, or came too late, is deleted."""
        storage = row.file.storage
        name = row.file.field.generate_filename(row, stem)
        stored = storage.save(name, ContentFile(data))
        digest = "sha256:" + hashlib.sha256(data).hexdigest()
        done = self.finish(row, file=stored, file_digest=digest, trouble="", **values)
        if spare := (row.file.name if done else stored):
            storage.delete(spare)
        return done

    @transaction.atomic
    def again(self, *, by: Caller, row: Row) -> Row:
        """Ask anew for a row that was given up; announces `….retried`.

        Raises:
            Problem: it was not given up.
        """
        if row.state != FAILED:
            raise Problem(
                "not_failed",
                f"{row.number} is {row.state}.",
                status=409,
                hint="Only a failed one is tried again.",
            )
        row_change(row=row, by=by, type=f"{self.noun}.retried", values=self.anew())
        self.wake(row)
        return row

    def anew(self) -> dict[str, Any]:
        """Say what a row is set to that is to be worked on from the start."""
        return {"state": WANTED, "attempts": 0, "trouble": "", **self.queued}

    def wake(self, row: Row) -> None:
        """Wake a worker for one row, after commit."""
        wake(self.task, key=row.pk)

    def _free(self, now: datetime) -> QuerySet[Row]:
        waits = Q(state=WANTED) | Q(state=self.busy, lease_until__lt=now)
        return self.rows._default_manager.filter(waits)

    def _mine(self, row: Row) -> QuerySet[Row]:
        return self.rows._default_manager.filter(pk=row.pk, state=self.busy, attempts=row.attempts)

    def put_back(self, row: Row, error: Exception) -> None:
        """End a try that went wrong with its reason: the row waits again, or is given up."""
        spent = row.attempts >= MOST_ATTEMPTS
        says = {"state": FAILED, **self.given_up} if spent else {"state": WANTED, **self.queued}
        what = "failed" if spent else "put_back"
        self._mark(self._mine(row), row.pk, what, trouble=str(error)[:500], **says)

    def _mark(self, rows: QuerySet[Row], key: int, what: str, **values: Any) -> bool:
        """Let the row go and tell of it; rows that are no longer there are left as they are."""
        with transaction.atomic():
            if not rows.update(lease_until=None, version=F("version") + 1, **values):
                return False
            row = self.rows._default_manager.only("pk", "version").get(pk=key)
            notice_record(
                by=SYSTEM, type=f"{self.noun}.{what}", about=row.number, version=row.version
            )
        return True

"""How does a list come in? Received, looked through, and taken over when somebody says so.

The rows and the state of the list are written in one transaction: a worker that dies leaves neither.
"""

import hashlib
import logging
from datetime import datetime, timedelta
from typing import Any

from django.conf import settings
from django.db import transaction
from django.db.models import F, Q
from django.utils import timezone

from contractor.api.callers import SYSTEM, Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from contractor.notices.wake import wake
from jobs.lists.api_take import list_table, rows_take
from jobs.lists.models import ListImport, Mode, State

log = logging.getLogger(__name__)
LEASE = timedelta(minutes=2)
MOST_ATTEMPTS = 3
BATCH = 20
MOST_TOLD = 1000
BUSY = {State.WANTED: State.CHECKING, State.ASKED: State.TAKING}
WAITS = tuple(one.value for one in BUSY)
HELD = tuple(one.value for one in BUSY.values())


@transaction.atomic
def list_receive(*, by: Caller, kind: str, name: str, content: bytes) -> ListImport:
    """Keep a file and look it through, at once if it is short; announces `list.received`.

    Raises:
        Problem: the file as a whole cannot be read.
    """
    table = list_table(kind, content)
    row = ListImport.objects.create(
        kind=kind,
        name=name[:120],
        content=content,
        digest="sha256:" + hashlib.sha256(content).hexdigest(),
        rows=len(table.rows),
        caller_role=by.role,
        caller_key=by.key,
        asked_by=by.name,
    )
    notice_record(
        by=by,
        type="list.received",
        about=row.number,
        changes={"kind": [None, kind], "rows": [None, row.rows]},
    )
    _work_or_wake(row)
    return row


@transaction.atomic
def list_take_over(*, by: Caller, row: ListImport, mode: str) -> ListImport:
    """Write a list's rows, at once if it is short; announces `list.asked`, and each row its own.

    Raises:
        Problem: it is not looked through, or taken over already.
    """
    if row.state != State.CHECKED:
        raise Problem(
            "list_not_checked",
            f"{row.number} is {row.get_state_display().lower()}.",
            status=409,
            hint="Only a list that was looked through is taken over, and once.",
        )
    row.state, row.mode, row.attempts = State.ASKED.value, mode, 0
    row.caller_role, row.caller_key, row.asked_by = by.role, by.key, by.name
    row.version += 1
    row.save(
        update_fields=[
            "state",
            "mode",
            "attempts",
            "caller_role",
            "caller_key",
            "asked_by",
            "version",
        ]
    )
    notice_record(
        by=by,
        type="list.asked",
        about=row.number,
        version=row.version,
        changes={"mode": [None, mode]},
    )
    _work_or_wake(row)
    return row


@transaction.atomic
def list_retry(*, by: Caller, row: ListImport) -> ListImport:
    """Look a list through anew that was given up; announces `list.retried`.

    Raises:
        Problem: it was not given up.
    """
    if row.state != State.FAILED:
        raise Problem(
            "not_failed",
            f"{row.number} is {row.state}.",
            status=409,
            hint="Only a failed one is tried again.",
        )
    row.state, row.attempts, row.trouble = State.WANTED.value, 0, ""
    row.version += 1
    row.save(update_fields=["state", "attempts", "trouble", "version"])
    notice_record(by=by, type="list.retried", about=row.number, version=row.version)
    _work_or_wake(row)
    return row


def _work_or_wake(row: ListImport) -> None:
    if row.rows > settings.LIST_AT_ONCE:
        wake("lists.work", key=row.pk)
        return
    list_work(key=row.pk)
    row.refresh_from_db()


def _free(now: datetime) -> Q:
    return Q(state__in=WAITS) | Q(state__in=HELD, lease_until__lt=now)


def lists_waiting(*, now: datetime) -> list[int]:
    """List the keys of lists that no living worker holds."""
    return list(ListImport.objects.filter(_free(now)).values_list("pk", flat=True)[:BATCH])


def list_work(*, key: int, now: datetime | None = None) -> bool:
    """Claim one list and look it through or take it over; returns whether this call did."""
    now = now or timezone.now()
    row = ListImport.objects.filter(_free(now), pk=key).first()
    if row is None or not _claim(row, now):
        return False
    try:
        with transaction.atomic():
            return _work(row)
    except Exception as error:
        log.exception("List %s was not worked through", row.number)
        _put_back(row, error)
        return False


def _claim(row: ListImport, now: datetime) -> bool:
    """Take the lease by one conditional UPDATE; after three workers that died it is given up."""
    free = ListImport.objects.filter(_free(now), pk=row.pk, state=row.state, attempts=row.attempts)
    if row.attempts >= MOST_ATTEMPTS:
        _give_up(free, row, "The worker died three times.")
        return False
    busy = BUSY.get(State(row.state), State(row.state))
    won = free.update(state=busy, lease_until=now + LEASE, attempts=F("attempts") + 1)
    row.state, row.attempts = busy.value, row.attempts + 1
    return bool(won)


def _work(row: ListImport) -> bool:
    dry = row.state == State.CHECKING
    by, only_good = row.caller(), row.mode == Mode.GOOD
    table = list_table(row.kind, bytes(row.content))
    outcome = rows_take(by=by, kind=row.kind, table=table, dry=dry, only_good=only_good)
    stays_out = not dry and bool(outcome.problems) and not only_good
    values: dict[str, Any] = {
        **outcome.counts,
        "problems": outcome.problems[:MOST_TOLD],
        "state": State.CHECKED if dry or stays_out else State.DONE,
        "trouble": "Nothing was written: some rows are bad." if stays_out else "",
        "done_at": None if dry or stays_out else timezone.now(),
        "lease_until": None,
        "version": F("version") + 1,
    }
    mine = ListImport.objects.filter(pk=row.pk, state=row.state, attempts=row.attempts)
    if not mine.update(**values):
        raise RuntimeError("another worker has this list by now")
    return True


def _put_back(row: ListImport, error: Exception) -> None:
    mine = ListImport.objects.filter(pk=row.pk, state=row.state, attempts=row.attempts)
    if row.attempts >= MOST_ATTEMPTS:
        _give_up(mine, row, str(error) or type(error).__name__)
        return
    waits = next(one for one, busy in BUSY.items() if busy == row.state)
    mine.update(state=waits, lease_until=None, trouble=str(error)[:300])


def _give_up(rows: Any, row: ListImport, why: str) -> None:
    with transaction.atomic():
        done = rows.update(
            state=State.FAILED, lease_until=None, trouble=why[:300], version=F("version") + 1
        )
        if done:
            version = ListImport.objects.values_list("version", flat=True).get(pk=row.pk)
            notice_record(
                by=SYSTEM, type="list.failed", about=row.number, reason=why, version=version
            )

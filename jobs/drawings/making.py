"""How does a worker draw? It claims a row by one conditional UPDATE, and ends in a state one can see."""

import hashlib
import logging
from datetime import datetime, timedelta

from django.core.files.base import ContentFile
from django.db import transaction
from django.db.models import F, Q, QuerySet
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices.services import notice_record
from fitcheck.drawings.write_dxf import dxf_write
from jobs.drawings.content import sheets_of
from jobs.drawings.models import Drawing, State

log = logging.getLogger(__name__)
LEASE = timedelta(seconds=75)
MOST_ATTEMPTS = 3
BATCH = 100


def _free(now: datetime) -> Q:
    return Q(state=State.WANTED) | Q(state=State.DRAWING, lease_until__lt=now)


def drawings_waiting(*, now: datetime) -> list[int]:
    """List the keys of drawings that no living worker holds."""
    return list(Drawing.objects.filter(_free(now)).values_list("pk", flat=True)[:BATCH])


def drawing_draw(*, key: int, now: datetime | None = None) -> bool:
    """Claim one drawing and write its file; returns whether this call finished it."""
    if not _claim(key, now or timezone.now()):
        return False
    rows = Drawing.objects.select_related("opening__job__site", "verdict__sheet")
    drawing = rows.get(pk=key)
    try:
        return _finish(drawing, dxf_write(sheets_of(drawing, true=True)))
    except Exception as error:
        log.exception("Drawing %s was not written", drawing.number)
        _put_back(drawing, error)
        return False


def _claim(key: int, now: datetime) -> bool:
    rows = Drawing.objects.filter(_free(now), pk=key)
    if rows.filter(attempts__lt=MOST_ATTEMPTS).update(
        state=State.DRAWING, percent=10, lease_until=now + LEASE, attempts=F("attempts") + 1
    ):
        return True
    died = {"state": State.FAILED, "lease_until": None, "trouble": "The worker died three times."}
    with transaction.atomic():
        spent = rows.filter(attempts__gte=MOST_ATTEMPTS)
        if spent.update(version=F("version") + 1, percent=0, **died):
            _announce(key, "drawing.failed")
    return False


def _finish(drawing: Drawing, data: bytes) -> bool:
    """Keep the file, then mark the row; a worker that lost its lease meanwhile marks nothing."""
    stem = f"{drawing.number}-{'signed' if drawing.signed_by else 'draft'}.dxf"
    name = drawing.file.field.generate_filename(drawing, stem)
    storage = drawing.file.storage
    stored = storage.save(name, ContentFile(data))
    with transaction.atomic():
        done = _mine(drawing).update(
            state=State.DONE,
            percent=100,
            file=stored,
            lease_until=None,
            trouble="",
            done_at=timezone.now(),
            file_digest="sha256:" + hashlib.sha256(data).hexdigest(),
            version=F("version") + 1,
        )
        if done:
            _announce(drawing.pk, "drawing.done")
    spare = (
        drawing.file.name if done else stored
    )  # a draft that a signed file replaces, or a late one
    if spare:
        storage.delete(spare)
    return bool(done)


def _put_back(drawing: Drawing, error: Exception) -> None:
    spent = drawing.attempts >= MOST_ATTEMPTS
    state = State.FAILED if spent else State.WANTED
    change = {"state": state, "lease_until": None, "percent": 0, "trouble": str(error)[:500]}
    with transaction.atomic():
        if _mine(drawing).update(version=F("version") + 1, **change):
            _announce(drawing.pk, "drawing.failed" if spent else "drawing.put_back")


def _mine(drawing: Drawing) -> QuerySet[Drawing]:
    return Drawing.objects.filter(pk=drawing.pk, state=State.DRAWING, attempts=drawing.attempts)


def _announce(key: int, what: str) -> None:
    drawing = Drawing.objects.only("pk", "version").get(pk=key)
    notice_record(by=SYSTEM, type=what, about=drawing.number, version=drawing.version)

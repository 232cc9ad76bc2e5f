"""How does a packet come to be? Frozen when asked for, rendered once by whichever worker claims it.

A claim is one conditional UPDATE with a lease; a worker that is killed leaves its lease to run out, and
the sweep wakes another. After three tries the row says failed and why, and can be asked for again.
"""

import hashlib
import json
import logging
from datetime import datetime, timedelta
from typing import Any

from django.core.files.base import ContentFile
from django.db import transaction
from django.db.models import F, Q, QuerySet
from django.utils import timezone

from contractor.api.callers import SYSTEM, Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from contractor.notices.wake import wake
from jobs.bookings.models import Booking
from jobs.bookings.models import State as BookingState
from jobs.jobs.models import Job
from jobs.packets.data import packet_data
from jobs.packets.models import Packet, Paper, State
from jobs.packets.paper.render import packet_render

log = logging.getLogger(__name__)
LEASE = timedelta(seconds=75)
MOST_ATTEMPTS = 3
BATCH = 100


@transaction.atomic
def packet_ask(*, by: Caller, job: Job, booking: Booking | None, paper: str) -> Packet:
    """Freeze a packet's data and ask for its paper; announces `packet.asked`, supersedes earlier ones.

    Raises:
        Problem: the job has no verdict yet, or the visit is cancelled.
    """
    _check_wanted(booking)
    # One packet of a job at a time: of two asked for at once, one must supersede the other.
    Job.objects.select_for_update().only("pk").get(pk=job.pk)
    packet = Packet.objects.create(job=job, booking=booking, paper=paper, asked_by=by.name)
    packet.data = packet_data(packet=packet, job=job, booking=booking)
    packet.digest = digest_of(packet.data)
    packet.save(update_fields=["data", "digest"])
    _supersede(by, packet)
    notice_record(
        by=by, type="packet.asked", about=packet.number, changes={"job": [None, job.number]}
    )
    wake("packets.render", key=packet.pk)
    return packet


def _check_wanted(booking: Booking | None) -> None:
    if booking is not None and booking.state != BookingState.BOOKED:
        raise Problem(
            "booking_cancelled",
            f"{booking.number} is cancelled.",
            status=409,
            hint="Ask for the packet of the booking that stands.",
            pointer="/booking",
        )


def digest_of(data: dict[str, Any]) -> str:
    """Digest frozen data in canonical JSON."""
    text = json.dumps(data, sort_keys=True, separators=(",", ":"))
    return "sha256:" + hashlib.sha256(text.encode()).hexdigest()


def _supersede(by: Caller, packet: Packet) -> None:
    """Mark earlier packets of the same visit; their paper says so when its code is scanned."""
    earlier = Packet.objects.filter(
        job=packet.job, booking=packet.booking, superseded_by=None
    ).exclude(pk=packet.pk)
    for old in earlier.select_for_update():
        old.superseded_by, old.superseded_why = packet, "asked for again"
        old.version += 1
        old.save(update_fields=["superseded_by", "superseded_why", "version"])
        notice_record(
            by=by,
            type="packet.superseded",
            about=old.number,
            version=old.version,
            changes={"superseded_by": [None, packet.number]},
        )


def packet_retry(*, by: Caller, packet: Packet) -> Packet:
    """Ask anew for a packet that was given up; announces `packet.retried`.

    Raises:
        Problem: it was not given up.
    """
    if packet.state != State.FAILED:
        raise Problem(
            "not_failed",
            f"{packet.number} is {packet.state}.",
            status=409,
            hint="Only a failed one is tried again.",
        )
    packet.state, packet.attempts, packet.trouble, packet.percent = State.WANTED, 0, "", 0
    packet.version += 1
    packet.save(update_fields=["state", "attempts", "trouble", "percent", "version"])
    notice_record(by=by, type="packet.retried", about=packet.number, version=packet.version)
    wake("packets.render", key=packet.pk)
    return packet


def _free(now: datetime) -> Q:
    return Q(state=State.WANTED) | Q(state=State.RENDERING, lease_until__lt=now)


def packets_waiting(*, now: datetime) -> list[int]:
    """List the keys of packets that no living worker holds."""
    return list(Packet.objects.filter(_free(now)).values_list("pk", flat=True)[:BATCH])


def packet_set(*, key: int, now: datetime | None = None) -> bool:
    """Claim one packet and render it; returns whether this call finished it. Announces `packet.done`."""
    now = now or timezone.now()
    if not _claim(key, now):
        return False
    packet = Packet.objects.get(pk=key)
    try:
        pdf = packet_render(packet.data, paper="a4" if packet.paper == Paper.A4 else "letter")
        return _finish(packet, pdf)
    except Exception as error:
        log.exception("Packet %s was not rendered", packet.number)
        _put_back(packet, error)
        return False


def _claim(key: int, now: datetime) -> bool:
    rows = Packet.objects.filter(_free(now), pk=key)
    if rows.filter(attempts__lt=MOST_ATTEMPTS).update(
        state=State.RENDERING, percent=10, lease_until=now + LEASE, attempts=F("attempts") + 1
    ):
        return True
    spent: QuerySet[Packet] = rows.filter(attempts__gte=MOST_ATTEMPTS)
    died = {"state": State.FAILED, "lease_until": None, "trouble": "The worker died three times."}
    with transaction.atomic():
        if spent.update(version=F("version") + 1, percent=0, **died):
            _announce(key, "packet.failed")
    return False


def _finish(packet: Packet, pdf: bytes) -> bool:
    """Keep the file, then mark the row; a worker that lost its lease meanwhile marks nothing."""
    name = packet.file.field.generate_filename(packet, f"{packet.number}-{packet.code}.pdf")
    stored = packet.file.storage.save(name, ContentFile(pdf))
    mine = Packet.objects.filter(pk=packet.pk, state=State.RENDERING, attempts=packet.attempts)
    with transaction.atomic():
        done = mine.update(
            state=State.DONE,
            percent=100,
            file=stored,
            lease_until=None,
            trouble="",
            done_at=timezone.now(),
            file_digest="sha256:" + hashlib.sha256(pdf).hexdigest(),
            version=F("version") + 1,
        )
        if done:
            _announce(packet.pk, "packet.done")
    if not done:
        packet.file.storage.delete(stored)
    return bool(done)


def _put_back(packet: Packet, error: Exception) -> None:
    spent = packet.attempts >= MOST_ATTEMPTS
    state = State.FAILED if spent else State.WANTED
    mine = Packet.objects.filter(pk=packet.pk, state=State.RENDERING, attempts=packet.attempts)
    with transaction.atomic():
        if mine.update(
            state=state,
            lease_until=None,
            percent=0,
            trouble=str(error)[:500],
            version=F("version") + 1,
        ):
            _announce(packet.pk, "packet.failed" if spent else "packet.put_back")


def _announce(key: int, what: str) -> None:
    packet = Packet.objects.only("pk", "version").get(pk=key)
    notice_record(by=SYSTEM, type=what, about=packet.number, version=packet.version)

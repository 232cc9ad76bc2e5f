"""How does a packet come to be? Frozen when asked for, rendered once by whichever worker claims it."""

import hashlib
import json
from datetime import datetime
from typing import Any

from django.conf import settings
from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from contractor.notices.wanted import Work
from jobs.bookings.models import Booking
from jobs.bookings.models import State as BookingState
from jobs.jobs.models import Job
from jobs.packets.age import ASKED_AGAIN, paper_overtaken
from jobs.packets.data import language_of, packet_data
from jobs.packets.limits import within
from jobs.packets.models import PERCENT, Kind, Packet, Paper, Stage, State
from jobs.packets.paper.render import packet_render


def _at(stage: str) -> dict[str, Any]:
    return {"stage": stage, "percent": PERCENT[stage]}


PAPERS = Work(
    Packet,
    noun="packet",
    task="packets.render",
    busy=State.RENDERING,
    taken=_at(Stage.CLAIMED),
    queued=_at(Stage.QUEUED),
    given_up=_at(Stage.FAILED),
)


@transaction.atomic
def packet_ask(
    *,
    by: Caller,
    job: Job,
    booking: Booking | None,
    paper: str,
    kind: str = "",
    language: str = "",
    outdated: bool = False,
) -> Packet:
    """Freeze a packet's data and ask for its paper; announces `packet.asked`, supersedes earlier ones.

    Without a `language` it is the customer's. `outdated` allows a verdict older than the last
    survey, which the paper then says on its face.

    Raises:
        Problem: the job has no verdict yet or an outdated one, or the visit is cancelled.
    """
    packet = _frozen(
        job,
        booking,
        outdated=outdated,
        paper=paper,
        kind=kind or (booking.visit if booking else Kind.INSTALL.value),
        language=language or language_of(job),
        asked_by=by.name,
    )
    _supersede(by, packet)
    notice_record(
        by=by, type="packet.asked", about=packet.number, changes={"job": [None, job.number]}
    )
    PAPERS.wake(packet)
    return packet


def _frozen(job: Job, booking: Booking | None, *, outdated: bool, **wish: Any) -> Packet:
    _check_wanted(booking)
    _check_paper(wish["kind"], wish["paper"])
    # One packet of a job at a time: of two asked for at once, one must supersede the other.
    Job.objects.select_for_update().only("pk").get(pk=job.pk)
    packet = Packet.objects.create(job=job, booking=booking, **wish)
    packet.data = packet_data(packet=packet, job=job, booking=booking)
    _check_outdated(packet.data, outdated)
    packet.digest = digest_of(packet.data)
    packet.save(update_fields=["data", "digest"])
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


def _check_paper(kind: str, paper: str) -> None:
    if paper == Paper.LABEL and kind != Kind.LABELS:
        raise Problem(
            "labels_only",
            "Only labels are printed on label stock.",
            hint="Send `a4` or `letter`, or ask for the kind `labels`.",
            pointer="/paper",
        )


def _check_outdated(data: dict[str, Any], allowed: bool) -> None:
    openings = data.get("outdated") or []
    if openings and not allowed:
        raise Problem(
            "verdict_outdated",
            f"{', '.join(openings)} was read or described again after its verdict.",
            status=409,
            hint="Ask for a new verdict first; or send `outdated: true`, and the paper says so.",
            pointer="/outdated",
        )


def digest_of(data: dict[str, Any]) -> str:
    """Digest frozen data in canonical JSON."""
    text = json.dumps(data, sort_keys=True, separators=(",", ":"))
    return "sha256:" + hashlib.sha256(text.encode()).hexdigest()


def _supersede(by: Caller, packet: Packet) -> None:
    """Mark earlier packets of the same kind and visit; their paper says so when it is scanned."""
    earlier = Packet.objects.filter(
        job=packet.job, booking=packet.booking, kind=packet.kind, superseded_by=None
    ).exclude(pk=packet.pk)
    for old in earlier.select_for_update():
        _mark(by, old, packet, "packet.superseded")


def _mark(by: Caller, old: Packet, newer: Packet, what: str) -> None:
    old.superseded_why = paper_overtaken(packet=old) or ASKED_AGAIN
    old.superseded_by = newer
    old.version += 1
    old.save(update_fields=["superseded_by", "superseded_why", "version"])
    notice_record(
        by=by,
        type=what,
        about=old.number,
        version=old.version,
        changes={"superseded_by": [None, newer.number]},
    )


def packet_retry(*, by: Caller, packet: Packet) -> Packet:
    """Ask anew for a packet that was given up; announces `packet.retried`.

    Raises:
        Problem: it was not given up.
    """
    return PAPERS.again(by=by, row=packet)


@transaction.atomic
def packet_renew(*, by: Caller, packet: Packet) -> Packet:
    """Ask for the paper that takes an overtaken one's place; announces `packet.renewed`.

    Returns the old one, which names the new.

    Raises:
        Problem: it is current, or a newer one has been asked for already.
    """
    _check_overtaken(packet)
    alike = {name: getattr(packet, name) for name in ("paper", "kind", "language")}
    newer = _frozen(packet.job, packet.booking, outdated=False, asked_by=by.name, **alike)
    _mark(by, packet, newer, "packet.renewed")
    PAPERS.wake(newer)
    return packet


def _check_overtaken(packet: Packet) -> None:
    newer = packet.superseded_by
    if newer is None and paper_overtaken(packet=packet):
        return
    told = f"{newer.number} takes its place already." if newer else f"{packet.number} is current."
    raise Problem(
        "not_overtaken",
        told,
        status=409,
        hint="Only a paper that is overtaken is made anew; to have another, ask for a packet.",
    )


def packets_waiting(*, now: datetime) -> list[int]:
    """List the keys of packets that no living worker holds."""
    return PAPERS.waiting(now=now)


def packet_set(*, key: int, now: datetime | None = None) -> bool:
    """Claim one packet and render it; returns whether this call finished it. Announces `packet.done`."""
    return PAPERS.do(key=key, now=now, by=_rendered)


def _rendered(packet: Packet) -> bool:
    paper: Any = packet.paper
    with within(
        seconds=settings.PAPER_SECONDS,
        megabytes=settings.PAPER_MEGABYTES,
        breached=lambda why: PAPERS.put_back(packet, why),
    ):
        pdf = packet_render(
            packet.data,
            paper=paper,
            tell=lambda stage: _reach(packet, stage),
            fonts=settings.FONTS_DIR,
        )
    _reach(packet, Stage.STORING)
    return _finish(packet, pdf)


def _reach(packet: Packet, stage: str) -> None:
    """Say how far it is and hold the packet for another lease."""
    PAPERS.hold(packet, **_at(stage))


def _finish(packet: Packet, pdf: bytes) -> bool:
    return PAPERS.finish_file(packet, f"{packet.number}-{packet.code}.pdf", pdf, stage=Stage.DONE)

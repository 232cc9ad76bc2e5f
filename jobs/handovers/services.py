"""To whom was the work handed over, and what were they told? Signed, or with the reason why not."""

from datetime import date
from typing import Any

from contractor.api.callers import Caller
from contractor.api.facts import check_same, kept_once
from contractor.notices.services import notice_record
from jobs.handovers.models import Handover, Signature
from jobs.installs.models import Install
from jobs.installs.sent import Sent
from jobs.installs.services import install_settle
from jobs.jobs.life import job_follow
from jobs.jobs.models import Job


def handover_make(
    *, by: Caller, install: Install, sent: Sent, values: dict[str, Any]
) -> tuple[Handover, bool]:
    """Keep a handover; writes it, announces `handover.signed` or `handover.unsigned`.

    A handover is a fact: the same body again changes nothing, and a later one is added beside it.

    Raises:
        Problem: the id is taken by another handover.
    """
    return kept_once(lambda: _make(by, install, sent, values))


def _make(
    by: Caller, install: Install, sent: Sent, values: dict[str, Any]
) -> tuple[Handover, bool]:
    install = Install.objects.select_for_update(no_key=True).get(pk=install.pk)
    known = Handover.objects.filter(pk=sent.id).first()
    if known is not None:
        check_same(known, sent.digest, "handover")
        return known, False
    row = Handover.objects.create(
        id=sent.id,
        install=install,
        said_by=sent.said_by,
        signed_at=sent.taken_at,
        caller=by.key,
        digest=sent.digest,
        **values,
    )
    notice_record(
        by=by,
        type=f"handover.{'signed' if row.signature else 'unsigned'}",
        about=install.number,
        reason=row.unsigned_why,
        changes={
            "handover": [None, str(row.pk)],
            "person": [None, row.person],
            "follow_up_on": [None, _day(row.follow_up_on)],
        },
    )
    install_settle(by=by, install=install)
    if not row.lacks():
        job_follow(by=by, job=install.booking.job, action="hand_over")
    return row, True


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None


def handover_standing(*, job: Job) -> list[Handover]:
    """The handovers of a job, the newest of each install."""
    rows = Handover.objects.filter(install__booking__job=job).select_related("install")
    return list({one.install_id: one for one in rows}.values())


def signature_missing(row: Handover) -> bool:
    """Tell whether a signature is named that is not here yet."""
    return bool(row.signature) and not Signature.objects.filter(pk=row.signature).exists()

"""When is somebody to be told, and how is it told once? Rows planned, claimed, sent, marked.

A claim is one conditional UPDATE, so that of two workers and two schedulers one gets the row. A worker
that dies between sending and marking leaves its lease to run out; the message is then sent again under
the same Message-ID, which is the most that mail can promise.
"""

import logging
from datetime import datetime, timedelta
from typing import Any

from django.conf import settings
from django.core.mail import EmailMessage
from django.db.models import F, Q
from django.utils import timezone

from jobs.reminders.models import Reminder, State

log = logging.getLogger(__name__)
LEASE = timedelta(minutes=2)
REST = timedelta(minutes=15)
MOST_ATTEMPTS = 3
BATCH = 50


def follow_up_plan(*, booking: Any) -> Reminder | None:
    """Plan, or plan anew, the follow-up of an install; writes one reminder in the booking's transaction."""
    customer = booking.job.site.customer
    if booking.visit != "install" or not customer.email:
        return None
    values = {
        "due_at": booking.ends_at + timedelta(days=settings.FOLLOW_UP_DAYS),
        "to": customer.email,
        "subject": f"How is your new door? ({booking.job.number})",
        "text": _text(booking, customer),
        "message_id": f"<follow-up-{booking.number}@{settings.DEFAULT_FROM_EMAIL.partition('@')[2]}>",
    }
    reminder, made = Reminder.objects.get_or_create(
        booking=booking, kind="follow_up", defaults=values
    )
    if not made and reminder.state == State.WAITING:
        Reminder.objects.filter(pk=reminder.pk, state=State.WAITING).update(**values)
    return reminder


def _text(booking: Any, customer: Any) -> str:
    return (
        f"Dear {customer.name},\n\n"
        f"{settings.FOLLOW_UP_DAYS} days ago we hung the glass for your job {booking.job.number}"
        f" ({booking.job.summary}).\n"
        "Please look: does the door close by itself where it should, is the floor outside dry, are\n"
        "all seals in place? Do not use the door if the glass is chipped; tempered glass can break\n"
        "without warning when its edge is damaged. Answer this mail or call us if anything is amiss.\n\n"
        f"{settings.FIRM['name']}, {settings.FIRM['phone']}\n"
    )


def follow_ups_cancel(*, booking: Any) -> int:
    """Drop what was planned for a cancelled booking; returns how many.

    One that a worker holds is dropped too: it is not tried again, and says sent if it went out.
    """
    open_ones = Reminder.objects.filter(booking=booking, state__in=[State.WAITING, State.SENDING])
    return open_ones.update(state=State.CANCELLED, lease_until=None)


def reminders_due(*, now: datetime) -> list[int]:
    """List the keys of reminders whose time has come and that no living worker holds."""
    due = Reminder.objects.filter(_free(now), due_at__lte=now)
    return list(due.values_list("pk", flat=True)[:BATCH])


def _free(now: datetime) -> Q:
    """Waiting and not just tried, or held by a worker that is gone."""
    rested = Q(lease_until=None) | Q(lease_until__lt=now)
    return Q(state=State.WAITING) & rested | Q(state=State.SENDING, lease_until__lt=now)


def reminder_send(*, key: int, now: datetime | None = None) -> bool:
    """Claim one reminder and send it; returns whether this call sent it."""
    now = now or timezone.now()
    if not _claim(key, now):
        return False
    reminder = Reminder.objects.get(pk=key)
    try:
        _mail(reminder)
    except Exception as error:
        _put_back(reminder, error, now)
        return False
    done = Reminder.objects.filter(pk=key, attempts=reminder.attempts)
    return bool(done.update(state=State.SENT, sent_at=timezone.now(), lease_until=None, trouble=""))


def _claim(key: int, now: datetime) -> bool:
    free = _free(now)
    claimed = Reminder.objects.filter(free, pk=key, due_at__lte=now, attempts__lt=MOST_ATTEMPTS)
    if claimed.update(state=State.SENDING, lease_until=now + LEASE, attempts=F("attempts") + 1):
        return True
    spent = Reminder.objects.filter(free, pk=key, attempts__gte=MOST_ATTEMPTS)
    spent.update(state=State.FAILED, lease_until=None, trouble="The worker died three times.")
    return False


def _mail(reminder: Reminder) -> None:
    EmailMessage(
        reminder.subject,
        reminder.text,
        to=[reminder.to],
        headers={"Message-ID": reminder.message_id},
    ).send()


def _put_back(reminder: Reminder, error: Exception, now: datetime) -> None:
    """Let it rest before the next try, longer each time; after three tries it is given up."""
    log.warning("Reminder %s was not sent: %s", reminder.pk, error)
    spent = reminder.attempts >= MOST_ATTEMPTS
    mine = Reminder.objects.filter(pk=reminder.pk, state=State.SENDING, attempts=reminder.attempts)
    mine.update(
        state=State.FAILED if spent else State.WAITING,
        lease_until=None if spent else now + REST * reminder.attempts,
        trouble=str(error)[:300],
    )

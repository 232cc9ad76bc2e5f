"""What do people change about rules and messages? Each in one transaction with its notice."""

from datetime import date, time
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from contractor.people.models import Member
from jobs.reminders.choices import State
from jobs.reminders.models import DigestWish, Reminder
from jobs.reminders.moments import at_clock

STOPPED = (State.FAILED.value, State.LATE.value, State.CANCELLED.value)
WAITING = (State.DUE.value, State.SNOOZED.value, State.LATE.value, State.FAILED.value)


@transaction.atomic
def reminder_snooze(*, by: Caller, reminder: Reminder, until: date, why: str = "") -> Reminder:
    """Put a message off to the morning of a day by the site's clock; announces `reminder.snoozed`.

    Raises:
        Problem: it is sent, cancelled or being sent, or the day is not ahead.
    """
    _check_state(reminder, WAITING, "put off")
    zone = ZoneInfo(reminder.time_zone)
    moment = at_clock(until, time.fromisoformat(settings.QUIET_UNTIL), zone)
    if moment <= timezone.now():
        raise Problem(
            "not_ahead",
            f"The morning of {until} is past.",
            hint="Send a day that is still to come.",
            pointer="/until",
        )
    values = {"state": State.SNOOZED.value, "due_at": moment, "trouble": why, "attempts": 0}
    return _change(by, reminder, "snoozed", why, {**values, "handed_at": None})


@transaction.atomic
def reminder_cancel(*, by: Caller, reminder: Reminder, why: str) -> Reminder:
    """Drop a message that is not sent; announces `reminder.cancelled`.

    Raises:
        Problem: it is sent or cancelled already.
    """
    _check_state(reminder, (*WAITING, State.SENDING.value), "cancelled")
    return _change(by, reminder, "cancelled", why, {"state": State.CANCELLED, "trouble": why})


@transaction.atomic
def reminder_again(*, by: Caller, reminder: Reminder) -> Reminder:
    """Send a message after all that was late, given up or cancelled; announces `reminder.retried`.

    It goes out under the same Message-ID, by day, at the next sweep.

    Raises:
        Problem: it waits, is being sent or was sent.
    """
    _check_state(reminder, STOPPED, "sent after all")
    values = {"state": State.DUE.value, "due_at": timezone.now(), "attempts": 0, "trouble": ""}
    return _change(by, reminder, "retried", "", {**values, "sense_until": None, "handed_at": None})


def _check_state(reminder: Reminder, allowed: tuple[str, ...], wish: str) -> None:
    if reminder.state not in allowed:
        raise Problem(
            "reminder_settled",
            f"{reminder.number} is {reminder.state} and cannot be {wish}.",
            status=409,
            hint=f"Only one that is {' or '.join(allowed)} can be {wish}.",
        )


def _change(by: Caller, row: Reminder, what: str, why: str, values: dict[str, Any]) -> Reminder:
    """Change a locked message and release whoever held it."""
    Reminder.objects.filter(pk=row.pk).update(lease_until=None)
    row.lease_until = None
    return row_change(row=row, by=by, type=f"reminder.{what}", values=values, reason=why)


@transaction.atomic
def digest_wish(*, by: Caller, member: Member, wants: bool) -> DigestWish:
    """Say whether a member of the office gets the digest by mail; announces `digest.wished`."""
    wish = DigestWish.objects.select_for_update().get_or_create(member=member)[0]
    old, wish.wants = wish.wants, wants
    wish.save(update_fields=["wants"])
    notice_record(by=by, type="digest.wished", about=member.number, changes={"wants": [old, wants]})
    return wish

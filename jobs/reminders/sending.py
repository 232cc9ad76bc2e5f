"""How is a message sent once, however many workers sweep, and whatever was away in between?

A claim is one conditional UPDATE with a lease. Right before a message is handed to its channel the row
says so; a worker that dies after that leaves a row in doubt, which is given up and shown to the office
instead of being sent a second time. A worker that dies before it costs nothing but the lease.
"""

import logging
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction
from django.db.models import F, Q
from django.utils import timezone

from jobs.reminders.channels import InDoubt, channel_of
from jobs.reminders.choices import From, State
from jobs.reminders.digest_mail import digest_message
from jobs.reminders.models import Reminder
from jobs.reminders.moments import out_of_the_night
from jobs.reminders.planning import still_wanted
from jobs.reminders.subjects import subject_of
from jobs.reminders.telling import reminder_told
from jobs.reminders.whom import recipient_of
from jobs.reminders.wording import message_of

log = logging.getLogger(__name__)
LEASE = timedelta(minutes=2)
REST = timedelta(minutes=15)
MOST_ATTEMPTS = 3
BATCH = 50
WAITING = (State.DUE.value, State.SNOOZED.value)
# Days that fall away once what they wait for is done; asked again before a message leaves.
PASSING = (From.GOODS_PROMISED, From.CLAIM_DEADLINE, From.COST_MISSING)
IN_DOUBT = (
    "A worker stopped while handing it over: it may have gone out. Look for its Message-ID; send it "
    "again only if it did not."
)


def reminders_due(*, now: datetime) -> list[int]:
    """List the keys of messages whose time has come and that no living worker holds."""
    due = Reminder.objects.filter(_free(now), due_at__lte=now)
    return list(due.order_by("due_at", "pk").values_list("pk", flat=True)[:BATCH])


def _free(now: datetime) -> Q:
    """Waiting and not just tried, or held by a worker that is gone."""
    rested = Q(lease_until=None) | Q(lease_until__lt=now)
    return Q(state__in=WAITING) & rested | Q(state=State.SENDING, lease_until__lt=now)


def reminder_send(*, key: int, now: datetime | None = None) -> bool:
    """Claim one message and send it; returns whether this call sent it.

    One whose time has long passed is marked late, one that has lost its sense is cancelled, and one
    that meets the site's night waits for the morning. Announces `reminder.sent` and what else became.
    """
    now = now or timezone.now()
    if _set_aside(key, now) or not _claim(key, now):
        return False
    row = Reminder.objects.select_related("rule", "member").get(pk=key)
    try:
        if not _hand_over(row, now):
            return False
    except InDoubt as error:
        mine = Reminder.objects.filter(pk=key, state=State.SENDING, attempts=row.attempts)
        _end(mine, row, "failed", f"{IN_DOUBT} ({error})", state=State.FAILED)
        return False
    except Exception as error:
        _put_back(row, error, now)
        return False
    mine = Reminder.objects.filter(pk=key, attempts=row.attempts)
    return _end(mine, row, "sent", "", state=State.SENT, sent_at=timezone.now(), trouble="")


def _set_aside(key: int, now: datetime) -> bool:
    """Mark what is not to be sent now, and say why; returns whether it was."""
    row = Reminder.objects.select_related("rule").filter(pk=key).first()
    if row is None:
        return True
    free = Reminder.objects.filter(_free(now), pk=key, version=row.version, handed_at=None)
    if row.sense_until is not None and row.sense_until <= now:
        why = "Its moment had passed before it could be sent; it would have made no sense any more."
        return _end(free, row, "cancelled", why, state=State.CANCELLED)
    if now - row.due_at > timedelta(hours=row.rule.late_after_hours) and not row.attempts:
        why = f"Due {row.due_at:%Y-%m-%d %H:%M} UTC, while nobody could send."
        return _end(free, row, "late", why, state=State.LATE)
    morning = out_of_the_night(now, row.time_zone)
    if morning > now and not row.rule.at_night and row.state in WAITING:
        free.update(due_at=morning, version=F("version") + 1)
        return True
    return False


def _end(rows: Any, row: Reminder, what: str, why: str, **values: Any) -> bool:
    """Bring a row into a visible state, once, with its notice."""
    values.setdefault("trouble", why[:300])
    with transaction.atomic():
        done = rows.update(lease_until=None, version=F("version") + 1, **values)
        if done:
            reminder_told(row, what, why)
    return bool(done)


def _claim(key: int, now: datetime) -> bool:
    free = Reminder.objects.filter(_free(now), pk=key, due_at__lte=now)
    fresh = free.filter(attempts__lt=MOST_ATTEMPTS, handed_at=None)
    if fresh.update(state=State.SENDING, lease_until=now + LEASE, attempts=F("attempts") + 1):
        return True
    row = Reminder.objects.select_related("rule").get(pk=key)
    doubtful = free.filter(state=State.SENDING).exclude(handed_at=None)
    if not _end(doubtful, row, "failed", IN_DOUBT, state=State.FAILED):
        died = "The worker died three times before handing it over."
        spent = free.filter(attempts__gte=MOST_ATTEMPTS, handed_at=None)
        _end(spent, row, "failed", died, state=State.FAILED)
    return False


def _hand_over(row: Reminder, now: datetime) -> bool:
    """Word the message by what holds now, record that it is being handed over, hand it over."""
    values = _fresh(row)
    if isinstance(values, str):
        mine = Reminder.objects.filter(pk=row.pk, state=State.SENDING, attempts=row.attempts)
        _end(mine, row, "cancelled", values, state=State.CANCELLED)
        return False
    send = channel_of(values["channel"])
    mine = Reminder.objects.filter(pk=row.pk, state=State.SENDING, attempts=row.attempts)
    if not mine.update(**values, handed_at=timezone.now()):
        return False  # cancelled, or another worker has it
    words = {name: values[name] for name in ("to", "subject", "text")}
    send(**words, message_id=row.message_id)
    return True


def _fresh(row: Reminder) -> dict[str, Any] | str:
    """Word and address a message by what holds now; a text says why it is not wanted any more."""
    kept = {name: getattr(row, name) for name in ("channel", "to", "language", "subject", "text")}
    if row.rule.counts_from == From.EACH_MORNING:
        head, text = digest_message(row)
        return {**kept, "subject": head, "text": text}
    subject = subject_of(row.noun, row.about)
    if subject is None:
        return kept
    counts = row.rule.counts_from
    gone = counts in PASSING and counts not in subject.dates
    if gone or not still_wanted(row.rule, subject):
        return "What it waited for is no longer so."
    who = recipient_of(row.rule, subject)
    if who is None:
        return "The customer wants no messages."
    head, text = message_of(row.rule, subject, who)
    where = {"channel": who.channel, "to": who.to, "language": who.language}
    return {**where, "subject": head, "text": text}


def _put_back(row: Reminder, error: Exception, now: datetime) -> None:
    """Let it rest before the next try, longer each time; after three tries it is given up."""
    log.warning("Message %s was not sent: %s", row.number, error)
    mine = Reminder.objects.filter(pk=row.pk, state=State.SENDING, attempts=row.attempts)
    if row.attempts >= MOST_ATTEMPTS:
        _end(mine, row, "failed", str(error) or "no reason", state=State.FAILED, handed_at=None)
        return
    rest = now + REST * row.attempts
    mine.update(state=State.DUE, lease_until=rest, handed_at=None, trouble=str(error)[:300])

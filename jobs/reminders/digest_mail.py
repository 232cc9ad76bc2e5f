"""Who gets the digest by mail this morning? One message a member and day, like every other message."""

from datetime import datetime, timedelta
from typing import Any

from django.conf import settings
from django.db import IntegrityError, transaction
from django.utils import timezone

from contractor.people.models import Member, Role
from jobs.reminders.choices import Channel, From
from jobs.reminders.digest import digest_headline, digest_lines, digest_text
from jobs.reminders.digest_sections import firm_date, firm_day
from jobs.reminders.models import Reminder, Rule
from jobs.reminders.moments import due_moment
from jobs.reminders.wording import message_id
from jobs.reminders.words import filled, in_one_line


def digests_plan(*, now: datetime) -> int:
    """Plan this morning's messages of every rule that speaks each morning; returns how many are new.

    One row a rule, member and day: whoever plans second finds it there.
    """
    return sum(
        _plan(rule, now) for rule in Rule.objects.filter(counts_from=From.EACH_MORNING, is_on=True)
    )


def _plan(rule: Rule, now: datetime) -> int:
    start, end = firm_day(now)
    due = due_moment(rule, start, settings.FIRM_TIME_ZONE)
    if not start <= due < end or due > now:
        return 0
    day = firm_date(now).isoformat()
    known = Reminder.objects.filter(rule=rule, occasion=day).values("member")
    readers = Member.objects.filter(role=Role.OFFICE, is_active=True).exclude(email="")
    wanting = readers.exclude(digest_wish__wants=False).exclude(pk__in=known)
    return sum(_row(rule, one, day, due, end) for one in wanting)


def _row(rule: Rule, member: Member, day: str, due: datetime, end: datetime) -> int:
    values = {
        "member": member,
        "rule_version": rule.version,
        "noun": "member",
        "due_at": due,
        "sense_until": end - timedelta(seconds=1),
        "time_zone": settings.FIRM_TIME_ZONE,
        "channel": Channel.LOG if rule.channel == Channel.LOG else Channel.EMAIL,
        "to": member.email,
        "subject": rule.name,
        "text": "Gathered when it is sent.",
        "message_id": message_id(rule.slug, f"{member.number}-{day}"),
    }
    try:
        with transaction.atomic():
            Reminder.objects.create(rule=rule, about=member.number, occasion=day, **values)
    except IntegrityError:
        return 0
    return 1


def digest_message(row: Any) -> tuple[str, str]:
    """Word the digest as it stands at this moment."""
    lines = digest_lines(now=timezone.now())
    words = {
        "headline": digest_headline(lines),
        "digest": digest_text(lines),
        "firm": settings.FIRM["name"],
        "phone": settings.FIRM["phone"],
        "customer": row.member.name if row.member else "",
    }
    return in_one_line(filled(row.rule.subject, words)), filled(row.rule.text, words)

"""Which message comes of one thing that happened: to whom, when, in which words?"""

from datetime import date, datetime
from typing import Any

from django.conf import settings
from django.db.models import F

from contractor.notices.models import Notice
from contractor.people.models import ClosedDay, ClosedState
from jobs.reminders.choices import From, Sense, State
from jobs.reminders.models import Reminder, Rule
from jobs.reminders.moments import day_end, due_moment
from jobs.reminders.subjects import Subject
from jobs.reminders.telling import messages_drop, reminder_told
from jobs.reminders.whom import Recipient, recipient_of
from jobs.reminders.wording import message_id, message_of

WAITING = (State.DUE.value, State.SNOOZED.value)


def message_plan(rule: Rule, notice: Notice, subject: Subject) -> None:
    """Plan what a rule asks for, or drop what waits when it asks for nothing any more."""
    waiting = Reminder.objects.filter(rule=rule, about=subject.about, state__in=WAITING)
    base = subject.dates.get(rule.counts_from)
    wanted = base is not None and still_wanted(rule, subject)
    who = recipient_of(rule, subject) if wanted else None
    if base is None or who is None:
        messages_drop(waiting, "what it waited for is no longer so", notice.pk)
        return
    occasion = str(notice.event) if rule.counts_from == From.NOTICE else base.isoformat()
    if Reminder.objects.filter(rule=rule, about=subject.about, occasion=occasion).exists():
        return
    told = {"noun": notice.noun, "occasion": occasion, "heard": notice.pk}
    values = {**_values(rule, subject, base, who, notice.at), **told}
    row = waiting.first()
    if row is None:
        _make(rule, subject.about, values)
    else:
        waiting.filter(pk=row.pk).update(**values, state=State.DUE, version=F("version") + 1)
        reminder_told(row, "planned_anew", f"{notice.type} of {notice.about}")


def _make(rule: Rule, about: str, values: dict[str, Any]) -> None:
    row = Reminder.objects.create(
        rule=rule, about=about, message_id=message_id(rule.slug, about), **values
    )
    reminder_told(row, "planned")


def still_wanted(rule: Rule, subject: Subject) -> bool:
    """Tell whether the visit is of a kind that the rule speaks of, and stands."""
    if subject.booking is None:
        return True
    return subject.booking.state == "booked" and (
        not rule.visits or subject.booking.visit in rule.visits
    )


def _values(
    rule: Rule, subject: Subject, base: datetime, who: Recipient, known_at: datetime
) -> dict[str, Any]:
    """Fill a message's row; what is told ahead of a moment still to come is due when that is known."""
    closed = closed_days(subject) if rule.working_days else frozenset()
    due = due_moment(rule, base, subject.zone, closed)
    if due < known_at and due < base:  # known so late that nobody could have told it in time
        due = known_at
    subject_line, text = message_of(rule, subject, who)
    return {
        "rule_version": rule.version,
        "job": subject.job,
        "booking": subject.booking,
        "due_at": due,
        "sense_until": sense_until(rule, subject, due),
        "time_zone": subject.zone,
        "channel": who.channel,
        "to": who.to,
        "language": who.language,
        "subject": subject_line,
        "text": text,
    }


def sense_until(rule: Rule, subject: Subject | None, due: datetime) -> datetime | None:
    """Say until when the message is worth sending; None: always."""
    if rule.sense == Sense.DAY_END:
        return day_end(due, subject.zone if subject else settings.FIRM_TIME_ZONE)
    return subject.dates.get(rule.sense) if subject else None


def closed_days(subject: Subject) -> frozenset[date]:
    """List the days on which the site's region does not work."""
    site = subject.job.site
    region = f"{site.address_country}-{site.address_region}"
    rows = ClosedDay.objects.filter(region=region, state=ClosedState.KEPT)
    return frozenset(rows.values_list("day", flat=True))

"""What became of a message? Told in the history, whoever did it."""

from typing import Any

from django.db.models import F

from contractor.api.callers import SYSTEM
from contractor.notices.services import notice_record
from jobs.reminders.choices import OPEN, State
from jobs.reminders.models import Reminder


def reminder_told(row: Reminder, what: str, reason: str = "", by: Any = SYSTEM) -> None:
    """Record what became of a message; announces `reminder.<what>`."""
    version = Reminder.objects.values_list("version", flat=True).get(pk=row.pk)
    notice_record(
        by=by,
        type=f"reminder.{what}",
        about=row.number,
        reason=reason[:300],
        version=version,
        changes={"rule": [None, row.rule.slug], "about": [None, row.about]},
    )


def messages_drop(rows: Any, why: str, heard: int) -> None:
    """Cancel messages that were planned before this was heard and are not sent."""
    for row in rows.filter(state__in=OPEN, heard__lt=heard):
        gone = Reminder.objects.filter(pk=row.pk, state__in=OPEN).update(
            state=State.CANCELLED, lease_until=None, trouble=why[:300], version=F("version") + 1
        )
        if gone:
            reminder_told(row, "cancelled", why)

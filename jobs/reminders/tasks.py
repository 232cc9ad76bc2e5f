"""The sweep of reminders, woken by the schedule."""

from celery import shared_task
from django.utils import timezone

from jobs.reminders.services import reminder_send, reminders_due


@shared_task(name="reminders.sweep")
def sweep() -> int:
    """Send every reminder whose time has come."""
    return sum(reminder_send(key=key) for key in reminders_due(now=timezone.now()))

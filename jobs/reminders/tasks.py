"""The sweep of messages, woken by the schedule: hear, plan the morning's, send what is due."""

from celery import shared_task
from django.utils import timezone

from jobs.reminders.digest_mail import digests_plan
from jobs.reminders.hearing import BATCH, notices_hear
from jobs.reminders.sending import reminder_send, reminders_due

MOST_ROUNDS = 20


@shared_task(name="reminders.sweep")
def sweep() -> int:
    """Hear what happened, then send every message whose time has come; returns how many were sent.

    Nothing is sent before everything that happened is heard: it may make a message needless.
    """
    for _ in range(MOST_ROUNDS):
        if notices_hear() < BATCH:
            break
    else:
        return 0
    now = timezone.now()
    digests_plan(now=now)
    return sum(reminder_send(key=key) for key in reminders_due(now=now))

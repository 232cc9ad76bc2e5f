"""The sweep of deliveries, woken by the schedule."""

from celery import shared_task
from django.utils import timezone

from contractor.notices.delivering import deliveries_due, deliveries_plan, delivery_send


@shared_task(name="webhooks.sweep")
def sweep() -> int:
    """Plan deliveries of what happened, and post those whose try has come."""
    now = timezone.now()
    deliveries_plan(now=now)
    return sum(delivery_send(key=key) for key in deliveries_due(now=now))

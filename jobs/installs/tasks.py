"""The sweep of what has dried, woken by the schedule."""

from celery import shared_task
from django.utils import timezone

from jobs.installs.dry import install_dry, installs_drying


@shared_task(name="installs.sweep")
def sweep() -> int:
    """Call every install dry whose time has come."""
    now = timezone.now()
    return sum(install_dry(key=key, now=now) for key in installs_drying(now=now))

"""Working through long lists: one woken by name, and the sweep for strays."""

from celery import shared_task
from django.utils import timezone

from jobs.lists.services import list_work, lists_waiting


@shared_task(name="lists.work")
def work(key: int) -> bool:
    """Look one list through, or take it over."""
    return list_work(key=key)


@shared_task(name="lists.sweep")
def sweep() -> int:
    """Work through every list that waits or whose worker died."""
    return sum(list_work(key=key) for key in lists_waiting(now=timezone.now()))

"""Writing drawings: one woken by name, and the sweep for strays."""

from celery import shared_task
from django.utils import timezone

from jobs.drawings.making import drawing_draw, drawings_waiting


@shared_task(name="drawings.draw")
def draw(key: int) -> bool:
    """Write one drawing."""
    return drawing_draw(key=key)


@shared_task(name="drawings.sweep")
def sweep() -> int:
    """Write every drawing that waits or whose worker died."""
    return sum(drawing_draw(key=key) for key in drawings_waiting(now=timezone.now()))

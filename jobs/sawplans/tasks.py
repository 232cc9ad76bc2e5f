"""Laying out saw plans: one woken by name, and the sweep for strays."""

from celery import shared_task
from django.utils import timezone

from jobs.sawplans.services import saw_plan_work, saw_plans_waiting


@shared_task(name="sawplans.lay_out")
def lay_out(key: int) -> bool:
    """Lay out one plan."""
    return saw_plan_work(key=key)


@shared_task(name="sawplans.sweep")
def sweep() -> int:
    """Lay out every plan that waits or whose worker died."""
    return sum(saw_plan_work(key=key) for key in saw_plans_waiting(now=timezone.now()))

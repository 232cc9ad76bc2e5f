"""Solving plans: one woken by name, and the sweep for strays."""

from celery import shared_task
from django.utils import timezone

from jobs.plans.services import plan_solve, plans_waiting


@shared_task(name="plans.solve")
def solve(key: int) -> bool:
    """Solve one plan."""
    return plan_solve(key=key)


@shared_task(name="plans.sweep")
def sweep() -> int:
    """Solve every plan that waits or whose worker died."""
    return sum(plan_solve(key=key) for key in plans_waiting(now=timezone.now()))

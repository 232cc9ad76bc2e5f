"""What a worker does for bookings: the sweep of holds that have run out."""

from celery import shared_task

from jobs.bookings.holds import holds_sweep


@shared_task(name="bookings.sweep")
def sweep() -> int:
    """Let run-out holds go."""
    return holds_sweep()

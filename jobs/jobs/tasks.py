"""The sweep of jobs that have dried, woken by the schedule."""

from celery import shared_task

from jobs.jobs.drying import job_dry, jobs_drying


@shared_task(name="jobs.sweep")
def sweep() -> int:
    """Let every job go on whose cure is over; it finds what the install's own sweep could not move."""
    return sum(job_dry(key=key) for key in jobs_drying())

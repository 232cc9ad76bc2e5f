"""When has the bead of a job's installs cured? A follow-up before that would open a wet seal."""

from datetime import datetime

from jobs.installs.stand import install_standing
from jobs.jobs.models import Job


def cured_at(job: Job) -> datetime | None:
    """Ask the installs of a job; None while nothing is hung, or nothing is known of its cure."""
    return install_standing(job=job).cured_at

"""How does a job follow what happened in the bathroom?"""

from importlib import import_module
from importlib.util import find_spec

from contractor.api.callers import Caller
from jobs.jobs.models import Job


def job_follows(*, by: Caller, job: Job, action: str) -> None:
    """Let the job move on when its guards allow it; otherwise nothing happens."""
    if find_spec("jobs.jobs.life") is None:
        return
    # Asked for late: the job's life asks this room too.
    import_module("jobs.jobs.life").job_follow(by=by, job=job, action=action)

"""How does a job follow what happened in the bathroom?"""

from importlib import import_module
from importlib.util import find_spec

from contractor.api.callers import Caller
from jobs.jobs.models import Job

INSTALLED, CURED, HANDED_OVER = "install", "cure", "hand_over"


def job_follows(*, by: Caller, job: Job, action: str) -> None:
    """Let the job move on when its guards allow it; otherwise nothing happens."""
    if find_spec("jobs.jobs.life") is None:
        return
    # Asked for late: the job's life asks this room too.
    import_module("jobs.jobs.life").job_follow(by=by, job=job, action=action)


def goods_unsound(*, job: Job) -> tuple[str, ...]:
    """Name the pieces that came damaged, short or wrong and are not here anew."""
    for name in ("jobs.receiving.services", "jobs.receiving.standing"):
        if find_spec("jobs.receiving") is not None and find_spec(name) is not None:
            room = import_module(name)
            if hasattr(room, "goods_standing"):
                return tuple(room.goods_standing(job=job).damaged)
    return ()

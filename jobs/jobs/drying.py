"""Which jobs have had their cure? Each goes on once, however many workers ask."""

from django.db import transaction
from django.db.models import Exists, OuterRef

from contractor.api.callers import SYSTEM
from jobs.installs.models import Install
from jobs.jobs.life import job_follow
from jobs.jobs.models import Job, State

BATCH = 500


def jobs_drying() -> list[int]:
    """List installed jobs of which every install that still counts was called dry."""
    installs = Install.objects.filter(booking__job=OuterRef("pk"), opening__dropped_why="")
    rows = Job.objects.filter(
        Exists(installs), ~Exists(installs.filter(cured_at=None)), state=State.INSTALLED
    )
    return list(rows.order_by("pk").values_list("pk", flat=True)[:BATCH])


@transaction.atomic
def job_dry(*, key: int) -> bool:
    """Let one job go on to cured and as far as its guards allow; announces `job.moved` for each step."""
    job = Job.objects.select_related("site").get(pk=key)
    return job_follow(by=SYSTEM, job=job, action="cure").state != State.INSTALLED

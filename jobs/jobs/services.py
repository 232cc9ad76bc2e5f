"""What changes about jobs, each in one transaction with its notice."""

from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.notices.services import notice_record
from jobs.jobs.models import Job


@transaction.atomic
def job_open(*, by: Caller, **values: Any) -> Job:
    """Open a job at a site; announces `job.opened`."""
    job = Job.objects.create(**values)
    notice_record(by=by, type="job.opened", about=job.number)
    return job

"""What changes about openings, each in one transaction with its notice."""

from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.notices.services import notice_record
from jobs.openings.models import Opening


@transaction.atomic
def opening_add(*, by: Caller, **values: Any) -> Opening:
    """Add an opening to a job; announces `opening.added`."""
    opening = Opening.objects.create(**values)
    notice_record(by=by, type="opening.added", about=opening.number)
    return opening

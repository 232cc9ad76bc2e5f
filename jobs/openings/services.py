"""What changes about openings, each in one transaction with its notice."""

from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from jobs.openings.models import Opening


@transaction.atomic
def opening_add(*, by: Caller, **values: Any) -> Opening:
    """Add an opening to a job; announces `opening.added`."""
    opening = Opening.objects.create(**values)
    notice_record(by=by, type="opening.added", about=opening.number)
    return opening


@transaction.atomic
def opening_drop(*, by: Caller, opening: Opening, why: str) -> Opening:
    """Leave an opening out of its job, whose guards then hold for the others; announces `opening.dropped`.

    Raises:
        Problem: it is left out already.
    """
    if opening.dropped_why:
        raise _already(opening, "is left out already")
    values = {"dropped_why": why}
    return row_change(row=opening, by=by, type="opening.dropped", values=values, reason=why)


@transaction.atomic
def opening_take_up(*, by: Caller, opening: Opening, why: str) -> Opening:
    """Take a dropped opening into its job again; announces `opening.taken_up`.

    Raises:
        Problem: it was not left out.
    """
    if not opening.dropped_why:
        raise _already(opening, "belongs to its job")
    values = {"dropped_why": ""}
    return row_change(row=opening, by=by, type="opening.taken_up", values=values, reason=why)


def _already(opening: Opening, what: str) -> Problem:
    return Problem("nothing_to_do", f"{opening.number} {what}.", status=409, hint="Read it again.")

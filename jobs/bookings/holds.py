"""How is time held that nobody has confirmed? A hold that has run out never stands in anybody's way.

Whoever plans a crew first lets its run-out holds go, inside the transaction that wants the time; the
sweep does the same for the rest. A row that another transaction is just confirming or moving is
passed by (SKIP LOCKED), because that one waits for the crew that this one holds.
"""

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices.services import row_change
from contractor.people.models import Crew
from jobs.bookings.models import Booking, State

BATCH = 100


def run_out(now: datetime) -> QuerySet[Booking]:
    """Select the holds whose time is over."""
    return Booking.objects.filter(state=State.HELD, held_until__lte=now)


def holds_let_go(*, crews: Iterable[Crew]) -> int:
    """Let the run-out holds of locked crews go; announces `booking.lapsed` for each."""
    rows = run_out(timezone.now()).filter(crew__in=[one.pk for one in crews])
    return _let_go(rows.order_by("pk"))


@transaction.atomic
def holds_sweep() -> int:
    """Let every run-out hold go; returns how many."""
    return _let_go(run_out(timezone.now()).order_by("pk")[:BATCH])


def _let_go(rows: QuerySet[Booking]) -> int:
    locked = rows.select_for_update(skip_locked=True)
    values = {"state": State.LAPSED.value}
    return len([row_change(row=r, by=SYSTEM, type="booking.lapsed", values=values) for r in locked])

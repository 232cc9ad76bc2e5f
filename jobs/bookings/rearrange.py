"""How are several bookings moved at once, even when they swap places? All or none, every guard asked."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import row_change
from contractor.people.models import Crew
from jobs.bookings.asking import answered_for
from jobs.bookings.models import Booking, State
from jobs.bookings.writing import one_at_a_time, written


@dataclass(frozen=True, slots=True)
class Rearranged:
    """One booking's new crew and time, and the version that was seen."""

    key: int
    version: int
    crew: Crew
    starts_at: datetime
    ends_at: datetime


@transaction.atomic
def bookings_rearrange(*, by: Caller, moves: Sequence[Rearranged], reason: str) -> list[Booking]:
    """Move bookings together; announces `booking.moved` for each.

    Rows are locked in the order of their keys, then all crews, as a single move does it. They are
    taken off the calendar before the first is put back, so that two may swap places.

    Raises:
        Problem: a booking changed since it was seen (all such are named), a guard refuses one of
            the new places, or another booking holds one.
    """
    keys = sorted(one.key for one in moves)
    locked = Booking.objects.select_for_update(of=("self",)).select_related("job__site", "crew")
    rows = {row.pk: row for row in locked.filter(pk__in=keys).order_by("pk")}
    _check_unchanged(moves, rows)
    one_at_a_time(*(row.crew for row in rows.values()), *(one.crew for one in moves))
    Booking.objects.filter(pk__in=keys).update(state=State.CANCELLED)
    done = [_put(by, one, rows[one.key], reason) for one in moves]
    for row in done:
        asked = Booking.objects.select_related("job__site", "crew").get(pk=row.pk)
        asked.override_name = asked.override_reason = ""
        answered_for(asked, None, only_the_crew=True)
    return done


def _check_unchanged(moves: Sequence[Rearranged], rows: dict[int, Booking]) -> None:
    changed = [
        Booking(pk=one.key).number
        for one in moves
        if one.key not in rows
        or rows[one.key].version != one.version
        or rows[one.key].state != State.BOOKED
    ]
    if changed:
        raise Problem(
            "bookings_changed",
            f"Changed since the plan was made: {', '.join(sorted(changed))}.",
            status=409,
            hint="Accept the plan without them, or ask for a new one.",
            changed=sorted(changed),
        )


def _put(by: Caller, move: Rearranged, row: Booking, reason: str) -> Booking:
    values = {
        "crew": move.crew,
        "starts_at": move.starts_at,
        "ends_at": move.ends_at,
        "state": State.BOOKED.value,
    }
    wanted = Booking(pk=row.pk, job=row.job, **values)

    def write() -> None:
        row_change(row=row, by=by, type="booking.moved", values=values, reason=reason)

    def restore() -> None:
        row.refresh_from_db()
        row.state = State.BOOKED

    written(wanted, write, restore)
    return row

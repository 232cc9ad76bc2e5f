"""How are two writes that want one crew kept in a queue, and what is the loser told?"""

from collections.abc import Callable
from typing import Any

from django.db import IntegrityError, transaction

from contractor.api.problems import Problem
from contractor.people.models import Crew
from jobs.bookings.guards import clash
from jobs.bookings.holds import holds_let_go
from jobs.bookings.models import STANDING, Booking
from jobs.bookings.overlap import NAME


def one_at_a_time(*crews: Crew) -> None:
    """Wait until no other transaction plans these crews.

    Two writes that meet in the exclusion constraint wait for each other, and PostgreSQL then ends
    one as a deadlock instead of naming the booking in its way; always in one order, so that a swap
    between two crews cannot do the same.
    """
    wanted = sorted({crew.pk for crew in crews})
    list(
        Crew.objects.select_for_update(no_key=True)
        .filter(pk__in=wanted)
        .order_by("pk")
        .values_list("pk")
    )


def written(wanted: Booking, write: Callable[[], Any], restore: Any = None) -> None:
    """Write a booking whose crew is locked; a run-out hold in its way is let go first.

    Args:
        wanted: the booking as it would be.
        write: writes it.
        restore: what to call before a second try.

    Raises:
        Problem: another booking holds the time.
    """
    try:
        _tried(write)
    except IntegrityError as error:
        if NAME not in str(error) or not holds_let_go(crews=[wanted.crew]):
            raise _refusal(error, wanted) from error
        if restore is not None:
            restore()
        try:
            _tried(write)
        except IntegrityError as again:
            raise _refusal(again, wanted) from again


def _tried(write: Callable[[], Any]) -> None:
    with transaction.atomic():
        write()


def _refusal(error: IntegrityError, wanted: Booking) -> Problem:
    """Say in words which rule of the database refused."""
    if NAME not in str(error):
        return Problem(
            "ends_before_start",
            "The visit ends before it starts.",
            hint="Send a later end.",
            pointer="/ends_at",
        )
    holder = (
        Booking.objects.filter(
            crew=wanted.crew,
            state__in=STANDING,
            starts_at__lt=wanted.ends_at,
            ends_at__gt=wanted.starts_at,
        )
        .exclude(pk=wanted.pk)
        .select_related("job__site")
        .first()
    )
    return clash(holder, wanted.crew)

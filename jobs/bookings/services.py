"""How is a crew's time promised, moved and given back? Each in one transaction with its notice."""

from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from contractor.people.models import Crew
from jobs.bookings.guards import check_hands, check_verdicts, clash, standing_of
from jobs.bookings.models import Booking, State
from jobs.bookings.overlap import NAME
from jobs.jobs.models import Job
from jobs.reminders.services import follow_up_plan, follow_ups_cancel


@transaction.atomic
def booking_make(
    *,
    by: Caller,
    job: Job,
    crew: Crew,
    visit: str,
    starts_at: datetime,
    ends_at: datetime,
    **rest: Any,
) -> Booking:
    """Promise a crew's time; writes the booking, for an install its follow-up, announces `booking.made`.

    Raises:
        Problem: a verdict is against it without an override, too few hands, or the crew is taken.
    """
    standing = standing_of(job, visit)
    name, reason = rest.get("override_name", ""), rest.get("override_reason", "")
    overridden = check_verdicts(standing, name=name, reason=reason)
    check_hands(crew, standing.hands)
    _one_at_a_time(crew)
    booking = Booking(
        job=job,
        crew=crew,
        visit=visit,
        starts_at=starts_at,
        ends_at=ends_at,
        hands_needed=standing.hands,
        overridden=overridden,
        **rest,
    )
    _save(booking, force_insert=True)
    follow_up_plan(booking=booking)
    notice_record(
        by=by, type="booking.made", about=booking.number, changes=_shown(booking), reason=reason
    )
    return booking


@transaction.atomic
def booking_move(*, by: Caller, booking: Booking, reason: str, **values: Any) -> Booking:
    """Move a booking to another time or crew; announces `booking.moved`.

    Raises:
        Problem: it is cancelled, too few hands, or the crew is taken.
    """
    _check_booked(booking)
    crew = values.get("crew", booking.crew)
    check_hands(crew, booking.hands_needed)
    _one_at_a_time(booking.crew, crew)
    moved = Booking(
        pk=booking.pk,
        crew=crew,
        starts_at=values.get("starts_at", booking.starts_at),
        ends_at=values.get("ends_at", booking.ends_at),
        job=booking.job,
    )
    try:
        with transaction.atomic():
            row_change(row=booking, by=by, type="booking.moved", values=values, reason=reason)
    except IntegrityError as error:
        raise _refusal(error, moved) from error
    follow_up_plan(booking=booking)
    return booking


@transaction.atomic
def booking_cancel(*, by: Caller, booking: Booking, why: str) -> Booking:
    """Give the time back and drop the follow-up; announces `booking.cancelled`."""
    _check_booked(booking)
    follow_ups_cancel(booking=booking)
    values = {"state": State.CANCELLED.value, "cancelled_why": why}
    row_change(row=booking, by=by, type="booking.cancelled", values=values, reason=why)
    return booking


def _one_at_a_time(*crews: Crew) -> None:
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


def _check_booked(booking: Booking) -> None:
    if booking.state != State.BOOKED:
        raise Problem(
            "booking_cancelled",
            f"{booking.number} is cancelled.",
            status=409,
            hint="Make a new booking.",
        )


def _save(booking: Booking, **how: Any) -> None:
    try:
        with transaction.atomic():
            booking.save(**how)
    except IntegrityError as error:
        raise _refusal(error, booking) from error


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
            state=State.BOOKED,
            starts_at__lt=wanted.ends_at,
            ends_at__gt=wanted.starts_at,
        )
        .exclude(pk=wanted.pk)
        .select_related("job__site")
        .first()
    )
    return clash(holder, wanted.crew)


def _shown(booking: Booking) -> dict[str, list[Any]]:
    return {
        "job": [None, booking.job.number],
        "crew": [None, booking.crew.slug],
        "starts_at": [None, booking.starts_at.isoformat()],
        "ends_at": [None, booking.ends_at.isoformat()],
    }

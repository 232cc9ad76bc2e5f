"""How is a crew's time promised, moved and given back? Each in one transaction with its notice."""

from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from contractor.people.models import Crew
from jobs.bookings.asking import answered_for
from jobs.bookings.guards import OF_CREW
from jobs.bookings.models import Booking, State, Visit
from jobs.bookings.standing import standing_of
from jobs.bookings.writing import one_at_a_time, written
from jobs.jobs.life import job_follow
from jobs.jobs.models import Job
from jobs.losses.saves import guards_against, saves_take_back


@transaction.atomic
def booking_make(
    *,
    by: Caller,
    job: Job,
    crew: Crew,
    visit: str,
    starts_at: datetime,
    ends_at: datetime,
    held_until: datetime | None = None,
    **rest: Any,
) -> Booking:
    """Promise a crew's time, or hold it until a moment; announces `booking.made` or `booking.held`.

    Writes the booking; messages about it come of the rules that hear the notice. A hold asks only
    whether the crew can come; verdicts and goods are asked when it is confirmed.

    Raises:
        Problem: something is against it without an override, too few hands, or the crew is taken.
    """
    standing = standing_of(job, visit)
    state = State.HELD if held_until else State.BOOKED
    booking = Booking(
        job=job,
        crew=crew,
        visit=visit,
        starts_at=starts_at,
        ends_at=ends_at,
        state=state.value,
        held_until=held_until,
        hands_needed=standing.hands,
        **rest,
    )
    one_at_a_time(crew)
    booking.overridden = answered_for(booking, standing, only_the_crew=held_until is not None)
    written(booking, lambda: booking.save(force_insert=True))
    _answered(by, booking, booking.overridden)
    notice_record(
        by=by,
        type="booking.held" if held_until else "booking.made",
        about=booking.number,
        changes=_shown(booking),
        reason=booking.override_reason,
    )
    if held_until is None:
        _job_follows(by, booking, "book")
    return booking


@transaction.atomic
def booking_confirm(*, by: Caller, booking: Booking, name: str = "", reason: str = "") -> Booking:
    """Promise what was only held; asks every guard anew and announces `booking.confirmed`.

    Raises:
        Problem: it is no hold, the hold ran out, or something is against it without an override.
    """
    if booking.state != State.HELD or booking.is_lapsed:
        raise Problem(
            "hold_over" if booking.state in {State.HELD, State.LAPSED} else "not_held",
            f"{booking.number} is {booking.get_state_display().lower()}.",
            status=409,
            hint="Make a new booking."
            if booking.state != State.BOOKED
            else "It is booked already.",
        )
    one_at_a_time(booking.crew)
    standing = standing_of(booking.job, booking.visit)
    override = {"override_name": name, "override_reason": reason} if name or reason else {}
    asked = Booking(**{**_facts(booking), **override})
    values = {
        "state": State.BOOKED.value,
        "held_until": None,
        "hands_needed": standing.hands,
        "overridden": answered_for(asked, standing),
        **override,
    }
    row_change(row=booking, by=by, type="booking.confirmed", values=values, reason=reason)
    _answered(by, booking, booking.overridden)
    _job_follows(by, booking, "book")
    return booking


@transaction.atomic
def booking_move(*, by: Caller, booking: Booking, reason: str, **values: Any) -> Booking:
    """Move a booking or hold to another time or crew; announces `booking.moved`.

    Asks again whether the crew can come; what was answered for about verdicts stays as it was.

    Raises:
        Problem: it does not stand, too few hands, something new is against it, or the crew is taken.
    """
    _check_stands(booking)
    own = {name: values.get(name, "") for name in ("override_name", "override_reason")}
    moved = Booking(**{**_facts(booking), **values, **own})
    one_at_a_time(booking.crew, moved.crew)
    values["overridden"] = _still(booking, answered_for(moved, None, only_the_crew=True))

    def write() -> None:
        row_change(row=booking, by=by, type="booking.moved", values=values, reason=reason)

    written(moved, write, booking.refresh_from_db)
    _answered(by, booking, booking.overridden)
    return booking


def _answered(by: Caller, booking: Booking, against: list[dict[str, str]]) -> None:
    """What somebody answers for by name was not saved by the guard that refused it before."""
    if against:
        why, guards = booking.override_reason, guards_against(against)
        saves_take_back(by=by, job=booking.job, guards=guards, reason=why)


@transaction.atomic
def booking_cancel(*, by: Caller, booking: Booking, why: str) -> Booking:
    """Give the time back; announces `booking.cancelled`."""
    _check_stands(booking)
    values = {"state": State.CANCELLED.value, "cancelled_why": why}
    row_change(row=booking, by=by, type="booking.cancelled", values=values, reason=why)
    _job_follows(by, booking, "unbook")
    return booking


@transaction.atomic
def booking_no_show(*, by: Caller, booking: Booking, why: str) -> Booking:
    """Record that the crew came and nobody let it in; announces `booking.no_show`.

    Raises:
        Problem: it is not booked, or has not begun.
    """
    if booking.state != State.BOOKED or booking.starts_at > timezone.now():
        raise Problem(
            "not_begun" if booking.state == State.BOOKED else "booking_cancelled",
            f"{booking.number} ({booking.local()}) is {booking.get_state_display().lower()}"
            " and no visit that could have been missed.",
            status=409,
            hint="Only a booked visit whose time has come can be a no-show; cancel it instead.",
        )
    values = {"state": State.NO_SHOW.value, "no_show_why": why}
    row_change(row=booking, by=by, type="booking.no_show", values=values, reason=why)
    _job_follows(by, booking, "unbook")
    return booking


def _check_stands(booking: Booking) -> None:
    if booking.state not in {State.BOOKED, State.HELD} or booking.is_lapsed:
        raise Problem(
            "hold_over" if booking.state in {State.HELD, State.LAPSED} else "booking_cancelled",
            f"{booking.number} does not stand: {booking.get_state_display().lower()}.",
            status=409,
            hint="Make a new booking.",
        )


def _facts(booking: Booking) -> dict[str, Any]:
    names = ("pk", "job", "crew", "visit", "starts_at", "ends_at", "hands_needed", "state")
    return {name: getattr(booking, name) for name in (*names, "override_name", "override_reason")}


def _still(booking: Booking, fresh: list[dict[str, str]]) -> list[dict[str, str]]:
    """Keep what was answered for about the job, and what is now answered for about crew and time."""
    return [one for one in booking.overridden if one["state"] not in OF_CREW] + fresh


def _shown(booking: Booking) -> dict[str, list[Any]]:
    told = {
        "job": [None, booking.job.number],
        "crew": [None, booking.crew.slug],
        "starts_at": [None, booking.starts_at.isoformat()],
        "ends_at": [None, booking.ends_at.isoformat()],
    }
    if booking.held_until:
        told["held_until"] = [None, booking.held_until.isoformat()]
    return told


def _job_follows(by: Caller, booking: Booking, action: str) -> None:
    """Let the job move on; only an install's booking moves it."""
    if booking.visit == Visit.INSTALL:
        job_follow(by=by, job=booking.job, action=action)

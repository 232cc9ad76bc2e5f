"""Which crew is where in a week? The bookings that a caller may see, drawn as a strip."""

from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.utils import timezone

from contractor.api.moments import of_our_age
from contractor.api.problems import Problem
from contractor.people.models import Crew
from fitcheck.drawings.week import svg_week
from jobs.bookings.models import Booking, State


def monday_of(text: str | None) -> datetime:
    """Find the Monday of the week that a date is in; nothing said means this week.

    Raises:
        Problem: the text is no date.
    """
    try:
        day = datetime.fromisoformat(text) if text else timezone.now()
        if not of_our_age(day):
            raise ValueError(text)
    except ValueError:
        raise Problem(
            "date_not_understood",
            f"{text!r} is no date.",
            hint="Send 2026-03-02.",
            pointer="/monday",
        ) from None
    return (day - timedelta(days=day.weekday())).replace(
        hour=0, minute=0, second=0, microsecond=0, tzinfo=None
    )


def week_strip(monday_text: str | None, bookings: Any) -> str:
    """Draw the strip of one week from the bookings that the caller may see.

    Raises:
        Problem: `monday` is no date.
    """
    first = monday_of(monday_text)
    days = [(first + timedelta(days=n)).date().isoformat() for n in range(7)]
    lower, upper = (first + timedelta(days=n) for n in (-1, 8))
    zone = timezone.get_default_timezone()
    found = bookings.filter(
        state=State.BOOKED,
        ends_at__gt=lower.replace(tzinfo=zone),
        starts_at__lt=upper.replace(tzinfo=zone),
    ).order_by("starts_at")
    rows = [
        {"crew": crew.name, "visits": [_box(b) for b in found if b.crew_id == crew.pk]}
        for crew in Crew.objects.filter(is_active=True)
    ]
    return svg_week(f"Week of {days[0]}", days, rows)


def _box(booking: Booking) -> dict[str, str]:
    zone = ZoneInfo(booking.job.site.time_zone)
    return {
        "start": booking.starts_at.astimezone(zone)
        .replace(tzinfo=None)
        .isoformat(timespec="minutes"),
        "end": booking.ends_at.astimezone(zone).replace(tzinfo=None).isoformat(timespec="minutes"),
        "label": f"{booking.number} {booking.get_visit_display()} {booking.job.number}",
    }

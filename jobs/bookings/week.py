"""Which crew is where in a week? The bookings that a caller may see, drawn as a strip."""

from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

from django.utils import timezone

from contractor.api.moments import of_our_age
from contractor.api.problems import Problem
from contractor.people.models import Crew
from fitcheck.drawings.week import svg_week
from jobs.bookings.asking import NEAR
from jobs.bookings.crews import CrewFacts, facts_of
from jobs.bookings.models import STANDING, Booking, State
from jobs.bookings.travel import Travel, site_place


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
    ours = first.replace(tzinfo=timezone.get_default_timezone())
    opens, closes = ours - timedelta(days=1), ours + timedelta(days=8)
    found: dict[int, list[Booking]] = {}
    standing = bookings.filter(state__in=STANDING, ends_at__gt=opens, starts_at__lt=closes)
    for one in standing.order_by("starts_at"):
        if not one.is_lapsed:
            found.setdefault(one.crew_id, []).append(one)
    facts = facts_of(Crew.objects.filter(is_active=True), opens, closes)
    pairs = [pair for mine in found.values() for pair in pairwise(mine)]
    travel = Travel().learn((site_place(a.job.site), site_place(b.job.site)) for a, b in pairs)
    rows = [
        {
            "crew": one.crew.name,
            "visits": _boxes(found.get(one.crew.pk, []), travel),
            "days": {day: _of_the_day(one, date.fromisoformat(day)) for day in days},
        }
        for one in facts
    ]
    return svg_week(f"Week of {days[0]}", days, rows)


def _of_the_day(facts: CrewFacts, day: date) -> str:
    """Say that a day is closed, or that somebody of the crew stays at home."""
    if day in facts.closed:
        return f"Closed: {facts.closed[day]}"
    present = len(facts.present([day]))
    return f"{present} of {len(facts.members)} there" if present < len(facts.members) else ""


def _boxes(visits: list[Booking], travel: Travel) -> list[dict[str, Any]]:
    boxes = [_box(one) for one in visits]
    for before, one, box in zip(visits, visits[1:], boxes[1:], strict=False):
        minutes = travel.minutes(site_place(before.job.site), site_place(one.job.site))
        if minutes and one.starts_at - before.ends_at < NEAR:
            box["drive"] = f"{minutes} min drive"
    return boxes


def _box(booking: Booking) -> dict[str, Any]:
    zone = ZoneInfo(booking.job.site.time_zone)
    held = booking.state == State.HELD
    ends = (booking.starts_at.astimezone(zone), booking.ends_at.astimezone(zone))
    start, end = (one.replace(tzinfo=None).isoformat(timespec="minutes") for one in ends)
    return {
        "held": held,
        "start": start,
        "end": end,
        "label": f"{booking.number} {booking.get_visit_display()} {booking.job.number}"
        + (", only held" if held else ""),
    }

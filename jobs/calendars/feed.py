"""What does a crew's calendar say? iCalendar (RFC 5545) with the zones that its times need.

An address that is handed to somebody else's calendar program may be read by others: an event tells
what kind of visit, which job, and the town. The street, the customer and the notes stay behind the
login that the event's link leads to.
"""

from datetime import datetime, timedelta
from typing import Any
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db.models import Max, QuerySet
from django.utils import timezone

from contractor.notices.models import Notice
from jobs.bookings.models import Booking, State
from jobs.calendars.models import CalendarFeed

BACK, AHEAD = timedelta(days=45), timedelta(days=400)
STATUS = {State.BOOKED: "CONFIRMED", State.HELD: "TENTATIVE", State.NO_SHOW: "CONFIRMED"}
REFRESH = timedelta(minutes=30)


def bookings_of(feed: CalendarFeed, now: datetime) -> QuerySet[Booking]:
    """Select what a feed tells: its crew's visits, or those of the crews that its member is in."""
    rows = Booking.objects.filter(ends_at__gt=now - BACK, starts_at__lt=now + AHEAD)
    if feed.crew is not None:
        rows = rows.filter(crew=feed.crew)
    else:
        rows = rows.filter(crew__places__member=feed.member)
    return rows.select_related("job__site", "crew").order_by("starts_at", "pk")


def feed_text(feed: CalendarFeed) -> bytes:
    """Write a feed; equal bookings give equal bytes, so that its entity tag can be compared."""
    from icalendar import Calendar  # read late: most processes never write a calendar

    now = timezone.now()
    rows = list(bookings_of(feed, now))
    revised = _revised(rows)
    calendar = Calendar()
    calendar.add("prodid", "-//Glazing contractor//calendar feed//EN")
    calendar.add("version", "2.0")
    calendar.add("name", feed.name)
    calendar.add("x-wr-calname", feed.name)
    calendar.add("refresh-interval", REFRESH, {"value": "DURATION"})
    for one in rows:
        calendar.add_component(_event(one, revised.get(one.number, one.starts_at)))
    if rows:
        days = [one.date() for row in rows for one in (row.starts_at, row.ends_at)]
        year = timedelta(days=366)
        calendar.add_missing_timezones(min(days) - year, max(days) + year)
    text: bytes = calendar.to_ical()
    return text


def _revised(rows: list[Booking]) -> dict[str, datetime]:
    """When each booking was last written, as its history says."""
    told = Notice.objects.filter(noun="booking", about__in=[one.number for one in rows])
    return dict(told.values("about").annotate(last=Max("at")).values_list("about", "last"))


def _event(booking: Booking, revised: datetime) -> Any:
    from icalendar import Event

    site = booking.job.site
    zone, host = ZoneInfo(site.time_zone), urlsplit(settings.PUBLIC_URL).hostname
    status = "CANCELLED" if booking.is_lapsed else STATUS.get(State(booking.state), "CANCELLED")
    event = Event()
    event.add("uid", f"{booking.number}@{host}")
    event.add("sequence", booking.version - 1)
    event.add("dtstamp", revised.replace(microsecond=0))
    event.add("last-modified", revised.replace(microsecond=0))
    event.add("dtstart", booking.starts_at.astimezone(zone))
    event.add("dtend", booking.ends_at.astimezone(zone))
    event.add("summary", _summary(booking, status))
    event.add("location", site.address_locality)
    event.add("url", f"{settings.PUBLIC_URL}/api/v1/bookings/{booking.number}/")
    event.add("status", status)
    event.add("transp", "TRANSPARENT" if status == "CANCELLED" else "OPAQUE")
    return event


def _summary(booking: Booking, status: str) -> str:
    said = {"TENTATIVE": " (held)", "CANCELLED": " (cancelled)"}.get(status, "")
    missed = " (no-show)" if booking.state == State.NO_SHOW else ""
    visit = booking.get_visit_display()
    return f"{visit}, {booking.job.number}, {booking.crew.name}{said}{missed}"

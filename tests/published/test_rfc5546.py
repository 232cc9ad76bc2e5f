"""RFC 5546 (iTIP), 2.1.4 and 2.1.5 as quoted: a change and a cancellation raise SEQUENCE; the highest
SEQUENCE wins, the latest DTSTAMP among equals. That a cancelled event keeps its UID is from memory.
"""

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone
from icalendar import Calendar

from contractor.api.callers import SYSTEM
from contractor.people.models import Crew
from jobs.bookings.models import Booking
from jobs.bookings.services import booking_cancel, booking_make, booking_move
from jobs.calendars.feed import feed_text
from jobs.calendars.models import CalendarFeed
from tests.factories import CrewFactory, JobFactory, SiteFactory, feed_made

HOUR = timedelta(hours=1)


@pytest.fixture
def feed(db: None) -> CalendarFeed:
    crew: Crew = CrewFactory(slug="heron", name="Heron")
    made: CalendarFeed = feed_made(crew)[0]
    return made


def booked(feed: CalendarFeed) -> Booking:
    start = (timezone.now() + timedelta(days=3)).replace(hour=15, minute=0, second=0, microsecond=0)
    job = JobFactory(site=SiteFactory(time_zone="America/Chicago"))
    span = {"starts_at": start, "ends_at": start + HOUR}
    return booking_make(by=SYSTEM, job=job, crew=feed.crew, visit="survey", **span)


def told(feed: CalendarFeed) -> Any:
    (event,) = Calendar.from_ical(feed_text(feed)).walk("VEVENT")
    return event


def newest(events: list[Any]) -> Any:
    """Choose as 2.1.5 has a reader choose."""
    return max(events, key=lambda one: (one["sequence"], one["dtstamp"].dt))


def test_2_1_4_every_change_raises_the_sequence_and_a_cancellation_too(feed: CalendarFeed) -> None:
    booking = booked(feed)
    copies = [told(feed)]
    for days in (1, 2):
        start = booking.starts_at + timedelta(days=days)
        span = {"starts_at": start, "ends_at": start + HOUR}
        booking_move(by=SYSTEM, booking=booking, reason="Glass is late.", **span)
        copies.append(told(feed))
        booking.refresh_from_db()
    booking_cancel(by=SYSTEM, booking=booking, why="Sold.")
    copies.append(told(feed))

    assert [one["sequence"] for one in copies] == [0, 1, 2, 3]
    assert len({str(one["uid"]) for one in copies}) == 1
    assert [str(one["status"]) for one in copies] == ["CONFIRMED"] * 3 + ["CANCELLED"]


def test_2_1_5_a_reader_that_got_them_in_any_order_ends_with_the_last(feed: CalendarFeed) -> None:
    booking = booked(feed)
    first = told(feed)
    booking_cancel(by=SYSTEM, booking=booking, why="Sold.")
    last = told(feed)

    assert newest([last, first]) is last
    assert newest([first, last]) is last
    assert first["dtstamp"].dt <= last["dtstamp"].dt

"""When does a crew work? A weekly pattern by the clock of its own zone, correct across clock changes."""

import re
from collections.abc import Mapping
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
SPAN = re.compile(r"(\d\d):(\d\d)\s*[-–]\s*(\d\d):(\d\d)")
MOST_SPANS = 4
Spans = list[tuple[datetime, datetime]]


def spans_read(text: str) -> list[tuple[time, time]]:
    """Read a day's hours such as `08:00-12:00, 12:30-16:30`; nothing means a day at home.

    Raises:
        ValueError: not understood, out of order, or overlapping; its text says what to send.
    """
    found: list[tuple[time, time]] = []
    for part in [one.strip() for one in text.split(",") if one.strip()]:
        match = SPAN.fullmatch(part)
        if not match:
            raise ValueError(f"{part!r} is no span of hours.")
        hour, minute, last_hour, last_minute = (int(one) for one in match.groups())
        start, end = time(hour, minute), time(last_hour, last_minute)
        if end <= start:
            raise ValueError(f"{part!r} ends before it starts.")
        if found and start < found[-1][1]:
            raise ValueError(f"{part!r} begins before the span ahead of it ends.")
        found.append((start, end))
    if len(found) > MOST_SPANS:
        raise ValueError(f"More than {MOST_SPANS} spans in one day.")
    return found


def spans_text(spans: list[tuple[time, time]]) -> str:
    """Write a day's hours as they are kept."""
    return ", ".join(f"{start:%H:%M}-{end:%H:%M}" for start, end in spans)


def working_spans(hours: Mapping[str, str], zone: ZoneInfo, day: date) -> Spans:
    """Find the moments between which a crew works on one day of its own calendar.

    An hour that the clocks skip begins when they have jumped; one that comes twice is the first.

    Args:
        hours: by the names of DAYS, as `spans_read` takes them.
        zone: the crew's own time zone.
        day: a day of that zone's calendar.

    Returns:
        Spans in UTC, in order.
    """
    return [
        (_moment(day, start, zone), _moment(day, end, zone))
        for start, end in spans_read(hours.get(DAYS[day.weekday()], ""))
    ]


def _moment(day: date, clock: time, zone: ZoneInfo) -> datetime:
    return datetime.combine(day, clock, zone).astimezone(UTC)


def days_between(first: date, last: date) -> list[date]:
    """List the days from the first to the last, both included."""
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]

"""What does the invented story say, and on which days when it is told today?"""

import json
from datetime import date, datetime, time, timedelta
from functools import cache
from pathlib import Path
from typing import Any
from uuid import NAMESPACE_URL, UUID, uuid5
from zoneinfo import ZoneInfo

from contractor.config.demo.calendar import working_day
from jobs.bookings.times import EARLIER, moment_of_wall_time

HERE = Path(__file__).parent
KITS = HERE.parents[2] / "fitcheck" / "kits" / "demo"
NAMES = uuid5(NAMESPACE_URL, "https://example.com/invented-story")


@cache
def story() -> dict[str, Any]:
    """Read the story; it is the same file for everybody."""
    read: dict[str, Any] = json.loads((HERE / "story.json").read_text(encoding="utf-8"))
    return read


@cache
def kits() -> list[dict[str, Any]]:
    """Read the invented kits with every edition of their sheets, by name."""
    return [json.loads(path.read_text(encoding="utf-8")) for path in sorted(KITS.glob("*.json"))]


def today() -> date:
    """Say which day it is where the firm sits."""
    return datetime.now(ZoneInfo(story()["firm"]["time_zone"])).date()


def survey_id(ref: str) -> UUID:
    """Give a survey of the story the same id on every machine, so that it comes in once."""
    return uuid5(NAMES, ref)


def moved_on(moment: str, zone_name: str, first_day: date) -> str:
    """Move a moment written for day zero by whole days of the site's own clock.

    Args:
        moment: an ISO 8601 time with offset.
        zone_name: the site's IANA time zone.
        first_day: the day on which the story was first told on this machine.
    """
    days = first_day - date.fromisoformat(story()["day_zero"])
    there = datetime.fromisoformat(moment).astimezone(ZoneInfo(zone_name))
    return (there + days).isoformat()


def visit_span(
    booking: dict[str, Any], zone_name: str, first_day: date
) -> tuple[datetime, datetime]:
    """Find the moments at which a visit of the story starts and ends; its days are working days."""
    day = working_day(first_day, booking["days_from_now"])
    wall = datetime.combine(day, time.fromisoformat(booking["wall_time"]))
    start = moment_of_wall_time(wall, zone_name, EARLIER, "/starts_at")
    return start, start + timedelta(hours=float(booking["hours"]))

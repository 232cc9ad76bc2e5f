"""When do the story's crews work, where are its sites, and what waits, failed or is to be replanned?"""

import json
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.config.demo.kept import Kept
from contractor.people.absence import closed_day_keep, day_off_give, holidays_propose
from contractor.people.hours import DAYS
from contractor.people.models import ClosedDay, ClosedState, DayOff, Member
from jobs.calendars.models import CalendarFeed
from jobs.calendars.services import feed_find, feed_issue, feed_revoke
from jobs.plans.models import DayPlan
from jobs.plans.services import plan_ask

FILE = Path(__file__).with_name("calendar.json")
FEED_DAYS = 366
COUNTRY, MOST_CLOSED = "US", 400


@cache
def calendar() -> dict[str, Any]:
    """Read the story's calendar; it is the same file for everybody."""
    read: dict[str, Any] = json.loads(FILE.read_text(encoding="utf-8"))
    return read


def crew_facts(told: dict[str, Any]) -> dict[str, Any]:
    """Give a crew of the story its hours from Monday to Friday, its region, rack and start."""
    own = calendar()["crews"][told["ref"]]
    latitude, longitude = own["place"]
    return {
        "time_zone": told["time_zone"],
        "hours": {day: own["hours"] if n < 5 else "" for n, day in enumerate(DAYS)},
        "region": own["region"],
        "rack_mass": own["rack_mass"],
        "start_latitude": latitude,
        "start_longitude": longitude,
    }


def site_facts(ref: str) -> dict[str, Any]:
    """Give a site of the story its place, if it has one."""
    place = calendar()["sites"].get(ref)
    return {"latitude": place[0], "longitude": place[1]} if place else {}


def holidays_tell(year: int) -> None:
    """Let a year's holidays be proposed once, and keep those on which the firm is closed."""
    rows = ClosedDay.objects.filter(region=COUNTRY, day__year=year)
    for row in rows or holidays_propose(by=SYSTEM, region=COUNTRY, year=year):
        closes = row.name.removesuffix(" (observed)") in calendar()["holidays"]
        if closes and row.state == ClosedState.PROPOSED:
            closed_day_keep(by=SYSTEM, row=row)


def day_off_tell(told: dict[str, Any], rows: dict[str, Any], office: Member, first: date) -> DayOff:
    """Find or give a member's days off, counted in working days."""
    days = [working_day(first, told[name]) for name in ("from", "to")]
    own = {"member": rows[told["member"]], "why": told["why"]}
    return DayOff.objects.filter(**own).first() or day_off_give(
        by=office.caller(), first_day=days[0], last_day=days[1], **own
    )


def feed_tell(told: dict[str, Any], rows: dict[str, Any], kept: Kept) -> CalendarFeed:
    """Find the calendar of the kept secret, or issue one and keep its secret."""
    found = feed_find(secret=kept.token(told["ref"]), now=timezone.now())
    if found is not None:
        return found
    for lost in CalendarFeed.objects.filter(name=told["name"], revoked_at=None):
        feed_revoke(by=SYSTEM, feed=lost, why="Its address was lost; another was issued.")
    expires = timezone.now() + timedelta(days=FEED_DAYS)
    feed, secret = feed_issue(
        by=SYSTEM, name=told["name"], crew=rows[told["crew"]], expires_at=expires
    )
    kept.token_keep(told["ref"], secret)
    return feed


def plan_tell(rows: dict[str, Any], office: Member, first: date) -> DayPlan | None:
    """Ask once for a better order of the story's fullest day; a worker proposes it."""
    if DayPlan.objects.exists():
        return None
    crews = [rows[ref] for ref in calendar()["crews"]]
    day = working_day(first, calendar()["plan_day"])
    return plan_ask(by=office.caller(), day=day, crews=crews, seconds=5)


def working_day(first: date, count: int) -> date:
    """Find the day that lies so many working days after the first; before it when negative.

    Day zero is the first day itself, or the next working day when nobody works on it.
    """
    closed = _closed()
    day = first
    while not _worked(day, closed):
        day += timedelta(days=1)
    step = timedelta(days=1 if count > 0 else -1)
    for _ in range(abs(count)):
        day += step
        while not _worked(day, closed):
            day += step
    return day


def _closed() -> frozenset[date]:
    rows = ClosedDay.objects.filter(region=COUNTRY, state=ClosedState.KEPT)
    return frozenset(rows.values_list("day", flat=True)[:MOST_CLOSED])


def _worked(day: date, closed: frozenset[date]) -> bool:
    return day.weekday() < 5 and day not in closed


def held_until(told: dict[str, Any]) -> Any:
    """Until when a visit of the story is only held; None when it is booked."""
    hours = told.get("hold_hours")
    return timezone.now() + timedelta(hours=hours) if hours else None

"""When is a message due, by the clock of the site? Not at night, and on working days where asked."""

from collections.abc import Set
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.conf import settings

from jobs.reminders.models import Rule

WEEKEND = (5, 6)
MOST_DAYS = 400


def due_moment(
    rule: Rule, base: datetime, zone_name: str, closed: Set[date] = frozenset()
) -> datetime:
    """Find the moment at which a rule's message is due.

    Days are counted by the site's calendar, hours by real time. A day off moves a message that looks
    back to the next working day and one that looks ahead to the working day before, so that a
    deadline is never told of too late.

    Args:
        rule: says how far off, at which clock time, on which days.
        base: the moment that is counted from.
        zone_name: the site's time zone.
        closed: days on which nobody works, besides weekends.
    """
    zone = ZoneInfo(zone_name)
    local = base.astimezone(zone)
    clock = time.fromisoformat(rule.at) if rule.at else local.time()
    moment = at_clock(local.date() + timedelta(days=rule.offset_days), clock, zone)
    moment += timedelta(hours=rule.offset_hours)
    if not rule.at_night:
        moment = out_of_the_night(moment, zone_name)
    if rule.working_days:
        ahead = rule.offset_days < 0 or rule.offset_hours < 0
        moment = _on_a_working_day(moment.astimezone(zone), -1 if ahead else 1, closed, zone)
    return moment


def at_clock(day: date, clock: time, zone: ZoneInfo) -> datetime:
    """Say when a clock at the site shows this; an hour that is skipped means the one after it."""
    return datetime.combine(day, clock, tzinfo=zone).astimezone(UTC)


def out_of_the_night(moment: datetime, zone_name: str) -> datetime:
    """Move a moment of the site's night to the next morning; by day it stays as it is."""
    zone = ZoneInfo(zone_name)
    local = moment.astimezone(zone)
    start, end = (time.fromisoformat(one) for one in (settings.QUIET_FROM, settings.QUIET_UNTIL))
    if end <= local.time() < start:
        return moment
    day = local.date() + timedelta(days=1 if local.time() >= start else 0)
    return at_clock(day, end, zone)


def _on_a_working_day(local: datetime, step: int, closed: Set[date], zone: ZoneInfo) -> datetime:
    day = local.date()
    for _ in range(MOST_DAYS):
        if day.weekday() not in WEEKEND and day not in closed:
            break
        day += timedelta(days=step)
    return at_clock(day, local.time(), zone)


def day_end(moment: datetime, zone_name: str) -> datetime:
    """Say when the site's day of a moment ends."""
    zone = ZoneInfo(zone_name)
    return at_clock(moment.astimezone(zone).date() + timedelta(days=1), time(0), zone)

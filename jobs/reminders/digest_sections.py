"""What stands in each section of the digest?"""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db.models import Count, Min

from jobs.bookings.models import Booking
from jobs.packets.age import paper_stale
from jobs.packets.models import Packet
from jobs.packets.models import State as PacketState
from jobs.reminders.choices import State
from jobs.reminders.claims import deadlines_near
from jobs.reminders.goods import orders_expected
from jobs.reminders.models import Heard, Reminder
from jobs.reminders.moments import at_clock

AHEAD, DAY, WEEK = timedelta(days=3), timedelta(days=1), timedelta(days=7)


def firm_date(now: datetime) -> date:
    """Say which day it is where the firm sits."""
    return now.astimezone(ZoneInfo(settings.FIRM_TIME_ZONE)).date()


def firm_day(now: datetime) -> tuple[datetime, datetime]:
    """Say when the firm's day starts and ends."""
    zone, day = ZoneInfo(settings.FIRM_TIME_ZONE), firm_date(now)
    return at_clock(day, time(0), zone), at_clock(day + timedelta(days=1), time(0), zone)


def _visits(now: datetime) -> Iterator[tuple[str, str]]:
    start, end = firm_day(now)
    rows = Booking.objects.filter(state="booked", starts_at__gte=start, starts_at__lt=end)
    for one in rows.select_related("job__site", "crew").order_by("starts_at", "pk"):
        zone = ZoneInfo(one.job.site.time_zone)
        span = f"{one.starts_at.astimezone(zone):%H:%M}–{one.ends_at.astimezone(zone):%H:%M}"
        visit = one.get_visit_display().lower()
        yield f"{span} {one.crew.name}, {visit}, {one.job.summary}, {one.job.site}", one.number


def _late(now: datetime) -> Iterator[tuple[str, str]]:
    rows = Reminder.objects.filter(state=State.LATE).values("rule__name")
    for one in rows.annotate(count=Count("pk"), first=Min("due_at")).order_by("rule__name"):
        yield f"{one['rule__name']}: {one['count']}, the oldest due {one['first']:%Y-%m-%d}", ""


def _failed(now: datetime) -> Iterator[tuple[str, str]]:
    rows = Reminder.objects.filter(state=State.FAILED).select_related("rule").order_by("pk")
    for one in rows:
        yield f"{one.rule.name} ({one.about}) to {one.to}: {one.trouble}", one.number
    for place in Heard.objects.exclude(trouble=""):
        yield place.trouble, ""


def _due(now: datetime) -> Iterator[tuple[str, str]]:
    _, end = firm_day(now)
    rows = Reminder.objects.filter(state__in=[State.DUE, State.SNOOZED], due_at__lt=end)
    counted = rows.exclude(rule__slug="digest").values("rule__name")
    for one in counted.annotate(count=Count("pk")).order_by("rule__name"):
        yield f"{one['rule__name']}: {one['count']}", ""


def _old_paper(now: datetime) -> Iterator[tuple[str, str]]:
    """Packets of visits of the next days that are not to be worked from."""
    rows = Packet.objects.filter(
        state=PacketState.DONE,
        superseded_by=None,
        booking__state="booked",
        booking__starts_at__gte=now,
        booking__starts_at__lt=now + AHEAD,
    )
    for one in rows.select_related("booking__job__site", "booking__crew").order_by("pk"):
        why = paper_stale(packet=one)
        if why:
            yield f"paper for {one.booking} is old: {why}", one.number


def _holds(now: datetime) -> Iterator[tuple[str, str]]:
    """Times that are only held, and not for long any more."""
    rows = Booking.objects.filter(state="held", held_until__gt=now, held_until__lt=now + DAY)
    for one in rows.select_related("job__site", "crew").order_by("held_until", "pk"):
        until = one.held_until and one.held_until.astimezone(ZoneInfo(one.job.site.time_zone))
        yield f"held until {until:%a %H:%M}: {one.local()}, {one.crew.name}", one.number


def _goods(now: datetime) -> Iterator[tuple[str, str]]:
    for one in orders_expected(firm_date(now)):
        late = " and not here" if one.expected_on and one.expected_on < firm_date(now) else ""
        yield f"promised for {one.expected_on:%a %Y-%m-%d}{late}: {one.job}", one.number


def _claims(now: datetime) -> Iterator[tuple[str, str]]:
    for one in deadlines_near(firm_date(now) + WEEK):
        yield f"{one.do} – by {one.ends_on:%a} {one.ends_on} ({one.claim.job})", one.claim.number


SECTIONS: tuple[tuple[str, Any], ...] = (
    ("Visits today", _visits),
    ("Messages late", _late),
    ("Messages in trouble", _failed),
    ("Messages due today", _due),
    ("Claims near a deadline", _claims),
    ("Packets outdated", _old_paper),
    ("Holds that run out", _holds),
    ("Goods expected", _goods),
)

"""What is copied when a day's plan is asked for, and how does the solver see it?

Copied are the visits and crews of the day as they stand, so that the answer can be read against what
was asked. A visit stays where it is (`fixed`) when it is only held, has begun, was asked to stay, or
when somebody has answered by name for sending this crew at this time.
"""

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from math import ceil
from typing import Any
from zoneinfo import ZoneInfo

from django.utils import timezone

from contractor.people.models import Crew
from fitcheck.rules.quantity import UG_PER_KG
from jobs.bookings.asking import standing_bookings
from jobs.bookings.crews import CrewFacts, facts_of
from jobs.bookings.guards import refusals_of_crew
from jobs.bookings.models import Booking, State
from jobs.bookings.standing import Standing, standing_of
from jobs.bookings.travel import Place, Travel, site_place
from jobs.plans.solve import Task, Van, Visit

Shape = dict[str, Any]
NOWHERE = [None, None]


def visits_of(day: date, crews: Sequence[Crew]) -> list[Booking]:
    """Find the visits that start on a day by the clock of their own site."""
    noon = datetime.combine(day, datetime.min.time(), UTC) + timedelta(hours=12)
    rows = standing_bookings().filter(
        crew__in=[one.pk for one in crews],
        starts_at__gt=noon - timedelta(hours=36),
        starts_at__lt=noon + timedelta(hours=36),
    )
    found = rows.select_related("job__site", "crew").order_by("starts_at", "pk")
    return [one for one in found if _local_day(one) == day]


def _local_day(booking: Booking) -> date:
    return booking.starts_at.astimezone(ZoneInfo(booking.job.site.time_zone)).date()


def copied(day: date, crews: Sequence[Crew], *, keep: frozenset[str], shift_hours: int) -> Shape:
    """Copy the day: crews with their working time, visits with what they ask, the drive between all."""
    bookings = visits_of(day, crews)
    edges = [one for row in bookings for one in (row.starts_at, row.ends_at)]
    noon = datetime.combine(day, datetime.min.time(), UTC) + timedelta(hours=12)
    opens, closes = min([noon, *edges]), max([noon, *edges])
    facts = facts_of(crews, opens - timedelta(days=1), closes + timedelta(days=1))
    vans = [_van(one, day, [b for b in bookings if b.crew_id == one.crew.pk]) for one in facts]
    visits = [_visit(one, facts, vans, keep, shift_hours) for one in bookings]
    places = [van["place"] for van in vans] + [visit["place"] for visit in visits]
    travel = Travel()
    spots = [Place(*one) if one != NOWHERE else None for one in places]
    travel.learn((a, b) for a in spots for b in spots)
    drive = [[travel.minutes(a, b) for b in spots] for a in spots]
    return {"crews": vans, "visits": visits, "drive": drive, "shift_hours": shift_hours}


def _van(facts: CrewFacts, day: date, mine: Sequence[Booking]) -> Shape:
    """Tell between which moments a crew works that day, its own visits included; empty when it does not."""
    spans = [] if day in facts.closed or not facts.has_hours else facts.spans(day)
    edges = [one for span in spans for one in span]
    edges += [one for row in mine for one in (row.starts_at, row.ends_at)]
    rack = facts.rack_ug
    return {
        "crew": facts.crew.slug,
        "place": list(facts.start) if facts.start else NOWHERE,
        "opens": min(edges).isoformat() if edges else "",
        "closes": max(edges).isoformat() if edges else "",
        "works": bool(spans),
        "rack_kg": rack // UG_PER_KG if rack is not None else None,
    }


def _visit(
    booking: Booking,
    facts: Sequence[CrewFacts],
    vans: Sequence[Shape],
    keep: frozenset[str],
    shift_hours: int,
) -> Shape:
    standing = standing_of(booking.job, booking.visit)
    place = site_place(booking.job.site)
    answered = any(not one["opening"] for one in booking.overridden)
    fixed = (
        booking.state != State.BOOKED
        or booking.starts_at <= timezone.now()
        or booking.number in keep
        or answered
    )
    shift = timedelta(hours=0 if fixed else shift_hours)
    can = [
        one.crew.slug
        for one, van in zip(facts, vans, strict=True)
        if _can(one, van, booking, standing)
    ]
    return {
        "booking": booking.number,
        "version": booking.version,
        "crew": booking.crew.slug,
        "visit": booking.visit,
        "job": booking.job.number,
        "time_zone": booking.job.site.time_zone,
        "starts_at": booking.starts_at.isoformat(),
        "minutes": ceil((booking.ends_at - booking.starts_at).total_seconds() / 60),
        "earliest": (booking.starts_at - shift).isoformat(),
        "latest": (booking.starts_at + shift).isoformat(),
        "place": list(place) if place else NOWHERE,
        "mass_kg": ceil(standing.mass_ug / UG_PER_KG),
        "fixed": fixed,
        "crews": [booking.crew.slug] if fixed else sorted({booking.crew.slug, *can}),
    }


def _can(facts: CrewFacts, van: Shape, booking: Booking, standing: Standing) -> bool:
    """Ask whether another crew could take a visit that day."""
    if not van["works"]:
        return False
    days = facts.days_of(booking.starts_at, booking.ends_at)
    present = facts.present(days)
    have = {skill for one in present for skill in one.qualifications}
    refused = refusals_of_crew(facts, standing, len(present))
    return not refused and set(standing.qualifications) <= have


def task_of(asked: Shape) -> tuple[Task, datetime]:
    """Turn what was copied into minutes for the solver; returns the moment that is minute zero."""
    told = [van["opens"] for van in asked["crews"] if van["opens"]]
    told += [visit["earliest"] for visit in asked["visits"]]
    zero = min(datetime.fromisoformat(one) for one in told) if told else datetime.now(UTC)
    names = [van["crew"] for van in asked["crews"]]

    def minute(text: str) -> int:
        return round((datetime.fromisoformat(text) - zero).total_seconds() / 60)

    vans = [
        Van(
            at,
            minute(van["opens"]) if van["opens"] else 0,
            minute(van["closes"]) if van["closes"] else 0,
            van["rack_kg"],
        )
        for at, van in enumerate(asked["crews"])
    ]
    visits = [
        Visit(
            place=len(vans) + at,
            length=one["minutes"],
            opens=max(0, minute(one["earliest"])),
            closes=minute(one["latest"]),
            vans=frozenset(names.index(slug) for slug in one["crews"]),
            load=one["mass_kg"],
            wanted=minute(one["starts_at"]),
        )
        for at, one in enumerate(asked["visits"])
    ]
    return Task(visits, vans, asked["drive"], commute=False), zero

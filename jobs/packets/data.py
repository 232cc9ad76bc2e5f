"""What is copied onto a packet? Everything the crew needs, as it stood when it was asked for."""

from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.utils import timezone

from contractor.api.problems import Problem
from contractor.customers.models import Site
from jobs.bookings.models import Booking
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.packets.models import Packet
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_standing

WAY_IN = (
    ("Door", ("door_width", "door_height")),
    ("Corridor", ("corridor_width",)),
    ("Stair", ("stair_width",)),
    ("Lift car", ("lift_width", "lift_depth", "lift_height")),
)


def packet_data(*, packet: Packet, job: Job, booking: Booking | None) -> dict[str, Any]:
    """Copy the data of one packet; the number must be given out already.

    Raises:
        Problem: no opening of the job has a verdict yet, so there is nothing to work from.
    """
    openings = [_opening(one) for one in job.openings.select_related("kit", "job__site")]
    found = [one for one in openings if one]
    if not found:
        raise Problem(
            "no_verdict",
            f"No opening of {job.number} has a verdict yet.",
            status=409,
            hint="Post a survey with a kit first.",
        )
    zone = job.site.time_zone
    made = timezone.now().astimezone(ZoneInfo(zone))
    return {
        "number": packet.number,
        "code": packet.code,
        "code_url": f"{settings.PUBLIC_URL}/p/{packet.code}",
        "made_at": f"{made:%Y-%m-%d %H:%M} {zone}",
        "firm": dict(settings.FIRM),
        "job": {"number": job.number, "summary": job.summary},
        "booking": visit_copy(booking) if booking else None,
        "customer": {"name": job.site.customer.name, "phone": job.site.customer.phone},
        "site": _site(job.site),
        "openings": found,
        "override": _override(booking),
    }


def visit_copy(booking: Booking) -> dict[str, Any]:
    """Copy the visit: when, by the site's clock, and who comes."""
    zone = ZoneInfo(booking.job.site.time_zone)
    places = booking.crew.places.select_related("member").order_by("-is_lead", "pk")
    return {
        "number": booking.number,
        "visit": booking.visit,
        "start": booking.starts_at.astimezone(zone).isoformat(timespec="minutes"),
        "end": booking.ends_at.astimezone(zone).isoformat(timespec="minutes"),
        "zone": booking.job.site.time_zone,
        "crew": booking.crew.name,
        "members": [one.member.name for one in places if one.member.is_active],
    }


def _override(booking: Booking | None) -> dict[str, str] | None:
    if booking is None or not booking.override_name:
        return None
    return {"name": booking.override_name, "reason": booking.override_reason}


def _site(site: Site) -> dict[str, Any]:
    place = " ".join(filter(None, [site.address_locality, site.address_region, site.postal_code]))
    lines = [site.street_address, site.extended_address, place]
    way_in = [
        {"what": what, "value": " × ".join(filter(None, (getattr(site, name) for name in names)))}
        for what, names in WAY_IN
    ]
    return {
        "address_lines": [line for line in lines if line],
        "access_notes": site.access_notes,
        "way_in": [one for one in way_in if one["value"]],
        "year_built": site.year_built,
    }


def _opening(opening: Opening) -> dict[str, Any] | None:
    verdict = verdict_standing(opening=opening)
    if verdict is None:
        return None
    return {
        "number": opening.number,
        "name": opening.name,
        "inputs": {**verdict.inputs, "sheet": verdict.sheet.body},
        "verdict": dict(verdict.result),
        "kit": _kit(verdict),
        "photos": verdict.survey.photos,
    }


def _kit(verdict: Verdict) -> dict[str, Any]:
    sheet = verdict.sheet
    document = sheet.body["document"]
    return {
        "name": f"{sheet.kit.name}, {sheet.kit.maker}",
        "version": sheet.number,
        "document": document["title"],
        "edition": document["edition"],
    }

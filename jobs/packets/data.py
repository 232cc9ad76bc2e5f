"""What is copied onto a paper? Everything that its readers need, as it stood when it was asked for."""

from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db.models import Max
from django.utils import timezone

from contractor.api.problems import Problem
from contractor.customers.models import Site
from fitcheck.check import check
from fitcheck.drawings.way_in import named_sizes
from fitcheck.kits.models import Kit, RuleSheet
from fitcheck.rules.way_in_told import Told, way_told
from jobs.bookings.models import Booking
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.packets.models import Kind, Language, Packet
from jobs.packets.work import claims_copy, claims_whole, goods_copy, work_copy
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_outdated, verdict_standing

STRAIGHT_IN = {"what": "Way in", "value": "straight in on one level"}


def packet_data(*, packet: Packet, job: Job, booking: Booking | None) -> dict[str, Any]:
    """Copy the data of one paper; the number must be given out already.

    Raises:
        Problem: there is nothing to work from: no opening, or none with a verdict yet.
    """
    zone = job.site.time_zone
    made = timezone.now().astimezone(ZoneInfo(zone))
    openings = list(job.openings.filter(dropped_why="").select_related("kit", "job__site"))
    return {
        "kind": packet.kind,
        "language": packet.language,
        "number": packet.number,
        "code": packet.code,
        "code_url": f"{settings.PUBLIC_URL}/p/{packet.code}",
        "made_at": f"{made:%Y-%m-%d %H:%M} {zone}",
        "firm": dict(settings.FIRM),
        "job": {"number": job.number, "summary": job.summary},
        "booking": visit_copy(booking) if booking else None,
        "customer": {"name": job.site.customer.name, "phone": job.site.customer.phone},
        "site": _site(job.site),
        **_about(packet.kind, openings, job),
        "override": _override(booking),
    }


def _about(kind: str, openings: list[Opening], job: Job) -> dict[str, Any]:
    if kind == Kind.SURVEY:
        return _to_read(openings, job)
    if kind == Kind.CLAIM:
        return _to_claim(openings, job)
    return _to_receive(openings, job) if kind == Kind.RECEIVING else _to_work(openings, job)


def language_of(job: Job) -> str:
    """Say in which of our languages the customer is written to; English when it is none of them."""
    wanted = str(getattr(job.site.customer, "language", ""))
    return wanted if wanted in Language.values else Language.ENGLISH.value


def _to_read(openings: list[Opening], job: Job) -> dict[str, Any]:
    if not openings:
        raise Problem(
            "no_opening",
            f"{job.number} has no opening yet.",
            status=409,
            hint="Add the opening that is to be surveyed first.",
        )
    return {"openings": [_unread(one) for one in openings]}


def _to_work(openings: list[Opening], job: Job) -> dict[str, Any]:
    standing = [(one, verdict_standing(opening=one)) for one in openings]
    found = [(one, verdict) for one, verdict in standing if verdict]
    if not found:
        raise Problem(
            "no_verdict",
            f"No opening of {job.number} has a verdict yet.",
            status=409,
            hint="Post a survey with a kit first.",
        )
    outdated = [one.number for one, verdict in found if verdict_outdated(verdict=verdict)]
    return {"openings": [_opening(*one) for one in found], "outdated": outdated}


def _to_claim(openings: list[Opening], job: Job) -> dict[str, Any]:
    """Copy the openings, and everything of the job's claims; a claim needs no verdict."""
    claims = claims_whole(job)
    judged = [one for one in openings if verdict_standing(opening=one)]
    copied = _to_work(openings, job) if judged or not claims else {"openings": [], "outdated": []}
    return copied | {"claims": claims}


def _to_receive(openings: list[Opening], job: Job) -> dict[str, Any]:
    """Copy the openings with what is on order for each; one may have goods and no verdict."""
    goods = {one.number: goods_copy(one) for one in openings}
    ordered = [one for one in openings if goods[one.number]]
    judged = [one for one in openings if verdict_standing(opening=one)]
    copied = _to_work(openings, job) if judged or not ordered else {"openings": [], "outdated": []}
    told = {one["number"]: one for one in copied["openings"]}
    told |= {one.number: _unjudged(one) for one in ordered if one.number not in told}
    rows = [
        told[one.number] | {"goods": goods[one.number]} for one in openings if one.number in told
    ]
    return {"openings": rows, "outdated": copied["outdated"]}


def _unjudged(opening: Opening) -> dict[str, Any]:
    own = {"number": opening.number, "name": opening.name, "kit": None}
    return own | {"inputs": {}, "verdict": {}, "photos": [], "claims": claims_copy(opening)}


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
    return {
        "address_lines": [line for line in lines if line],
        "access_notes": site.access_notes,
        **way_copy(site),
        "year_built": site.year_built,
    }


def way_copy(site: Site) -> dict[str, Any]:
    """Copy how glass gets in: each place in words and by its sizes, and what is still to be asked."""
    way = way_told(site.way_in())
    return {
        "way_in": [_place(told) for told in way.places] or ([] if way.asks else [STRAIGHT_IN]),
        "way_asks": list(way.asks),
        "way": [told.as_json() for told in way.places],
    }


def _place(told: Told) -> dict[str, str]:
    """Name a place with its sizes, each by its word; a door's as width by height."""
    named = [
        (word, told.sizes[size]) for size, word in named_sizes(told.kind) if size in told.sizes
    ]
    if told.kind == "doorway":
        return {"what": told.name, "value": " × ".join(size for _, size in named)}
    return {"what": told.name, "value": ", ".join(f"{word} {size}" for word, size in named)}


def _opening(opening: Opening, verdict: Verdict) -> dict[str, Any]:
    return {
        "number": opening.number,
        "name": opening.name,
        "inputs": {**verdict.inputs, "sheet": verdict.sheet.body},
        "verdict": dict(verdict.result),
        "kit": _kit(verdict.sheet),
        "photos": verdict.survey.photos,
        "work": work_copy(opening),
        "claims": claims_copy(opening),
    }


def _unread(opening: Opening) -> dict[str, Any]:
    """Copy an opening that is to be read, with the readings that its kit's sheet asks for."""
    sheet = newest_sheet(opening.kit) if opening.kit else None
    copied = {"number": opening.number, "name": opening.name, "facts": opening.facts()}
    if sheet is None:
        return copied
    allowed = sheet.body.get("substrates") or {}
    return copied | {
        "kit": _kit(sheet),
        "plan": readings_wanted(opening=opening, sheet=sheet),
        "finishes": allowed.get("finishes") or [],
        "structures": allowed.get("structures") or [],
    }


def readings_wanted(*, opening: Opening, sheet: RuleSheet) -> list[dict[str, Any]]:
    """List what a sheet needs read in an opening: what the rules miss when nothing is read."""
    nothing: dict[str, Any] = {"readings": [], "zones": [], "size": None}
    house = {"mark": settings.INCH_MARK}
    about = {"opening": opening.facts(), "sheet": sheet.reference(), "house": house}
    missing: Any = check({**about, **nothing}, sheet.parsed()).as_json()["missing"]
    return list(missing)


def newest_sheet(kit: Kit) -> RuleSheet | None:
    """Find the newest sheet of a kit."""
    return kit.sheets.select_related("kit").order_by("-number").first()


def newest_version(kit_id: int) -> int:
    """Say which version of a kit's sheet is the newest; 0 when there is none."""
    newest: int | None = RuleSheet.objects.filter(kit_id=kit_id).aggregate(n=Max("number"))["n"]
    return newest or 0


def _kit(sheet: RuleSheet) -> dict[str, Any]:
    document = sheet.body["document"]
    return {
        "name": f"{sheet.kit.name}, {sheet.kit.maker}",
        "id": sheet.kit_id,
        "version": sheet.number,
        "newest": newest_version(sheet.kit_id),
        "document": document["title"],
        "edition": document["edition"],
    }

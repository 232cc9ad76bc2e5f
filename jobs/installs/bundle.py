"""What does a tablet need to work a visit through without any signal? Everything, in one answer."""

from typing import Any

from rest_framework.request import Request

from contractor.api.fields import MomentField
from jobs.bookings.models import Booking
from jobs.installs.marks import predicted
from jobs.installs.models import Install
from jobs.installs.services import stops_of
from jobs.installs.stops import cut_key, cuts_of
from jobs.openings.models import Opening
from jobs.packets.data import visit_copy
from jobs.receiving.pieces import pieces_of
from jobs.stock.models import VanItem
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import heads_of, verdict_outdated, verdict_standing
from jobs.verdicts.shapes import VerdictSerializer


def bundle_of(booking: Booking, request: Request) -> dict[str, Any]:
    """Gather one visit: where, who, and for each opening readings, verdict, stops and cuts."""
    site = booking.job.site
    started = {one.opening_id: one for one in booking.installs.all()}
    openings = booking.job.openings.select_related("job__site", "kit")
    return {
        "booking": booking.number,
        "job": booking.job.number,
        "summary": booking.job.summary,
        "visit": visit_copy(booking),
        "site": {
            "address": f"{site.street_address}, {site.address_locality}",
            "access_notes": site.access_notes,
            "time_zone": site.time_zone,
            "year_built": site.year_built,
        },
        "customer": site.customer.name,
        "openings": [_opening(one, started.get(one.pk), request) for one in openings],
        "van": _van(booking),
    }


def _opening(opening: Opening, install: Install | None, request: Request) -> dict[str, Any]:
    verdict, heads = verdict_standing(opening=opening), heads_of(opening)
    told = VerdictSerializer(verdict, context={"request": request}).data if verdict else None
    return {
        "opening": opening.number,
        "name": opening.name,
        "install": str(install.pk) if install else "",
        "outdated": verdict_outdated(verdict=verdict) if verdict else False,
        "verdict": told,
        "readings": [one.as_told() for one in heads.readings] if heads else [],
        "zones": [one.as_told() for one in heads.zones] if heads else [],
        "stops": install.stops if install else stops_of(opening),
        "cuts": _cuts(verdict) if verdict else [],
        "pieces": _pieces(opening),
        "recorded": _recorded(install) if install else [],
    }


def _cuts(verdict: Verdict) -> list[dict[str, Any]]:
    """What the saw mark of each part will be held against."""
    sheet = verdict.sheet.parsed()
    size = sheet.size(verdict.result.get("size") or "")
    return [
        {
            "part": rule.part,
            "stop": cut_key(rule.part),
            "read": rule.measured,
            "height": rule.height.entered,
            "predicted": predicted(verdict, rule.part),
            "deduct": rule.deduct.entered,
            "allowance": rule.allowance.entered if rule.allowance else None,
            "stock": rule.stock.entered,
            "end": rule.end,
        }
        for rule in cuts_of(sheet, size)
    ]


def _pieces(opening: Opening) -> list[dict[str, Any]]:
    """What came or comes for it, so that what is found damaged can be named."""
    return [
        {"id": one.line.number, "name": one.line.name, "count": one.line.count, "state": one.state}
        for one in pieces_of(opening=opening)
    ]


def _recorded(install: Install) -> list[dict[str, Any]]:
    moment = MomentField().to_representation
    return [
        {"id": str(one.pk), "kind": one.kind, "stop": one.stop, "taken_at": moment(one.taken_at)}
        for one in install.records.all()
    ]


def _van(booking: Booking) -> list[dict[str, Any]]:
    rows = VanItem.objects.filter(crew=booking.crew).select_related("item")
    return [
        {"item": one.item.slug, "name": one.item.name, "on_hand": one.on_hand, "short": one.short}
        for one in rows
    ]

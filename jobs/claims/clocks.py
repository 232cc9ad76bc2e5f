"""Which clocks does a claim have? By law, carrier and the maker's sheet, each a row with its source."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from django.utils import timezone

from fitcheck.rules.deadlines import answer
from jobs.claims.models import Against, Claim, Deadline, Kind
from jobs.jobs.moments import day_at

# Which clocks are met when the claim is told to whom.
MET_BY_FILING: Mapping[str, tuple[str, ...]] = {
    Against.CARRIER: ("claim filed", "concealed damage told"),
    Against.MAKER: ("damage told to the maker", "seller told of the defect"),
}


def clocks_start(*, claim: Claim) -> list[Deadline]:
    """Write the clocks of a claim that do not run yet; those that run stay as they are."""
    known = set(claim.deadlines.values_list("clock", flat=True))
    told: Any = answer(_inputs(claim))["clocks"]
    fresh = [_row(claim, one) for one in told if one["clock"] not in known and _wanted(claim, one)]
    return Deadline.objects.bulk_create(fresh)


def _inputs(claim: Claim) -> dict[str, Any]:
    zone = claim.job.site.time_zone
    inputs: dict[str, Any] = {"damage_found_on": claim.found_on.isoformat(), "time_zone": zone}
    inputs["today"] = day_at(timezone.now(), zone).isoformat()
    delivery, warranty = claim.delivery, getattr(claim.opening, "warranty", None)
    if delivery is not None:
        arrived = min(day_at(delivery.arrived_at, zone), claim.found_on)
        inputs["delivered_on"] = arrived.isoformat()
    if claim.against == Against.CARRIER and claim.filed_on:
        inputs["claim_received_on"] = _not_before(claim.filed_on, inputs).isoformat()
        if claim.refused_on:
            inputs["claim_disallowed_on"] = claim.refused_on.isoformat()
    if claim.kind == Kind.WARRANTY and warranty is not None:
        inputs["installed_on"] = warranty.installed_on.isoformat()
    if claim.sheet is not None:
        inputs["sheet"] = _sheet(claim.sheet.body)
    return inputs


def _not_before(day: date, inputs: Mapping[str, Any]) -> date:
    return max(day, date.fromisoformat(inputs.get("delivered_on", day.isoformat())))


def _sheet(body: Mapping[str, Any]) -> dict[str, Any]:
    told = {"title": body["document"]["title"], "edition": body["document"]["edition"]}
    for name, members in (("warranty", ("years", "page")), ("claim", ("within_days", "page"))):
        if body.get(name):
            told[name] = {one: body[name][one] for one in members}
    return told


def _wanted(claim: Claim, clock: Mapping[str, Any]) -> bool:
    """Leave out clocks of a sale to the firm when the firm or the customer is to make it good."""
    if claim.against in {Against.FIRM, Against.CUSTOMER}:
        return str(clock["clock"]).startswith("warranty")
    return True


def _row(claim: Claim, clock: Mapping[str, Any]) -> Deadline:
    return Deadline(
        claim=claim,
        clock=clock["clock"],
        who=clock["who"],
        began_on=date.fromisoformat(clock["began_on"]),
        ends_on=date.fromisoformat(clock["ends_on"]),
        do=clock["do"],
        note=clock["note"],
        source=clock["source"],
    )

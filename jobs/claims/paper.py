"""What does the other side of a claim want to see? Everything, copied for a packet."""

from typing import Any

from jobs.claims.models import Claim, Deadline, Evidence, Statement
from jobs.surveys.models import Photo
from jobs.verdicts.services import unreplaced


def claim_paper_data(*, claim: Claim) -> dict[str, Any]:
    """Copy everything of a claim that its paper shows: goods, evidence, statements, clocks, visits."""
    delivery = claim.delivery
    here = set(
        Photo.objects.filter(pk__in=[one.photo for one in claim.evidence.all()]).values_list(
            "pk", flat=True
        )
    )
    return {
        "claim": claim.number,
        "job": claim.job.number,
        "opening": claim.opening.number if claim.opening else "",
        "site": str(claim.job.site),
        "zone": claim.job.site.time_zone,
        "kind": claim.get_kind_display(),
        "against": claim.get_against_display(),
        "party": claim.party,
        "summary": claim.summary,
        "state": claim.get_state_display(),
        "found_on": claim.found_on.isoformat(),
        "filed_on": claim.filed_on.isoformat() if claim.filed_on else "",
        "sheet": claim.sheet.key if claim.sheet else "",
        "delivery": _delivery(delivery) if delivery is not None else None,
        "pieces": _pieces(delivery) if delivery is not None else [],
        "evidence": [_evidence(one, one.photo in here) for one in claim.evidence.all()],
        "statements": [_statement(one) for one in claim.statements.all()],
        "deadlines": [_deadline(one) for one in claim.deadlines.all()],
        "remake": claim.remake.number if claim.remake else "",
        "visits": [f"{one.number}: {one.local()}" for one in claim.visits.all()],
        "outcome": claim.get_outcome_display(),
        "outcome_says": claim.outcome_says,
        "cost": f"{claim.cost} {claim.currency}" if claim.cost is not None else "",
        "caution": "Dates are arithmetic, not legal advice; the carrier's terms, state law and a"
        " lawyer outrank them.",
    }


def _delivery(delivery: Any) -> dict[str, Any]:
    return {
        "order": delivery.order.number,
        "reference": delivery.order.reference,
        "supplier": delivery.order.supplier,
        "carrier": delivery.carrier,
        "waybill": delivery.waybill,
        "arrived_at": delivery.arrived_at.isoformat(),
        "received_by": delivery.received_by.name,
        "packaging": delivery.get_packaging_display(),
        "noted_at_door": delivery.noted_at_door,
    }


def _pieces(delivery: Any) -> list[dict[str, Any]]:
    return [
        {
            "piece": one.line.number,
            "name": one.line.name,
            "size": one.line.size,
            "condition": one.get_condition_display(),
            "count": one.count,
            "note": one.note,
            "photos": one.photos,
            "inspected_by": one.inspected_by,
            "inspected_at": one.inspected_at.isoformat(),
        }
        for one in unreplaced(delivery.inspections.select_related("line"))
    ]


def _evidence(one: Evidence, photo_here: bool) -> dict[str, Any]:
    return {
        "photo": one.photo,
        "photo_here": photo_here,
        "taken_at": one.taken_at.isoformat(),
        "author": one.author,
        "note": one.note,
    }


def _statement(one: Statement) -> dict[str, Any]:
    return {
        "party": one.get_party_display(),
        "name": one.name,
        "text": one.text,
        "said_at": one.said_at.isoformat(),
    }


def _deadline(one: Deadline) -> dict[str, Any]:
    return {
        "clock": one.clock,
        "who": one.who,
        "ends_on": one.ends_on.isoformat(),
        "do": one.do,
        "met_on": one.met_on.isoformat() if one.met_on else "",
        "source": one.source,
    }

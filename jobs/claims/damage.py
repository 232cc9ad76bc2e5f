"""How does a bad inspection become a claim? In the same step, with its photos and notes as evidence."""

from collections.abc import Sequence
from typing import Any

from contractor.api.callers import Caller
from jobs.claims.models import Against, Claim, Kind
from jobs.claims.services import claim_open, evidence_add
from jobs.jobs.moments import day_at
from jobs.receiving.models import Condition, Delivery, Inspection, Packaging


def claim_of_inspections(*, by: Caller, delivery: Delivery, rows: Sequence[Inspection]) -> Claim:
    """Open a claim for pieces found amiss, or add them to the delivery's open claim.

    Against the carrier where the packaging came damaged or the receipt says so, else the maker.
    """
    evidence = [told for row in rows for told in _evidence(row)]
    known = Claim.objects.filter(delivery=delivery, settled_at=None).order_by("pk").first()
    if known is not None:
        for told in evidence:
            evidence_add(by=by, claim=known, **told)
        return known
    job = delivery.order.job
    broken = any(row.condition == Condition.DAMAGED for row in rows)
    at_door = delivery.packaging in {Packaging.DAMAGED, Packaging.WET} or delivery.noted_at_door
    against = Against.CARRIER if broken and at_door else Against.MAKER
    says = "; ".join(f"{row.line.name} {row.condition}" for row in rows)
    return claim_open(
        by=by,
        job=job,
        kind=Kind.DAMAGE.value,
        against=against.value,
        party=delivery.carrier if against == Against.CARRIER else delivery.order.supplier,
        summary=f"{says} ({delivery.order.number})",
        opening=rows[0].line.opening,
        delivery=delivery,
        found_on=day_at(min(row.inspected_at for row in rows), job.site.time_zone),
        evidence=evidence,
    )


def _evidence(row: Inspection) -> list[dict[str, Any]]:
    own = {"taken_at": row.inspected_at, "author": row.inspected_by}
    note = f"{row.count} × {row.line.name} ({row.line.number}): {row.condition}. {row.note}".strip()
    return [{"photo": one, "note": note, **own} for one in row.photos or [""]]

"""How does damage become a claim? In the same step, with its photos and notes as evidence."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from contractor.api.callers import Caller
from jobs.claims.models import Against, Claim, Kind
from jobs.claims.services import claim_open, evidence_add
from jobs.jobs.models import Job
from jobs.jobs.moments import day_at
from jobs.openings.models import Opening
from jobs.receiving.models import Condition, Delivery, Inspection, Packaging


def claim_of_inspections(*, by: Caller, delivery: Delivery, rows: Sequence[Inspection]) -> Claim:
    """Open a claim for pieces found amiss, or add them to the delivery's open claim.

    Against the carrier where the packaging came damaged or the receipt says so, else the maker.
    """
    job = delivery.order.job
    broken = any(row.condition == Condition.DAMAGED for row in rows)
    against, party = owed_by("" if broken else Against.MAKER.value, delivery)
    says = "; ".join(f"{row.line.name} {row.condition}" for row in rows)
    return claim_of_damage(
        by=by,
        job=job,
        opening=rows[0].line.opening,
        delivery=delivery,
        against=against,
        party=party,
        says=f"{says} ({delivery.order.number})",
        found_on=day_at(min(row.inspected_at for row in rows), job.site.time_zone),
        evidence=[told for row in rows for told in _evidence(row)],
    )


def claim_of_damage(
    *,
    by: Caller,
    job: Job,
    opening: Opening,
    delivery: Delivery | None,
    against: str,
    party: str,
    says: str,
    found_on: date,
    evidence: list[dict[str, Any]],
) -> Claim:
    """Open a claim for damage, or add the evidence to the delivery's open claim."""
    own = {"delivery": delivery, "settled_at": None}
    known = Claim.objects.filter(**own).order_by("pk").first() if delivery is not None else None
    if known is not None:
        for told in evidence:
            evidence_add(by=by, claim=known, **told)
        return known
    return claim_open(
        by=by,
        job=job,
        kind=Kind.DAMAGE.value,
        against=against,
        party=party,
        summary=says,
        opening=opening,
        delivery=delivery,
        found_on=found_on,
        evidence=evidence,
    )


def owed_by(said: str, delivery: Delivery | None) -> tuple[str, str]:
    """Tell who may owe it, and by which name: who is said; else the carrier where the packaging came
    damaged or the receipt says so; else the maker.
    """
    against = said
    if not said:
        at_door = delivery is not None and (
            delivery.packaging in {Packaging.DAMAGED, Packaging.WET} or delivery.noted_at_door
        )
        against = (Against.CARRIER if at_door else Against.MAKER).value
    if delivery is None or against not in {Against.CARRIER, Against.MAKER}:
        return against, ""
    return against, delivery.carrier if against == Against.CARRIER else delivery.order.supplier


def delivery_of(*, opening: Opening) -> Delivery | None:
    """Find what came last of an opening's goods."""
    rows = Delivery.objects.filter(order__lines__opening=opening).select_related("order__job__site")
    return rows.distinct().order_by("arrived_at", "pk").last()


def _evidence(row: Inspection) -> list[dict[str, Any]]:
    own = {"taken_at": row.inspected_at, "author": row.inspected_by}
    note = f"{row.count} × {row.line.name} ({row.line.number}): {row.condition}. {row.note}".strip()
    return [{"photo": one, "note": note, **own} for one in row.photos or [""]]

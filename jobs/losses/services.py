"""What did errors cost, and how many did the guards stop? Recorded one by one, summed by cause, crew, kit."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Count, Q, QuerySet, Sum
from django.utils import timezone

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.models import Notice
from contractor.notices.services import notice_record, row_change
from contractor.people.models import Crew
from fitcheck.kits.models import Kit
from jobs.claims.models import Claim
from jobs.jobs.models import Job
from jobs.jobs.moments import day_at
from jobs.losses.models import Cause, CostState, Loss
from jobs.losses.saves import refusals_sums
from jobs.openings.models import Opening

BY = {"cause": "cause", "crew": "crew__slug", "kit": "kit__slug", "kind": "kind"}


@transaction.atomic
def loss_record(
    *,
    by: Caller,
    job: Job,
    cause: str,
    kind: str,
    says: str,
    cost: Decimal | None = None,
    currency: str = "USD",
    opening: Opening | None = None,
    crew: Crew | None = None,
    kit: Kit | None = None,
    claim: Claim | None = None,
    happened_on: date | None = None,
    record: Any = None,
) -> Loss:
    """Record an error with its cause and cost; announces `loss.recorded`.

    Args:
        cost: None while nobody knows it; it counts as nothing and is asked for.
        record: what was recorded at a hold point, when it was found there.

    Raises:
        Problem: opening or claim are another job's.
    """
    for name, row in (("opening", opening), ("claim", claim)):
        if row is not None and row.job_id != job.pk:
            raise Problem(
                "not_of_this_job",
                f"{row.number} is not of {job.number}.",
                hint=f"Name the job's own {name}, or none.",
                pointer=f"/{name}",
            )
    loss = Loss.objects.create(
        job=job,
        opening=opening,
        claim=claim,
        record=record,
        crew=crew,
        kit=kit or (opening.kit if opening is not None else None),
        kind=kind,
        cause=cause,
        says=says,
        cost=cost or Decimal(0),
        cost_state=CostState.MISSING if cost is None else CostState.WRITTEN,
        currency=currency,
        happened_on=happened_on or day_at(timezone.now(), job.site.time_zone),
    )
    changes = {
        "job": [None, job.number],
        "cause": [None, cause],
        "cost": [None, None if cost is None else f"{cost}"],
    }
    if record is not None:
        changes["record"] = [None, str(record.pk)]
    notice_record(by=by, type="loss.recorded", about=loss.number, changes=changes)
    return loss


def loss_change(*, by: Caller, loss: Loss, reason: str, **values: Any) -> Loss:
    """Correct a loss, as when the invoice comes; a cost sent is then written; announces `loss.changed`."""
    if "cost" in values:
        values["cost_state"] = CostState.WRITTEN.value
    return row_change(row=loss, by=by, type="loss.changed", values=values, reason=reason)


def losses_sums(*, rows: QuerySet[Loss], by: str) -> list[dict[str, Any]]:
    """Sum losses by cause, crew, kit or kind, each currency by itself, the dearest first.

    Args:
        by: one of BY.
    """
    found = (
        rows.order_by()
        .values(BY[by], "currency")
        .annotate(
            sum=Sum("cost"),
            count=Count("pk"),
            missing=Count("pk", filter=Q(cost_state=CostState.MISSING)),
        )
    )
    told = [
        {
            "name": one[BY[by]] or "not known",
            "label": _label(by, one[BY[by]]),
            "currency": one["currency"],
            "cost": f"{one['sum']:.2f}",
            "count": one["count"],
            "missing": one["missing"],
        }
        for one in found
    ]
    return sorted(told, key=lambda one: (-Decimal(one["cost"]), one["name"], one["currency"]))


def _label(by: str, value: str | None) -> str:
    if value is None:
        return "not known"
    return str(Cause(value).label) if by == "cause" else str(value)


# What a guard stopped, as the notices tell it: the words for the page, and which notices count.
SAVES: tuple[tuple[str, str, Q], ...] = (
    (
        "misfit_found",
        "Verdict found that the kit does not fit, before anything was ordered",
        Q(type__in=["survey.received", "verdict.given"], changes__state__1="fails"),
    ),
    (
        "cut_held",
        "Saw mark held on site",
        Q(type__in=["mark.held", "install.cut_held", "cut.held"]),
    ),
    (
        "damage_found",
        "Damaged, short or wrong piece found on receipt, not on the install day",
        Q(type__in=["goods.received", "goods.inspected"], changes__has_key="amiss"),
    ),
    (
        "survey_doubted",
        "Bad survey sent back before the order",
        Q(type="job.moved", changes__state__1="enquiry", changes__state__0="surveyed"),
    ),
)


def saves_sums(*, since: date | None = None) -> list[dict[str, Any]]:
    """Count what the guards stopped: what was found and held by its notices, what was refused by its rows."""
    rows = Notice.objects.all() if since is None else Notice.objects.filter(at__date__gte=since)
    told = [
        {"guard": guard, "says": says, "count": rows.filter(which).count()}
        for guard, says, which in SAVES
    ]
    return [*told, *refusals_sums(since=since)]


def total_of(sums: Iterable[dict[str, Any]]) -> dict[str, str]:
    """Add sums up, each currency by itself."""
    totals: dict[str, Decimal] = {}
    for one in sums:
        totals[one["currency"]] = totals.get(one["currency"], Decimal(0)) + Decimal(one["cost"])
    return {currency: f"{amount:.2f}" for currency, amount in sorted(totals.items())}

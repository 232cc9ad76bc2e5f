"""What do the rooms of installs, claims and goods tell a paper about an opening?"""

from typing import Any

from jobs.claims.models import Claim, State
from jobs.claims.paper import claim_paper_data
from jobs.installs.models import Kind, Record
from jobs.installs.paper import install_copy
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.receiving.models import Line
from jobs.receiving.standing import LineStanding, lines_standing

SETTLED = ("settled", "withdrawn")


def work_copy(opening: Opening) -> dict[str, Any] | None:
    """Copy what is recorded of the install and what is still to be put right; None while nothing is."""
    copied = install_copy(opening=opening)
    return copied and {**copied, "snags": _snags(opening)}


def _snags(opening: Opening) -> list[str]:
    kinds = [Kind.SNAG, Kind.SNAG_FIXED]
    records = list(Record.objects.filter(install__opening=opening, kind__in=kinds).order_by("pk"))
    fixed = {one.body.get("fixes") for one in records if one.kind == Kind.SNAG_FIXED}
    return [
        str(one.body["note"])
        for one in records
        if one.kind == Kind.SNAG and str(one.pk) not in fixed
    ]


def claims_whole(job: Job) -> list[dict[str, Any]]:
    """Copy everything of a job's claims for their other sides, except of those withdrawn."""
    claims = Claim.objects.filter(job=job).exclude(state=State.WITHDRAWN).order_by("pk")
    return [claim_paper_data(claim=one) for one in claims.select_related("job__site", "sheet__kit")]


def claims_copy(opening: Opening) -> list[dict[str, Any]]:
    """Copy the claims about this opening's goods that are not settled, each with its next deadline.

    There are none where the house has no room for claims.
    """
    claims: Any = getattr(opening, "claims", None)
    if claims is None:
        return []
    return [
        {
            "number": one.number,
            "about": one.summary,
            "deadline": _next_deadline(one),
            "state": str(one.state),
        }
        for one in claims.exclude(state__in=SETTLED).order_by("pk").prefetch_related("deadlines")
    ]


def _next_deadline(claim: Any) -> str:
    ends = [one.ends_on for one in claim.deadlines.all() if one.met_on is None]
    return min(ends).isoformat() if ends else ""


def goods_copy(opening: Opening) -> list[dict[str, Any]]:
    """Copy what is on order for an opening, piece by piece, and how many of it are still to come.

    A piece that is ordered anew after damage stands under the newer order.
    """
    lines = Line.objects.filter(opening=opening).select_related("order").order_by("order_id", "pk")
    return [_piece(one) for one in lines_standing(lines=lines)]


def _piece(standing: LineStanding) -> dict[str, Any]:
    first = standing.line
    last = standing.remade[-1] if standing.remade else first
    order = last.order
    return {
        "number": last.number,
        "order": order.number,
        "supplier": order.supplier,
        "reference": order.reference,
        "expected_on": order.expected_on.isoformat() if order.expected_on else "",
        **{name: getattr(first, name) for name in ("what", "name", "size", "mass", "count")},
        "to_come": standing.missing,
    }

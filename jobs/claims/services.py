"""What changes about claims, each in one transaction with its notice. Facts are added, never changed."""

from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from jobs.bookings.models import Booking
from jobs.claims.clocks import MET_BY_FILING, clocks_start
from jobs.claims.models import Claim, Deadline, Evidence, Outcome, State, Statement
from jobs.jobs.models import Job
from jobs.jobs.moments import day_at
from jobs.losses.models import CostState
from jobs.losses.services import loss_change
from jobs.openings.models import Opening
from jobs.receiving.models import Kind as OrderKind
from jobs.receiving.models import Line
from jobs.receiving.orders import order_place
from jobs.receiving.standing import LineStanding, lines_standing, piece_anew, pieces_anew
from jobs.verdicts.services import verdict_standing


@transaction.atomic
def claim_open(
    *,
    by: Caller,
    job: Job,
    kind: str,
    against: str,
    summary: str,
    opening: Opening | None = None,
    found_on: date | None = None,
    evidence: list[dict[str, Any]] | None = None,
    **values: Any,
) -> Claim:
    """Open a claim with its evidence and start its clocks; announces `claim.opened`.

    Args:
        evidence: `photo` (digest), `taken_at`, `author`, `note` of each.

    Raises:
        Problem: the opening is another job's.
    """
    if opening is not None and opening.job_id != job.pk:
        raise Problem(
            "not_of_this_job",
            f"{opening.number} is no opening of {job.number}.",
            hint="Name an opening of the job.",
            pointer="/opening",
        )
    found = found_on or day_at(timezone.now(), job.site.time_zone)
    claim = Claim.objects.create(
        job=job,
        opening=opening,
        kind=kind,
        against=against,
        summary=summary[:300],
        found_on=found,
        sheet=_sheet_of(opening),
        **values,
    )
    for one in evidence or []:
        Evidence.objects.create(claim=claim, caller=by.key, **{"taken_at": timezone.now(), **one})
    clocks = clocks_start(claim=claim)
    changes = {"job": [None, job.number], "deadlines": [0, len(clocks)]}
    notice_record(by=by, type="claim.opened", about=claim.number, changes=changes)
    return claim


def _sheet_of(opening: Opening | None) -> Any:
    """The sheet that was installed or decided on, whose promises count."""
    if opening is None:
        return None
    warranty = getattr(opening, "warranty", None)
    if warranty is not None:
        return warranty.sheet
    verdict = verdict_standing(opening=opening)
    return verdict.sheet if verdict is not None else None


@transaction.atomic
def evidence_add(
    *,
    by: Caller,
    claim: Claim,
    taken_at: datetime | None = None,
    photo: str = "",
    author: str = "",
    note: str = "",
) -> Claim:
    """Add a photo by its digest, or a note; announces `claim.evidence_added`."""
    when = taken_at or timezone.now()
    own = {"photo": photo, "taken_at": when, "author": author or by.name, "note": note}
    Evidence.objects.create(claim=claim, caller=by.key, **own)
    return _grown(by, claim, "claim.evidence_added", {"photo": [None, photo or note[:80]]})


@transaction.atomic
def statement_add(*, by: Caller, claim: Claim, **values: Any) -> Claim:
    """Add what somebody said; announces `claim.stated`."""
    Statement.objects.create(claim=claim, caller=by.key, **{"said_at": timezone.now(), **values})
    return _grown(by, claim, "claim.stated", {"by": [None, values["name"]]})


def _grown(by: Caller, claim: Claim, type: str, changes: dict[str, Any]) -> Claim:
    claim.version += 1
    claim.save(update_fields=["version"])
    notice_record(by=by, type=type, about=claim.number, version=claim.version, changes=changes)
    return claim


@transaction.atomic
def claim_file(*, by: Caller, claim: Claim, on: date, how: str) -> Claim:
    """Record that the other side was told; meets and starts clocks, announces `claim.filed`.

    Raises:
        Problem: it was filed already, is settled, or the day lies before the damage was found.
    """
    _check_state(claim, State.OPEN)
    _check_day(on, claim.found_on, "found")
    row_change(
        row=claim,
        by=by,
        type="claim.filed",
        values={"state": State.FILED.value, "filed_on": on},
        reason=how,
    )
    for one in claim.deadlines.filter(met_on=None):
        if one.clock.startswith(MET_BY_FILING.get(claim.against, ())):
            one.met_on, one.met_how = on, how
            one.version += 1
            one.save(update_fields=["met_on", "met_how", "version"])
    clocks_start(claim=claim)
    return claim


@transaction.atomic
def claim_refuse(*, by: Caller, claim: Claim, on: date, why: str) -> Claim:
    """Record that the other side refuses; starts the clock of a suit, announces `claim.refused`.

    Raises:
        Problem: it was not filed, or the day lies before it was.
    """
    _check_state(claim, State.FILED)
    _check_day(on, claim.filed_on or claim.found_on, "filed")
    values = {"state": State.REFUSED.value, "refused_on": on}
    row_change(row=claim, by=by, type="claim.refused", values=values, reason=why)
    clocks_start(claim=claim)
    return claim


@transaction.atomic
def claim_settle(
    *,
    by: Caller,
    claim: Claim,
    outcome: str,
    says: str,
    cost: Decimal | None = None,
    currency: str = "",
) -> Claim:
    """Record outcome and cost to the firm; its clocks stop. Announces `claim.settled`.

    A cost that is missing for the one error behind the claim is written with it: `loss.changed`.

    Raises:
        Problem: it is settled already, or money has no currency.
    """
    _check_state(claim, State.OPEN, State.FILED, State.REFUSED)
    if (cost is None) != (not currency):
        raise Problem(
            "money_in_halves",
            "An amount needs its currency, and a currency its amount.",
            hint='Send cost "120.00" and currency "USD", or neither.',
            pointer="/currency",
        )
    withdrawn = outcome == Outcome.NONE
    values = {
        "state": (State.WITHDRAWN if withdrawn else State.SETTLED).value,
        "outcome": outcome,
        "outcome_says": says,
        "cost": cost,
        "currency": currency,
        "settled_at": timezone.now(),
    }
    what = "claim.withdrawn" if withdrawn else "claim.settled"
    row_change(row=claim, by=by, type=what, values=values, reason=says)
    missing = list(claim.losses.filter(cost_state=CostState.MISSING)[:2])
    if cost is not None and len(missing) == 1:
        loss_change(by=by, loss=missing[0], reason=says, cost=cost, currency=currency)
    return claim


@transaction.atomic
def claim_remake(
    *, by: Caller, claim: Claim, pieces: list[Line] | None = None, **values: Any
) -> Claim:
    """Order the claim's pieces anew; writes the order, announces `order.placed` and `claim.remake_ordered`.

    Args:
        pieces: which, where they are not those found amiss of its delivery; all of each that is missing,
            or one where none is known to be.

    Raises:
        Problem: a remake is ordered already, no piece is amiss, or a piece is another job's.
    """
    if claim.remake_id is not None:
        raise Problem(
            "remake_ordered",
            f"OR-{claim.remake_id:04d} is the remake.",
            status=409,
            hint="Cancel that order, or open another claim.",
        )
    told = _pieces_named(claim, pieces) if pieces else _pieces_amiss(claim)
    values.setdefault("supplier", claim.delivery.order.supplier if claim.delivery else "")
    order = order_place(by=by, job=claim.job, kind=OrderKind.PIECE, lines=told, **values)
    return row_change(row=claim, by=by, type="claim.remake_ordered", values={"remake": order})


def _standing_of(claim: Claim) -> list[LineStanding]:
    lines = Line.objects.filter(order__job=claim.job)
    return lines_standing(lines=lines.select_related("order", "opening", "sheet"))


def _pieces_amiss(claim: Claim) -> list[dict[str, Any]]:
    """What was found amiss of the claim's delivery, and what its snags name."""
    lines = claim.delivery.order.lines.all() if claim.delivery else []
    first, standing = {one.remakes_id or one.pk for one in lines}, _standing_of(claim)
    told = pieces_anew(one for one in standing if one.line.pk in first)
    known, snags = {one["remakes"].pk for one in told}, _snagged(claim)
    told += [
        piece_anew(one.line, 1)
        for one in standing
        if one.line.number in snags and one.line.pk not in known
    ]
    if not told:
        raise Problem(
            "nothing_amiss",
            "No piece of the claim is known to be damaged, short or wrong.",
            status=409,
            hint=f"Name in `pieces` what must come anew. {_known(claim)}",
            pointer="/pieces",
        )
    return told


def _snagged(claim: Claim) -> set[str]:
    """Numbers of the pieces that must come anew by the records that opened the claim."""
    rows = claim.losses.filter(kind="remake").values_list("record__outcome", flat=True)
    return {row["piece"] for row in rows if row and "piece" in row}


def _pieces_named(claim: Claim, pieces: list[Line]) -> list[dict[str, Any]]:
    """The pieces that the office names."""
    for index, one in enumerate(pieces):
        if one.order.job_id != claim.job_id:
            raise Problem(
                "not_of_this_job",
                f"{one.number} is no piece of {claim.job.number}.",
                hint=_known(claim),
                pointer=f"/pieces/{index}",
            )
    named = {one.remakes_id or one.pk for one in pieces}
    rows = [one for one in _standing_of(claim) if one.line.pk in named]
    return [piece_anew(one.line, one.missing or 1) for one in rows]


def _known(claim: Claim) -> str:
    """Name the pieces of the claim's job."""
    rows = Line.objects.filter(order__job=claim.job, remakes=None)
    told = ", ".join(f"{one.number} {one.name}" for one in rows)
    return f"Pieces of {claim.job.number}: {told or 'none is on order'}."


@transaction.atomic
def claim_visit(*, by: Caller, claim: Claim, booking: Booking) -> Claim:
    """Note a visit made for the claim; announces `claim.visit_noted`.

    Raises:
        Problem: the visit is another job's.
    """
    if booking.job_id != claim.job_id:
        raise Problem(
            "not_of_this_job",
            f"{booking.number} is a visit of another job.",
            hint="Name a booking of the claim's job.",
            pointer="/booking",
        )
    claim.visits.add(booking)
    return _grown(by, claim, "claim.visit_noted", {"booking": [None, booking.number]})


@transaction.atomic
def deadline_meet(*, by: Caller, deadline: Deadline, on: date, how: str) -> Deadline:
    """Record that what a clock asks for was done; announces `deadline.met`.

    Raises:
        Problem: it was met before.
    """
    if deadline.met_on is not None:
        raise Problem(
            "deadline_met", f"It was met on {deadline.met_on}.", status=409, hint="Read it again."
        )
    values = {"met_on": on, "met_how": how}
    return row_change(row=deadline, by=by, type="deadline.met", values=values, reason=how)


def _check_state(claim: Claim, *states: State) -> None:
    if claim.state not in states:
        raise Problem(
            "claim_state",
            f"{claim.number} is {claim.state}.",
            status=409,
            hint=f"This is for a claim that is {' or '.join(one.value for one in states)}.",
        )


def _check_day(on: date, since: date, what: str) -> None:
    if on < since:
        raise Problem(
            "day_out_of_order",
            f"{on} lies before the day that it was {what}, {since}.",
            hint=f"Send {since} or later.",
            pointer="/on",
        )

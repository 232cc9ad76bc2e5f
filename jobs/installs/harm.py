"""What did a record say went wrong, what does it cost again, and may a maker or carrier owe it?

A miscut, a snag, or damage found at a hold point opens a loss in the record's own transaction; where
somebody outside the firm may owe it, a claim as well, not told to the other side yet, with the
record's photos and words as evidence.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from contractor.api.callers import Caller
from jobs.claims.damage import claim_of_damage, delivery_of, owed_by
from jobs.claims.models import Against
from jobs.installs.models import Kind, Record
from jobs.installs.stops import GLASS
from jobs.jobs.moments import day_at
from jobs.losses.models import Cause, Loss
from jobs.losses.models import Kind as Again
from jobs.losses.services import loss_record
from jobs.receiving.models import Delivery
from jobs.receiving.pieces import look_sound, piece_named
from jobs.receiving.services import piece_spoil

OUTSIDE = frozenset({Against.MAKER.value, Against.CARRIER.value, Against.CUSTOMER.value})
# Whose fault it may be, when nobody says: common practice, no source.
MAY_OWE: Mapping[str, str] = {Cause.TRANSIT: "", Cause.MAKER: Against.MAKER.value}


@dataclass(frozen=True, slots=True)
class Harm:
    """What must be done again, and why."""

    again: str
    cause: str


def harm_of(*, kind: str, stop: str, body: Mapping[str, Any], miscut: bool) -> Harm | None:
    """Say what a record costs again; None when nothing went wrong.

    Args:
        kind: what the record says.
        stop: key of its stop, if any.
        body: as it was sent; `cause` and `again` are believed when they are said.
        miscut: whether a part was sawn so that it cannot be used.
    """
    cause = body.get("cause", "")
    again = body.get("again") or (Again.REMAKE.value if body.get("piece") else "")
    if kind == Kind.SAWN and miscut:
        return Harm(Again.MISCUT, cause or Cause.CUT_WRONG)
    if kind == Kind.SNAG:
        return Harm(again or Again.CALL_BACK, cause or Cause.OTHER)
    if kind == Kind.STOP and stop == GLASS and body.get("found") == "not_right":
        return Harm(again or Again.REMAKE, cause or Cause.TRANSIT)
    if kind == Kind.STOP and cause:
        return Harm(again or Again.OTHER, cause)
    return None


def harm_record(*, by: Caller, record: Record, title: str, miscut: bool) -> Loss | None:
    """Open the loss of a record, and the claim; writes both, announces `loss.recorded`, `claim.opened`.

    A stop that is recorded as not right again, for the same cause, is the same loss; another piece that is
    named there is another one.
    """
    body = record.body
    harm = harm_of(kind=record.kind, stop=record.stop, body=body, miscut=miscut)
    if harm is None:
        return None
    known, piece = _known_pieces(record, harm), record.outcome.get("piece", "")
    if known and (not piece or piece in known):
        return None
    install = record.install
    job, crew = install.booking.job, install.booking.crew
    says = _says(record, title)
    delivery = _brought_by(by, record, harm, says)
    if "" in known:  # told before without its piece, which is spoilt now
        return None
    claim = _claim(by, record, harm, says, delivery)
    return loss_record(
        by=by,
        job=job,
        opening=install.opening,
        crew=crew,
        kit=install.sheet.kit,
        kind=harm.again,
        cause=harm.cause,
        says=says,
        happened_on=day_at(record.taken_at, job.site.time_zone),
        claim=claim,
        record=record,
    )


def _known_pieces(record: Record, harm: Harm) -> set[str]:
    """Pieces of the losses that this stop opened for the same cause; one without any is an empty name."""
    if record.kind != Kind.STOP:
        return set()
    own = {"record__install": record.install, "record__kind": Kind.STOP, "cause": harm.cause}
    rows = Loss.objects.filter(record__stop=record.stop, **own)
    return {one.get("piece", "") for one in rows.values_list("record__outcome", flat=True)}


def _says(record: Record, title: str) -> str:
    note = record.body.get("note") or " ".join(record.outcome.get("do", []))
    if record.kind == Kind.SAWN:
        title = f"{_part(record)} sawn to {record.body['sawn']}"
    return f"{title}: {note}"[:300]


def _part(record: Record) -> str:
    """Which part is sawn at a record's stop."""
    stops = [one for one in record.install.stops if one["key"] == record.stop]
    parts = [need["part"] for one in stops for need in one["needs"] if need["kind"] == "mark"]
    return parts[0].capitalize() if parts else "Part"


def _brought_by(by: Caller, record: Record, harm: Harm, says: str) -> Delivery | None:
    """Find the delivery that brought the piece named, else the opening's last one.

    At a stop the piece is spoilt: the look that found it sound is replaced, and the job is parked. A snag
    holds nothing up: its piece comes anew while the work goes on.
    """
    opening, name = record.install.opening, record.outcome.get("piece", "")
    if not name:
        return delivery_of(opening=opening)
    line = piece_named(opening=opening, name=name)
    look = look_sound(line=line)
    if look is not None and record.kind == Kind.STOP and harm.again == Again.REMAKE:
        piece_spoil(
            by=by,
            sound=look,
            key=record.pk,
            digest=record.digest,
            photos=record.body.get("photos", []),
            note=says,
            inspected_by=record.said_by,
            inspected_at=record.taken_at,
        )
    return look.delivery if look is not None else delivery_of(opening=opening)


def _claim(by: Caller, record: Record, harm: Harm, says: str, delivery: Delivery | None) -> Any:
    """Open a claim where somebody outside the firm may owe it; None where it is the firm's own."""
    said = record.body.get("owed_by", "")
    if said not in OUTSIDE and (said or harm.cause not in MAY_OWE):
        return None
    opening = record.install.opening
    against, party = owed_by(said or MAY_OWE.get(harm.cause, ""), delivery)
    own = {"taken_at": record.taken_at, "author": record.said_by, "note": says}
    return claim_of_damage(
        by=by,
        job=record.install.booking.job,
        opening=opening,
        delivery=delivery,
        against=against,
        party=party or (record.install.sheet.kit.maker if against == Against.MAKER else ""),
        says=f"{says} (found on site)",
        found_on=day_at(record.taken_at, record.install.booking.job.site.time_zone),
        evidence=[{"photo": one, **own} for one in record.body.get("photos") or [""]],
    )

"""How do goods come in? A delivery with its inspections, kept as facts; what is amiss becomes a claim."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID, uuid5

from django.db.models import F

from contractor.api.callers import Caller
from contractor.api.facts import check_same, kept_once, taken
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from contractor.people.models import Member
from jobs.claims.damage import claim_of_inspections
from jobs.claims.models import Claim
from jobs.jobs.life import job_follow
from jobs.receiving.models import Condition, Delivery, Inspection, Order, OrderState
from jobs.receiving.standing import GoodsStanding, goods_standing
from jobs.surveys.services import photos_missing

__all__ = ["GoodsStanding", "delivery_receive", "goods_standing", "piece_spoil", "pieces_inspect"]


@dataclass(slots=True)
class Came:
    """What became of a delivery or an inspection: its row, whether it is new, the claim it opened."""

    row: Any
    is_new: bool
    claim: Claim | None = None
    missing_photos: list[str] = field(default_factory=list)


def delivery_receive(
    *,
    by: Caller,
    key: UUID,
    digest: str,
    order: Order,
    received_by: Member,
    inspections: list[dict[str, Any]],
    **values: Any,
) -> Came:
    """Take a delivery in with its inspections; announces `goods.received` and, if amiss, `claim.opened`.

    The same body again changes nothing.

    Raises:
        Problem: the order is cancelled, a line is another order's, or an id is taken.
    """

    def work() -> Came:
        known = Delivery.objects.filter(pk=key).first()
        if known is not None:
            photos = [one for told in inspections for one in told.get("photos", [])]
            return _again(known, digest, "delivery", photos)
        _check_expected(order)
        own = {"caller": by.key, "digest": digest, "received_by": received_by}
        delivery = Delivery.objects.create(id=key, order=order, **own, **values)
        return _inspected(by, delivery, inspections, delivery)

    text = "An inspection's id was used for other content."
    return kept_once(work, lambda: taken(text, "/inspections"))


def pieces_inspect(
    *, by: Caller, delivery: Delivery, inspections: list[dict[str, Any]], digest: str = ""
) -> Came:
    """Look pieces of a delivery over, or over again; announces `goods.inspected`.

    Raises:
        Problem: a line is another order's, or an id is taken.
    """

    def work() -> Came:
        known = Inspection.objects.filter(pk=inspections[0]["id"]).first()
        if known is not None:
            return _again(known, digest, "inspection", known.photos)
        return _inspected(by, delivery, inspections, None, digest)

    return kept_once(work, lambda: taken("The inspection's id was used for other content."))


def piece_spoil(
    *, by: Caller, sound: Inspection, key: UUID, digest: str, **told: Any
) -> Inspection:
    """Record that one piece was found damaged after it had come; announces `goods.inspected`.

    The look that found it sound is replaced; what else that look counted stays sound. The claim is the
    caller's. The job is parked where it waits for its install.

    Args:
        sound: the look that had found it sound.
        key: id of what was recorded; the looks' own ids are made of it.
        told: photos, note, inspected_by, inspected_at.
    """
    own = {"delivery": sound.delivery, "line": sound.line, "caller": by.key, "digest": digest}
    row = Inspection(
        id=uuid5(key, "damaged"),
        condition=Condition.DAMAGED,
        count=1,
        replaces=[str(sound.pk)],
        **own,
        **told,
    )
    row.save(force_insert=True)
    if sound.count > 1:
        rest = {"photos": [], "note": sound.note, "inspected_by": sound.inspected_by}
        Inspection.objects.create(
            id=uuid5(key, "sound"),
            condition=Condition.SOUND,
            count=sound.count - 1,
            inspected_at=sound.inspected_at,
            **own,
            **rest,
        )
    order = sound.delivery.order
    Order.objects.filter(pk=order.pk).update(version=F("version") + 1)
    changes = {"pieces": [0, 1], "amiss": [0, 1]}
    notice_record(by=by, type="goods.inspected", about=order.number, changes=changes)
    job_follow(by=by, job=order.job, action="damage")
    return row


def _inspected(
    by: Caller,
    delivery: Delivery,
    inspections: list[dict[str, Any]],
    row: Delivery | None,
    digest: str = "",
) -> Came:
    rows = [_row(by, delivery, one, index, digest) for index, one in enumerate(inspections)]
    for one in rows:
        one.save(force_insert=True)
    amiss = [one for one in rows if one.condition != Condition.SOUND]
    changes: dict[str, Any] = {"pieces": [0, sum(one.count for one in rows)]}
    if amiss:
        changes["amiss"] = [0, sum(one.count for one in amiss)]
    what = "goods.received" if row is not None else "goods.inspected"
    order = delivery.order
    Order.objects.filter(pk=order.pk).update(version=F("version") + 1)
    notice_record(by=by, type=what, about=order.number, changes=changes)
    claim = claim_of_inspections(by=by, delivery=delivery, rows=amiss) if amiss else None
    job_follow(by=by, job=order.job, action="damage" if amiss else "receive")
    photos = [photo for one in rows for photo in one.photos]
    return Came(row if row is not None else rows[0], True, claim, photos_missing(photos))


def _row(
    by: Caller, delivery: Delivery, told: dict[str, Any], index: int, digest: str
) -> Inspection:
    line = told["line"]
    if line.order_id != delivery.order_id:
        raise Problem(
            "not_of_this_order",
            f"{line.number} is a piece of another order.",
            hint=f"Send a line of OR-{delivery.order_id:04d}.",
            pointer=f"/inspections/{index}/line",
        )
    known = Inspection.objects.filter(line=line, pk__in=told.get("replaces", []))
    if known.count() != len(set(told.get("replaces", []))):
        raise Problem(
            "inspection_unknown",
            f"{line.number} has no such inspection to replace.",
            hint="Name inspections of the same line.",
            pointer=f"/inspections/{index}/replaces",
        )
    when: datetime = told.get("inspected_at") or delivery.arrived_at
    return Inspection(
        id=told["id"],
        delivery=delivery,
        line=line,
        condition=told["condition"],
        count=told["count"],
        photos=told.get("photos", []),
        note=told.get("note", ""),
        inspected_by=told.get("inspected_by") or by.name,
        inspected_at=when,
        replaces=[str(one) for one in told.get("replaces", [])],
        caller=by.key,
        digest=digest or delivery.digest,
    )


def _check_expected(order: Order) -> None:
    if order.state != OrderState.PLACED:
        raise Problem(
            "order_cancelled",
            f"{order.number} was cancelled.",
            status=409,
            hint="Ask the office; what came may belong to another order.",
            pointer="/order",
        )


def _again(known: Any, digest: str, what: str, photos: list[str]) -> Came:
    check_same(known, digest, what)
    return Came(known, False, None, photos_missing(photos))

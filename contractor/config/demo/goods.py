"""What came, how it was found, what is claimed for it, and what errors cost in the story."""

import json
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

from contractor.api.problems import Problem
from contractor.config.demo.drawn import DRAWN, photo_drawn
from contractor.config.demo.story import HERE, survey_id
from contractor.people.models import Member
from jobs.claims.models import Claim, Warranty
from jobs.claims.services import claim_open, statement_add
from jobs.claims.warranty import warranty_note
from jobs.jobs.life import job_move
from jobs.jobs.models import Job, State
from jobs.losses.models import Loss
from jobs.losses.services import loss_record
from jobs.openings.models import Opening
from jobs.receiving.models import Delivery, Order
from jobs.receiving.orders import order_place
from jobs.receiving.services import delivery_receive

Rows = dict[str, Any]


@cache
def goods() -> dict[str, Any]:
    """Read this part of the story."""
    read: dict[str, Any] = json.loads((HERE / "goods.json").read_text(encoding="utf-8"))
    return read


def goods_tell(rows: Rows, first_day: date) -> None:
    """Order, receive and inspect; claim for what is amiss; note what errors cost."""
    office: Member = rows["m-imke"]
    for told in goods()["orders"]:
        order = _order(told, rows, office, first_day)
        if order is not None and told["came_days"] is not None:
            _delivery(told, order, rows["m-sunniva"], first_day)
    _warranty(goods()["warranty"], rows, office, first_day)
    for told in goods()["losses"]:
        _loss(told, rows, office, first_day)


def _order(told: dict[str, Any], rows: Rows, office: Member, first_day: date) -> Order | None:
    found = Order.objects.filter(reference=told["reference"]).first()
    if found is not None:
        return found
    job = Job.objects.get(pk=rows[told["job"]].pk)
    by = office.caller()
    try:
        if job.state == State.SURVEYED:
            job_move(by=by, job=job, action="decide")
    except Problem:
        reason = "Invented: the office answers for it in the story."
        job_move(by=by, job=job, action="decide_anyway", reason=reason)
    expected = first_day + timedelta(days=told["came_days"] or 2)
    own = {"reference": told["reference"], "expected_on": expected}
    return order_place(by=by, job=job, kind="kit", notes="Invented order.", **own)


def _delivery(told: dict[str, Any], order: Order, yard: Member, first_day: date) -> None:
    key = survey_id(f"delivery {told['reference']}")
    if Delivery.objects.filter(pk=key).exists():
        return
    zone = order.job.site.time_zone
    arrived = _at(first_day, told["came_days"], told["wall_time"], zone)
    inspections = [
        {
            "id": survey_id(f"inspection {told['reference']} {line.name}"),
            "line": line,
            "count": line.count,
            "condition": told["amiss"].get(line.name, {}).get("condition", "sound"),
            "note": told["amiss"].get(line.name, {}).get("note", ""),
            "photos": [
                photo_drawn(by=yard.caller(), title=f"{line.name}: {one}", draw=DRAWN[one])
                for one in told["amiss"].get(line.name, {}).get("photos", [])
            ],
            "inspected_by": yard.name,
            "inspected_at": arrived + timedelta(minutes=25),
        }
        for line in order.lines.select_related("opening", "order")
    ]
    delivery_receive(
        by=yard.caller(),
        key=key,
        digest="",
        order=order,
        received_by=yard,
        inspections=inspections,
        carrier=told["carrier"],
        waybill=told["waybill"],
        packaging=told["packaging"],
        noted_at_door=told.get("noted_at_door", False),
        arrived_at=arrived,
    )


def _warranty(told: dict[str, Any], rows: Rows, office: Member, first_day: date) -> None:
    opening: Opening = rows[told["opening"]]
    by, claim = office.caller(), told["claim"]
    installed = first_day + timedelta(days=told["installed_days"])
    if not Warranty.objects.filter(opening=opening).exists():
        warranty_note(by=by, opening=opening, installed_on=installed)
    if Claim.objects.filter(summary=claim["summary"]).exists():
        return
    warranty = Warranty.objects.get(opening=opening)
    row = claim_open(
        by=by,
        job=opening.job,
        opening=Opening.objects.get(pk=opening.pk),
        kind="warranty",
        against=claim["against"],
        party=warranty.sheet.kit.maker,
        summary=claim["summary"],
        found_on=first_day + timedelta(days=claim["found_days"]),
    )
    zone = opening.job.site.time_zone
    for one in told["statements"]:
        said = _at(first_day, one["days"], "11:00", zone)
        own = {name: one[name] for name in ("party", "name", "text")}
        statement_add(by=by, claim=row, said_at=said, **own)


def _loss(told: dict[str, Any], rows: Rows, office: Member, first_day: date) -> None:
    if Loss.objects.filter(says=told["says"]).exists():
        return
    job: Job = rows[told["job"]]
    loss_record(
        by=office.caller(),
        job=job,
        opening=job.openings.select_related("kit").first(),
        kind=told["kind"],
        cause=told["cause"],
        says=told["says"],
        cost=Decimal(told["cost"]),
        crew=rows[told["crew"]] if told["crew"] else None,
        happened_on=first_day + timedelta(days=told["days"]),
    )


def _at(first_day: date, days: int, wall_time: str, zone: str) -> datetime:
    day = first_day + timedelta(days=days)
    return datetime.combine(day, time.fromisoformat(wall_time), tzinfo=ZoneInfo(zone))

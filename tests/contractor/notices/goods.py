"""Every write of a job's life, of goods, claims and losses: its body, and the notice that it leaves."""

from collections.abc import Callable
from typing import Any

from contractor.people.models import Member
from fitcheck.kits.models import Kit
from jobs.claims.models import Claim, Warranty
from jobs.installs.services import record_receive
from jobs.receiving.models import Line
from tests.goods import InspectionFactory, OrderFactory
from tests.installs import OFFICE_CALLER, sent
from tests.world import World

AT = "2026-11-24T15:00:00Z"


def line_of(world: World) -> str:
    return str(Line.objects.get(order__job=world.job).number)


def _ordered_anew(world: World) -> dict[str, Any]:
    world.keys["order"] = OrderFactory(job=world.job).number
    return {"why": "sold out"}


def _filed(world: World) -> dict[str, Any]:
    Claim.objects.update(state="filed", filed_on="2026-11-24")
    return {"on": "2027-02-01", "why": "packed well"}


def _damaged(world: World) -> dict[str, Any]:
    line = Line.objects.get(order__job=world.job)
    Line.objects.update(count=2)
    row = InspectionFactory(line=line, condition="damaged")
    Claim.objects.update(delivery=row.delivery)
    return {}


def _at_the_brackets(world: World) -> dict[str, Any]:
    install = world.booking.installs.get()
    for minutes, key in enumerate(("glass_inspected", "opening_reread", "backing_located")):
        passed = sent({"reason": "seen in the yard"}, minutes)
        record_receive(by=OFFICE_CALLER, install=install, sent=passed, kind="skip", stop=key)
    world.crew.places.create(member=Member.objects.get(name="Imke Thorsby"))
    return {}


def _unwarranted(world: World) -> dict[str, Any]:
    Warranty.objects.all().delete()
    kit = Kit.objects.get(slug=world.keys["kit"])
    world.job.openings.update(kit=kit)
    return {"opening": world.keys["opening"], "installed_on": "2026-10-01"}


def _kit_chosen(world: World) -> dict[str, Any]:
    kit = Kit.objects.get(slug=world.keys["kit"])
    world.job.openings.update(kit=kit)
    return {"action": "decide"}


def _dropped(world: World) -> dict[str, Any]:
    world.job.openings.update(dropped_why="they keep the curtain")
    return {"why": "they do not"}


GOODS: dict[str, tuple[Callable[[World], Any], str]] = {
    "order.create": (
        lambda w: {
            "job": w.job.number,
            "kind": "glass",
            "lines": [{"opening": w.keys["opening"], "name": "door"}],
        },
        "order.placed",
    ),
    "order.arrive": (lambda w: {"carrier": "Bramblewick"}, "goods.received"),
    "order.inspect": (lambda w: {"line": line_of(w), "condition": "sound"}, "goods.inspected"),
    "order.cancel": (lambda w: _ordered_anew(w), "order.cancelled"),
    "arrival.update": (
        lambda w: {"order": w.keys["order"], "carrier": "Bramblewick", "arrived_at": AT},
        "goods.received",
    ),
    "inspection.update": (
        lambda w: {"delivery": w.keys["arrival"], "line": line_of(w), "condition": "sound"},
        "goods.inspected",
    ),
    "claim.create": (
        lambda w: {
            "job": w.job.number,
            "kind": "warranty",
            "against": "maker",
            "summary": "roller squeaks",
        },
        "claim.opened",
    ),
    "claim.show": (lambda w: {"note": "the chip", "taken_at": AT}, "claim.evidence_added"),
    "claim.say": (
        lambda w: {"party": "maker", "name": "Ivo", "text": "We look at it.", "said_at": AT},
        "claim.stated",
    ),
    "claim.file": (lambda w: {"on": "2027-01-04", "how": "by mail"}, "claim.filed"),
    "claim.refuse": (lambda w: _filed(w), "claim.refused"),
    "claim.settle": (lambda w: {"outcome": "nothing", "says": "no reply"}, "claim.settled"),
    "claim.remake": (lambda w: _damaged(w), "order.placed"),
    "claim.visit": (lambda w: {"booking": w.keys["booking"]}, "claim.visit_noted"),
    "deadline.met": (lambda w: {"on": "2027-01-04", "how": "by mail"}, "deadline.met"),
    "warranty.create": (lambda w: _unwarranted(w), "warranty.noted"),
    "install.sawn": (lambda w: {"part": "head rail", "sawn": "40 in"}, "install.stop_recorded"),
    "install.looked": (lambda w: _at_the_brackets(w), "install.stop_recorded"),
    "install.read": (lambda w: {"part": "head rail", "value": "58 in"}, "install.stop_recorded"),
    "loss.create": (
        lambda w: {
            "job": w.job.number,
            "kind": "remake",
            "cause": "transit",
            "says": "chipped",
            "cost": "80.00",
        },
        "loss.recorded",
    ),
    "loss.partial_update": (lambda w: {"cost": "85.50"}, "loss.changed"),
    "job.move": (lambda w: _kit_chosen(w), "job.moved"),
    "opening.drop": (lambda w: {"why": "they keep the curtain"}, "opening.dropped"),
    "opening.take_up": (lambda w: _dropped(w), "opening.taken_up"),
}

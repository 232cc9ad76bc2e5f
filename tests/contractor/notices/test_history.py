"""Does every write leave exactly one notice, by its caller, with what changed?"""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from contractor.notices.models import Delivery, Notice
from fitcheck.checks.questions import QUESTIONS
from jobs.drawings.models import Drawing
from jobs.drawings.shapes import ORDER
from jobs.lists.models import ListImport
from jobs.plans.models import DayPlan
from jobs.sawplans.models import SawPlan
from tests.clients import Caller
from tests.contractor.notices.goods import GOODS
from tests.contractor.notices.many import many_of, row_of
from tests.factories import (
    SAW_PLAN,
    CustomerFactory,
    KitFactory,
    MemberFactory,
    OpeningFactory,
    SiteFactory,
    fresh_uuid,
    sheet_body,
    survey_body,
)
from tests.installs import all_skipped, mark_body, signature
from tests.named import CALLERS, again
from tests.world import World, address, booked, jpeg, make_world, routes

ADDRESS = {"streetAddress": "4 Tern Ladder", "addressLocality": "Marrowgate"}
OPENING = {"name": "Loft", "enclosure": "alcove", "stands_on": "curb"}
SPAN = {"starts_at": "2027-05-04T13:00:00Z", "ends_at": "2027-05-04T15:00:00Z"}
# Every write: its body from the world, and the type of the one notice that it leaves.
WRITES: dict[str, tuple[Callable[[World], Any], str]] = {
    **GOODS,
    "customer.create": (lambda w: {"name": "Wren"}, "customer.added"),
    "customer.partial_update": (lambda w: {"name": "Wren"}, "customer.changed"),
    "site.create": (
        lambda w: {
            "customer": CustomerFactory().number,
            "time_zone": "America/Chicago",
            "address": ADDRESS,
        },
        "site.added",
    ),
    "site.partial_update": (lambda w: {"access_notes": "Ring twice."}, "site.changed"),
    "job.create": (lambda w: {"site": SiteFactory().number, "summary": "Slider"}, "job.opened"),
    "job.partial_update": (lambda w: {"summary": "Two sliders"}, "job.changed"),
    "opening.create": (lambda w: {"job": w.job.number, **OPENING}, "opening.added"),
    "opening.partial_update": (lambda w: {"notes": "Niche right"}, "opening.changed"),
    "survey.create": (
        lambda w: survey_body(w.job.openings.get(), w.keys["kit"]),
        "survey.received",
    ),
    "photo.update": (lambda w: jpeg("peru"), "photo.received"),
    "verdict.create": (
        lambda w: {"opening": w.keys["opening"], "kit": w.keys["kit"]},
        "verdict.given",
    ),
    "booking.create": (
        lambda w: {"job": w.job.number, "crew": w.crew.slug, "visit": "install", **SPAN},
        "booking.made",
    ),
    "booking.move": (lambda w: {"reason": "glass is late", **SPAN}, "booking.moved"),
    "booking.cancel": (lambda w: {"why": "sold elsewhere"}, "booking.cancelled"),
    "booking.confirm": (lambda w: _only_held(w), "booking.confirmed"),
    "booking.no_show": (lambda w: _long_ago(w), "booking.no_show"),
    "install.create": (
        lambda w: {
            "booking": booked(w.job, w.crew, day=9).number,
            "started_at": "2027-03-11T14:00:00Z",
        },
        "install.started",
    ),
    "install.update": (
        lambda w: {
            "booking": booked(w.job, w.crew, day=9).number,
            "started_at": "2027-03-11T14:00:00Z",
        },
        "install.started",
    ),
    "install.stop": (lambda w: {"all_right": True}, "install.stop_recorded"),
    "install.skip": (lambda w: {"reason": "seen in the yard"}, "install.stop_recorded"),
    "install.snag": (lambda w: {"note": "a scratch"}, "install.stop_recorded"),
    "install.finish": (lambda w: all_skipped(w.booking), "install.stop_recorded"),
    "install.mark": (
        lambda w: {
            "part": "head rail",
            "first_value": "58 in",
            "first_by": "Hien Phan",
            "second_value": "58 in",
            "second_by": "Callum Reyes",
        },
        "mark.held",
    ),
    "install-record.update": (
        lambda w: {
            "install": w.keys["install"],
            "kind": "snag",
            "note": "a scratch",
            "taken_at": "2027-03-11T14:00:00Z",
        },
        "install.stop_recorded",
    ),
    "install.handover": (
        lambda w: {"person": "Bram Tolliver", "unsigned_why": "Hands wet."},
        "handover.unsigned",
    ),
    "handover.update": (
        lambda w: {
            "install": w.keys["install"],
            "person": "Bram Tolliver",
            "label_shown": True,
            "care_sheet_given": True,
            "tempered_told": True,
            "unsigned_why": "Hands wet.",
            "taken_at": "2027-03-11T14:00:00Z",
        },
        "handover.unsigned",
    ),
    "signature.update": (lambda w: signature("peru"), "signature.received"),
    "stock-item.create": (
        lambda w: {"id": "clear", "name": "Clear silicone", "kind": "sealant"},
        "stock.item_added",
    ),
    "stock-item.partial_update": (lambda w: {"reload_to": 9}, "stock.item_changed"),
    "stock-movement.create": (lambda w: _movement(w), "stock.moved"),
    "stock-movement.update": (lambda w: _movement(w), "stock.moved"),
    "mark.update": (lambda w: mark_body(w.booking.installs.get()), "mark.held"),
    "drawing.create": (
        lambda w: {"opening": OpeningFactory().number, "what": "panels", "order": ORDER},
        "drawing.asked",
    ),
    "drawing.retry": (lambda w: _not_drawn(w), "drawing.retried"),
    "drawing.sign": (lambda w: {}, "drawing.signed"),
    "packet.create": (lambda w: {"job": w.job.number}, "packet.asked"),
    "packet.retry": (lambda w: _given_up(w), "packet.retried"),
    "packet.renew": (lambda w: _overtaken(w), "packet.renewed"),
    "saw-plan.create": (lambda w: SAW_PLAN, "saw_plan.asked"),
    "saw-plan.retry": (lambda w: _plan_given_up(w), "saw_plan.retried"),
    "plan.create": (lambda w: {"day": w.keys["plan_day"]}, "plan.asked"),
    "plan.accept": (lambda w: {}, "plan.accepted"),
    "plan.edit": (
        lambda w: {"booking": w.booking.number, "local_start": "2027-03-02T10:00"},
        "plan.edited",
    ),
    "plan.decline": (lambda w: {"why": "promised by phone"}, "plan.declined"),
    "plan.retry": (lambda w: _day_plan_given_up(w), "plan.retried"),
    "reminder.snooze": (lambda w: {"until": "2027-07-01"}, "reminder.snoozed"),
    "reminder.cancel": (lambda w: {"why": "called instead"}, "reminder.cancelled"),
    "reminder.again": (lambda w: _late(w), "reminder.retried"),
    "reminder-rule.create": (
        lambda w: {
            "slug": "hi",
            "name": "Hi",
            "hears": ["job.opened"],
            "subject": "a",
            "text": "b",
        },
        "reminder_rule.added",
    ),
    "reminder-rule.partial_update": (lambda w: {"offset_days": 10}, "reminder_rule.changed"),
    "webhook.create": (
        lambda w: {"name": "Board", "address": "https://hooks.example.com/in"},
        "webhook.added",
    ),
    "webhook.partial_update": (lambda w: {"is_on": False}, "webhook.changed"),
    "delivery.resend": (lambda w: _delivered(w), "webhook.resent"),
    "import.create": (lambda w: {"kind": "customers", "text": "name\nWren\n"}, "list.received"),
    "import.take_over": (lambda w: _written_by_hand(w), "list.asked"),
    "import.retry": (lambda w: _list_given_up(w), "list.retried"),
    "digest.create": (lambda w: {"wants": False}, "digest.wished"),
    "kit.create": (
        lambda w: {"slug": "new-kit", "name": "New", "maker": "Invented"},
        "kit.added",
    ),
    "sheet.create": (
        lambda w: {"kit": KitFactory().slug, "body": sheet_body()},
        "sheet.published",
    ),
    "member.create": (
        lambda w: {"login": "wilna", "name": "Wilna", "role": "yard"},
        "member.added",
    ),
    "member.partial_update": (lambda w: {"name": "Odalys Vane"}, "member.changed"),
    "crew.create": (
        lambda w: {"id": "otter", "name": "Otter", "member_ids": [MemberFactory().number]},
        "crew.formed",
    ),
    "crew.partial_update": (lambda w: {"rack_mass": "180 kg"}, "crew.changed"),
    "day-off.create": (
        lambda w: {
            "member": w.keys["member"],
            "first_day": "2027-06-01",
            "last_day": "2027-06-01",
        },
        "day_off.given",
    ),
    "day-off.withdraw": (lambda w: {"why": "works after all"}, "day_off.withdrawn"),
    "closed-day.create": (
        lambda w: {"region": "US-IL", "day": "2027-06-02", "name": "Stocktaking"},
        "closed_day.added",
    ),
    "closed-day.keep": (lambda w: {}, "closed_day.kept"),
    "closed-day.drop": (lambda w: {}, "closed_day.dropped"),
    "holiday.create": (lambda w: {"region": "US-IL", "year": 2028}, "holiday.proposed"),
    "calendar.create": (lambda w: {"name": "Heron", "crew": w.crew.slug}, "calendar.issued"),
    "calendar.revoke": (lambda w: {"why": "phone lost"}, "calendar.revoked"),
    "tablet.create": (
        lambda w: {"name": "Grey", "holder": w.keys["member"]},
        "tablet.issued",
    ),
    "tablet.revoke": (lambda w: {"why": "lost"}, "tablet.revoked"),
    "integration.create": (
        lambda w: {"name": "Board", "scopes": ["jobs:read"]},
        "integration.issued",
    ),
    "integration.revoke": (lambda w: {"why": "replaced"}, "integration.revoked"),
}
WRITES |= many_of(WRITES)
KEPT_NOWHERE = {"check-fit.create", "check-length.create", "free-time.create"} | {
    f"check-{one.address}.create" for one in QUESTIONS
}
# What follows from a write by itself is told beside it.
ALSO = {
    "claim.remake": ["claim.remake_ordered"],
    "install.finish": ["install.finished", "install.cured_at_known"],
    "job.move": ["job.moved"] * 3,  # ordered, received and booked already: it goes on by itself
    **{f"install{one}": ["loss.recorded"] for one in (".snag", ".sawn", "-record.update")},
}


IMAGES = {"photo.update": "image/jpeg", "signature.update": "image/png"}


def _only_held(world: World) -> dict[str, Any]:
    world.booking.state = "held"
    world.booking.held_until = timezone.now() + timedelta(hours=1)
    world.booking.save()
    return {}


def _long_ago(world: World) -> dict[str, Any]:
    world.booking.starts_at -= timedelta(days=900)
    world.booking.save()
    return {"why": "nobody opened"}


def _not_drawn(world: World) -> dict[str, Any]:
    Drawing.objects.update(state="failed")


def _day_plan_given_up(world: World) -> dict[str, Any]:
    DayPlan.objects.update(state="failed")
    return {}


def _movement(world: World) -> dict[str, Any]:
    item = world.keys["stock-item"]
    at = "2027-03-11T14:00:00Z"
    return {"crew": world.crew.slug, "item": item, "move": "loaded", "amount": 4, "taken_at": at}


def _given_up(world: World) -> dict[str, Any]:
    world.packet.state = "failed"
    world.packet.save()
    return {}


def _overtaken(world: World) -> dict[str, Any]:
    world.booking.starts_at -= timedelta(hours=1)
    world.booking.save()
    return {}


def _plan_given_up(world: World) -> dict[str, Any]:
    SawPlan.objects.update(state="failed")
    return {}


def _late(world: World) -> dict[str, Any]:
    world.booking.reminders.update(state="late")
    return {}


@pytest.fixture(scope="module")
def made(beneath: None) -> tuple[Caller, World]:
    crew = [MemberFactory(role="lead"), MemberFactory()]
    return CALLERS["office"](), make_world(CALLERS["measurer"](), crew)


@pytest.fixture
def world(db: None, made: tuple[Caller, World]) -> World:
    return made[1].again()


@pytest.fixture
def office(db: None, made: tuple[Caller, World]) -> Caller:
    return again(made[0])


def write(caller: Caller, world: World, route: str, body: Any) -> Any:
    method, of_row = routes()[route]
    if route in IMAGES:
        digest, data = body
        path = address(*route.split("."), digest)
        return caller.generic("PUT", path, data, content_type=IMAGES[route])
    if method == "put":
        return caller.put(address(*route.split("."), fresh_uuid()), body)
    if of_row:
        return getattr(caller, method)(world.path(route), body, seen="*")
    return getattr(caller, method)(world.path(route), body)


def test_every_write_of_the_router_is_tried_here() -> None:
    writes = {name for name, (method, _) in routes().items() if method != "get"}
    assert writes == set(WRITES) | KEPT_NOWHERE


@pytest.mark.parametrize("route", WRITES)
def test_a_write_leaves_exactly_one_notice(route: str, office: Caller, world: World) -> None:
    body = WRITES[route][0](world)
    last = Notice.objects.order_by("-pk").values_list("pk", flat=True)[0]
    answer = write(office, world, route, body)
    assert answer.status_code in {200, 201, 202}, answer.content
    notice, *also = Notice.objects.filter(pk__gt=last).order_by("pk")
    assert [one.type for one in also] == ALSO.get(route, [])
    assert notice.type == WRITES[route][1]
    assert notice.noun == notice.type.partition(".")[0]
    assert (notice.caller, notice.caller_name) == (office.member.caller().key, "Imke Thorsby")
    told = row_of(answer.json())
    by_another = {"survey", "verdict", "photo", "signature", "goods"}
    if notice.noun not in by_another and "amount" not in told and route != "claim.remake":
        assert notice.about == (told.get("install") or told.get("id") or told["slug"])


def test_history_is_read_newest_first_and_narrowed(office: Caller, world: World) -> None:
    told = office.get("/api/v1/history/").json()["results"]
    moments = [one["at"] for one in told]
    assert moments == sorted(moments, reverse=True)
    only = office.get("/api/v1/history/?noun=booking&type=booking.made").json()["results"]
    assert {one["about"] for one in only} == {world.booking.number}


def _written_by_hand(world: World) -> dict[str, Any]:
    """The list's only row is there by now, so that taking it over tells of nothing but itself."""
    CustomerFactory(name="Wren Halloway", email="wren@example.com", phone="")
    return {"mode": "all"}


def _list_given_up(world: World) -> dict[str, Any]:
    ListImport.objects.update(state="failed")
    return {}


def _delivered(world: World) -> dict[str, Any]:
    Delivery.objects.update(state="done")
    return {}

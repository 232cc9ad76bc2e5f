"""Does a list of fifty rows ask the database as often as a list of five?"""

from collections.abc import Callable
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from contractor.api.callers import SYSTEM
from contractor.api.expanding import expandable
from contractor.api.views import ListAndRead
from contractor.config.urls import router
from contractor.notices.services import notice_record
from fitcheck.kits.services import sheet_find, sheet_publish
from jobs.claims.services import claim_open
from jobs.drawings.services import drawing_ask
from jobs.drawings.shapes import ORDER
from jobs.packets.services import packet_ask
from jobs.reminders.models import Rule
from jobs.surveys.models import Refused
from jobs.verdicts.services import verdict_give
from tests.clients import Caller
from tests.factories import (
    ClosedDayFactory,
    CrewFactory,
    CustomerFactory,
    DayOffFactory,
    DeliveryFactory,
    EndpointFactory,
    JobFactory,
    KitFactory,
    MemberFactory,
    OpeningFactory,
    ReminderFactory,
    SiteFactory,
    feed_made,
    integration_made,
    list_received,
    saw_plan_asked,
    sheet_body,
    survey_body,
    tablet_made,
)
from tests.goods import InspectionFactory, LossFactory, OrderFactory, SaveFactory, WarrantyFactory
from tests.installs import (
    handover_made,
    install_made,
    item_made,
    mark_made,
    movement_made,
    record_made,
)
from tests.world import World, booked, plan_made, routes

FEW, MANY = 5, 50


def one_survey(world: World, office: Caller) -> None:
    opening = world.job.openings.get()
    body = survey_body(opening, None)
    body["readings"], body["zones"] = body["readings"][:1], []
    assert office.post("/api/v1/surveys/", body).status_code == 201


def one_claim(world: World) -> None:
    claim_open(by=SYSTEM, job=world.job, kind="damage", against="maker", summary="chipped")


def one_booking(world: World, day: int) -> None:
    booked(world.job, world.crew, day=day + 1)


MAKERS: dict[str, Callable[[World, Caller, int], Any]] = {
    "customer": lambda w, c, n: CustomerFactory(),
    "site": lambda w, c, n: SiteFactory(),
    "job": lambda w, c, n: OpeningFactory(job=JobFactory()),
    "opening": lambda w, c, n: OpeningFactory(kit=KitFactory()),
    "survey": lambda w, c, n: one_survey(w, c),
    "refused": lambda w, c, n: Refused.objects.create(
        opening="O-0001", code="id_taken", body={}, caller="tablet:1", caller_name="Hien"
    ),
    "verdict": lambda w, c, n: verdict_give(
        by=SYSTEM, opening=w.job.openings.get(), sheet=sheet_find(name=w.keys["kit"])
    ),
    "booking": lambda w, c, n: one_booking(w, n),
    "install": lambda w, c, n: install_made(booked(w.job, w.crew, day=n + 1)),
    "install-record": lambda w, c, n: record_made(w.booking.installs.get()),
    "mark": lambda w, c, n: mark_made(w.booking.installs.get()),
    "drawing": lambda w, c, n: drawing_ask(
        by=SYSTEM, opening=w.job.openings.get(), what="panels", order=ORDER
    ),
    "plan": lambda w, c, n: plan_made(w.booking),
    "handover": lambda w, c, n: handover_made(w.booking.installs.get()),
    "stock-item": lambda w, c, n: item_made(f"part-{n}"),
    "stock-movement": lambda w, c, n: movement_made(w.crew, item_made("screw")),
    "van-stock": lambda w, c, n: movement_made(w.crew, item_made(f"part-{n}")),
    "packet": lambda w, c, n: packet_ask(by=SYSTEM, job=w.job, booking=None, paper="a4"),
    "saw-plan": lambda w, c, n: saw_plan_asked(),
    "reminder": lambda w, c, n: ReminderFactory(),
    "reminder-rule": lambda w, c, n: Rule.objects.create(slug=f"rule-{n}", name="Rule"),
    "webhook": lambda w, c, n: EndpointFactory(),
    "delivery": lambda w, c, n: DeliveryFactory(),
    "import": lambda w, c, n: list_received(),
    "digest": lambda w, c, n: ReminderFactory(state="failed"),
    "order": lambda w, c, n: OrderFactory(),
    "arrival": lambda w, c, n: InspectionFactory(),
    "inspection": lambda w, c, n: InspectionFactory(),
    "claim": lambda w, c, n: one_claim(w),
    "deadline": lambda w, c, n: one_claim(w),
    "warranty": lambda w, c, n: WarrantyFactory(),
    "loss": lambda w, c, n: LossFactory(),
    "save": lambda w, c, n: SaveFactory(),
    "kit": lambda w, c, n: sheet_publish(by=SYSTEM, kit=KitFactory(), body=sheet_body()),
    "sheet": lambda w, c, n: sheet_publish(by=SYSTEM, kit=KitFactory(), body=sheet_body()),
    "member": lambda w, c, n: MemberFactory(),
    "crew": lambda w, c, n: CrewFactory(),
    "day-off": lambda w, c, n: DayOffFactory(),
    "closed-day": lambda w, c, n: ClosedDayFactory(),
    "calendar": lambda w, c, n: feed_made(w.crew),
    "tablet": lambda w, c, n: tablet_made(MemberFactory()),
    "integration": lambda w, c, n: integration_made(),
    "history": lambda w, c, n: notice_record(by=SYSTEM, type="crew.formed", about=str(n)),
    "change": lambda w, c, n: notice_record(by=SYSTEM, type="crew.formed", about=str(n)),
}


def test_every_list_of_the_router_is_counted_here() -> None:
    lists = {name.partition(".")[0] for name in routes() if name.endswith(".list")}
    assert lists == set(MAKERS)


def statements(caller: Caller, path: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        answer = caller.get(path)
    assert answer.status_code == 200, answer.content
    return len(asked)


def whole(noun: str, path: str) -> list[str]:
    """The same list with every related row given out whole."""
    view = next(one for _, one, name in router.registry if name == noun)
    if not issubclass(view, ListAndRead):
        return []
    names = expandable(view(action="list", request=None, kwargs={}).get_serializer_class()())
    return [f"{path}&expand={','.join(names)}"] if names else []


@pytest.mark.parametrize("noun", MAKERS)
def test_a_longer_list_asks_no_oftener(noun: str, callers: dict[str, Caller], world: World) -> None:
    if noun == "change" and connection.vendor == "postgresql":
        pytest.skip("the feed tells of committed writes only; within a test's transaction are none")
    office = callers["office"]
    path = world.path(f"{noun}.list") + "?limit=100"
    make = MAKERS[noun]
    for number in range(FEW):
        make(world, office, number)
    paths = [path, *whole(noun, path)]
    few = [statements(office, one) for one in paths]
    for number in range(FEW, MANY):
        make(world, office, number)
    rows = len(office.get(path).json()["results"])
    assert rows >= (MANY if noun != "change" else FEW)
    assert [statements(office, one) for one in paths] == few

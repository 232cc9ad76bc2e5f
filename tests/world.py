"""One row of everything, so that every address of the service can be tried."""

import copy
import hashlib
import io
import re
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

from django.core.files.base import ContentFile
from PIL import Image

from contractor.api.callers import SYSTEM
from contractor.config.urls import router
from contractor.notices.models import Notice
from contractor.people.models import Crew
from jobs.bookings.models import Booking
from jobs.bookings.services import booking_make
from jobs.claims.services import claim_open
from jobs.drawings.services import drawing_ask
from jobs.drawings.shapes import ORDER
from jobs.jobs.models import Job
from jobs.packets.models import Packet, State
from jobs.packets.services import packet_ask
from jobs.plans.models import DayPlan
from jobs.plans.services import plan_ask
from jobs.reminders.models import Rule
from jobs.sawplans.services import saw_plan_work
from jobs.surveys.models import Refused
from jobs.surveys.photos import photo_keep
from tests.clients import Caller
from tests.factories import (
    ClosedDayFactory,
    CrewFactory,
    DayOffFactory,
    DeliveryFactory,
    ReminderFactory,
    feed_made,
    integration_made,
    list_received,
    saw_plan_asked,
    survey_case,
    tablet_made,
)
from tests.goods import (
    ArrivalFactory,
    InspectionFactory,
    LineFactory,
    LossFactory,
    OrderFactory,
    SaveFactory,
    WarrantyFactory,
)
from tests.installs import install_keys

MORNING = datetime(2027, 3, 2, 14, tzinfo=UTC)


def booked(job: Job, crew: Crew, *, day: int = 0, visit: str = "install") -> Booking:
    """Book three hours of a crew, `day` days after the first of the tests' mornings."""
    start = MORNING + timedelta(days=day)
    span = {"starts_at": start, "ends_at": start + timedelta(hours=3)}
    return booking_make(by=SYSTEM, job=job, crew=crew, visit=visit, **span)


def plan_made(booking: Booking) -> DayPlan:
    """Propose to leave the day of a booking as it is."""
    zone = ZoneInfo(booking.job.site.time_zone)
    day = booking.starts_at.astimezone(zone).date()
    plan = plan_ask(by=SYSTEM, day=day, crews=[booking.crew])
    plan.state, plan.drive_before, plan.drive_after = "done", 0, 0
    plan.save()
    return plan


def jpeg(color: str = "teal") -> tuple[str, bytes]:
    """A small photo: its SHA-256 and its bytes."""
    stream = io.BytesIO()
    Image.new("RGB", (8, 6), color).save(stream, "JPEG")
    data = stream.getvalue()
    return hashlib.sha256(data).hexdigest(), data


@dataclass
class World:
    """A surveyed, booked and printed opening, and the address key of one row of each room."""

    crew: Crew
    job: Job
    booking: Booking
    packet: Packet
    survey: dict[str, Any]
    keys: dict[str, str] = field(default_factory=dict)

    def path(self, route: str) -> str:
        """The address of a route such as `booking.move`."""
        noun, _, action = route.partition(".")
        return address(noun, action, self.keys.get(noun, ""))

    def again(self) -> "World":
        """The same rows for another test, whose changes to them are its own."""
        crew, job, booking, packet = copy.deepcopy((self.crew, self.job, self.booking, self.packet))
        return World(crew, job, booking, packet, self.survey, dict(self.keys))


@cache
def routes() -> dict[str, tuple[str, bool]]:
    """Every route that the router serves: `noun.action` with its method and whether it is a row's."""
    found = {}
    for _, viewset, noun in router.registry:
        for route in router.get_routes(viewset):
            for method, action in router.get_method_map(viewset, route.mapping).items():
                if method in viewset.http_method_names:
                    found[f"{noun}.{action}"] = (method, route.detail)
    return found


@cache
def _patterns() -> dict[tuple[str, str], str]:
    """The pattern of each action's address, by noun and action."""
    return {
        (noun, action): route.url.replace("^{prefix}", prefix).replace("{trailing_slash}$", "/")
        for prefix, viewset, noun in router.registry
        for route in router.get_routes(viewset)
        for action in router.get_method_map(viewset, route.mapping).values()
    }


def address(noun: str, action: str, key: str) -> str:
    """Where a route of the router is served."""
    sheet = "elevation" if noun == "verdict" else "front"  # the name of one picture
    drawing = "{}" if key == "{}" else sheet
    inner = re.sub(r"\(\?P<name>[^)]*\)", drawing, _patterns()[noun, action])
    return "/api/v1/" + inner.replace("{lookup}", key)


def make_world(measurer: Caller, members: list[Any]) -> World:
    """Survey an opening that fits, book its install for a crew of `members`, ask for its packet."""
    case = survey_case("fits")
    answer = measurer.post("/api/v1/surveys/", case.body)
    assert answer.status_code == 201, answer.content
    crew = CrewFactory(slug="heron", members=members)
    job = case.opening.job
    booking = booked(job, crew)
    packet = packet_ask(by=SYSTEM, job=job, booking=booking, paper="letter")
    packet.state = State.DONE
    packet.file.save("paper.pdf", ContentFile(b"%PDF-1.7 invented"))
    world = World(crew, job, booking, packet, answer.json())
    world.keys = _keys(world, members[0]) | {
        "drawing": _drawn(case.opening),
        "opening": case.opening.number,
        "kit": case.kit.slug,
        "sheet": f"{case.kit.slug}:1",
        "survey": case.body["id"],
        "verdict": world.survey["verdict"]["id"],
    }
    return world


def _sawn() -> str:
    plan = saw_plan_asked()
    assert saw_plan_work(key=plan.pk)
    return plan.number


def _drawn(opening: Any) -> str:
    """Ask for a drawing of panels, already drawn; returns its number."""
    drawing = drawing_ask(by=SYSTEM, opening=opening, what="panels", order=ORDER)
    drawing.state = State.DONE
    drawing.file.save("panels.dxf", ContentFile(b"0\nEOF\n"))
    return drawing.number


def _keys(world: World, member: Any) -> dict[str, str]:
    digest, data = jpeg()
    photo_keep(by=SYSTEM, digest=digest, stream=io.BytesIO(data))
    refused = Refused.objects.create(
        opening="O-0001", code="id_taken", body={"id": "x"}, caller="tablet:1", caller_name="Hien"
    )
    notice = Notice.objects.order_by("pk").first()
    assert notice is not None
    return {
        "customer": world.job.site.customer.number,
        "site": world.job.site.number,
        "job": world.job.number,
        "booking": world.booking.number,
        **install_keys(world.booking),
        **goods_keys(world.job),
        "packet": world.packet.number,
        "plan": plan_made(world.booking).number,
        "plan_day": "2027-03-02",
        "reminder": ReminderFactory(job=world.job, booking=world.booking).number,
        "import": list_received().number,
        "export": "customers",
        "webhook": (delivery := DeliveryFactory()).endpoint.number,
        "delivery": delivery.number,
        "reminder-rule": Rule.objects.get(slug="follow_up").number,
        "refused": str(refused.pk),
        "photo": digest,
        "member": member.number,
        "crew": world.crew.slug,
        "calendar": feed_made(world.crew)[0].number,
        "day-off": DayOffFactory(member=member).number,
        "closed-day": ClosedDayFactory(state="proposed").number,
        "saw-plan": _sawn(),
        "tablet": tablet_made(member)[0].number,
        "integration": integration_made()[0].number,
        "history": str(notice.event),
    }


def goods_keys(job: Job) -> dict[str, str]:
    """Order goods, take one piece in, claim another, note a warranty and a loss."""
    opening = job.openings.get()
    order = OrderFactory(job=job)
    line = LineFactory(order=order, opening=opening)
    delivery = ArrivalFactory(order=order)
    inspection = InspectionFactory(delivery=delivery, line=line)
    claim = claim_open(
        by=SYSTEM, job=job, opening=opening, kind="damage", against="maker", summary="chipped"
    )
    deadline = claim.deadlines.first()
    assert deadline is not None
    return {
        "order": order.number,
        "arrival": str(delivery.pk),
        "inspection": str(inspection.pk),
        "claim": claim.number,
        "deadline": deadline.number,
        "warranty": WarrantyFactory(opening=opening).number,
        "loss": LossFactory(job=job).number,
        "save": SaveFactory(job=job).number,
    }

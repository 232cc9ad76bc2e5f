"""Invented people, places, openings, kits and surveys for tests; nothing here is real."""

import copy
import json
import uuid
from datetime import UTC, date, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import factory
from django.utils import timezone
from uuid_utils.compat import uuid7

from contractor.api.callers import OFFICE, SYSTEM, Caller
from contractor.customers.models import Customer, Site
from contractor.notices.models import Delivery, Endpoint
from contractor.notices.services import notice_record
from contractor.people.models import (
    ClosedDay,
    Crew,
    CrewMember,
    DayOff,
    Integration,
    Member,
    Tablet,
)
from contractor.people.tokens import token_make
from fitcheck.kits.models import Kit
from fitcheck.kits.services import sheet_publish
from jobs.calendars.models import CalendarFeed
from jobs.jobs.models import Job
from jobs.lists.models import ListImport
from jobs.lists.services import list_receive
from jobs.openings.models import Opening
from jobs.reminders.models import Reminder, Rule
from jobs.sawplans.models import SawPlan
from jobs.sawplans.services import saw_plan_ask
from jobs.sawplans.shapes import AskSawPlanSerializer

ROOT = Path(__file__).resolve().parents[1]
SCOPES = ("bookings", "crews", "changes", "jobs", "packets")
EVERY_SCOPE = [f"{noun}:read" for noun in SCOPES] + ["bookings:write"]


class MemberFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Member

    login = factory.Sequence(lambda n: f"member-{n}")
    name = factory.Sequence(lambda n: f"Odalys Fenwright {n}")
    role = "helper"
    email = factory.LazyAttribute(lambda one: f"{one.login}@example.com")
    phone = factory.Sequence(lambda n: f"+155555501{n % 100:02d}")


class CrewFactory(factory.django.DjangoModelFactory):
    """A crew of a lead and a helper, or of the `members` given, the first of whom leads."""

    class Meta:
        model = Crew
        skip_postgeneration_save = True

    slug = factory.Sequence(lambda n: f"crew-{n}")
    name = factory.LazyAttribute(lambda one: one.slug.title())

    @factory.post_generation
    def members(self: Any, create: bool, extracted: Any, **_: Any) -> None:
        people = extracted if extracted is not None else _pair()
        for index, member in enumerate(people):
            CrewMember.objects.create(crew=self, member=member, is_lead=index == 0)


def _pair() -> list[Member]:
    return [MemberFactory(role="lead"), MemberFactory(role="helper")]


class DayOffFactory(factory.django.DjangoModelFactory):
    """One day in June, far from the days of the tests' bookings."""

    class Meta:
        model = DayOff

    member = factory.SubFactory(MemberFactory)
    first_day = date(2027, 6, 1)
    last_day = date(2027, 6, 1)


class ClosedDayFactory(factory.django.DjangoModelFactory):
    """A day in July for each, in a region where no crew of the tests is unless told."""

    class Meta:
        model = ClosedDay

    region = "US-VT"
    day = factory.Sequence(lambda n: date(2027, 7, 1) + timedelta(days=n))
    name = factory.Sequence(lambda n: f"Invented day {n}")
    state = "kept"


class CustomerFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Customer

    name = factory.Sequence(lambda n: f"Bram Tolliver {n}")
    email = factory.Sequence(lambda n: f"customer-{n}@example.com")
    phone = "+15555550130"


class SiteFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Site

    customer = factory.SubFactory(CustomerFactory)
    street_address = factory.Sequence(lambda n: f"{n + 1} Quillback Row")
    address_locality = "Marrowgate"
    address_region = "IL"
    time_zone = "America/New_York"
    year_built = 1998
    passes = factory.LazyFunction(lambda: ["straight_in"])


class JobFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Job

    site = factory.SubFactory(SiteFactory)
    summary = factory.Sequence(lambda n: f"Slider in bathroom {n}")


class OpeningFactory(factory.django.DjangoModelFactory):
    """An alcove on a curb, as the fitting survey wants it."""

    class Meta:
        model = Opening

    job = factory.SubFactory(JobFactory)
    name = "Hall bathroom"
    enclosure = "alcove"
    stands_on = "curb"
    shower_head_side = "left"


class ReminderFactory(factory.django.DjangoModelFactory):
    """A follow-up of a job, far ahead."""

    class Meta:
        model = Reminder

    rule = factory.LazyFunction(lambda: Rule.objects.get(slug="follow_up"))
    job = factory.SubFactory(JobFactory)
    noun = "job"
    about = factory.LazyAttribute(lambda one: one.job.number)
    occasion = factory.Sequence(str)
    due_at = datetime(2027, 6, 1, 15, tzinfo=UTC)
    time_zone = "America/New_York"
    to = "bram@example.com"
    subject = "How is your new door?"
    text = "Please look."
    message_id = factory.Sequence(lambda n: f"<follow-up-{n}@example.com>")


def list_received(text: str = "name,email\nWren Halloway,wren@example.com\n") -> ListImport:
    """A list of one new customer that came in and was looked through."""
    office = Caller(OFFICE, "member:1", "Imke Thorsby", 1)
    return list_receive(by=office, kind="customers", name="new.csv", content=text.encode())


class EndpointFactory(factory.django.DjangoModelFactory):
    """A program that hears of everything."""

    class Meta:
        model = Endpoint

    name = factory.Sequence(lambda n: f"Planning board {n} (invented)")
    address = "https://hooks.example.com/in"
    secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw"


class DeliveryFactory(factory.django.DjangoModelFactory):
    """A notice on its way to a program."""

    class Meta:
        model = Delivery

    endpoint = factory.SubFactory(EndpointFactory)
    notice = factory.LazyFunction(
        lambda: notice_record(by=SYSTEM, type="crew.formed", about="heron")
    )
    next_try = datetime(2027, 6, 1, tzinfo=UTC)


class KitFactory(factory.django.DjangoModelFactory):
    """A kit without a sheet; `kit_published` makes one with the demo's sheets."""

    class Meta:
        model = Kit

    slug = factory.Sequence(lambda n: f"invented-kit-{n}")
    name = factory.LazyAttribute(lambda one: one.slug.title())
    maker = "Invented Wetrooms"
    invented = True


def tablet_made(holder: Member, **values: Any) -> tuple[Tablet, str]:
    """Issue a tablet; returns it and its token."""
    return _issued(Tablet, {"name": "Blue tablet", "holder": holder, **values})


def integration_made(**values: Any) -> tuple[Integration, str]:
    """Issue a program's token with every scope unless told otherwise."""
    return _issued(
        Integration, {"name": "Planning board (invented)", "scopes": EVERY_SCOPE, **values}
    )


def feed_made(crew: Crew, **values: Any) -> tuple[CalendarFeed, str]:
    """Issue a crew's calendar; returns it and its secret."""
    return _issued(CalendarFeed, {"name": "Visits", "crew": crew, **values})


def _issued(kind: Any, values: dict[str, Any]) -> tuple[Any, str]:
    token, handle, digest = token_make(kind)
    own = {"expires_at": timezone.now() + timedelta(days=30), "handle": handle, "digest": digest}
    return kind.objects.create(**{**own, **values}), token


@cache
def _sheets(slug: str) -> dict[str, Any]:
    path = ROOT / f"fitcheck/kits/demo/{slug}.json"
    loaded: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return loaded


def sheet_body(slug: str = "osquith-tillybeck", version: int = 1) -> dict[str, Any]:
    """A fresh copy of a demo sheet's body."""
    body: dict[str, Any] = copy.deepcopy(_sheets(slug)["sheets"][version - 1]["body"])
    return body


def kit_published(slug: str = "osquith-tillybeck") -> Kit:
    """A demo kit with all its sheets published; the same one when it is there already."""
    kit = Kit.objects.filter(slug=slug).first()
    if kit is None:
        kit = Kit.objects.create(**_sheets(slug)["kit"])
        for sheet in _sheets(slug)["sheets"]:
            sheet_publish(by=SYSTEM, kit=kit, body=copy.deepcopy(sheet["body"]))
    return kit


# Three rails and a sill profile of invented jobs, to be sawn from bars of twelve feet.
SAW_PLAN: dict[str, Any] = {
    "bar_length": "144 in",
    "bar_cost": "64.00",
    "pieces": [
        {"job": "J-9001", "part": "head rail", "length": "59 9/16 in", "count": 2},
        {"job": "J-9002", "part": "head rail", "length": "22 in"},
        {"job": "J-9002", "part": "threshold", "length": "1400 mm"},
    ],
}


def saw_plan_asked(**changes: Any) -> SawPlan:
    """A saw plan that waits for a worker."""
    ask = AskSawPlanSerializer(data=copy.deepcopy(SAW_PLAN) | changes)
    ask.is_valid(raise_exception=True)
    plan: SawPlan = saw_plan_ask(by=SYSTEM, **ask.validated_data)
    return plan


# Surveys of the demo's story by the state that their verdict has.
STORY = {"fits": "s-01", "tight": "s-05", "fails": "s-06", "unknown": "s-15"}


@cache
def _story() -> dict[str, Any]:
    path = ROOT / "contractor/config/demo/story.json"
    story = json.loads(path.read_text(encoding="utf-8"))
    return {one["ref"]: one for opening in story["openings"] for one in opening["surveys"]}


class Case(NamedTuple):
    """An opening, a kit, and the body of a survey whose verdict is known."""

    opening: Opening
    kit: Kit
    body: dict[str, Any]


def survey_body(
    opening: Opening, kit: Kit | str | None, *, like: str = "fits", **changes: Any
) -> dict[str, Any]:
    """A survey's body with new UUIDs; `like` is a state of STORY or a survey's ref in the story.

    The verdict is as STORY says for the kit and opening that `survey_case` makes.
    """
    told = _story()[STORY.get(like, like)]
    body: dict[str, Any] = {
        "id": str(uuid7()),
        "opening": opening.number,
        "taken_at": told["surveyed_at"],
        "readings": _renamed(told["inputs"]["readings"]),
        "zones": _renamed(told["inputs"]["zones"]),
    }
    if kit is not None:
        body["kit"] = kit if isinstance(kit, str) else kit.slug
    return {**body, **changes}


def survey_case(like: str = "fits", **opening: Any) -> Case:
    """Make the opening and the kit of a survey of the story, and its body."""
    told = _story()[STORY.get(like, like)]
    facts = dict(told["inputs"]["opening"])
    year_built = facts.pop("year_built")
    if "job" not in opening:
        facts["job__site__year_built"] = year_built
    row = OpeningFactory(**{**facts, **opening})
    kit = kit_published(told["kit"])
    kit_name = f"{kit.slug}:{told['kit_version']}"
    return Case(row, kit, survey_body(row, kit_name, like=like))


def _renamed(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [{**copy.deepcopy(one), "id": str(uuid7())} for one in rows]


def fresh_uuid() -> str:
    """A UUID that nobody has used."""
    return str(uuid.uuid4())

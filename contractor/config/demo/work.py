"""What the story's firm has to do: kits, customers, sites, jobs, openings, surveys and bookings."""

from datetime import date
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.config.demo.calendar import held_until, site_facts
from contractor.config.demo.story import moved_on, survey_id, visit_span
from contractor.customers.models import Customer, Site, Tongue
from contractor.customers.services import customer_create, site_create
from contractor.people.models import Member
from fitcheck.kits.models import Kit
from fitcheck.kits.services import kit_create, sheet_publish
from jobs.bookings.models import Booking, State, Visit
from jobs.bookings.services import booking_make, booking_no_show
from jobs.drawings.models import Drawing
from jobs.drawings.services import drawing_ask
from jobs.jobs.models import Job
from jobs.jobs.services import job_open
from jobs.openings.models import Opening
from jobs.openings.services import opening_add
from jobs.sawplans.models import SawPlan
from jobs.sawplans.services import saw_plan_ask
from jobs.surveys.body import body_read
from jobs.surveys.models import Survey
from jobs.surveys.services import survey_receive
from jobs.verdicts.models import Verdict

Rows = dict[str, Any]
ADDRESS = {
    "streetAddress": "street_address",
    "addressLocality": "address_locality",
    "addressRegion": "address_region",
    "postalCode": "postal_code",
    "addressCountry": "address_country",
}


def kit_tell(told: dict[str, Any]) -> Kit:
    """Find or add a kit, and publish the editions of its sheet that are not there yet."""
    kit = Kit.objects.filter(slug=told["kit"]["slug"]).first() or kit_create(
        by=SYSTEM, **told["kit"]
    )
    for sheet in told["sheets"]:
        if not kit.sheets.filter(number=sheet["version"]).exists():
            sheet_publish(by=SYSTEM, kit=kit, body=sheet["body"])
    return kit


def customer_tell(told: dict[str, Any], office: Member) -> Customer:
    """Find or add a customer, by mail address."""
    return Customer.objects.filter(email=told["email"]).first() or customer_create(
        by=office.caller(),
        name=told["name"],
        email=told["email"],
        phone=told["phone"],
        language=told["language"] if told["language"] in Tongue.values else Tongue.ENGLISH.value,
        notes=f"Invented {told['kind']}; language {told['language']}.",
    )


def site_tell(told: dict[str, Any], rows: Rows, office: Member) -> Site:
    """Find or add a site, by customer and street address."""
    customer, street = rows[told["customer"]], told["address"]["streetAddress"]
    found = Site.objects.filter(customer=customer, street_address=street).first()
    address = {column: told["address"][name] for name, column in ADDRESS.items()}
    return found or site_create(
        by=office.caller(),
        customer=customer,
        time_zone=told["time_zone"],
        access_notes=told["access_notes"],
        year_built=told["year_built"],
        **site_facts(told["ref"]),
        **address,
        **told["way_in"],
    )


def job_tell(told: dict[str, Any], rows: Rows, office: Member) -> Job:
    """Find or open a job, by site and summary."""
    about = {"site": rows[told["site"]], "summary": told["summary"]}
    return Job.objects.filter(**about).first() or job_open(by=office.caller(), **about)


def opening_tell(told: dict[str, Any], rows: Rows, office: Member) -> Opening:
    """Find or add an opening, by job and name; its kit is the one last asked about."""
    about = {"job": rows[told["job"]], "name": told["name"]}
    last = told["surveys"][-1] if told["surveys"] else None
    facts = last["inputs"]["opening"] if last else told["facts"]
    names = ("enclosure", "stands_on", "shower_head_side")
    return Opening.objects.filter(**about).first() or opening_add(
        by=office.caller(),
        kit=Kit.objects.get(slug=last["kit"]) if last else None,
        **about,
        **{name: facts[name] for name in names},
    )


def survey_tell(told: dict[str, Any], opening: Opening, earlier: str, first_day: date) -> Survey:
    """Find a survey by its id or let it come in, as a tablet of its author would send it."""
    found = Survey.objects.filter(pk=survey_id(told["ref"])).first()
    if found is not None:
        return found
    author = Member.objects.get(name=told["surveyed_by"])
    body = body_read(_body(told, opening, earlier, first_day), author.name)
    return survey_receive(by=author.caller(), body=body, opening=opening.pk, author=author).survey


def _body(told: dict[str, Any], opening: Opening, earlier: str, first_day: date) -> dict[str, Any]:
    zone, inputs = opening.job.site.time_zone, told["inputs"]
    return {
        "id": str(survey_id(told["ref"])),
        "opening": opening.number,
        "kit": f"{told['kit']}:{told['kit_version']}",
        "size": inputs["size"],
        "taken_at": moved_on(told["surveyed_at"], zone, first_day),
        "app": "invented story",
        "supersedes": str(survey_id(earlier)) if earlier else None,
        "readings": [
            {**one, "taken_at": moved_on(one["taken_at"], zone, first_day)}
            for one in inputs["readings"]
        ],
        "zones": inputs["zones"],
        "notes": told["because"],
    }


def booking_tell(told: dict[str, Any], rows: Rows, office: Member, first_day: date) -> Booking:
    """Find or make a booking, by job, kind and note, moved or cancelled or not."""
    job: Job = rows[told["job"]]
    about = {"job": job, "visit": told["visit"], "notes": told["note"]}
    made = Booking.objects.filter(**about).first() or _booked(told, rows, office, first_day)
    begun = made.starts_at <= timezone.now()
    if told.get("no_show") and made.state == State.BOOKED and begun:
        booking_no_show(by=office.caller(), booking=made, why=told["no_show"])
    return made


def _booked(told: dict[str, Any], rows: Rows, office: Member, first_day: date) -> Booking:
    job: Job = rows[told["job"]]
    start, end = visit_span(told, job.site.time_zone, first_day)
    override = told.get("override") or {"name": "", "reason": ""}
    return booking_make(
        by=office.caller(),
        held_until=held_until(told),
        job=job,
        crew=rows[told["crew"]],
        visit=told["visit"],
        starts_at=start,
        ends_at=end,
        override_name=override["name"],
        override_reason=override["reason"],
        notes=told["note"],
    )


def saw_plan_tell(office: Member, first_day: date) -> SawPlan | None:
    """Ask once for the saw plan of the first week from the first day on that has an install."""
    if SawPlan.objects.exists():
        return None
    installs = Booking.objects.filter(visit=Visit.INSTALL, state=State.BOOKED)
    first = installs.filter(starts_at__date__gte=first_day).order_by("starts_at", "pk").first()
    if first is None:
        return None
    here = first.starts_at.astimezone(ZoneInfo(first.job.site.time_zone)).date()
    return saw_plan_ask(by=office.caller(), week=here, bar_length="144 in", bar_cost=Decimal(64))


def drawing_tell(office: Member) -> Drawing | None:
    """Ask once for the glass that a verdict cuts; its draft waits for a second person's signature."""
    cut = Verdict.objects.filter(sheet__body__has_key="made_glass").order_by("pk").first()
    if cut is None or Drawing.objects.exists():
        return None
    return drawing_ask(by=office.caller(), opening=cut.opening, what="panels", verdict=cut)

"""What is a notice about, in the words that a rule needs? The job, the visit, its dates."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, time
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from contractor.api.numbered import key_of
from contractor.notices.models import Notice
from contractor.people.models import Member
from jobs.bookings.models import Booking
from jobs.installs.models import Install
from jobs.jobs.models import Job
from jobs.losses.models import CostState, Loss
from jobs.openings.models import Opening
from jobs.reminders.choices import From
from jobs.reminders.claims import claim_of, next_deadline
from jobs.reminders.goods import goods_here, order_of
from jobs.reminders.moments import at_clock
from jobs.reminders.words import VISITS, day_words, shower_words, span_words
from jobs.surveys.models import Survey
from jobs.verdicts.services import verdict_outdated, verdict_standing


@dataclass(slots=True)
class Subject:
    """One row that rules may speak of."""

    about: str
    job: Job
    booking: Booking | None = None
    dates: dict[str, datetime] = field(default_factory=dict)
    openings: tuple[int, ...] = ()
    opening: str = ""
    says: str = ""

    @property
    def zone(self) -> str:
        """The site's time zone."""
        return self.job.site.time_zone

    def words(self, language: str) -> dict[str, str]:
        """Give the words for a text, in a language."""
        customer, site, booking = self.job.site.customer, self.job.site, self.booking
        told = {
            "about": self.about,
            "customer": customer.name,
            "customer_phone": customer.phone,
            "job": self.job.number,
            "summary": self.job.summary,
            "opening": self.opening or self.job.summary,
            "says": self.says or self.job.summary,
            "site": str(site),
            "firm": settings.FIRM["name"],
            "phone": settings.FIRM["phone"],
            "first_shower": shower_words(self.dates.get(From.CURE_END), self.zone, language),
        }
        for word, date in (("deadline", From.CLAIM_DEADLINE), ("promised", From.GOODS_PROMISED)):
            if date in self.dates:
                told[word] = day_words(self.dates[date], self.zone, language)
        if booking is not None:
            told["visit"] = VISITS[language].get(booking.visit, booking.visit)
            told["when"] = span_words(booking.starts_at, booking.ends_at, self.zone, language)
        return told

    def measurer(self) -> Member | None:
        """Find who measured last."""
        surveys = Survey.objects.filter(opening__job=self.job).select_related("measured_by")
        if self.openings:
            surveys = surveys.filter(opening__in=self.openings)
        last = surveys.order_by("-received_at").first()
        return last.measured_by if last else None

    def lead(self) -> Member | None:
        """Find who leads the crew of the visit."""
        if self.booking is None:
            return None
        place = self.booking.crew.places.filter(is_lead=True).select_related("member").first()
        return place.member if place else None


def subject_heard(notice: Notice) -> Subject | None:
    """Find what a notice is about; None when the row is gone or rules do not speak of its kind."""
    subject = subject_of(notice.noun, notice.about)
    if subject is not None:
        subject.dates[From.NOTICE] = notice.at
        if _outrun(subject):
            subject.dates[From.OUTDATED] = notice.at
    return subject


def subject_of(noun: str, about: str) -> Subject | None:
    """Find a row by its kind and what it is called."""
    reader = READERS.get(noun)
    try:
        return reader(about) if reader else None
    except (ValueError, LookupError):
        return None


def _outrun(subject: Subject) -> bool:
    """Tell whether an opening that this is about was read or described anew after its verdict."""
    for opening in Opening.objects.filter(pk__in=subject.openings).select_related("kit"):
        verdict = verdict_standing(opening=opening)
        if verdict is not None and verdict_outdated(verdict=verdict):
            return True
    return False


def _of_booking(about: str) -> Subject | None:
    rows = Booking.objects.select_related("job__site__customer", "crew")
    booking = rows.filter(pk=key_of(about, "B")).first()
    return subject_of_booking(booking) if booking else None


def subject_of_booking(booking: Booking) -> Subject:
    """Speak of a visit."""
    dates = {From.VISIT_START: booking.starts_at, From.VISIT_END: booking.ends_at}
    return Subject(booking.number, booking.job, booking, {str(k): v for k, v in dates.items()})


def _of_job(about: str) -> Subject | None:
    job = Job.objects.select_related("site__customer").filter(pk=key_of(about, "J")).first()
    return Subject(about, job) if job else None


def _of_opening(about: str) -> Subject | None:
    rows = Opening.objects.select_related("job__site__customer")
    opening = rows.filter(pk=key_of(about, "O")).first()
    return Subject(about, opening.job, openings=(opening.pk,)) if opening else None


def _of_install(about: str) -> Subject | None:
    rows = Install.objects.select_related("booking__job__site__customer", "booking__crew")
    install = rows.filter(pk=UUID(about)).select_related("opening").first()
    if install is None:
        return None
    subject = subject_of_booking(install.booking)
    subject.about, subject.opening = about, install.opening.name
    if install.earliest_use is not None:
        subject.dates[From.CURE_END] = install.earliest_use
    return subject


def _of_order(about: str) -> Subject | None:
    order = order_of(about)
    if order is None:
        return None
    subject = Subject(about, order.job)
    if order.expected_on is not None and not goods_here(order):
        zone = ZoneInfo(subject.zone)
        subject.dates[From.GOODS_PROMISED] = at_clock(order.expected_on, time(12), zone)
    return subject


def _of_claim(about: str) -> Subject | None:
    claim = claim_of(about)
    if claim is None:
        return None
    subject = Subject(claim.number, claim.job)
    day = next_deadline(claim)
    if day is not None:
        zone = ZoneInfo(subject.zone)
        subject.dates[From.CLAIM_DEADLINE] = at_clock(day, time(12), zone)
    return subject


def _of_loss(about: str) -> Subject | None:
    rows = Loss.objects.select_related("job__site__customer")
    loss = rows.filter(pk=key_of(about, Loss.LETTER)).first()
    if loss is None:
        return None
    subject = Subject(about, loss.job, says=loss.says)
    if loss.cost_state == CostState.MISSING:
        zone = ZoneInfo(subject.zone)
        subject.dates[From.COST_MISSING] = at_clock(loss.happened_on, time(12), zone)
    return subject


READERS: dict[str, Callable[[str], Any]] = {
    "booking": _of_booking,
    "job": _of_job,
    "opening": _of_opening,
    "install": _of_install,
    "handover": _of_install,
    "order": _of_order,
    "goods": _of_order,
    "claim": _of_claim,
    "deadline": _of_claim,
    "loss": _of_loss,
    "survey": _of_opening,
    "verdict": _of_opening,
}

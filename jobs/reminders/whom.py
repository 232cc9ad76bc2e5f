"""To whom does a message go, by which channel, in which language?"""

from dataclasses import dataclass

from django.conf import settings

from contractor.customers.models import Customer, Reach
from contractor.people.models import Member
from jobs.reminders.choices import Channel, Whom
from jobs.reminders.models import Rule
from jobs.reminders.subjects import Subject


@dataclass(frozen=True, slots=True)
class Recipient:
    """An address and how it is reached; `instead` says why it is not who was meant."""

    channel: str
    to: str
    language: str = "en"
    instead: str = ""


def recipient_of(rule: Rule, subject: Subject) -> Recipient | None:
    """Find who is told; None when it is a customer who wants no messages.

    Whoever cannot be reached is told of to the office, so that somebody calls.
    """
    if rule.whom == Whom.CUSTOMER:
        return _customer(rule, subject.job.site.customer)
    if rule.whom == Whom.CREW_LEAD:
        return _member(rule, subject.lead(), "the crew has no lead with a mail address")
    if rule.whom == Whom.MEASURER:
        return _member(rule, subject.measurer(), "whoever measured has no mail address")
    return _office()


def _customer(rule: Rule, customer: Customer) -> Recipient | None:
    if customer.preferred_channel == Reach.NONE:
        return None
    wanted = customer.preferred_channel if rule.channel == Channel.PREFERRED else rule.channel
    if wanted == Channel.TEXT and settings.MESSAGE_CHANNELS.get("text") and customer.phone:
        return Recipient(Channel.TEXT.value, customer.phone, customer.language)
    if wanted == Channel.LOG:
        return Recipient(Channel.LOG.value, customer.number, customer.language)
    if customer.email:
        return Recipient(Channel.EMAIL.value, customer.email, customer.language)
    phone = customer.phone or "no telephone number either"
    return _office(f"{customer.name} has no mail address; please call ({phone}) and say")


def _member(rule: Rule, member: Member | None, missing: str) -> Recipient:
    if member is None or not member.is_active or not member.email:
        return _office(f"This could not go to whom it was meant for ({missing})")
    if rule.channel == Channel.LOG:
        return Recipient(Channel.LOG.value, member.number)
    return Recipient(Channel.EMAIL.value, member.email)


def _office(instead: str = "") -> Recipient:
    return Recipient(Channel.EMAIL.value, settings.FIRM["email"], instead=instead)

"""What does the story's office do about messages and lists? Its own rule, one put off, a list sent in."""

from datetime import date, timedelta
from pathlib import Path

from contractor.notices.hooks import endpoint_add
from contractor.notices.models import Endpoint
from contractor.people.models import Member
from jobs.lists.models import ListImport
from jobs.lists.services import list_receive
from jobs.reminders.hearing import BATCH, notices_hear
from jobs.reminders.models import Reminder, Rule
from jobs.reminders.rules import rule_create
from jobs.reminders.services import reminder_snooze

HOOK = "https://hooks.example.com/glazing"
LIST = Path(__file__).parent / "customers-to-import.csv"
AWAY = "The customer is away till then (invented)."
OWN_RULE = {
    "slug": "after_survey",
    "name": "What happens after the survey",
    "hears": ["booking.made", "booking.moved"],
    "visits": ["survey"],
    "counts_from": "visit_end",
    "offset_days": 1,
    "at": "09:00",
    "unless": ["booking.cancelled", "booking.no_show"],
    "subject": "What happens next with {job}",
    "text": "Dear {customer},\n\nwe have read your opening and are choosing the kit for {summary}. "
    "You hear from us within the week.\n\n{firm}, {phone}\n",
    "subject_es": "Qué sigue con {job}",
    "text_es": "Estimado/a {customer}:\n\nhemos medido y estamos eligiendo el juego para {summary}. "
    "Le avisamos esta semana.\n\n{firm}, {phone}\n",
}


def rule_tell(office: Member) -> Rule:
    """Find or add the firm's own rule; it comes before the bookings that it hears of."""
    found = Rule.objects.filter(slug=OWN_RULE["slug"]).first()
    return found or rule_create(by=office.caller(), **OWN_RULE)


def messages_tell(office: Member, first_day: date) -> None:
    """Let the rules hear what the story told, put one message off, send one list in."""
    while notices_hear() == BATCH:
        pass
    waiting = Reminder.objects.filter(rule__slug="follow_up")
    row = waiting.filter(state="due").order_by("pk").first()
    if row is not None and not waiting.exclude(state="due").exists():
        until = max(first_day, row.due_at.date()) + timedelta(days=12)
        reminder_snooze(by=office.caller(), reminder=row, until=until, why=AWAY)
    if not Endpoint.objects.exists():  # turned off: there is nobody at an invented address
        board = {"name": "Planning board (invented)", "types": ["booking.made", "booking.moved"]}
        endpoint_add(by=office.caller(), address=HOOK, is_on=False, **board)
    if not ListImport.objects.exists():
        list_receive(
            by=office.caller(), kind="customers", name=LIST.name, content=LIST.read_bytes()
        )

"""What can the office do about messages and rules, and what does the morning's digest tell it?"""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.core import mail
from django.utils import timezone

from contractor.notices.models import Notice
from jobs.reminders.digest_mail import digests_plan
from jobs.reminders.hearing import notices_hear
from jobs.reminders.models import Reminder, Rule
from jobs.reminders.sending import reminder_send
from jobs.reminders.tasks import sweep
from tests.clients import Caller, assert_problem
from tests.factories import MemberFactory, ReminderFactory

ROOM, RULES, TODAY = "/api/v1/reminders/", "/api/v1/reminder-rules/", "/api/v1/digest/"
MONDAY = datetime(2027, 3, 1, 13, tzinfo=UTC)  # seven in the morning where the firm sits


def act(office: Caller, row: Reminder, what: str, body: Any = None) -> Any:
    return office.post(f"{ROOM}{row.number}/{what}/", body, seen="*")


def test_a_late_message_is_sent_after_all_by_day(office: Caller, booked: Any) -> None:
    booked(days=-30, email="bram@example.com")
    sweep()
    (row,) = office.get(ROOM, {"state": "late"}).data["results"]
    answer = office.post(f"{row['url']}again/", seen=row["version"])
    assert (answer.status_code, answer.data["state"]) == (200, "due")
    assert sweep() == 1
    assert mail.outbox[0].extra_headers["Message-ID"] == row["message_id"]


def test_a_message_is_put_off_to_a_morning_of_the_site(office: Caller, settings: Any) -> None:
    settings.QUIET_UNTIL = "08:00"
    row = ReminderFactory()
    answer = act(office, row, "snooze", {"until": "2027-07-05", "why": "on holiday"})
    assert (answer.data["state"], answer.data["trouble"]) == ("snoozed", "on holiday")
    assert answer.data["local"] == "Mon 5 Jul 2027, 08:00 (America/New_York)"
    row.refresh_from_db()
    assert reminder_send(key=row.pk, now=row.due_at - timedelta(seconds=1)) is False
    assert reminder_send(key=row.pk, now=row.due_at + timedelta(hours=1)) is True


def test_a_message_cannot_be_put_off_into_the_past(office: Caller) -> None:
    answer = act(office, ReminderFactory(), "snooze", {"until": "2020-01-01"})
    assert_problem(answer, 400, "not_ahead", "/until")


@pytest.mark.parametrize("what", ["snooze", "cancel", "again"])
def test_what_is_sent_is_settled(office: Caller, what: str) -> None:
    body = {"snooze": {"until": "2027-07-01"}, "cancel": {"why": "no"}}.get(what)
    answer = act(office, ReminderFactory(state="sent"), what, body)
    assert_problem(answer, 409, "reminder_settled")


def test_what_was_done_to_a_message_is_in_its_history(office: Caller) -> None:
    row = ReminderFactory()
    act(office, row, "snooze", {"until": "2027-07-05", "why": "on holiday"})
    act(office, row, "cancel", {"why": "called instead"})
    told = office.get(f"/api/v1/history/?about={row.number}").data["results"]
    assert [one["type"] for one in told] == ["reminder.cancelled", "reminder.snoozed"]
    assert told[0]["changes"]["state"] == ["snoozed", "cancelled"]


def test_a_rule_is_changed_with_its_history_and_messages_say_by_which(
    office: Caller, booked: Any
) -> None:
    rule = Rule.objects.get(slug="follow_up")
    path = f"{RULES}{rule.number}/"
    assert office.patch(path, {"offset_days": 30}, seen=rule.version).status_code == 200
    booking = booked(days=3)
    notices_hear()
    row = Reminder.objects.get(rule=rule)
    assert (row.due_at, row.rule_version) == (booking.ends_at + timedelta(days=30), 2)
    assert "30 days ago" in row.text
    notice = Notice.objects.get(type="reminder_rule.changed")
    assert notice.changes == {"offset_days": [14, 30]}


def test_a_rule_of_the_offices_own_is_heard(office: Caller, booked: Any) -> None:
    own = {
        "slug": "parking",
        "name": "Parking",
        "hears": ["booking.made"],
        "whom": "office",
        "subject": "Parking for {job}?",
        "text": "Ask {customer} where the van may stand.",
    }
    assert office.post(RULES, own).status_code == 201
    booking = booked()
    notices_hear()
    row = Reminder.objects.get(rule__slug="parking")
    assert row.subject == f"Parking for {booking.job.number}?"


@pytest.mark.parametrize(
    ("change", "code", "pointer"),
    [
        ({"text": "Dear {custmer}"}, "unknown_word", "/text"),
        ({"text": "Dear {customer"}, "unknown_word", "/text"),
        ({"text": "{customer.pk}"}, "unknown_word", "/text"),
        ({"at": "9"}, "clock_time", "/at"),
        ({"at": "25:00"}, "clock_time", "/at"),
        ({"hears": []}, "hears_nothing", "/hears"),
        ({"hears": ["booking.mad"]}, "invalid_choice", "/hears/0"),
        ({"offset_days": 9999}, "max_value", "/offset_days"),
    ],
)
def test_a_rule_that_could_not_work_is_refused(
    office: Caller, change: dict[str, Any], code: str, pointer: str
) -> None:
    rule = Rule.objects.get(slug="follow_up")
    body = office.patch(f"{RULES}{rule.number}/", change, seen="*")
    assert_problem(body, 400, code, pointer)


def test_each_in_the_office_gets_one_digest_a_day(office: Caller, settings: Any) -> None:
    other = MemberFactory(role="office", email="other@example.com")
    MemberFactory(role="office", email="gone@example.com", is_active=False)
    assert digests_plan(now=MONDAY - timedelta(hours=2)) == 0
    assert digests_plan(now=MONDAY) == 2
    assert digests_plan(now=MONDAY) == 0
    ReminderFactory(state="late", due_at=MONDAY - timedelta(days=9))
    for row in Reminder.objects.filter(rule__slug="digest"):
        assert reminder_send(key=row.pk, now=MONDAY) is True
    assert sorted(one.to[0] for one in mail.outbox) == ["imke@example.com", other.email]
    assert "MESSAGES LATE\n- Follow-up after the install: 1, the oldest" in mail.outbox[0].body
    assert max(map(len, mail.outbox[0].body.splitlines())) < 200


def test_no_digest_on_a_day_of_rest_and_none_after_its_day(office: Caller) -> None:
    assert digests_plan(now=MONDAY - timedelta(days=1)) == 0
    digests_plan(now=MONDAY)
    row = Reminder.objects.get(rule__slug="digest")
    assert reminder_send(key=row.pk, now=MONDAY + timedelta(days=1)) is False
    row.refresh_from_db()
    assert row.state == "cancelled"


def test_who_does_not_want_the_digest_gets_none(office: Caller) -> None:
    assert office.get(TODAY).data["by_mail"] is True
    assert office.post(TODAY, {"wants": False}).status_code == 201
    assert office.get(TODAY).data["by_mail"] is False
    assert digests_plan(now=MONDAY) == 0


def test_the_page_tells_of_today_and_of_trouble(office: Caller, booked: Any, settings: Any) -> None:
    settings.FIRM_TIME_ZONE = "UTC"
    booking = booked(days=0)
    booking.starts_at = timezone.now()
    booking.ends_at = timezone.now() + timedelta(hours=1)
    booking.save()
    failed = ReminderFactory(state="failed", trouble="no such mailbox")
    told = office.get(TODAY).data
    by_section = {one["section"]: one for one in told["results"]}
    assert by_section["Visits today"]["about"] == booking.number
    assert by_section["Messages in trouble"]["about"] == failed.number
    assert "no such mailbox" in told["text"]
    assert told["headline"] == "visits today: 1; messages in trouble: 1"


def test_a_hold_that_runs_out_within_a_day_is_told(office: Caller, booked: Any) -> None:
    now = timezone.now()
    for hours in (2, 30):
        one = booked(days=9)
        one.state, one.held_until = "held", now + timedelta(hours=hours)
        one.save()
    told = [one for one in office.get(TODAY).data["results"] if one["section"].startswith("Holds")]
    assert len(told) == 1
    assert told[0]["text"].startswith("held until ")


def test_a_long_section_says_how_much_it_leaves_out(office: Caller) -> None:
    for _ in range(3):
        ReminderFactory(state="failed")
    told = office.get(TODAY, {"limit": 2}).data["results"]
    assert [one["text"] for one in told][-1] == "and 1 more"
    assert_problem(office.get(TODAY, {"limit": 0}), 400, "limit_out_of_range", "/limit")

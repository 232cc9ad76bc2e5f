"""Is a reminder sent once, however many sweep, and tried again when the mail does not go?"""

from datetime import timedelta
from typing import Any

import pytest
from django.core import mail
from django.utils import timezone

from jobs.reminders import services
from jobs.reminders.models import Reminder
from jobs.reminders.services import LEASE, REST, reminder_send, reminders_due
from jobs.reminders.tasks import sweep
from tests.clients import Caller
from tests.threads import in_parallel


class Away(Exception):
    """A mail server that does not answer."""


@pytest.fixture
def no_mail(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    def away(reminder: Reminder) -> None:
        raise Away("the mail server is away")

    monkeypatch.setattr(services, "_mail", away)
    return monkeypatch


def test_a_reminder_due_while_nobody_swept_is_sent_once(due: Reminder) -> None:
    assert [sweep(), sweep()] == [1, 0]
    (message,) = mail.outbox
    assert message.to == [due.to]
    assert message.extra_headers["Message-ID"] == due.message_id
    due.refresh_from_db()
    assert (due.state, due.attempts, due.lease_until) == ("sent", 1, None)
    assert due.sent_at is not None


def test_a_reminder_is_not_sent_before_its_time(booked: Any) -> None:
    booked(days=3)
    reminder = Reminder.objects.get()
    early = reminder.due_at - timedelta(seconds=1)
    assert reminders_due(now=early) == []
    assert reminder_send(key=reminder.pk, now=early) is False
    assert mail.outbox == []
    assert reminder_send(key=reminder.pk, now=reminder.due_at) is True


@pytest.mark.django_db(transaction=True)
def test_four_sweeps_at_once_send_each_reminder_once(booked: Any) -> None:
    for _ in range(3):
        booked(days=-20)
    sent = in_parallel(4, lambda n: sweep())
    assert sum(sent) == 3
    assert len({one.extra_headers["Message-ID"] for one in mail.outbox}) == 3
    assert len(mail.outbox) == 3


@pytest.mark.django_db(transaction=True)
def test_two_threads_with_one_reminder_send_it_once(due: Reminder) -> None:
    assert sorted(in_parallel(2, lambda n: reminder_send(key=due.pk))) == [False, True]
    assert len(mail.outbox) == 1


def test_a_mail_that_does_not_go_rests_and_is_tried_again(due: Reminder, no_mail: Any) -> None:
    now = timezone.now()
    assert reminder_send(key=due.pk, now=now) is False
    due.refresh_from_db()
    assert (due.state, due.attempts, due.trouble) == ("waiting", 1, "the mail server is away")
    assert reminders_due(now=now + REST / 2) == []
    assert reminder_send(key=due.pk, now=now + REST / 2) is False
    no_mail.undo()
    later = now + REST + timedelta(seconds=1)
    assert reminders_due(now=later) == [due.pk]
    assert reminder_send(key=due.pk, now=later) is True
    assert len(mail.outbox) == 1


def test_after_three_tries_it_is_given_up_where_the_office_sees_it(
    office: Caller, due: Reminder, no_mail: Any
) -> None:
    now = timezone.now()
    for _ in range(4):
        assert reminder_send(key=due.pk, now=now) is False
        now += timedelta(days=1)
    (row,) = office.get("/api/v1/reminders/", {"state": "failed"}).data["results"]
    assert (row["id"], row["attempts"], row["trouble"]) == (due.pk, 3, "the mail server is away")
    assert reminders_due(now=now) == []


def test_a_reminder_whose_worker_died_is_sent_under_the_same_message_id(due: Reminder) -> None:
    now = timezone.now()
    assert services._claim(due.pk, now)
    assert reminder_send(key=due.pk, now=now + LEASE / 2) is False
    assert reminder_send(key=due.pk, now=now + LEASE + timedelta(seconds=1)) is True
    assert mail.outbox[0].extra_headers["Message-ID"] == due.message_id


def test_a_slow_worker_takes_nothing_back_from_the_one_that_followed(
    due: Reminder, no_mail: Any
) -> None:
    """Its mail fails after its lease ran out; the other has the row and keeps it."""
    now = timezone.now()
    services._claim(due.pk, now)
    slow = Reminder.objects.get(pk=due.pk)
    later = now + LEASE + timedelta(seconds=1)
    assert services._claim(due.pk, later)
    services._put_back(slow, Away("late"), later)
    due.refresh_from_db()
    assert (due.state, due.attempts, due.trouble) == ("sending", 2, "")


def test_a_booking_cancelled_while_its_mail_is_tried_is_not_tried_again(
    office: Caller, due: Reminder, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cancel_meanwhile(reminder: Reminder) -> None:
        path = f"/api/v1/bookings/{due.booking.number}/cancel/"
        assert office.post(path, {"why": "Away."}, seen=1).status_code == 200
        raise Away("the mail server is away")

    monkeypatch.setattr(services, "_mail", cancel_meanwhile)
    assert reminder_send(key=due.pk) is False
    due.refresh_from_db()
    assert due.state == "cancelled"
    assert reminders_due(now=timezone.now() + timedelta(days=9)) == []


def test_one_reminder_that_fails_holds_up_no_other(
    booked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("bad", "good"):
        booked(days=-20, email=f"{name}@example.com")
    own = services._mail

    def choosy(reminder: Reminder) -> None:
        if reminder.to.startswith("bad"):
            raise Away("no such mailbox")
        own(reminder)

    monkeypatch.setattr(services, "_mail", choosy)
    assert sweep() == 1
    assert [one.to for one in mail.outbox] == [["good@example.com"]]

"""Is a message sent once, however many sweep, and what becomes of it when it cannot be?"""

import smtplib
from datetime import timedelta
from time import monotonic
from typing import Any

import pytest
from django.core import mail
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from contractor.notices.services import notice_record
from jobs.reminders import channels, sending
from jobs.reminders.models import Reminder
from jobs.reminders.sending import LEASE, REST, reminder_send, reminders_due
from jobs.reminders.tasks import sweep
from tests.jobs.reminders.conftest import follow_up
from tests.threads import in_parallel


class Away(Exception):
    """A mail server that does not answer."""


@pytest.fixture
def no_mail(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    def away(**message: Any) -> None:
        raise Away("the mail server is away")

    monkeypatch.setattr(channels, "email", away)
    return monkeypatch


def test_a_message_due_while_nobody_swept_is_sent_once(due: Reminder) -> None:
    assert [sweep(), sweep()] == [1, 0]
    (message,) = mail.outbox
    assert message.to == [due.to]
    assert message.extra_headers["Message-ID"] == due.message_id
    due.refresh_from_db()
    assert (due.state, due.attempts, due.lease_until) == ("sent", 1, None)
    assert due.sent_at is not None
    assert Notice.objects.filter(type="reminder.sent", about=due.number).count() == 1


def test_a_message_is_not_sent_before_its_time(booked: Any) -> None:
    booked(days=3, preferred_channel="email")
    sweep()
    row = follow_up()
    early = row.due_at - timedelta(seconds=1)
    assert row.pk not in reminders_due(now=early)
    assert reminder_send(key=row.pk, now=early) is False
    assert mail.outbox == []
    assert reminder_send(key=row.pk, now=row.due_at) is True


@pytest.mark.django_db(transaction=True)
def test_four_sweeps_at_once_plan_and_send_each_message_once(booked: Any) -> None:
    """Each thread is a scheduler and a worker: it hears and it sends."""
    for _ in range(3):
        booked(days=-14 - 1 / 24)
    sent: list[int] = []
    until = monotonic() + 30
    while sum(sent) < 3 and monotonic() < until:  # the feed waits for what other processes write
        sent += in_parallel(4, lambda n: sweep())
    assert sum(sent) == 3
    assert Reminder.objects.filter(rule__slug="follow_up").count() == 3
    assert len({one.extra_headers["Message-ID"] for one in mail.outbox}) == 3
    assert len(mail.outbox) == 3


def test_a_mail_that_does_not_go_rests_and_is_tried_again(due: Reminder, no_mail: Any) -> None:
    now = timezone.now()
    assert reminder_send(key=due.pk, now=now) is False
    due.refresh_from_db()
    assert (due.state, due.attempts, due.trouble) == ("due", 1, "the mail server is away")
    assert due.handed_at is None
    assert reminders_due(now=now + REST / 2) == []
    assert reminder_send(key=due.pk, now=now + REST / 2) is False
    no_mail.undo()
    later = now + REST + timedelta(seconds=1)
    assert reminders_due(now=later) == [due.pk]
    assert reminder_send(key=due.pk, now=later) is True
    assert len(mail.outbox) == 1


def test_after_three_tries_it_is_given_up_with_the_reason(due: Reminder, no_mail: Any) -> None:
    now = timezone.now()
    for _ in range(4):
        assert reminder_send(key=due.pk, now=now) is False
        now += timedelta(days=1)
    due.refresh_from_db()
    assert (due.state, due.attempts, due.trouble) == ("failed", 3, "the mail server is away")
    assert reminders_due(now=now) == []


def test_a_worker_that_died_before_handing_over_costs_only_its_lease(due: Reminder) -> None:
    now = timezone.now()
    assert sending._claim(due.pk, now)
    assert reminder_send(key=due.pk, now=now + LEASE / 2) is False
    assert reminder_send(key=due.pk, now=now + LEASE + timedelta(seconds=1)) is True
    assert mail.outbox[0].extra_headers["Message-ID"] == due.message_id


def test_a_worker_that_died_while_handing_over_leaves_a_doubt_and_no_second_mail(
    due: Reminder, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The mail went out and the worker was killed before it could say so."""

    class Killed(BaseException):
        pass

    own = channels.email

    def killed_after(**message: Any) -> None:
        own(**message)
        raise Killed

    now = timezone.now()
    monkeypatch.setattr(channels, "email", killed_after)
    with pytest.raises(Killed):
        reminder_send(key=due.pk, now=now)
    monkeypatch.undo()
    later = now + LEASE + timedelta(seconds=1)
    assert reminder_send(key=due.pk, now=later) is False
    due.refresh_from_db()
    assert (due.state, len(mail.outbox)) == ("failed", 1)
    assert "may have gone out" in due.trouble


@pytest.mark.parametrize(
    ("error", "state"),
    [
        (smtplib.SMTPServerDisconnected("gone"), "failed"),
        (smtplib.SMTPDataError(550, b"no"), "due"),
    ],
)
def test_only_a_server_that_said_no_is_asked_again(
    due: Reminder, monkeypatch: pytest.MonkeyPatch, error: Exception, state: str
) -> None:
    class Line:
        def open(self) -> None: ...
        def close(self) -> None: ...
        def send_messages(self, messages: Any) -> None:
            raise error

    monkeypatch.setattr(channels, "get_connection", Line)
    assert reminder_send(key=due.pk) is False
    due.refresh_from_db()
    assert due.state == state
    assert ("may have gone out" in due.trouble) is (state == "failed")


def test_a_slow_worker_takes_nothing_back_from_the_one_that_followed(due: Reminder) -> None:
    """Its lease ran out before it handed over; the other has the row and keeps it."""
    now = timezone.now()
    sending._claim(due.pk, now)
    slow = Reminder.objects.select_related("rule", "member").get(pk=due.pk)
    later = now + LEASE + timedelta(seconds=1)
    assert sending._claim(due.pk, later)
    assert sending._hand_over(slow, later) is False
    sending._put_back(slow, Away("late"), later)
    due.refresh_from_db()
    assert (due.state, due.attempts, due.trouble) == ("sending", 2, "")
    assert mail.outbox == []


def test_a_visit_cancelled_while_its_mail_is_tried_is_not_tried_again(
    due: Reminder, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cancel_meanwhile(**message: Any) -> None:
        notice_record(by=SYSTEM, type="booking.cancelled", about=due.about)
        sweep()
        raise Away("the mail server is away")

    monkeypatch.setattr(channels, "email", cancel_meanwhile)
    assert reminder_send(key=due.pk) is False
    due.refresh_from_db()
    assert due.state == "cancelled"
    assert reminders_due(now=timezone.now() + timedelta(days=9)) == []


def test_one_message_that_fails_holds_up_no_other(
    booked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("bad", "good"):
        booked(days=-14 - 1 / 24, email=f"{name}@example.com")
    own = channels.email

    def choosy(*, to: str, **message: Any) -> None:
        if to.startswith("bad"):
            raise Away("no such mailbox")
        own(to=to, **message)

    monkeypatch.setattr(channels, "email", choosy)
    assert sweep() == 1
    assert [one.to for one in mail.outbox] == [["good@example.com"]]


def test_after_a_month_away_nothing_is_fired_in_a_burst(booked: Any) -> None:
    for days in (-40, -30, -20):
        booked(days=days)
    assert sweep() == 0
    assert mail.outbox == []
    states = {one.rule.slug: one.state for one in Reminder.objects.all()}
    assert states["follow_up"] == "late"
    assert states["day_before"] == "cancelled"
    told = Reminder.objects.filter(rule__slug="day_before").values_list("trouble", flat=True)
    assert all("made no sense any more" in one for one in told)


def test_a_message_that_meets_the_night_waits_for_the_morning(due: Reminder, settings: Any) -> None:
    settings.QUIET_FROM, settings.QUIET_UNTIL = "00:00:01", "00:00"
    now = timezone.now()
    assert reminder_send(key=due.pk, now=now) is False
    due.refresh_from_db()
    assert due.state == "due"
    assert due.due_at > now
    assert mail.outbox == []


def test_it_goes_where_the_customer_is_reached_by_now(due: Reminder) -> None:
    assert due.job is not None
    customer = due.job.site.customer
    customer.email, customer.name = "new@example.com", "Bram Tolliver-Quill"
    customer.save()
    assert sweep() == 1
    assert mail.outbox[0].to == ["new@example.com"]
    assert "Bram Tolliver-Quill" in mail.outbox[0].body


def test_a_customer_who_wants_none_any_more_gets_none(due: Reminder) -> None:
    assert due.job is not None
    due.job.site.customer.preferred_channel = "none"
    due.job.site.customer.save()
    assert sweep() == 0
    due.refresh_from_db()
    assert (due.state, mail.outbox) == ("cancelled", [])


def test_a_visit_that_fell_away_unheard_is_not_told_of(due: Reminder) -> None:
    assert due.booking is not None
    due.booking.state = "cancelled"
    due.booking.save()
    assert sweep() == 0
    due.refresh_from_db()
    assert (due.state, due.trouble) == ("cancelled", "What it waited for is no longer so.")


def test_a_channel_that_is_not_set_is_told(due: Reminder, settings: Any) -> None:
    settings.MESSAGE_CHANNELS = {}
    assert reminder_send(key=due.pk) is False
    due.refresh_from_db()
    assert "MESSAGE_CHANNELS" in due.trouble

"""Is the customer told when the first shower may be, once, and again when the time is over?"""

import uuid
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.core import mail
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices.services import notice_record
from jobs.installs.models import Install
from jobs.reminders.hearing import notices_hear
from jobs.reminders.models import Reminder
from jobs.reminders.sending import reminder_send
from jobs.reminders.tasks import sweep
from tests.factories import OpeningFactory, kit_published


@pytest.fixture
def finished(booked: Any) -> Any:
    """Finish an install of today, its sealant dry at a moment or nobody knows when."""

    def finish(dry: datetime | None, **customer: Any) -> Install:
        booking = booked(days=0, **customer)
        opening = OpeningFactory(job=booking.job, name="Loft")
        install = Install.objects.create(
            id=uuid.uuid4(),
            booking=booking,
            opening=opening,
            sheet=kit_published().sheets.latest("number"),
            door="bypass_slider",
            stops=[],
            started_by="Hien Phan",
            started_at=timezone.now(),
            caller="tablet:1",
            finished_at=timezone.now(),
            earliest_use=dry,
        )
        notice_record(by=SYSTEM, type="install.finished", about=install.number)
        if dry:
            notice_record(by=SYSTEM, type="install.cured_at_known", about=install.number)
        notices_hear()
        return install

    return finish


def row(slug: str) -> Reminder:
    found: Reminder = Reminder.objects.get(rule__slug=slug)
    return found


def test_the_first_shower_is_told_once_by_the_site_s_clock(finished: Any) -> None:
    dry = timezone.now() + timedelta(days=2)
    finished(dry, email="bram@example.com")
    Reminder.objects.filter(booking__isnull=False).exclude(
        rule__slug__in=["cure_told", "cure_over"]
    ).delete()
    assert sweep() == 1
    assert sweep() == 0
    (letter,) = mail.outbox
    there = dry.astimezone(ZoneInfo("America/New_York"))
    assert f"{there:%A} {there.day} {there:%B} {there.year}, {there:%H:%M}" in letter.body
    assert "(Loft)" in letter.body
    over = row("cure_over")
    assert over.due_at == dry
    assert reminder_send(key=over.pk, now=dry) is True
    assert "you may shower" in " ".join(mail.outbox[1].body.split())


def test_it_is_told_in_spanish_to_who_reads_spanish(finished: Any) -> None:
    finished(timezone.now() + timedelta(days=2), language="es")
    assert "La primera ducha puede ser" in row("cure_told").text


def test_what_nobody_knows_yet_is_not_promised(finished: Any) -> None:
    finished(None)
    assert "do not shower before we have told you" in row("cure_told").text
    assert not Reminder.objects.filter(rule__slug="cure_over").exists()


def test_an_unsigned_handover_is_asked_about_until_it_is_signed(finished: Any) -> None:
    install = finished(timezone.now() + timedelta(days=2))
    asked = row("unsigned_handover")
    assert asked.state == "due"
    job = install.booking.job
    notice_record(by=SYSTEM, type="job.moved", about=job.number, changes={"state": ["a", "b"]})
    notices_hear()
    assert row("unsigned_handover").state == "due"
    cancelled = {"state": ["installed", "cancelled"]}
    notice_record(by=SYSTEM, type="job.moved", about=job.number, changes=cancelled)
    notices_hear()
    assert row("unsigned_handover").state == "cancelled"

"""Do the rules hear what happens, and does a message follow the visit that it speaks of?"""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from contractor.notices.services import notice_record
from jobs.bookings.models import Booking
from jobs.claims.services import claim_open
from jobs.reminders.hearing import notices_hear, rule_hear
from jobs.reminders.models import Heard, Reminder, Rule
from jobs.reminders.moments import due_moment, out_of_the_night
from jobs.reminders.presets import PRESETS
from jobs.reminders.subjects import subject_heard
from jobs.reminders.words import unknown_words
from tests.clients import Caller
from tests.factories import ClosedDayFactory, survey_case
from tests.jobs.reminders.conftest import follow_up

FORTNIGHT = timedelta(days=14)
CHICAGO = "America/Chicago"


def told(type: str, booking: Booking, about: str = "") -> Notice:
    return notice_record(by=SYSTEM, type=type, about=about or booking.number)


def test_an_install_plans_its_messages_each_once(booked: Any) -> None:
    booking = booked()
    assert notices_hear() == 1
    notices_hear()  # what it said itself of the planning
    assert notices_hear() == 0
    made = {one.rule.slug: one for one in Reminder.objects.all()}
    assert set(made) == {"follow_up", "day_before", "day_before_crew"}
    row = made["follow_up"]
    assert (row.due_at, row.state) == (booking.ends_at + FORTNIGHT, "due")
    assert row.to == booking.job.site.customer.email
    assert booking.job.number in row.subject
    assert "14 days ago" in row.text
    assert "without warning" in " ".join(row.text.split())
    lead = booking.crew.places.get(is_lead=True).member
    assert made["day_before_crew"].to == lead.email


def test_what_was_due_before_the_visit_was_booked_is_due_when_it_is_booked(booked: Any) -> None:
    booking = booked(days=0.5)
    notices_hear()
    row = Reminder.objects.get(rule__slug="day_before", about=booking.number)
    assert row.due_at == Notice.objects.get(type="booking.made", about=booking.number).at


def test_hearing_the_same_again_changes_nothing(booked: Any) -> None:
    booked()
    notices_hear()
    before = list(Reminder.objects.order_by("pk").values())
    Heard.objects.update(position=0)
    notices_hear()
    assert list(Reminder.objects.order_by("pk").values()) == before


def test_a_moved_visit_moves_its_messages(booked: Any) -> None:
    booking = booked()
    notices_hear()
    booking.ends_at += timedelta(days=5)
    booking.save()
    told("booking.moved", booking)
    notices_hear()
    assert follow_up().due_at == booking.ends_at + FORTNIGHT


def test_a_visit_moved_after_its_message_was_sent_is_told_anew(booked: Any) -> None:
    booking = booked()
    notices_hear()
    Reminder.objects.filter(rule__slug="day_before").update(state="sent")
    booking.starts_at += timedelta(days=5)
    booking.ends_at += timedelta(days=5)
    booking.save()
    told("booking.moved", booking)
    notices_hear()
    states = Reminder.objects.filter(rule__slug="day_before").order_by("pk")
    assert [one.state for one in states] == ["sent", "due"]


def test_a_cancelled_visit_drops_its_messages_and_says_why(booked: Any) -> None:
    booking, other = booked(), booked()
    Booking.objects.filter(pk=other.pk).update(job=booking.job)
    notices_hear()
    told("booking.cancelled", booking)
    notices_hear()
    rows = Reminder.objects.filter(about=booking.number)
    assert {one.state for one in rows} == {"cancelled"}
    assert {one.trouble for one in rows} == {f"booking.cancelled of {booking.number}"}
    assert {one.state for one in Reminder.objects.filter(about=other.number)} == {"due"}
    notice = Notice.objects.filter(type="reminder.cancelled").last()
    assert notice is not None
    assert notice.reason == f"booking.cancelled of {booking.number}"


@pytest.mark.parametrize(
    ("state", "stands"), [("cured", "due"), ("followed_up", "cancelled"), ("closed", "cancelled")]
)
def test_a_follow_up_is_replaced_by_one_that_was_made_and_not_by_a_claim(
    booked: Any, state: str, stands: str
) -> None:
    booking = booked()
    claim = claim_open(
        by=SYSTEM, job=booking.job, kind="warranty", against="maker", summary="A roller drags."
    )
    notices_hear()
    assert Notice.objects.get(type="claim.opened").about == claim.number
    assert follow_up().state == "due"
    changes = {"state": ["handed_over", state]}
    notice_record(by=SYSTEM, type="job.moved", about=booking.job.number, changes=changes)
    notices_hear()
    assert follow_up().state == stands


def test_a_held_visit_is_told_of_when_it_is_confirmed(booked: Any) -> None:
    booking = booked()
    Booking.objects.filter(pk=booking.pk).update(state="held")
    told("booking.moved", booking)
    notices_hear()
    assert not Reminder.objects.exists()
    Booking.objects.filter(pk=booking.pk).update(state="booked")
    told("booking.confirmed", booking)
    notices_hear()
    assert {one.rule.slug for one in Reminder.objects.all()} == {
        "follow_up",
        "day_before",
        "day_before_crew",
    }


@pytest.mark.parametrize("visit", ["survey", "follow_up"])
def test_a_visit_that_hangs_nothing_plans_no_follow_up(booked: Any, visit: str) -> None:
    booked(visit=visit)
    notices_hear()
    assert not Reminder.objects.filter(rule__slug="follow_up").exists()
    assert Reminder.objects.filter(rule__slug="day_before").exists()


def test_who_has_no_address_is_called_by_the_office(booked: Any, settings: Any) -> None:
    booked(email="", phone="+15555550199", name="Ada Quill")
    notices_hear()
    row = follow_up()
    assert row.to == settings.FIRM["email"]
    assert "Ada Quill has no mail address; please call (+15555550199)" in row.text


def test_who_wants_no_messages_gets_none(booked: Any) -> None:
    booked(preferred_channel="none")
    notices_hear()
    assert {one.rule.slug for one in Reminder.objects.all()} == {"day_before_crew"}


def test_who_prefers_text_messages_gets_them_where_a_channel_is_set(
    booked: Any, settings: Any
) -> None:
    booked(preferred_channel="text", phone="+15555550133")
    notices_hear()
    assert follow_up().channel == "email"
    settings.MESSAGE_CHANNELS = {**settings.MESSAGE_CHANNELS, "text": "some.where"}
    booked(preferred_channel="text", phone="+15555550144")
    notices_hear()
    row = follow_up(to="+15555550144")
    assert row.channel == "text"


def test_a_customer_is_written_to_in_her_language(booked: Any) -> None:
    booking = booked(language="es", name="Inés Salvatierra")
    notices_hear()
    assert follow_up().subject == f"¿Cómo está su nueva puerta? ({booking.job.number})"
    before = Reminder.objects.get(rule__slug="day_before")
    assert before.subject.startswith("Instalación: ")
    assert " de " in before.subject


def test_no_name_can_add_a_header_or_fill_a_word(booked: Any) -> None:
    booking = booked(name="Eve\r\nBcc: all@example.com {phone}")
    rule = Rule.objects.get(slug="follow_up")
    rule.subject = "For {customer}"
    notice = Notice.objects.get(about=booking.number)
    subject = subject_heard(notice)
    assert subject is not None
    rule_hear(rule, notice, subject)
    assert follow_up().subject == "For Eve Bcc: all@example.com {phone}"


def test_a_rule_that_breaks_holds_up_no_other(booked: Any) -> None:
    Rule.objects.filter(slug="day_before").update(at="never")
    booked()
    assert notices_hear() == 1
    assert "was not understood" in Heard.objects.get().trouble


def test_a_rule_that_is_off_hears_nothing(booked: Any) -> None:
    Rule.objects.update(is_on=False)
    booked()
    notices_hear()
    assert not Reminder.objects.exists()


def test_readings_newer_than_the_verdict_are_told_to_the_measurer(
    office: Caller, measurer: Caller
) -> None:
    case = survey_case("fits")
    assert measurer.post("/api/v1/surveys/", case.body).status_code == 201
    notices_hear()
    assert not Reminder.objects.exists()
    path = f"/api/v1/openings/{case.opening.number}/"
    changed = office.patch(path, {"shower_head_side": "right"}, seen=case.opening.version)
    assert changed.status_code == 200, changed.content
    notices_hear()
    row = Reminder.objects.get()
    assert (row.rule.slug, row.to) == ("survey_outdated", measurer.member.email)
    asked = {"opening": case.opening.number, "kit": case.kit.slug}
    assert office.post("/api/v1/verdicts/", asked).status_code == 201
    notices_hear()
    row.refresh_from_db()
    assert row.state == "cancelled"


def rule(**values: Any) -> Rule:
    return Rule(**{"offset_days": 0, "at_night": False, **values})


def chicago(day: int, hour: int, month: int = 3) -> datetime:
    return datetime(2027, month, day, hour, tzinfo=UTC)


@pytest.mark.parametrize(
    ("values", "base", "expected"),
    [
        # The days are the site's own: over the change of clocks on 14 March 2027 noon stays noon.
        ({"offset_days": 14}, chicago(2, 18), chicago(16, 17)),
        ({"offset_days": -1, "at": "10:00"}, chicago(15, 20), chicago(14, 15)),
        # 02:30 does not exist on 14 March; the hour after it is meant.
        ({"offset_days": 0, "at": "02:30", "at_night": True}, chicago(14, 18), chicago(14, 8)),
        # 01:30 comes twice on 7 November 2027; the first is meant.
        ({"at": "01:30", "at_night": True}, chicago(7, 18, 11), chicago(7, 6, 11)),
        # 22:00 at the site is night: the next morning at eight.
        ({}, chicago(3, 4), chicago(3, 14)),
        # Saturday 6 March: after the fact the Monday, before the fact the Friday.
        ({"offset_days": 2, "working_days": True}, chicago(4, 18), chicago(8, 18)),
        ({"offset_days": -2, "working_days": True}, chicago(8, 18), chicago(5, 18)),
        ({"offset_hours": 4}, chicago(2, 18), chicago(2, 22)),
    ],
)
def test_a_moment_is_reckoned_by_the_sites_clock(
    values: dict[str, Any], base: datetime, expected: datetime, settings: Any
) -> None:
    settings.QUIET_FROM, settings.QUIET_UNTIL = "20:00", "08:00"
    expected = expected.replace(minute=30) if values.get("at", "").endswith("30") else expected
    assert due_moment(rule(**values), base, CHICAGO) == expected


def test_a_closed_day_is_no_working_day() -> None:
    closed = frozenset({date(2027, 3, 4)})
    moment = due_moment(rule(offset_days=1, working_days=True), chicago(3, 18), CHICAGO, closed)
    assert moment == chicago(5, 18)


def test_a_region_s_closed_days_reach_its_sites(booked: Any) -> None:
    booking = booked()
    site = booking.job.site
    region = f"{site.address_country}-{site.address_region}"
    Rule.objects.filter(slug="follow_up").update(working_days=True)
    day = (booking.ends_at + FORTNIGHT).date()
    for one in range(-1, 2):
        ClosedDayFactory(region=region, day=day + timedelta(days=one))
    notices_hear()
    assert follow_up().due_at.date() > day + timedelta(days=1)


def test_the_day_is_left_alone(settings: Any) -> None:
    settings.QUIET_FROM, settings.QUIET_UNTIL = "20:00", "08:00"
    assert out_of_the_night(chicago(3, 14), CHICAGO) == chicago(3, 14)
    assert out_of_the_night(chicago(3, 13), CHICAGO) == chicago(3, 14)
    assert out_of_the_night(chicago(4, 2), CHICAGO) == chicago(4, 14)


@pytest.mark.parametrize("preset", PRESETS, ids=lambda one: one["slug"])
def test_every_word_of_a_preset_can_be_filled(preset: dict[str, Any]) -> None:
    for name in ("subject", "text", "subject_es", "text_es"):
        assert unknown_words(preset.get(name, "")) == []

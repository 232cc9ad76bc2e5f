"""Does an install plan its follow-up, and does the follow-up go where the install goes?"""

from datetime import datetime, timedelta
from typing import Any

import pytest

from jobs.reminders.models import Reminder
from tests.clients import Caller, assert_problem

FORTNIGHT = timedelta(days=14)


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


def test_an_install_plans_one_follow_up(office: Caller, booked: Any) -> None:
    made = booked()
    (row,) = office.get("/api/v1/reminders/", {"booking": made["id"]}).data["results"]
    assert (row["kind"], row["state"], row["to"]) == ("follow_up", "waiting", "bram@example.com")
    assert moment(row["due_at"]) == moment(made["ends_at"]) + FORTNIGHT
    assert made["job"] in row["subject"]
    assert "14 days ago" in row["text"]
    assert "without warning" in " ".join(row["text"].split())


def test_the_letter_counts_the_days_that_the_firm_has_set(booked: Any, settings: Any) -> None:
    settings.FOLLOW_UP_DAYS = 30
    made = booked()
    reminder = Reminder.objects.get()
    assert reminder.due_at == moment(made["ends_at"]) + timedelta(days=30)
    assert "30 days ago" in reminder.text


def test_a_site_without_an_address_for_mail_plans_none(booked: Any) -> None:
    booked(email="")
    assert not Reminder.objects.exists()


@pytest.mark.parametrize("visit", ["survey", "follow_up"])
def test_a_visit_that_hangs_nothing_plans_none(booked: Any, visit: str) -> None:
    booked(visit=visit)
    assert not Reminder.objects.exists()


def test_a_moved_install_moves_its_follow_up(office: Caller, booked: Any) -> None:
    made = booked()
    start = moment(made["starts_at"]) + timedelta(days=5)
    move = {
        "starts_at": start.isoformat(),
        "ends_at": (start + timedelta(hours=2)).isoformat(),
        "reason": "Glass is late.",
    }
    assert office.post(f"{made['url']}move/", move, seen=1).status_code == 200
    assert Reminder.objects.get().due_at == start + timedelta(hours=2) + FORTNIGHT


def test_a_cancelled_install_cancels_its_follow_up(office: Caller, booked: Any) -> None:
    made = booked()
    office.post(f"{made['url']}cancel/", {"why": "Customer is away."}, seen=1)
    assert Reminder.objects.get().state == "cancelled"


def test_a_booking_that_was_refused_plans_none(office: Caller, booked: Any) -> None:
    made = booked()
    again = {name: made[name] for name in ("job", "crew", "visit", "starts_at", "ends_at")}
    assert_problem(office.post("/api/v1/bookings/", again), 409, "crew_taken")
    assert Reminder.objects.count() == 1


@pytest.mark.parametrize("by", ["tablet", "scheduler", "lead", "measurer", "helper", "yard"])
def test_only_the_office_reads_reminders(by: str, request: Any) -> None:
    caller: Caller = request.getfixturevalue(by)
    assert_problem(caller.get("/api/v1/reminders/"), 403, "role_not_allowed")

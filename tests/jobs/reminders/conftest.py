"""An install booked by the office, and the reminder that came of it."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from jobs.reminders.models import Reminder
from tests.clients import Caller
from tests.factories import CrewFactory, survey_case

BOOKINGS = "/api/v1/bookings/"


@pytest.fixture
def booked(office: Caller) -> Callable[..., Any]:
    """Book an install so many days from now, by another crew each time; returns the reply's data."""

    def book(days: float = 3, email: str = "bram@example.com", visit: str = "install") -> Any:
        case = survey_case("fits", job__site__customer__email=email)
        office.post("/api/v1/surveys/", case.body)
        start = timezone.now() + timedelta(days=days)
        reply = office.post(BOOKINGS, {
            "job": case.opening.job.number,
            "crew": CrewFactory().slug,
            "visit": visit,
            "starts_at": start.isoformat(),
            "ends_at": (start + timedelta(hours=4)).isoformat(),
        })  # fmt: skip
        assert reply.status_code == 201, reply.content[:400]
        return reply.data

    return book


@pytest.fixture
def due(booked: Callable[..., Any]) -> Reminder:
    """A reminder whose time came while nobody swept."""
    booked(days=-20)
    found: Reminder = Reminder.objects.get()
    return found

"""A visit that was announced, the rules that hear of it, and a channel that keeps what it gets."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from contractor.notices.services import notice_record
from jobs.bookings.models import Booking
from jobs.reminders import hearing, tasks
from jobs.reminders.models import Reminder
from tests.factories import CrewFactory, JobFactory

NOON = datetime(2027, 3, 2, 17, tzinfo=UTC)  # a Tuesday; noon at the factories' sites


@pytest.fixture(autouse=True)
def _sees_its_own_notices(request: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Within a test's own transaction PostgreSQL settles nothing; let the rules hear all the same."""
    marker = request.node.get_closest_marker("django_db")
    if marker is None or not marker.kwargs.get("transaction"):
        after = lambda position: Notice.objects.filter(pk__gt=position).order_by("pk")  # noqa: E731
        monkeypatch.setattr(hearing, "settled_after", after)


@pytest.fixture(autouse=True)
def _never_night(settings: Any) -> None:
    """No test depends on the hour at which it runs; those about the night set it."""
    settings.QUIET_FROM, settings.QUIET_UNTIL = "23:59:59", "00:00"


@pytest.fixture(autouse=True)
def _never_morning(monkeypatch: pytest.MonkeyPatch) -> None:
    """A sweep plans no digest unless a test does: it would depend on the hour."""
    monkeypatch.setattr(tasks, "digests_plan", lambda now: 0)


@pytest.fixture
def booked(db: None) -> Callable[..., Booking]:
    """Book a visit that ends so many days from now, and announce it."""

    def book(days: float = 3, visit: str = "install", **customer: Any) -> Booking:
        told = {f"site__customer__{name}": value for name, value in customer.items()}
        end = timezone.now() + timedelta(days=days)
        booking = Booking.objects.create(
            job=JobFactory(**told),
            crew=CrewFactory(),
            visit=visit,
            starts_at=end - timedelta(hours=3),
            ends_at=end,
        )
        notice_record(by=SYSTEM, type="booking.made", about=booking.number)
        return booking

    return book


def follow_up(**values: Any) -> Reminder:
    """The one follow-up that was planned."""
    found: Reminder = Reminder.objects.get(rule__slug="follow_up", **values)
    return found


@pytest.fixture
def due(booked: Callable[..., Booking]) -> Reminder:
    """A follow-up whose time came an hour ago, while nobody swept."""
    booked(days=-14 - 1 / 24, email="bram@example.com")
    hearing.notices_hear()
    Reminder.objects.exclude(rule__slug="follow_up").delete()
    return follow_up()

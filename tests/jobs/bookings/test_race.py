"""Two clients want one crew at one moment, many times over: who gets it, and what is the other told?

Three hundred pairs on one slot after another on PostgreSQL, forty on SQLite, whose one writer lets nobody
meet; `RACE_PAIRS=300` takes as many as one likes.
"""

import os
from datetime import date, timedelta
from typing import Any

import pytest
from django.db import connection
from django.utils import timezone

from contractor.notices.models import Notice
from jobs.bookings.models import Booking
from tests.clients import Caller, twin
from tests.factories import CrewFactory, JobFactory
from tests.threads import in_parallel

BOOKINGS = "/api/v1/bookings/"
PAIRS = int(os.environ.get("RACE_PAIRS", "300" if connection.vendor == "postgresql" else "40"))
FEW = 10

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.timeout(600)]


def body(job: Any, crew: Any, pair: int, *, shift: int = 0) -> dict[str, Any]:
    """Eight to twelve on a day of its own for each pair, shifted by some hours."""
    day = date(2026, 1, 1) + timedelta(days=pair)
    return {
        "job": job.number,
        "crew": crew.slug,
        "visit": "survey",
        "starts_at": f"{day}T{8 + shift:02d}:00:00Z",
        "ends_at": f"{day}T{12 + shift:02d}:00:00Z",
    }


def test_of_two_at_once_one_gets_the_crew_and_the_other_is_told_whose_it_is(
    office: Caller, scheduler: Caller
) -> None:
    job, crew = JobFactory(), CrewFactory()
    for pair in range(PAIRS):
        callers = [twin(office), twin(scheduler)]
        bodies = [body(job, crew, pair), body(job, crew, pair, shift=2)]
        replies = in_parallel(2, lambda n: callers[n].post(BOOKINGS, bodies[n]))  # noqa: B023
        assert sorted(one.status_code for one in replies) == [201, 409], pair
        won, lost = sorted(replies, key=lambda one: one.status_code)
        assert lost.data["code"] == "crew_taken"
        assert lost.data["taken_by"] == won.data["id"]
    assert Booking.objects.count() == PAIRS
    assert Notice.objects.filter(type="booking.made").count() == PAIRS


def test_of_two_moves_to_one_time_at_once_one_arrives(office: Caller) -> None:
    job, crew = JobFactory(), CrewFactory()
    for pair in range(FEW):
        made = [office.post(BOOKINGS, body(job, crew, pair, shift=shift)).data for shift in (-8, 8)]
        noon = {name: body(job, crew, pair)[name] for name in ("starts_at", "ends_at")}
        move = {**noon, "reason": "Both want noon."}
        replies = in_parallel(
            2,
            lambda n: twin(office).post(f"{made[n]['url']}move/", move, seen=1),  # noqa: B023
        )
        assert sorted(one.status_code for one in replies) == [200, 409], pair
    assert Notice.objects.filter(type="booking.moved").count() == FEW


def test_of_two_moves_of_one_booking_at_once_one_saw_the_right_version(office: Caller) -> None:
    made = office.post(BOOKINGS, body(JobFactory(), CrewFactory(), 0)).data
    moves = [
        {
            "starts_at": f"2026-02-0{n}T08:00:00Z",
            "ends_at": f"2026-02-0{n}T09:00:00Z",
            "reason": "x",
        }
        for n in (1, 2)
    ]
    replies = in_parallel(2, lambda n: twin(office).post(f"{made['url']}move/", moves[n], seen=1))
    assert sorted(one.status_code for one in replies) == [200, 412]
    assert Booking.objects.get().version == 2


def test_of_two_at_once_on_a_hold_that_ran_out_one_gets_the_crew(office: Caller) -> None:
    """Both let the hold go or pass it by; neither waits for the other in a ring."""
    job, crew = JobFactory(), CrewFactory()
    for pair in range(FEW):
        held = office.post(BOOKINGS, {**body(job, crew, pair), "hold_hours": 1}).data
        past = timezone.now() - timedelta(minutes=1)
        Booking.objects.filter(pk=int(held["id"][2:])).update(held_until=past)
        bodies = [body(job, crew, pair), body(job, crew, pair, shift=2)]
        replies = in_parallel(
            3,
            lambda n: (
                twin(office).post(BOOKINGS, bodies[n])  # noqa: B023
                if n < 2
                else twin(office).post(f"{held['url']}confirm/", {}, seen=1)  # noqa: B023
            ),
        )
        codes = [one.status_code for one in replies]
        assert sorted(codes[:2]) in ([201, 409], [409, 409]), codes
        assert codes[2] in {409, 412}
        again = office.post(BOOKINGS, body(job, crew, pair))
        assert again.status_code == (409 if 201 in codes[:2] else 201)
    held_or_booked = Booking.objects.filter(state__in=["booked", "held"])
    assert held_or_booked.count() == FEW

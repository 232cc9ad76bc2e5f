"""Is held time promised to nobody else while it is held, and to anybody once the hold ran out?"""

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from contractor.notices.models import Notice
from jobs.bookings.holds import holds_sweep
from jobs.bookings.models import Booking
from tests.clients import Caller, assert_problem
from tests.factories import JobFactory

BOOKINGS = "/api/v1/bookings/"


def held(office: Caller, body: Any, **changes: Any) -> Any:
    reply = office.post(BOOKINGS, body(hold_hours=48, **changes))
    assert reply.status_code == 201, reply.content
    return reply.data


def run_out(number: str) -> None:
    past = timezone.now() - timedelta(minutes=1)
    Booking.objects.filter(pk=int(number[2:])).update(held_until=past)


def test_a_hold_keeps_the_crew_from_others_until_it_is_confirmed(office: Caller, body: Any) -> None:
    told = held(office, body)
    assert told["state"] == "held"
    problem = assert_problem(office.post(BOOKINGS, body()), 409, "crew_taken")
    assert problem["taken_by"] == told["id"]
    booked = office.post(f"{told['url']}confirm/", {}, seen=1).data
    assert (booked["state"], booked["held_until"], booked["version"]) == ("booked", None, 2)
    assert_problem(office.post(f"{told['url']}confirm/", {}, seen=2), 409, "not_held")
    types = Notice.objects.filter(noun="booking").order_by("pk").values_list("type", flat=True)
    assert list(types) == ["booking.held", "booking.confirmed"]


def test_a_hold_that_ran_out_stands_in_nobodys_way(office: Caller, body: Any) -> None:
    told = held(office, body)
    run_out(told["id"])
    reply = office.post(BOOKINGS, body())
    assert reply.status_code == 201, reply.content
    assert office.get(told["url"]).data["state"] == "lapsed"
    assert Notice.objects.filter(type="booking.lapsed", about=told["id"]).count() == 1


def test_a_booking_is_moved_onto_a_hold_that_ran_out(office: Caller, body: Any) -> None:
    told = held(office, body)
    later = {"local_start": "2026-03-10T09:00", "local_end": "2026-03-10T13:00"}
    other = office.post(BOOKINGS, body(**later)).data
    span = {name: body()[name] for name in later}
    move = {**span, "reason": "Earlier is better."}
    assert_problem(office.post(f"{other['url']}move/", move, seen=1), 409, "crew_taken")
    run_out(told["id"])
    moved = office.post(f"{other['url']}move/", move, seen=1)
    assert moved.status_code == 200, moved.content
    row = Booking.objects.get(pk=int(other["id"][2:]))
    assert (row.version, row.starts_at.isoformat()) == (2, "2026-03-09T13:00:00+00:00")
    assert Notice.objects.filter(type="booking.moved").count() == 1


@pytest.mark.parametrize("task", ["confirm", "move", "cancel"])
def test_nothing_is_done_to_a_hold_that_ran_out(office: Caller, body: Any, task: str) -> None:
    told = held(office, body)
    run_out(told["id"])
    sent = {"confirm": {}, "move": {"reason": "x"}, "cancel": {"why": "x"}}[task]
    assert_problem(office.post(f"{told['url']}{task}/", sent, seen=1), 409, "hold_over")


def test_the_sweep_lets_go_what_ran_out_and_nothing_else(office: Caller, body: Any) -> None:
    gone = held(office, body)
    held(office, body, local_start="2026-03-10T09:00", local_end="2026-03-10T13:00")
    run_out(gone["id"])
    assert holds_sweep() == 1
    assert holds_sweep() == 0
    states = Booking.objects.order_by("pk").values_list("state", flat=True)
    assert list(states) == ["lapsed", "held"]


def test_a_hold_asks_for_no_verdict_and_its_confirmation_does(office: Caller, body: Any) -> None:
    told = held(office, body, job=JobFactory().number)
    path = f"{told['url']}confirm/"
    assert_problem(office.post(path, {}, seen=1), 409, "verdict_against", "/override_name")
    answer = {"override_name": "Imke Thorsby", "override_reason": "Surveyed by phone."}
    booked = office.post(path, answer, seen=1).data
    assert (booked["state"], booked["override_name"]) == ("booked", "Imke Thorsby")
    assert booked["overridden"][0]["says"] == "The job has no opening yet."


def test_only_a_visit_whose_time_has_come_can_be_a_no_show(office: Caller, body: Any) -> None:
    reply = office.post(
        BOOKINGS, body(local_start="2031-03-10T09:00", local_end="2031-03-10T10:00")
    )
    early = office.post(f"{reply.data['url']}no_show/", {"why": "Nobody home."}, seen=1)
    assert_problem(early, 409, "not_begun")
    past = office.post(BOOKINGS, body()).data
    told = office.post(f"{past['url']}no_show/", {"why": "Nobody opened."}, seen=1).data
    assert (told["state"], told["no_show_why"]) == ("no_show", "Nobody opened.")
    assert office.post(BOOKINGS, body()).status_code == 201  # the time is free again

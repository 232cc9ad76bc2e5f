"""Is another crew's visit the same to a tablet as one that does not exist?"""

import json
from typing import Any

import pytest

from contractor.api.callers import SYSTEM
from jobs.bookings.models import Booking
from jobs.packets.models import Packet
from jobs.packets.services import packet_ask
from tests.clients import Caller
from tests.factories import CrewFactory
from tests.world import World, booked

OWN_ONLY = ["tablet", "lead", "helper"]


@pytest.fixture
def foreign(world: World) -> tuple[Booking, Packet]:
    """Another crew's booking of the same job, and its packet."""
    booking = booked(world.job, CrewFactory(slug="otter"), day=7)
    return booking, packet_ask(by=SYSTEM, job=world.job, booking=booking, paper="a4")


def told(answer: Any, number: str) -> tuple[int, Any]:
    return answer.status_code, json.loads(answer.content.decode().replace(number, "…"))


@pytest.mark.parametrize("who", OWN_ONLY)
@pytest.mark.parametrize("path", ["bookings/{b}/", "packets/{p}/", "packets/{p}/file/"])
def test_a_foreign_row_and_an_absent_one_are_answered_alike(
    who: str, path: str, callers: dict[str, Caller], foreign: tuple[Booking, Packet]
) -> None:
    caller, (booking, packet) = callers[who], foreign
    number = booking.number if "{b}" in path else packet.number
    absent = number[0] + "-9876"
    there = told(caller.get("/api/v1/" + path.format(b=number, p=number)), number)
    nowhere = told(caller.get("/api/v1/" + path.format(b=absent, p=absent)), absent)
    assert there == nowhere
    assert there[0] == 404
    assert callers["office"].get("/api/v1/" + path.format(b=number, p=number)).status_code != 404


@pytest.mark.parametrize("who", ["tablet", "lead"])
def test_a_packet_of_a_foreign_visit_cannot_be_asked_for(
    who: str, callers: dict[str, Caller], foreign: tuple[Booking, Packet]
) -> None:
    number = foreign[0].number
    there = told(callers[who].post("/api/v1/packets/", {"booking": number}), number)
    nowhere = told(callers[who].post("/api/v1/packets/", {"booking": "B-9876"}), "B-9876")
    assert there == nowhere
    assert there[0] == 400


@pytest.mark.parametrize("who", OWN_ONLY)
def test_lists_show_the_own_crew_only(
    who: str, callers: dict[str, Caller], world: World, foreign: tuple[Booking, Packet]
) -> None:
    for room, own in (("bookings", world.booking), ("packets", world.packet)):
        shown = [one["id"] for one in callers[who].get(f"/api/v1/{room}/").json()["results"]]
        everything = callers["office"].get(f"/api/v1/{room}/").json()["results"]
        assert shown == [own.number]
        assert len(everything) == 2


@pytest.mark.parametrize("who", OWN_ONLY)
@pytest.mark.parametrize("noun", ["booking", "packet"])
def test_history_tells_a_crew_nothing_of_visits(
    who: str, noun: str, callers: dict[str, Caller], foreign: tuple[Booking, Packet]
) -> None:
    path = f"/api/v1/history/?noun={noun}"
    assert callers[who].get(path).json()["results"] == []
    assert callers["office"].get(path).json()["results"]


@pytest.mark.parametrize("who", OWN_ONLY)
def test_the_week_shows_the_own_crew_only(
    who: str, callers: dict[str, Caller], world: World, foreign: tuple[Booking, Packet]
) -> None:
    week = callers[who].get("/api/v1/bookings/week.svg/?monday=2027-03-08").content.decode()
    assert foreign[0].number not in week
    seen = callers["office"].get("/api/v1/bookings/week.svg/?monday=2027-03-08").content.decode()
    assert foreign[0].number in seen


def test_a_member_who_joins_a_crew_sees_its_visits_at_once(
    callers: dict[str, Caller], foreign: tuple[Booking, Packet]
) -> None:
    booking, _ = foreign
    booking.crew.places.create(member=callers["tablet"].member)
    assert callers["tablet"].get(f"/api/v1/bookings/{booking.number}/").status_code == 200

"""Does the code on last week's paper say that it is last week's?"""

from typing import Any

import pytest

from jobs.packets.models import Packet
from tests.clients import Caller
from tests.factories import CrewFactory, OpeningFactory, kit_published, survey_body

PACKETS, BOOKINGS, SURVEYS = "/api/v1/packets/", "/api/v1/bookings/", "/api/v1/surveys/"
KIT = "osquith-tillybeck:1"


@pytest.fixture
def booking(office: Caller, job: Any) -> Any:
    return office.post(BOOKINGS, {
        "job": job.number, "crew": CrewFactory().slug, "visit": "install",
        "local_start": "2026-03-09T09:00", "local_end": "2026-03-09T13:00",
    }).data  # fmt: skip


@pytest.fixture
def paper(office: Caller, booking: Any) -> str:
    """The address on the paper of a booking's packet."""
    reply = office.post(PACKETS, {"booking": booking["id"]})
    return f"/p/{reply.data['code']}"


def assert_stale(anonymous: Caller, paper: str) -> None:
    told = anonymous.get(paper).data
    assert (told["says"], told["superseded_by"]) == ("superseded", "")
    assert told["because"] == "what it was made from has changed; ask for it anew"


def test_a_paper_is_current_while_nothing_changed(anonymous: Caller, paper: str) -> None:
    assert anonymous.get(paper).data["says"] == "current"


def test_a_paper_of_a_cancelled_visit_is_not_to_be_worked_from(
    office: Caller, anonymous: Caller, booking: Any, paper: str
) -> None:
    office.post(f"{booking['url']}cancel/", {"why": "Customer is away."}, seen=1)
    assert_stale(anonymous, paper)


@pytest.mark.parametrize("what", ["time", "crew"])
def test_a_paper_of_a_moved_visit_is_not_to_be_worked_from(
    office: Caller, anonymous: Caller, booking: Any, paper: str, what: str
) -> None:
    later = {"local_start": "2026-03-10T09:00", "local_end": "2026-03-10T13:00"}
    change = later if what == "time" else {"crew": CrewFactory().slug}
    office.post(f"{booking['url']}move/", {**change, "reason": "Glass is late."}, seen=1)
    assert_stale(anonymous, paper)


@pytest.mark.parametrize("kit", [None, KIT])
def test_a_paper_of_an_opening_read_again_is_not_to_be_worked_from(
    office: Caller, anonymous: Caller, job: Any, paper: str, kit: Any
) -> None:
    assert office.post(SURVEYS, survey_body(job.openings.get(), kit)).status_code == 201
    assert_stale(anonymous, paper)
    newer = office.post(PACKETS, {"job": job.number}).data
    assert_stale(anonymous, paper)
    assert anonymous.get(f"/p/{newer['code']}").data["says"] == ("current" if kit else "superseded")


def test_a_paper_for_another_kit_than_decided_on_is_not_to_be_worked_from(
    office: Caller, anonymous: Caller, job: Any, paper: str
) -> None:
    other = kit_published("pellandrake-gullimot")
    path = f"/api/v1/openings/{job.openings.get().number}/"
    assert office.patch(path, {"kit": other.slug}, seen=1).status_code == 200
    assert_stale(anonymous, paper)


def test_what_happens_to_another_opening_leaves_a_paper_current(
    office: Caller, anonymous: Caller, paper: str
) -> None:
    office.post(SURVEYS, survey_body(OpeningFactory(), KIT))
    assert anonymous.get(paper).data["says"] == "current"
    assert Packet.objects.get().superseded_by is None

"""Does the code on last week's paper say that it is last week's?"""

from datetime import date
from types import SimpleNamespace
from typing import Any

import pytest

from contractor.api.callers import SYSTEM
from contractor.customers.models import Site
from fitcheck.kits.models import Kit
from fitcheck.kits.services import sheet_publish
from jobs.packets.age import NEW_SHEET, OTHER_KIT, READ_AGAIN, VISIT, WAY_IN
from jobs.packets.models import Packet
from jobs.packets.work import claims_copy
from tests.clients import Caller, assert_problem
from tests.factories import (
    CrewFactory,
    OpeningFactory,
    kit_published,
    sheet_body,
    survey_body,
)

PACKETS, BOOKINGS, SURVEYS = "/api/v1/packets/", "/api/v1/bookings/", "/api/v1/surveys/"
KIT = "osquith-tillybeck:2"


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


def assert_stale(anonymous: Caller, paper: str, why: str) -> None:
    told = anonymous.get(paper).data
    assert (told["says"], told["superseded_by"], told["because"]) == ("superseded", "", why)


def test_a_paper_is_current_while_nothing_changed(anonymous: Caller, paper: str) -> None:
    assert anonymous.get(paper).data["says"] == "current"


def test_a_paper_of_a_cancelled_visit_is_not_to_be_worked_from(
    office: Caller, anonymous: Caller, booking: Any, paper: str
) -> None:
    office.post(f"{booking['url']}cancel/", {"why": "Customer is away."}, seen=1)
    assert_stale(anonymous, paper, VISIT)


def test_a_paper_whose_site_tells_its_way_in_otherwise_is_not_to_be_worked_from(
    office: Caller, anonymous: Caller, job: Any, paper: str
) -> None:
    way = {"passes": ["straight_in"], "door_width": "30 in", "door_height": "80 in"}
    office.patch(f"/api/v1/sites/{job.site.number}/", {"access_notes": "Ring."}, seen=1)
    assert anonymous.get(paper).data["says"] == "current"
    office.patch(f"/api/v1/sites/{job.site.number}/", {"way_in": way}, seen=2)
    assert_stale(anonymous, paper, WAY_IN)


def test_a_paper_from_before_the_way_in_was_asked_for_stays_current(
    anonymous: Caller, job: Any, paper: str
) -> None:
    packet = Packet.objects.get()
    data = packet.data | {"site": {**packet.data["site"], "way": []}}
    del data["site"]["way_asks"]
    Packet.objects.update(data=data)
    Site.objects.update(passes=["lift"])
    assert anonymous.get(paper).data["says"] == "current"


@pytest.mark.parametrize("what", ["time", "crew"])
def test_a_paper_of_a_moved_visit_is_not_to_be_worked_from(
    office: Caller, anonymous: Caller, booking: Any, paper: str, what: str
) -> None:
    later = {"local_start": "2026-03-10T09:00", "local_end": "2026-03-10T13:00"}
    change = later if what == "time" else {"crew": CrewFactory().slug}
    office.post(f"{booking['url']}move/", {**change, "reason": "Glass is late."}, seen=1)
    assert_stale(anonymous, paper, VISIT)


@pytest.mark.parametrize("kit", [None, KIT])
def test_a_paper_of_an_opening_read_again_is_not_to_be_worked_from(
    office: Caller, anonymous: Caller, job: Any, paper: str, kit: Any
) -> None:
    assert office.post(SURVEYS, survey_body(job.openings.get(), kit)).status_code == 201
    assert_stale(anonymous, paper, READ_AGAIN)
    newer = office.post(PACKETS, {"job": job.number, "outdated": kit is None}).data
    assert_stale(anonymous, paper, READ_AGAIN)
    assert anonymous.get(f"/p/{newer['code']}").data["says"] == ("current" if kit else "superseded")


def test_paper_of_an_outdated_verdict_is_asked_for_knowingly(office: Caller, job: Any) -> None:
    opening = job.openings.get()
    assert office.post(SURVEYS, survey_body(opening, None)).status_code == 201
    refused = office.post(PACKETS, {"job": job.number})
    problem = assert_problem(refused, 409, "verdict_outdated", "/outdated")
    assert opening.number in problem["detail"]
    made = office.post(PACKETS, {"job": job.number, "outdated": True})
    assert made.status_code == 202
    assert Packet.objects.get().data["outdated"] == [opening.number]


def test_a_paper_for_another_kit_than_decided_on_is_not_to_be_worked_from(
    office: Caller, anonymous: Caller, job: Any, paper: str
) -> None:
    other = kit_published("pellandrake-gullimot")
    path = f"/api/v1/openings/{job.openings.get().number}/"
    assert office.patch(path, {"kit": other.slug}, seen=1).status_code == 200
    assert_stale(anonymous, paper, OTHER_KIT)


def test_a_paper_of_a_kit_with_a_newer_sheet_is_not_to_be_worked_from(
    anonymous: Caller, paper: str
) -> None:
    kit = Kit.objects.get(slug=KIT.partition(":")[0])
    sheet_publish(by=SYSTEM, kit=kit, body=sheet_body())
    assert_stale(anonymous, paper, NEW_SHEET)


def test_the_desk_makes_the_new_paper_of_a_moved_visit(
    office: Caller, anonymous: Caller, booking: Any, paper: str
) -> None:
    old = Packet.objects.get()
    path = f"{PACKETS}{old.number}/"
    assert_problem(office.post(f"{path}renew/", seen=1), 409, "not_overtaken")
    later = {"local_start": "2026-03-10T09:00", "local_end": "2026-03-10T13:00"}
    office.post(f"{booking['url']}move/", {**later, "reason": "Glass is late."}, seen=1)
    told = office.get(path).data
    assert (told["says"], told["because"]) == ("superseded", VISIT)
    after = office.post(f"{path}renew/", seen=told["version"])
    newer = Packet.objects.exclude(pk=old.pk).get()
    assert (after.status_code, after.data["superseded_by"]) == (200, newer.number)
    assert newer.data["booking"]["start"].startswith("2026-03-10T09:00")
    assert anonymous.get(paper).data == {
        "packet": old.number, "says": "superseded", "superseded_by": newer.number, "because": VISIT,
    }  # fmt: skip
    assert_problem(office.post(f"{path}renew/", seen="*"), 409, "not_overtaken")


def test_what_happens_to_another_opening_leaves_a_paper_current(
    office: Caller, anonymous: Caller, paper: str
) -> None:
    office.post(SURVEYS, survey_body(OpeningFactory(), KIT))
    assert anonymous.get(paper).data["says"] == "current"
    assert Packet.objects.get().superseded_by is None


class Claims(list[Any]):
    """A room of claims as an opening knows it."""

    def exclude(self, *, state__in: Any) -> "Claims":
        return Claims(one for one in self if one.state not in state__in)

    def order_by(self, *_: str) -> "Claims":
        return self

    prefetch_related = order_by


def test_a_paper_copies_claims_that_are_not_settled_with_the_next_deadline() -> None:
    ends = [
        (date(2026, 3, 9), None),
        (date(2026, 3, 2), None),
        (date(2026, 3, 1), date(2026, 3, 1)),
    ]
    clocks = Claims(SimpleNamespace(ends_on=end, met_on=met) for end, met in ends)
    told = {
        "number": "CL-0001",
        "summary": "inner panel chipped",
        "deadlines": SimpleNamespace(all=lambda: clocks),
    }
    claims = Claims(SimpleNamespace(state=state, **told) for state in ("open", "settled"))
    opening: Any = SimpleNamespace(claims=claims)
    assert claims_copy(opening) == [
        {
            "number": "CL-0001",
            "about": "inner panel chipped",
            "deadline": "2026-03-02",
            "state": "open",
        }
    ]

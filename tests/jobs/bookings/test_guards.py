"""Is an install booked only over a verdict that fits, or by the office by name, and by enough hands?"""

from typing import Any

import pytest

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from contractor.people.models import Member
from fitcheck.kits.services import sheet_publish
from jobs.bookings.models import Booking
from tests.clients import Caller, assert_problem
from tests.factories import (
    CrewFactory,
    JobFactory,
    MemberFactory,
    OpeningFactory,
    kit_published,
    sheet_body,
    survey_body,
    survey_case,
)

BOOKINGS, SURVEYS = "/api/v1/bookings/", "/api/v1/surveys/"
OVERRIDE = {"override_name": "Imke Thorsby", "override_reason": "Customer has the long rail."}


def test_a_job_that_fits_is_booked_by_office_and_scheduler(
    office: Caller, scheduler: Caller, body: Any
) -> None:
    first = office.post(BOOKINGS, body())
    later = {"local_start": "2026-03-10T09:00", "local_end": "2026-03-10T13:00"}
    second = scheduler.post(BOOKINGS, body(**later))
    assert (first.status_code, second.status_code) == (201, 201)
    assert first.data["overridden"] == []
    assert first.data["hands_needed"] == 2
    assert first["Location"] == first.data["url"]
    assert first["ETag"] == '"1"'


@pytest.mark.parametrize("like", ["tight", "fails", "unknown"])
def test_a_verdict_that_does_not_fit_is_told_with_its_reason(
    office: Caller, body: Any, like: str
) -> None:
    case = survey_case(like)
    summary = office.post(SURVEYS, case.body).data["verdict"]["result"]["summary"]
    reply = office.post(BOOKINGS, body(job=case.opening.job.number))
    problem = assert_problem(reply, 409, "verdict_against", "/override_name")
    assert problem["against"] == [{"opening": case.opening.number, "state": like, "says": summary}]
    assert summary in problem["detail"]
    assert not Booking.objects.exists()


def test_every_opening_of_the_job_is_asked(office: Caller, job: Any, body: Any) -> None:
    second = OpeningFactory(job=job)
    problem = assert_problem(office.post(BOOKINGS, body()), 409, "verdict_against")
    assert [one["opening"] for one in problem["against"]] == [second.number]


def test_a_job_without_an_opening_is_not_installed(office: Caller, body: Any) -> None:
    reply = office.post(BOOKINGS, body(job=JobFactory().number))
    problem = assert_problem(reply, 409, "verdict_against")
    assert problem["against"][0]["says"] == "The job has no opening yet."


def test_an_opening_surveyed_again_needs_a_verdict_anew(
    office: Caller, job: Any, body: Any
) -> None:
    opening = job.openings.get()
    office.post(SURVEYS, survey_body(opening, None))
    problem = assert_problem(office.post(BOOKINGS, body()), 409, "verdict_against")
    assert "Surveyed again" in problem["against"][0]["says"]
    office.post("/api/v1/verdicts/", {"opening": opening.number, "kit": "osquith-tillybeck:2"})
    assert office.post(BOOKINGS, body()).status_code == 201


def test_an_opening_described_otherwise_needs_a_verdict_anew(
    office: Caller, job: Any, body: Any
) -> None:
    opening = job.openings.get()
    office.patch(f"/api/v1/openings/{opening.number}/", {"stands_on": "tub_deck"}, seen=1)
    assert_problem(office.post(BOOKINGS, body()), 409, "verdict_against")


def test_the_verdict_of_the_kit_decided_on_counts(office: Caller, job: Any, body: Any) -> None:
    """A verdict that fits for one kit says nothing about the other that was ordered."""
    other = kit_published("pellandrake-gullimot")
    opening = job.openings.get()
    opening.kit = other
    opening.save()
    assert_problem(office.post(BOOKINGS, body()), 409, "verdict_against")


def test_the_office_overrides_by_name_and_reason_and_it_is_kept(office: Caller, body: Any) -> None:
    case = survey_case("fails")
    office.post(SURVEYS, case.body)
    wanted = body(job=case.opening.job.number)
    for half in ({"override_name": "Imke Thorsby"}, {"override_reason": "Because."}):
        assert_problem(office.post(BOOKINGS, {**wanted, **half}), 409, "verdict_against")
    blank = {"override_name": "   ", "override_reason": "Because."}
    assert_problem(office.post(BOOKINGS, {**wanted, **blank}), 409, "verdict_against")
    reply = office.post(BOOKINGS, {**wanted, **OVERRIDE})
    assert reply.status_code == 201
    assert reply.data["override_name"] == "Imke Thorsby"
    assert reply.data["overridden"][0]["state"] == "fails"
    notice = Notice.objects.get(type="booking.made")
    assert notice.reason == OVERRIDE["override_reason"]


def test_a_scheduler_overrides_nothing(scheduler: Caller, office: Caller, body: Any) -> None:
    case = survey_case("fails")
    office.post(SURVEYS, case.body)
    wanted = body(job=case.opening.job.number)
    assert_problem(scheduler.post(BOOKINGS, wanted), 409, "verdict_against")
    reply = scheduler.post(BOOKINGS, {**wanted, **OVERRIDE})
    assert_problem(reply, 403, "override_needs_office", "/override_name")
    assert not Booking.objects.exists()


@pytest.mark.parametrize("by", ["tablet", "lead", "measurer", "helper", "yard"])
def test_only_office_and_scheduler_book(by: str, body: Any, request: Any) -> None:
    caller: Caller = request.getfixturevalue(by)
    assert_problem(caller.post(BOOKINGS, body()), 403, "role_not_allowed")


@pytest.mark.parametrize("visit", ["survey", "follow_up"])
def test_a_visit_that_hangs_nothing_needs_no_verdict(office: Caller, body: Any, visit: str) -> None:
    alone = CrewFactory(slug="alone", members=[MemberFactory(role="measurer")])
    reply = office.post(BOOKINGS, body(visit=visit, job=JobFactory().number, crew=alone.slug))
    assert reply.status_code == 201
    assert reply.data["hands_needed"] == 1


def test_nobody_is_sent_alone_to_an_install(office: Caller, body: Any) -> None:
    alone = CrewFactory(slug="alone", members=[MemberFactory(role="lead")])
    problem = assert_problem(
        office.post(BOOKINGS, body(crew=alone.slug)), 409, "hands_short", "/crew"
    )
    assert (problem["hands"], problem["hands_needed"]) == (1, 2)
    assert "1 person" in problem["detail"]


def heavy(office: Caller) -> Any:
    """Publish the kit anew with panels of 45 kg and ask about it; returns the answer and its job."""
    case = survey_case("fits")
    sheet = sheet_body(case.kit.slug)
    sheet["fixings"][0] |= {"screw": {"size": "#12", "length": "3 in"}, "count": 6}
    for panel in sheet["panels"]:
        panel["hardware_mass"] = "17.2 kg"
    sheet_publish(by=SYSTEM, kit=case.kit, body=sheet)
    reply = office.post(SURVEYS, survey_body(case.opening, case.kit))
    return reply.json()["verdict"]["result"], case.opening.job.number


@pytest.mark.parametrize("size", [1, 2, 3])
def test_a_panel_of_45_kg_needs_a_crew_that_can_lift_it(
    office: Caller, body: Any, size: int
) -> None:
    """Two lift 42.5 kg by the firm's convention (ISO 11228-1, from memory); more takes an aid."""
    result, job = heavy(office)
    assert {one["mass"].partition(".")[0] for one in result["panels"]} == {"45"}
    assert (result["state"], result["hands_needed"]) == ("fits", 4)
    assert any("which lifting aid" in one["text"] for one in result["questions"])
    crew = CrewFactory(members=[MemberFactory() for _ in range(size)])
    reply = office.post(BOOKINGS, body(job=job, crew=crew.slug))
    problem = assert_problem(reply, 409, "hands_short", "/crew")
    assert (problem["hands"], problem["hands_needed"]) == (size, 4)
    assert "at least 4" in problem["hint"]
    four = CrewFactory(members=[MemberFactory() for _ in range(4)])
    assert office.post(BOOKINGS, body(job=job, crew=four.slug)).status_code == 201


def test_a_crew_that_has_lost_a_member_has_one_hand_less(office: Caller, body: Any) -> None:
    pair = [MemberFactory(role="lead"), MemberFactory()]
    crew = CrewFactory(slug="pair", members=pair)
    Member.objects.filter(pk=pair[1].pk).update(is_active=False)
    assert_problem(office.post(BOOKINGS, body(crew=crew.slug)), 409, "hands_short", "/crew")


def test_a_booking_is_not_moved_to_a_crew_too_small_for_it(office: Caller, body: Any) -> None:
    made = office.post(BOOKINGS, body()).data
    alone = CrewFactory(slug="alone", members=[MemberFactory(role="lead")])
    moved = office.post(f"{made['url']}move/", {"crew": alone.slug, "reason": "Nearer."}, seen=1)
    assert_problem(moved, 409, "hands_short", "/crew")
    assert office.get(made["url"]).data["version"] == 1

"""Does a job move only past its guards, tell what comes next, and follow what is recorded elsewhere?"""

from datetime import UTC, datetime
from typing import Any

import pytest

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from jobs.bookings.services import booking_cancel, booking_make
from jobs.jobs.life import job_follow
from jobs.jobs.models import Job, State
from jobs.jobs.moves import ACTIONS, MOVES
from jobs.receiving.orders import order_place
from tests.clients import Caller, assert_problem
from tests.factories import (
    CrewFactory,
    JobFactory,
    MemberFactory,
    OpeningFactory,
    survey_body,
    survey_case,
)
from tests.jobs.jobs.conftest import Measured

JOBS = "/api/v1/jobs/"
SPAN = {
    "starts_at": datetime(2027, 3, 2, 14, tzinfo=UTC),
    "ends_at": datetime(2027, 3, 2, 17, tzinfo=UTC),
}


def move(caller: Caller, job: Job, action: str, reason: str = "") -> Any:
    path = f"{JOBS}{job.number}/move/"
    return caller.post(path, {"action": action, "reason": reason}, seen="*")


def read(caller: Caller, job: Job) -> Any:
    return caller.get(f"{JOBS}{job.number}/").json()


def test_a_new_job_waits_for_an_opening_and_says_so(office: Caller) -> None:
    told = read(office, JobFactory())
    assert told["state"] == "enquiry"
    assert (told["next"]["action"], told["next"]["who"]) == ("survey", "measurer")
    assert [one["guard"] for one in told["next"]["blocked_by"]] == ["opening_there"]


def test_a_survey_moves_the_job_by_itself(measured: Measured) -> None:
    assert measured.job.state == "surveyed"
    notice = Notice.objects.get(type="job.moved", about=measured.job.number)
    assert notice.changes == {"state": ["enquiry", "surveyed"]}


def test_a_job_of_two_openings_waits_for_both_unless_one_is_dropped(office: Caller) -> None:
    case = survey_case("fits")
    job = case.opening.job
    other = OpeningFactory(job=job, name="Loft")
    office.post("/api/v1/surveys/", case.body)
    told = read(office, job)
    assert told["state"] == "enquiry"
    assert other.number in told["next"]["blocked_by"][0]["why"]
    path = f"/api/v1/openings/{other.number}/drop/"
    assert office.post(path, {"why": "They keep the curtain."}, seen=1).status_code == 200
    assert move(office, job, "survey").data["state"] == "surveyed"


def test_a_refusal_names_every_guard_and_what_satisfies_it(
    office: Caller, measured: Measured
) -> None:
    body = assert_problem(move(office, measured.job, "decide"), 409, "not_yet")
    assert [one["guard"] for one in body["blocked_by"]] == ["kits_decided"]
    assert measured.opening.number in body["detail"]
    assert all(one["hint"] for one in body["blocked_by"])


def test_an_action_of_another_state_is_refused_with_those_of_this_one(
    office: Caller, measured: Measured
) -> None:
    body = assert_problem(move(office, measured.job, "hand_over"), 409, "no_such_move")
    assert {"decide", "decide_anyway", "survey_again", "cancel"} == set(body["actions"])


def test_a_verdict_that_fails_is_decided_over_only_with_a_reason(office: Caller) -> None:
    case = survey_case("fails")
    office.post("/api/v1/surveys/", case.body)
    job, opening = case.opening.job, case.opening
    office.patch(f"/api/v1/openings/{opening.number}/", {"kit": case.kit.slug}, seen=1)
    body = assert_problem(move(office, job, "decide"), 409, "not_yet")
    assert [one["guard"] for one in body["blocked_by"]] == ["verdicts_fit"]
    assert_problem(move(office, job, "decide_anyway"), 409, "not_yet")
    reply = move(office, job, "decide_anyway", "The maker sends a longer rail.")
    assert reply.data["state"] == "decided"
    notice = Notice.objects.filter(about=job.number).order_by("-pk")[0]
    assert (notice.caller_name, notice.reason) == ("Imke Thorsby", "The maker sends a longer rail.")


def test_only_those_whose_move_it_is_may_make_it(yard: Caller, measured: Measured) -> None:
    assert_problem(move(yard, measured.job, "decide"), 403, "role_not_allowed")


def test_an_order_moves_the_job_and_a_booking_waits_for_the_goods(decided: Measured) -> None:
    order_place(by=SYSTEM, job=decided.job, kind="kit")
    decided.job.refresh_from_db()
    assert decided.job.state == "ordered"
    job_follow(by=SYSTEM, job=decided.job, action="receive")
    decided.job.refresh_from_db()
    assert decided.job.state == "ordered"


def test_a_booking_made_and_cancelled_is_followed(decided: Measured) -> None:
    job = decided.job
    Job.objects.filter(pk=job.pk).update(state="received")
    job.refresh_from_db()
    booking = booking_make(by=SYSTEM, job=job, crew=CrewFactory(), visit="install", **SPAN)
    job.refresh_from_db()
    assert job.state == "booked"
    booking_cancel(by=SYSTEM, booking=booking, why="They are away.")
    job.refresh_from_db()
    assert job.state == "received"


def test_a_job_moved_by_hand_goes_on_as_far_as_its_guards_allow(
    office: Caller, measured: Measured
) -> None:
    measured.job.openings.update(kit=measured.kit)
    order_place(by=SYSTEM, job=measured.job, kind="kit")
    measured.job.refresh_from_db()
    assert measured.job.state == "surveyed"  # somebody must decide

    assert move(office, measured.job, "decide").data["state"] == "ordered"
    types = Notice.objects.filter(about=measured.job.number, type="job.moved").order_by("pk")
    assert [one.changes["state"] for one in types[1:]] == [
        ["surveyed", "decided"],
        ["decided", "ordered"],
    ]


def test_a_way_back_by_hand_is_not_undone_by_going_on(office: Caller, decided: Measured) -> None:
    order_place(by=SYSTEM, job=decided.job, kind="kit")
    told = move(office, decided.job, "survey_again", "The tape was hooked.").data
    assert told["state"] == "enquiry"


def test_a_bad_survey_no_longer_counts(office: Caller, decided: Measured) -> None:
    assert move(office, decided.job, "survey_again", "The tape was hooked.").data["state"] == (
        "enquiry"
    )
    body = assert_problem(move(office, decided.job, "survey"), 409, "not_yet")
    assert [one["guard"] for one in body["blocked_by"]] == ["openings_surveyed"]
    office.post("/api/v1/surveys/", survey_body(decided.opening, decided.kit))
    assert read(office, decided.job)["state"] == "surveyed"


def test_a_booked_install_must_be_cancelled_before_the_job_goes_back(
    office: Caller, decided: Measured
) -> None:
    told = {"override_name": "Imke Thorsby", "override_reason": "The customer bought it."}
    booking_make(by=SYSTEM, job=decided.job, crew=CrewFactory(), visit="install", **SPAN, **told)
    for action in ("change", "survey_again", "cancel"):
        assert_problem(
            move(office, decided.job, action, "They changed their mind."), 409, "not_yet"
        )


def test_a_cancelled_job_is_opened_again_and_finds_its_way(
    office: Caller, decided: Measured
) -> None:
    assert move(office, decided.job, "cancel", "Sold the house.").data["state"] == "cancelled"
    assert move(office, decided.job, "reopen", "They stay.").data["state"] == "enquiry"
    assert move(office, decided.job, "survey").data["state"] == "surveyed"


def test_an_install_on_paper_is_told_by_name_and_reason(office: Caller, measured: Measured) -> None:
    Job.objects.filter(pk=measured.job.pk).update(state="booked")
    assert_problem(move(office, measured.job, "install"), 409, "not_yet")
    told = next(o for o in read(office, measured.job)["moves"] if o["action"] == "install")
    assert told["needs_reason"] is True
    assert move(office, measured.job, "install", "Record in folder 7.").data["state"] == "installed"


def test_the_strip_tells_where_it_is_in_words(office: Caller, decided: Measured) -> None:
    reply = office.get(f"{JOBS}{decided.job.number}/strip.svg/")
    assert reply.status_code == 200, (reply.status_code, reply.headers)
    svg = reply.content.decode()
    assert f'<title id="t">{decided.job.number}: Kit decided</title>' in svg
    assert "Next: ordered, by the office. Nothing is ordered for" in svg


def test_every_action_has_words_and_every_state_a_way_out() -> None:
    assert {action for _, action in MOVES} == set(ACTIONS)
    assert {state for state, _ in MOVES} == set(State)
    assert all(move.guards for move in MOVES.values())


@pytest.mark.parametrize("state", [s for s in State if s not in {State.CANCELLED, State.CLOSED}])
def test_every_state_but_the_last_says_what_comes_next(office: Caller, state: State) -> None:
    told = read(office, JobFactory(state=state))["next"]
    assert told["to"] in State.values
    past = {State.HANDED_OVER, State.FOLLOWED_UP}
    assert ("opening_there" in [one["guard"] for one in told["blocked_by"]]) is (state not in past)


def test_nothing_is_hung_that_was_decided_on_and_not_ordered(
    office: Caller, decided: Measured
) -> None:
    crew = CrewFactory(members=[MemberFactory() for _ in range(3)])
    wanted = {"job": decided.job.number, "crew": crew.slug, "visit": "install"}
    span = {"starts_at": "2027-05-04T13:00:00Z", "ends_at": "2027-05-04T15:00:00Z"}
    refused = office.post("/api/v1/bookings/", {**wanted, **span})
    problem = assert_problem(refused, 409, "goods_not_received")
    assert problem["detail"] == "Nothing is ordered."
    answered = {"override_name": "Imke Thorsby", "override_reason": "The customer bought it."}
    assert office.post("/api/v1/bookings/", {**wanted, **span, **answered}).status_code == 201

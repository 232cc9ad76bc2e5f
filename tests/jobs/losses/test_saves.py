"""Is what a guard refused counted once, told beside what leaks, and taken back when it was overridden?"""

from typing import Any

import pytest

from contractor.notices.models import Notice
from jobs.bookings.models import Booking
from jobs.losses.models import Save
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory, MemberFactory, survey_case

BOOKINGS = "/api/v1/bookings/"
SPAN = {"starts_at": "2027-05-04T13:00:00Z", "ends_at": "2027-05-04T15:00:00Z"}


def surveyed(measurer: Caller, like: str) -> Any:
    """A job whose one opening was surveyed."""
    case = survey_case(like)
    assert measurer.post("/api/v1/surveys/", case.body).status_code == 201
    return case.opening.job


def wanted(job: Any, hands: int = 2, **more: Any) -> dict[str, Any]:
    """An install of this job by a new crew."""
    crew = CrewFactory(members=[MemberFactory() for _ in range(hands)])
    return {"job": job.number, "crew": crew.slug, "visit": "install", **SPAN, **more}


def stands(office: Caller) -> dict[str, int]:
    """What the page of costs says was refused."""
    told = office.get("/api/v1/losses/sums/").json()["saves"]
    return {one["guard"]: one["count"] for one in told}


def test_too_few_hands_are_counted_once_a_day_for_a_job(office: Caller, measurer: Caller) -> None:
    body = wanted(surveyed(measurer, "fits"), hands=1)
    for _ in range(3):
        assert_problem(office.post(BOOKINGS, body), 409, "hands_short")

    row = Save.objects.get()
    assert (row.guard, row.job.number, row.caller_name) == (
        "hands_short",
        body["job"],
        "Imke Thorsby",
    )
    assert "this visit needs" in row.says
    assert stands(office)["hands_short"] == 1
    assert Notice.objects.get(type="save.counted").about == row.number
    assert not Booking.objects.exists()


def test_a_booking_against_a_verdict_is_a_save_until_somebody_answers_for_it(
    office: Caller, measurer: Caller
) -> None:
    body = wanted(surveyed(measurer, "fails"))
    assert_problem(office.post(BOOKINGS, body), 409, "verdict_against")
    assert stands(office)["verdict_against"] == 1

    override = {"override_name": "Imke Thorsby", "override_reason": "The maker comes along."}
    assert office.post(BOOKINGS, {**body, **override}).status_code == 201
    assert "verdict_against" not in stands(office)
    row = Save.objects.get()
    assert (row.overridden, row.version) == (True, 2)
    assert Notice.objects.get(type="save.taken_back").reason == "The maker comes along."


def test_a_job_that_may_not_be_moved_on_is_counted_by_its_guard(
    office: Caller, measurer: Caller
) -> None:
    job = surveyed(measurer, "fails")
    job.openings.update(kit=job.openings.get().verdicts.get().sheet.kit)
    path = f"/api/v1/jobs/{job.number}"
    move = {"action": "decide"}
    assert_problem(office.post(f"{path}/move/", move, seen="*"), 409, "not_yet")
    assert stands(office)["verdicts_fit"] == 1

    anyway = {"action": "decide_anyway", "reason": "The customer wants it so."}
    assert office.post(f"{path}/move/", anyway, seen="*").status_code == 200
    assert "verdicts_fit" not in stands(office)


@pytest.mark.parametrize("code", ["crew_taken", "ends_before_start"])
def test_what_is_only_the_calendar_s_business_saves_nothing(
    office: Caller, measurer: Caller, code: str
) -> None:
    body = wanted(surveyed(measurer, "fits"))
    assert office.post(BOOKINGS, body).status_code == 201
    body |= {} if code == "crew_taken" else {"ends_at": "2027-05-04T12:00:00Z"}
    assert_problem(office.post(BOOKINGS, body), 409 if code == "crew_taken" else 400, code)
    assert not Save.objects.exists()


def test_each_refusal_is_listed_with_its_words(office: Caller, measurer: Caller) -> None:
    body = wanted(surveyed(measurer, "fits"), hands=1)
    office.post(BOOKINGS, body)
    [row] = office.get(f"/api/v1/saves/?job={body['job']}").json()["results"]
    assert row["stopped"] == "Visit not booked: too few hands for the glass"
    assert office.get("/api/v1/saves/?guard=goods_damaged").json()["results"] == []
    assert len(office.get(f"/api/v1/saves/?since={row['day']}").json()["results"]) == 1
    assert_problem(office.get("/api/v1/saves/?since=soon"), 400, "filter_value", "/since")


def test_the_chart_shows_saves_beside_losses(office: Caller, measurer: Caller) -> None:
    office.post(BOOKINGS, wanted(surveyed(measurer, "fits"), hands=1))
    svg = office.get("/api/v1/losses/chart.svg/").content.decode()
    assert "too few hands for the glass: once" in svg
    page = office.get("/api/v1/losses/", headers={"Accept": "text/html"}).content.decode()
    assert "What the guards saved" in page


def test_each_refusal_among_many_bookings_is_counted_for_its_own_job(
    office: Caller, measurer: Caller
) -> None:
    first, second = (wanted(surveyed(measurer, "fits"), hands=1) for _ in range(2))
    taken = wanted(surveyed(measurer, "fits"))
    unreadable = {**second, "crew": "no-such-crew"}
    told = office.post(f"{BOOKINGS}many/", {"items": [first, taken, unreadable, second]}).json()
    assert [one["status"] for one in told["results"]] == [409, 201, 400, 409]
    assert "There is no 'no-such-crew'." in told["results"][2]["problem"]["detail"]
    counted = Save.objects.order_by("pk").values_list("job__pk", "guard")
    assert [(f"J-{job:04}", guard) for job, guard in counted] == [
        (first["job"], "hands_short"),
        (second["job"], "hands_short"),
    ]

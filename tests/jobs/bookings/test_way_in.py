"""Is an install refused where a panel cannot get in or nobody can tell, unless somebody answers for it?"""

from typing import Any

import pytest

from contractor.customers.models import Site
from fitcheck.rules.way_in_kinds import SIZES
from jobs.bookings.models import Booking
from jobs.losses.models import Save
from tests.clients import Caller, assert_problem

BOOKINGS, FREE = "/api/v1/bookings/", "/api/v1/bookings/free/"
OVERRIDE = {"override_name": "Imke Thorsby", "override_reason": "The window is taken out."}
LOW = {"passes": ["straight_in"], "door_width": "20 in", "door_height": "24 in"}


def told(job: Any, **way: Any) -> None:
    """Describe the site of a job so, and not otherwise."""
    Site.objects.filter(pk=job.site_id).update(**{**dict.fromkeys(SIZES, ""), "passes": [], **way})


def test_a_panel_that_cannot_get_in_is_refused_with_its_tightest_place(
    office: Caller, job: Any, body: Any
) -> None:
    told(job, **LOW)
    problem = assert_problem(
        office.post(BOOKINGS, body()), 409, "way_in_too_tight", "/override_name"
    )
    assert [one["opening"] for one in problem["against"]] == [job.openings.get().number] * 2
    for one, name in zip(problem["against"], ("inner", "outer"), strict=True):
        assert one["says"].startswith(f"Panel {name} (30 3/4 in × 70 1/8 in, with 25 mm of packing")
        assert "the tightest place is Door, short by" in one["says"]
    assert problem["against"][0]["says"] in problem["detail"]
    assert not Booking.objects.exists()


def test_nothing_told_is_one_question_and_a_refusal(office: Caller, job: Any, body: Any) -> None:
    told(job)
    problem = assert_problem(office.post(BOOKINGS, body()), 409, "way_in_unknown")
    (one,) = problem["against"]
    assert one["opening"] == ""
    assert f"{job.site.number}: Nobody has told how the glass gets in" in one["says"]
    assert one["says"] in problem["detail"]


def test_a_size_that_is_missing_is_asked_for_by_name(office: Caller, job: Any, body: Any) -> None:
    told(job, passes=["lift"], door_width="30 in", door_height="80 in", lift_width="41 in")
    problem = assert_problem(office.post(BOOKINGS, body()), 409, "way_in_unknown")
    asked = "lift depth, lift height, lift door width, lift door height."
    assert problem["against"][0]["says"].endswith(f"Measure on the way in: {asked}")


def test_the_site_said_to_be_straight_in_is_booked(office: Caller, job: Any, body: Any) -> None:
    told(job)
    site = f"/api/v1/sites/{job.site.number}/"
    asks = office.get(site).data["way_in_asks"]
    assert len(asks) == 1
    reply = office.patch(site, {"way_in": {"passes": ["straight_in"]}}, seen=1)
    assert reply.data["way_in_asks"] == []
    assert office.post(BOOKINGS, body()).status_code == 201


def test_a_way_that_is_wide_enough_is_booked_without_a_word(
    office: Caller, job: Any, body: Any
) -> None:
    told(
        job,
        passes=["corner", "quarter_turn"],
        door_width="32 in",
        door_height="80 in",
        corridor_width="40 in",
        corridor_height="94 in",
        stair_width="36 in",
        stair_headroom="80 in",
        stair_rise="7 1/2 in",
        stair_going="10 in",
        landing_depth="38 in",
        landing_height="92 in",
    )
    reply = office.post(BOOKINGS, body())
    assert (reply.status_code, reply.data["overridden"]) == (201, [])


@pytest.mark.parametrize("way", [LOW, {}])
def test_the_office_answers_for_it_by_name_and_reason(
    office: Caller, scheduler: Caller, job: Any, body: Any, way: dict[str, Any]
) -> None:
    told(job, **way)
    reply = scheduler.post(BOOKINGS, {**body(), **OVERRIDE})
    assert_problem(reply, 403, "override_needs_office", "/override_name")
    booked = office.post(BOOKINGS, {**body(), **OVERRIDE}).data
    assert booked["override_name"] == "Imke Thorsby"
    states = {one["state"] for one in booked["overridden"]}
    assert states == {"way_in_too_tight" if way else "way_in_unknown"}


def test_a_verdict_against_it_is_named_first_and_the_way_beside_it(
    office: Caller, job: Any, body: Any
) -> None:
    told(job, **LOW)
    opening = job.openings.get()
    office.patch(f"/api/v1/openings/{opening.number}/", {"stands_on": "tub_deck"}, seen=1)
    problem = assert_problem(office.post(BOOKINGS, body()), 409, "verdict_against")
    states = [one["state"] for one in problem["against"]]
    assert states == ["unknown", "way_in_too_tight", "way_in_too_tight"]
    assert "does not get in" in problem["detail"]


@pytest.mark.parametrize("visit", ["survey", "follow_up"])
def test_a_visit_that_carries_no_glass_asks_nothing_of_the_way(
    office: Caller, job: Any, body: Any, visit: str
) -> None:
    told(job)
    assert office.post(BOOKINGS, body(visit=visit)).status_code == 201


def test_a_hold_asks_for_the_way_only_when_it_is_confirmed(
    office: Caller, job: Any, body: Any
) -> None:
    told(job, **LOW)
    held = office.post(BOOKINGS, body(hold_hours=48))
    assert held.status_code == 201
    path = f"{held.data['url']}confirm/"
    assert_problem(office.post(path, {}, seen=1), 409, "way_in_too_tight")
    assert office.post(path, OVERRIDE, seen=1).data["state"] == "booked"


def test_free_time_tells_it_before_anybody_books(office: Caller, job: Any) -> None:
    told(job)
    asked = {"job": job.number, "visit": "install", "hours": "4", "first_day": "2027-03-01"}
    states = [one["state"] for one in office.post(FREE, asked).data["against"]]
    assert states == ["way_in_unknown"]


def test_what_did_not_get_in_is_counted_as_saved_and_what_nobody_told_is_not(
    office: Caller, job: Any, body: Any
) -> None:
    told(job)
    office.post(BOOKINGS, body())
    assert not Save.objects.exists()
    told(job, **LOW)
    office.post(BOOKINGS, body())
    assert [one.guard for one in Save.objects.all()] == ["way_in_too_tight"]
    office.post(BOOKINGS, {**body(), **OVERRIDE})
    assert Save.objects.get().overridden


def test_the_job_tells_how_each_panel_gets_in_before_anything_is_booked(
    office: Caller, job: Any
) -> None:
    path = f"/api/v1/jobs/{job.number}/way-in/"
    told(job, passes=["straight_in"], door_width="30 in", door_height="74 in")
    way = office.get(path).json()
    assert (way["job"], way["site"], way["state"]) == (job.number, job.site.number, "fits")
    assert [one["name"] for one in way["panels"]] == ["inner", "outer"]
    for one in way["panels"]:
        assert one["opening"] == job.openings.get().number
        assert one["tightest"]["name"] == "Door"
        assert one["tightest"]["source"]["status"] == "from memory"
    told(job, passes=["lift"])
    way = office.get(path).json()
    assert way["state"] == "unknown"
    assert [one["missing"][0] for one in way["places"]] == ["door_width", "lift_width"]


def test_the_page_of_a_job_shows_it(office: Caller, job: Any) -> None:
    told(job, **LOW)
    html = {"Accept": "text/html"}
    page = office.get(f"/api/v1/jobs/{job.number}/", headers=html).content.decode()
    assert "Way in: every place that was told has its sizes." in page
    assert "does not get in: the tightest place is Door, short by" in page
    told(job)
    page = office.get(f"/api/v1/jobs/{job.number}/", headers=html).content.decode()
    assert "Way in: Nobody has told how the glass gets in" in page

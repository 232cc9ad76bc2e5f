"""Can one request bring the rows that a row names, without asking for each?"""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from jobs.bookings.models import Booking
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory, JobFactory, OpeningFactory, SiteFactory, integration_made
from tests.world import booked


@pytest.fixture
def booking(db: None) -> Booking:
    return booked(JobFactory(), CrewFactory(), visit="survey")


@pytest.mark.usefixtures("booking")
def test_a_list_brings_the_rows_whole_as_their_rooms_show_them(office: Caller) -> None:
    row = office.get("/api/v1/bookings/?expand=job,crew").json()["results"][0]
    jobs = office.get("/api/v1/jobs/").json()["results"]
    crews = office.get("/api/v1/crews/").json()["results"]
    assert row["expanded"]["job"] == next(one for one in jobs if one["id"] == row["job"])
    assert row["expanded"]["crew"] == next(one for one in crews if one["id"] == row["crew"])


def test_so_does_a_single_row_with_few_of_its_own_members(office: Caller) -> None:
    job = JobFactory()
    told = office.get(f"/api/v1/jobs/{job.number}/?expand=site&fields=id").json()
    assert set(told) == {"id", "expanded"}
    assert told["expanded"]["site"]["id"] == job.site.number


def test_what_is_named_by_nobody_is_null(office: Caller) -> None:
    opening = OpeningFactory(kit=None)
    told = office.get(f"/api/v1/openings/{opening.number}/?expand=kit").json()
    assert told["expanded"] == {"kit": None}


def test_without_it_no_row_has_the_member(office: Caller) -> None:
    assert "expanded" not in office.get(f"/api/v1/jobs/{JobFactory().number}/").json()


def test_many_rows_cost_as_many_statements_as_few(office: Caller) -> None:
    def cost() -> int:
        with CaptureQueriesContext(connection) as seen:
            assert office.get("/api/v1/sites/?expand=customer&limit=100").status_code == 200
        return len(seen)

    SiteFactory.create_batch(2)
    few = cost()
    SiteFactory.create_batch(30)
    assert cost() == few


@pytest.mark.usefixtures("booking")
def test_a_misspelt_name_is_answered_with_the_nearest(office: Caller) -> None:
    told = assert_problem(office.get("/api/v1/bookings/?expand=jop"), 400, "unknown_field")
    assert "job" in told["hint"]
    plain = assert_problem(office.get("/api/v1/bookings/?expand=visit"), 400, "unknown_field")
    assert "`visit`" in plain["detail"]


@pytest.mark.usefixtures("booking")
def test_a_program_gets_no_room_that_its_scopes_do_not_open() -> None:
    only_bookings = Caller().with_token(integration_made(scopes=["bookings:read"])[1])
    assert only_bookings.get("/api/v1/bookings/").status_code == 200
    told = assert_problem(only_bookings.get("/api/v1/bookings/?expand=job"), 403, "scope_missing")
    assert "`job`" in told["detail"]
    assert "jobs:read" in told["detail"]

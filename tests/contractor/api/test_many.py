"""Are many rows made with one request, each by itself, however often it is sent?"""

from typing import Any

import pytest

from contractor.customers.models import Customer
from jobs.bookings.models import Booking
from jobs.surveys.models import Reading, Survey
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory, JobFactory, fresh_uuid, survey_case

CUSTOMERS, BOOKINGS = "/api/v1/customers/many/", "/api/v1/bookings/many/"
SURVEYS = "/api/v1/surveys/many/"


def results(answer: Any) -> list[dict[str, Any]]:
    assert answer.status_code == 200, answer.content
    found: list[dict[str, Any]] = answer.json()["results"]
    return found


def test_a_bad_row_holds_up_no_good_one_and_says_where_it_stands(office: Caller, db: None) -> None:
    items = [{"name": "Wren"}, {"nam": "Tern"}, {"name": "Plover", "email": "no"}, "Snipe"]
    told = results(office.post(CUSTOMERS, {"items": [*items, {"name": "Heron"}]}))
    assert [one["index"] for one in told] == [0, 1, 2, 3, 4]
    assert [one["status"] for one in told] == [201, 400, 400, 400, 201]
    assert [one["row"]["name"] for one in told if one["row"]] == ["Wren", "Heron"]
    assert [one.name for one in Customer.objects.order_by("pk")] == ["Wren", "Heron"]
    pointers = {
        error["pointer"] for one in told if one["problem"] for error in one["problem"]["errors"]
    }
    assert {"/items/1/nam", "/items/2/email"} <= pointers


def test_sent_again_with_its_key_it_makes_nothing_twice_and_tries_the_rest(
    scheduler: Caller,
) -> None:
    crew, job = CrewFactory(), JobFactory()
    hours = [("14:00", "16:00"), ("15:00", "17:00"), ("17:00", "18:00")]
    items = [
        {
            "job": job.number,
            "crew": crew.slug,
            "visit": "survey",
            "starts_at": f"2027-03-02T{start}:00Z",
            "ends_at": f"2027-03-02T{end}:00Z",
        }
        for start, end in hours
    ]
    key = fresh_uuid()
    first = results(scheduler.post(BOOKINGS, {"items": items}, key=key))
    assert [one["status"] for one in first] == [201, 409, 201]
    assert first[1]["problem"]["code"] == "crew_taken"
    again = results(scheduler.post(BOOKINGS, {"items": items}, key=key))
    assert [one["status"] for one in again] == [201, 409, 201]
    assert [one["row"] for one in again] == [one["row"] for one in first]
    assert Booking.objects.count() == 2
    items[1] |= {"starts_at": "2027-03-02T18:00:00Z", "ends_at": "2027-03-02T19:00:00Z"}
    mended = results(scheduler.post(BOOKINGS, {"items": items}, key=key))
    assert [one["status"] for one in mended] == [201, 201, 201]
    assert Booking.objects.count() == 3


def test_a_program_says_which_request_it_is(scheduler: Caller) -> None:
    answer = scheduler.post(BOOKINGS, {"items": [{}]}, key=None)
    assert_problem(answer, 400, "idempotency_key_missing")


def test_a_tablet_empties_its_outbox_though_one_survey_is_refused(tablet: Caller) -> None:
    bodies = [survey_case("fits").body for _ in range(3)]
    bodies[1]["readings"][0]["value"] = "59"
    first = results(tablet.post(SURVEYS, {"items": bodies}, key=None))
    assert [one["status"] for one in first] == [201, 400, 201]
    assert first[0]["row"]["verdict"]["state"] == "fits"
    assert first[1]["problem"]["errors"][0]["pointer"] == "/items/1/readings/0/value"
    again = results(tablet.post(SURVEYS, {"items": bodies}, key=None))
    assert [one["status"] for one in again] == [200, 400, 200]
    assert Survey.objects.count() == 2
    assert Reading.objects.count() == sum(len(bodies[n]["readings"]) for n in (0, 2))


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ([{"name": "Wren"}], "not_an_object"),
        ({"item": []}, "not_an_object"),
        ({"items": [], "also": 1}, "not_an_object"),
        ({"items": {"name": "Wren"}}, "not_an_object"),
        ({"items": []}, "too_many_items"),
        ({"items": [{"name": "Wren"}] * 101}, "too_many_items"),
    ],
)
def test_what_is_no_list_of_items_is_refused_whole(
    office: Caller, db: None, body: Any, code: str
) -> None:
    answer = office.post(CUSTOMERS, body)
    assert_problem(answer, 400, code)
    assert not Customer.objects.exists()

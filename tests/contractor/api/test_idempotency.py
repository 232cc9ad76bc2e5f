"""Is sending twice harmless?"""

from datetime import timedelta

import pytest
from django.utils import timezone

from contractor.api.idempotency import keys_forget
from contractor.api.models import IdempotencyKey
from contractor.customers.models import Customer
from contractor.notices.models import Notice
from jobs.bookings.models import Booking
from tests.clients import Caller, assert_problem, twin
from tests.factories import CrewFactory, JobFactory, fresh_uuid
from tests.threads import in_parallel

CUSTOMERS = "/api/v1/customers/"
BOOKINGS = "/api/v1/bookings/"


def visit(**changes: object) -> dict[str, object]:
    return {
        "job": JobFactory().number,
        "crew": CrewFactory().slug,
        "visit": "survey",
        "starts_at": "2027-03-02T09:00:00-05:00",
        "ends_at": "2027-03-02T11:00:00-05:00",
        **changes,
    }


def test_the_same_request_again_gives_the_same_answer_and_makes_nothing(office: Caller) -> None:
    key, body = fresh_uuid(), {"name": "Wren"}
    first = office.post(CUSTOMERS, body, key=key)
    again = office.post(CUSTOMERS, body, key=key)
    assert (again.status_code, again.json()) == (201, first.json())
    assert (again["Location"], again["ETag"]) == (first["Location"], first["ETag"])
    assert again["Idempotency-Replayed"] == "true"
    assert "Idempotency-Replayed" not in first
    assert Customer.objects.count() == 1
    assert Notice.objects.count() == 1


def test_a_key_in_quotes_is_the_same_key(office: Caller) -> None:
    key = fresh_uuid()
    office.post(CUSTOMERS, {"name": "Wren"}, key=key)
    office.post(CUSTOMERS, {"name": "Wren"}, key=f'"{key}"')
    assert Customer.objects.count() == 1


def test_a_key_used_for_another_body_is_refused(office: Caller) -> None:
    key = fresh_uuid()
    office.post(CUSTOMERS, {"name": "Wren"}, key=key)
    answer = office.post(CUSTOMERS, {"name": "Other"}, key=key)
    assert_problem(answer, 422, "idempotency_key_reused")
    assert Customer.objects.count() == 1


def test_a_key_used_at_another_address_is_refused(office: Caller) -> None:
    key = fresh_uuid()
    office.post(CUSTOMERS, {"name": "Wren"}, key=key)
    answer = office.post("/api/v1/kits/", {"name": "Wren"}, key=key)
    assert_problem(answer, 422, "idempotency_key_reused")


def test_two_callers_may_use_one_key(office: Caller, scheduler: Caller) -> None:
    key = fresh_uuid()
    assert office.post(BOOKINGS, visit(), key=key).status_code == 201
    assert scheduler.post(BOOKINGS, visit(), key=key).status_code == 201


def test_a_refused_request_frees_its_key(office: Caller) -> None:
    key = fresh_uuid()
    assert office.post(CUSTOMERS, {"nmae": "Wren"}, key=key).status_code == 400
    assert office.post(CUSTOMERS, {"name": "Wren"}, key=key).status_code == 201
    assert IdempotencyKey.objects.count() == 1


def test_a_conflict_frees_its_key_too(office: Caller) -> None:
    body = visit()
    office.post(BOOKINGS, body)
    key = fresh_uuid()
    assert_problem(office.post(BOOKINGS, body, key=key), 409, "crew_taken")
    later = {
        **body,
        "starts_at": "2027-03-02T12:00:00-05:00",
        "ends_at": "2027-03-02T13:00:00-05:00",
    }
    assert office.post(BOOKINGS, later, key=key).status_code == 201


@pytest.mark.parametrize("who", ["tablet", "scheduler"])
def test_a_token_must_say_which_request_it_is(who: str, callers: dict[str, Caller]) -> None:
    path, body = {
        "tablet": ("/api/v1/openings/", {"job": JobFactory().number, "name": "Loft"}),
        "scheduler": (BOOKINGS, visit()),
    }[who]
    answer = callers[who].post(path, body, key=None)
    assert_problem(answer, 400, "idempotency_key_missing")


def test_a_session_need_not(office: Caller) -> None:
    assert office.post(CUSTOMERS, {"name": "Wren"}, key=None).status_code == 201


@pytest.mark.parametrize("key", ["short", "x" * 121, "a b c d e f g", "ключ-ключ", ""])
def test_a_malformed_key_is_refused(office: Caller, key: str) -> None:
    sent = key.encode().decode("latin-1")
    answer = office.post(CUSTOMERS, {"name": "Wren"}, key=sent)
    assert_problem(answer, 400, "idempotency_key_malformed")


def test_keys_are_forgotten_after_a_week_and_not_before(office: Caller) -> None:
    office.post(CUSTOMERS, {"name": "Wren"}, key=fresh_uuid())
    week = timezone.now() + timedelta(days=7)
    assert keys_forget(now=week - timedelta(minutes=1)) == 0
    assert keys_forget(now=week + timedelta(minutes=1)) == 1


@pytest.mark.parametrize(("room", "extra"), [("tablets", "holder"), ("integrations", "scopes")])
def test_a_repeated_answer_never_holds_the_secret(office: Caller, room: str, extra: str) -> None:
    body = {"name": "Board", extra: office.member.number if extra == "holder" else ["jobs:read"]}
    key = fresh_uuid()
    first = office.post(f"/api/v1/{room}/", body, key=key).json()
    again = office.post(f"/api/v1/{room}/", body, key=key).json()
    assert first["token"]
    assert again == {**first, "token": ""}


@pytest.mark.django_db(transaction=True)
def test_sixteen_twins_at_one_moment_make_one_row(scheduler: Caller) -> None:
    body, key = visit(), fresh_uuid()
    answers = in_parallel(16, lambda _: twin(scheduler).post(BOOKINGS, body, key=key))
    assert Booking.objects.count() == 1
    assert Notice.objects.count() == 1
    assert {one.status_code for one in answers} == {201}
    assert all(one.json() == answers[0].json() for one in answers)
    assert sum("Idempotency-Replayed" in one for one in answers) == 15

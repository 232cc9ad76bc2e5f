"""Does every refusal have one shape: problem details with code, pointer and hint?"""

from typing import Any

import pytest

from tests.clients import Caller, assert_problem
from tests.factories import CustomerFactory

CUSTOMERS = "/api/v1/customers/"


def test_a_missing_field_is_named_by_pointer(office: Caller) -> None:
    body = assert_problem(office.post(CUSTOMERS, {}), 400, "required", "/name")
    assert body["errors"][0]["hint"] == "Send this field."


def test_every_wrong_field_is_told_at_once(office: Caller) -> None:
    answer = office.post(CUSTOMERS, {"name": "", "email": "no", "phone": "12"})
    body = assert_problem(answer, 400, "invalid")
    assert {one["pointer"] for one in body["errors"]} == {"/name", "/email", "/phone"}
    assert all(one["code"] and one["detail"] for one in body["errors"])


def test_a_field_inside_an_object_has_the_whole_pointer(office: Caller) -> None:
    customer = CustomerFactory()
    body = {
        "customer": customer.number,
        "time_zone": "America/New_York",
        "address": {"streetAddress": "4 Tern Ladder"},
    }
    answer = office.post("/api/v1/sites/", body)
    assert_problem(answer, 400, "required", "/address/addressLocality")


def test_nobody_is_told_to_log_in(anonymous: Caller) -> None:
    answer = anonymous.get(CUSTOMERS)
    assert_problem(answer, 401, "not_authenticated")
    assert answer["WWW-Authenticate"].startswith("Bearer")


def test_a_role_is_told_who_may(yard: Caller) -> None:
    body = assert_problem(yard.post(CUSTOMERS, {"name": "Wren"}), 403, "role_not_allowed")
    assert "office" in body["hint"]


@pytest.mark.parametrize("address", ["C-9999", "c-0", "X-0001", "nonsense", "C-" + "9" * 40])
def test_an_absent_row_is_not_found(office: Caller, address: str) -> None:
    body = assert_problem(office.get(f"{CUSTOMERS}{address}/"), 404, "not_found")
    assert address in body["detail"]


@pytest.mark.parametrize("path", ["/api/v1/nothing/", "/nothing-here"])
def test_an_unknown_address_leads_to_the_map(office: Caller, path: str) -> None:
    assert "/api/v1/" in assert_problem(office.get(path), 404, "not_found")["hint"]


def test_a_method_that_is_not_served_names_those_that_are(office: Caller) -> None:
    customer = CustomerFactory()
    answer = office.delete(f"{CUSTOMERS}{customer.number}/")
    assert_problem(answer, 405, "method_not_allowed")
    assert "PATCH" in answer["Allow"]


def test_a_representation_that_is_not_served_is_refused(office: Caller) -> None:
    answer = office.get(CUSTOMERS, headers={"Accept": "application/xml"})
    assert_problem(answer, 406, "not_acceptable")


def test_a_taken_name_is_a_conflict_or_a_field_problem_but_never_an_error(office: Caller) -> None:
    body = {"login": "wilna", "name": "Wilna Brask", "role": "helper"}
    assert office.post("/api/v1/members/", body).status_code == 201
    assert_problem(office.post("/api/v1/members/", body), 400, "unique", "/login")


@pytest.mark.parametrize("media", ["text/plain", "application/xml"])
def test_a_body_of_another_type_is_refused(office: Caller, media: str) -> None:
    answer = office.generic("POST", CUSTOMERS, b"name=Wren", content_type=media)
    assert_problem(answer, 415, "unsupported_media_type")


def test_too_many_calls_say_when_to_come_back(office: Caller, settings: Any) -> None:
    settings.RATE_LIMIT_PER_MINUTE = 1
    assert office.get(CUSTOMERS).status_code == 200
    answer = office.get(CUSTOMERS)
    assert_problem(answer, 429, "throttled")
    assert 1 <= int(answer["Retry-After"]) <= 60


def test_a_broken_view_tells_nothing_of_its_inside(
    office: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    from contractor.customers.api import CustomerView

    def break_down(*_: Any, **__: Any) -> None:
        raise RuntimeError("SELECT secret FROM somewhere")

    monkeypatch.setattr(CustomerView, "list", break_down)
    answer = Caller.unchecked(office).get(CUSTOMERS)
    assert answer.status_code == 500
    assert answer["Content-Type"] == "application/problem+json"
    assert answer.json()["code"] == "internal_error"
    assert b"SELECT" not in answer.content

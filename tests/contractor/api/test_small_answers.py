"""Can a slow connection ask for less?"""

import pytest

from tests.clients import Caller, assert_problem
from tests.factories import CustomerFactory, SiteFactory


def test_only_the_fields_asked_for_come(office: Caller) -> None:
    customer = CustomerFactory()
    for path in (f"/api/v1/customers/{customer.number}/", "/api/v1/customers/"):
        told = office.get(f"{path}?fields=id,name").json()
        row = told.get("results", [told])[0]
        assert row == {"id": customer.number, "name": customer.name}


def test_the_fields_left_out_do_not_come(office: Caller) -> None:
    customer = CustomerFactory()
    told = office.get(f"/api/v1/customers/{customer.number}/?omit=notes,email").json()
    assert set(told) == {
        "id",
        "url",
        "name",
        "phone",
        "language",
        "preferred_channel",
        "version",
    }


def test_the_shortest_answer_has_what_the_room_says(office: Caller) -> None:
    SiteFactory()
    row = office.get("/api/v1/sites/?brief=true").json()["results"][0]
    assert set(row) == {"id", "url", "address"}


@pytest.mark.parametrize("name", ["fields", "omit"])
def test_a_misspelt_field_is_answered_with_the_nearest_name(office: Caller, name: str) -> None:
    customer = CustomerFactory()
    answer = office.get(f"/api/v1/customers/{customer.number}/?{name}=emial")
    body = assert_problem(answer, 400, "unknown_field", f"/{name}")
    assert "`email`" in body["hint"]


@pytest.mark.parametrize("text", ["yes", "1", "", "TRUE"])
def test_a_switch_is_true_or_is_not_sent(office: Caller, text: str) -> None:
    assert_problem(office.get("/api/v1/sites/", {"brief": text}), 400, "filter_value", "/brief")


def test_an_unknown_parameter_of_a_single_row_is_refused(office: Caller) -> None:
    customer = CustomerFactory()
    answer = office.get(f"/api/v1/customers/{customer.number}/?feilds=id")
    assert_problem(answer, 400, "unknown_filter", "/feilds")

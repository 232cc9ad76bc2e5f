"""Does a list go on where it stopped, whatever is added meanwhile?"""

from typing import Any

import pytest

from tests.clients import Caller, assert_problem
from tests.factories import CustomerFactory

CUSTOMERS = "/api/v1/customers/"


@pytest.mark.parametrize("text", ["0", "201", "-1", "1.5", "many", "", "²", "1e2", "9" * 30])
def test_a_limit_outside_its_range_is_refused(office: Caller, text: str) -> None:
    body = assert_problem(
        office.get(CUSTOMERS, {"limit": text}), 400, "limit_out_of_range", "/limit"
    )
    assert "200" in body["hint"]


@pytest.mark.parametrize("limit", [1, 200])
def test_the_ends_of_the_range_are_taken(office: Caller, limit: int) -> None:
    CustomerFactory.create_batch(3)
    assert len(office.get(f"{CUSTOMERS}?limit={limit}").json()["results"]) == min(3, limit)


def test_a_page_has_fifty_rows_unless_told_otherwise(office: Caller) -> None:
    CustomerFactory.create_batch(51)
    page = office.get(CUSTOMERS).json()
    assert len(page["results"]) == 50
    assert page["next"]
    assert page["previous"] is None


def test_pages_repeat_and_skip_nothing_while_rows_are_added(office: Caller) -> None:
    wanted = [one.number for one in CustomerFactory.create_batch(7)]
    seen: list[str] = []
    address: str | None = f"{CUSTOMERS}?limit=2"
    while address:
        page: dict[str, Any] = office.get(address).json()
        seen += [one["id"] for one in page["results"]]
        CustomerFactory()
        address = page["next"]
    assert seen == wanted[::-1]


def test_the_way_back_leads_to_the_page_before(office: Caller) -> None:
    CustomerFactory.create_batch(4)
    first = office.get(f"{CUSTOMERS}?limit=2").json()
    second = office.get(first["next"]).json()
    assert office.get(second["previous"]).json()["results"] == first["results"]


@pytest.mark.parametrize("cursor", ["nonsense", "bz0tMQ==", "cD1hYmM="])
def test_a_cursor_that_is_none_of_ours_is_refused(office: Caller, cursor: str) -> None:
    CustomerFactory()
    answer = office.get(f"{CUSTOMERS}?cursor={cursor}")
    assert_problem(answer, 400, "cursor_unknown", "/cursor")


def test_filters_stay_in_the_link_to_the_next_page(office: Caller) -> None:
    CustomerFactory.create_batch(3, name="Wren Ashgrove")
    CustomerFactory(name="Somebody Else")
    page = office.get(f"{CUSTOMERS}?q=wren&limit=2").json()
    assert [one["name"] for one in office.get(page["next"]).json()["results"]] == ["Wren Ashgrove"]

"""Is every parameter of a list known, read, and used?"""

import pytest

from tests.clients import Caller, assert_problem
from tests.factories import CustomerFactory, JobFactory, MemberFactory, SiteFactory

CUSTOMERS = "/api/v1/customers/"


def ids(answer: object) -> list[str]:
    return [one["id"] for one in answer.json()["results"]]  # type: ignore[attr-defined]


def test_a_misspelt_filter_is_answered_with_the_nearest_name(office: Caller) -> None:
    answer = office.get("/api/v1/sites/?custommer=C-0001")
    body = assert_problem(answer, 400, "unknown_filter", "/custommer")
    assert body["hint"] == "Did you mean `customer`?"


def test_a_filter_of_another_room_is_refused(office: Caller) -> None:
    answer = office.get(f"{CUSTOMERS}?site=S-0001")
    assert_problem(answer, 400, "unknown_filter", "/site")


def test_search_is_unknown_where_nothing_is_searched(office: Caller) -> None:
    assert_problem(office.get("/api/v1/reminders/?q=x"), 400, "unknown_filter", "/q")


def test_a_filter_takes_a_number_of_its_own_kind_only(office: Caller) -> None:
    answer = office.get("/api/v1/sites/?customer=J-0001")
    body = assert_problem(answer, 400, "filter_value", "/customer")
    assert "C-0007" in body["hint"]


def test_a_filter_by_a_word_lists_the_words(office: Caller) -> None:
    body = assert_problem(office.get("/api/v1/members/?role=boss"), 400, "filter_value", "/role")
    assert "measurer" in body["hint"]


def test_a_filter_narrows_the_list(office: Caller) -> None:
    site = SiteFactory()
    SiteFactory()
    assert ids(office.get(f"/api/v1/sites/?customer={site.customer.number}")) == [site.number]


def test_a_filter_over_two_rooms_narrows_the_list(office: Caller) -> None:
    job = JobFactory()
    JobFactory()
    found = office.get(f"/api/v1/jobs/?customer={job.site.customer.number}&site={job.site.number}")
    assert ids(found) == [job.number]


def test_search_finds_every_word_in_any_of_its_fields(office: Caller) -> None:
    one = CustomerFactory(name="Ngozi Adébáyọ̀", email="ngozi@example.com")
    CustomerFactory(name="Ngozi Other", email="other@example.com")
    assert ids(office.get(f"{CUSTOMERS}?q=ngozi+adébáyọ̀")) == [one.number]
    assert ids(office.get(f"{CUSTOMERS}?q=ngozi@example.com")) == [one.number]


@pytest.mark.parametrize("text", ["%25", "_", "'", "\\", '"', "%"])
def test_search_takes_signs_of_the_database_as_plain_text(office: Caller, text: str) -> None:
    CustomerFactory(name="Wren Ashgrove", email="wren@example.com")
    assert office.get(CUSTOMERS, {"q": text}).json()["results"] == []


@pytest.mark.parametrize("path", ["kits", "surveys", "history", "bookings", "customers"])
@pytest.mark.parametrize(
    "name", ["q", "kit", "opening", "about", "crew", "cursor", "from", "since"]
)
def test_a_zero_byte_in_a_parameter_is_refused(office: Caller, path: str, name: str) -> None:
    answer = office.get(f"/api/v1/{path}/", {name: "a\x00b"})
    assert answer.status_code == 400, answer.content
    assert answer.json()["errors"][0]["pointer"] == f"/{name}"


@pytest.mark.parametrize("path", ["crews/a%00b/", "kits/a%00b/", "history/%00/", "customers/%00/"])
def test_a_zero_byte_in_an_address_is_not_found(office: Caller, path: str) -> None:
    assert office.get(f"/api/v1/{path}").status_code == 404


def test_a_number_is_read_in_any_case(office: Caller) -> None:
    member = MemberFactory(role="yard")
    assert office.get(f"/api/v1/members/{member.number.lower()}/").json()["id"] == member.number


def test_a_parameter_on_a_write_is_refused_rather_than_left_unread(office: Caller) -> None:
    answer = office.post("/api/v1/customers/?dry_run=true", {"name": "Ana"})
    assert answer.status_code == 400, answer.content
    assert answer.json()["errors"][0]["pointer"] == "/dry_run"

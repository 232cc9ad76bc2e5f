"""Are customers and sites kept as they were told?"""

import pytest

from tests.clients import Caller, assert_problem
from tests.factories import CustomerFactory

SITES = "/api/v1/sites/"
ADDRESS = {
    "streetAddress": "7 Tern Ladder",
    "extendedAddress": "Flat 3",
    "addressLocality": "Marrowgate",
    "addressRegion": "IL",
    "postalCode": "00012",
    "addressCountry": "US",
}


@pytest.mark.parametrize(
    "name", ["Ngozi Adébáyọ̀", "山根 由佳", "أمل حدّاد", "प्रिया शर्मा", "O'Vane-Łuk"]
)
def test_a_name_in_any_script_comes_back_as_it_was_written(office: Caller, name: str) -> None:
    told = office.post("/api/v1/customers/", {"name": name}).json()
    assert office.get(told["url"]).json()["name"] == name


def test_a_site_comes_back_with_every_part_as_it_was_told(office: Caller) -> None:
    way_in = {"door_width": "29 7/8 in", "door_height": "2030 mm", "lift_depth": "53 in"}
    body = {
        "customer": CustomerFactory().number,
        "address": ADDRESS,
        "time_zone": "America/Chicago",
        "access_notes": "Key from the shop below after 08:00.",
        "year_built": 1974,
        "way_in": way_in,
    }
    answer = office.post(SITES, body)
    assert answer.status_code == 201, answer.content
    told = office.get(answer["Location"]).json()
    assert told["address"] == ADDRESS
    assert {name: told["way_in"][name] for name in way_in} == way_in
    assert {value for name, value in told["way_in"].items() if name not in way_in} == {""}
    assert {name: told[name] for name in ("customer", "time_zone", "access_notes")} == {
        name: body[name] for name in ("customer", "time_zone", "access_notes")
    }


def test_a_country_is_two_letters(office: Caller) -> None:
    body = {
        "customer": CustomerFactory().number,
        "time_zone": "America/Chicago",
        "address": {**ADDRESS, "addressCountry": "USA"},
    }
    assert_problem(office.post(SITES, body), 400, "invalid", "/address/addressCountry")


@pytest.mark.parametrize("year", [1599, 2201, "last century", 1998.5, -1])
def test_a_year_of_building_is_a_likely_one(office: Caller, year: object) -> None:
    body = {
        "customer": CustomerFactory().number,
        "time_zone": "America/Chicago",
        "address": ADDRESS,
        "year_built": year,
    }
    answer = office.post(SITES, body)
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["pointer"] == "/year_built"


def test_a_site_of_an_absent_customer_is_refused(office: Caller) -> None:
    body = {"customer": "C-9999", "time_zone": "America/Chicago", "address": ADDRESS}
    assert_problem(office.post(SITES, body), 400, "does_not_exist", "/customer")


@pytest.mark.parametrize("email", ["no", "a@b", "a@b.c\nBcc: x@example.com", "@example.com"])
def test_a_mail_address_is_one_and_carries_no_other_header(office: Caller, email: str) -> None:
    answer = office.post("/api/v1/customers/", {"name": "Wren", "email": email})
    assert_problem(answer, 400, "invalid", "/email")

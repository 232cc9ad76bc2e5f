"""Are customers and sites kept as they were told?"""

from typing import Any

import pytest

from fitcheck.rules.way_in_kinds import SIZES
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
    assert {name: value for name, value in told["way_in"].items() if name not in way_in} == {
        "passes": [],
        **{name: "" for name in SIZES if name not in way_in},
    }
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


STAIR = {"stair_width": "36 in", "stair_headroom": "80 in", "stair_rise": "7 1/2 in"}


def site_with(office: Caller, **way_in: object) -> dict[str, Any]:
    body = {
        "customer": CustomerFactory().number,
        "address": ADDRESS,
        "time_zone": "America/Chicago",
        "way_in": way_in,
    }
    answer = office.post(SITES, body)
    assert answer.status_code == 201, answer.content
    made: dict[str, Any] = office.get(answer["Location"]).json()
    return made


def test_every_size_of_the_way_in_is_kept_with_its_unit(office: Caller) -> None:
    way_in = {name: f"{number + 30} in" for number, name in enumerate(SIZES)}
    told = site_with(office, passes=["half_turn", "corner", "lift", "corner"], **way_in)
    assert told["way_in"] == {"passes": ["corner", "lift", "half_turn"], **way_in}
    assert told["way_in_asks"] == []


def test_what_is_missing_of_the_way_in_is_asked_for_by_name(office: Caller) -> None:
    told = site_with(office, door_width="30 in", door_height="80 in", **STAIR)
    assert told["way_in_asks"] == [
        "Measure on the way in: going of a step, landing depth, height over the landing."
    ]
    path = f"{SITES}{told['id']}/"
    way = {"passes": ["stairs"], "stair_going": "10 in"}
    assert office.patch(path, {"way_in": way}, seen=1).json()["way_in_asks"] == []
    assert_problem(office.patch(path, {"way_in": way}, seen=1), 412, "version_stale")
    (changed,) = office.get(f"/api/v1/history/?about={told['id']}&type=site.changed").json()[
        "results"
    ]
    assert changed["changes"]["stair_going"] == ["", "10 in"]
    assert changed["changes"]["passes"] == [[], ["stairs"]]


def test_nothing_told_of_the_way_in_is_one_question(office: Caller) -> None:
    assert len(site_with(office)["way_in_asks"]) == 1
    assert site_with(office, passes=["straight_in"])["way_in_asks"] == []


@pytest.mark.parametrize(
    "way_in",
    [{"passes": ["straight_in", "lift"]}, {"passes": ["straight_in"], "corridor_width": "40 in"}],
)
def test_straight_in_and_more_is_refused(office: Caller, way_in: dict[str, Any]) -> None:
    body = {
        "customer": CustomerFactory().number,
        "address": ADDRESS,
        "time_zone": "America/Chicago",
        "way_in": way_in,
    }
    assert_problem(office.post(SITES, body), 400, "straight_in_and_more", "/way_in/passes")


def test_a_change_is_held_against_what_was_told_before(office: Caller) -> None:
    told = site_with(office, passes=["straight_in"], door_width="36 in")
    path = f"{SITES}{told['id']}/"
    more = office.patch(path, {"way_in": {"lift_depth": "50 in"}}, seen=1)
    assert_problem(more, 400, "straight_in_and_more", "/way_in/passes")
    both = {"way_in": {"lift_depth": "50 in", "passes": ["lift"]}}
    assert office.patch(path, both, seen=1).status_code == 200


@pytest.mark.parametrize("passes", ["lift", ["lfit"], [1], {"lift": True}, None])
def test_what_glass_passes_is_a_list_of_known_kinds(office: Caller, passes: object) -> None:
    body = {
        "customer": CustomerFactory().number,
        "address": ADDRESS,
        "time_zone": "America/Chicago",
        "way_in": {"passes": passes},
    }
    answer = office.post(SITES, body)
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["pointer"].startswith("/way_in/passes")

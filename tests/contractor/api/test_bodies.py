"""Is nothing in a body ignored in silence?"""

import json

import pytest

from tests.clients import Caller, assert_problem
from tests.factories import (
    CustomerFactory,
    JobFactory,
    MemberFactory,
    OpeningFactory,
    SiteFactory,
)

CUSTOMERS = "/api/v1/customers/"
MAKERS = {
    "customers": CustomerFactory,
    "sites": SiteFactory,
    "jobs": JobFactory,
    "openings": OpeningFactory,
    "members": MemberFactory,
}


def raw(caller: Caller, body: bytes, path: str = CUSTOMERS) -> object:
    return caller.generic("POST", path, body, content_type="application/json")


def test_an_unknown_member_is_answered_with_the_nearest_name(office: Caller) -> None:
    body = assert_problem(
        office.post(CUSTOMERS, {"name": "Wren", "emial": "w@example.com"}),
        400,
        "unknown_field",
        "/emial",
    )
    assert body["hint"] == "Did you mean `email`?"


def test_an_unknown_member_like_no_other_is_answered_with_all_names(office: Caller) -> None:
    body = assert_problem(office.post(CUSTOMERS, {"name": "Wren", "zzz": 1}), 400, "unknown_field")
    assert "email" in body["hint"]
    assert "phone" in body["hint"]


def test_an_unknown_member_inside_an_object_is_refused_too(office: Caller) -> None:
    site = SiteFactory()
    answer = office.patch(
        f"/api/v1/sites/{site.number}/", {"way_in": {"door_widht": "30 in"}}, seen=1
    )
    body = assert_problem(answer, 400, "unknown_field", "/way_in/door_widht")
    assert "door_width" in body["hint"]


@pytest.mark.parametrize("room", MAKERS)
def test_what_was_given_out_may_be_sent_back_unchanged(office: Caller, room: str) -> None:
    row = MAKERS[room]()
    path = f"/api/v1/{room}/{row.number}/"
    told = office.get(path).json()
    answer = office.patch(path, told, seen=1)
    assert answer.status_code == 200, answer.content
    assert answer.json() == told


@pytest.mark.parametrize(
    ("name", "value"), [("id", "C-0042"), ("version", 7), ("url", "http://testserver/elsewhere")]
)
def test_a_changed_read_only_member_is_refused(office: Caller, name: str, value: object) -> None:
    customer = CustomerFactory()
    answer = office.patch(f"{CUSTOMERS}{customer.number}/", {name: value}, seen=1)
    assert_problem(answer, 400, "read_only", f"/{name}")


def test_a_new_row_cannot_choose_its_number(office: Caller) -> None:
    answer = office.post(CUSTOMERS, {"name": "Wren", "id": "C-0042"})
    assert_problem(answer, 400, "read_only", "/id")


def test_a_member_that_stands_twice_is_refused(office: Caller) -> None:
    answer = raw(office, b'{"name": "Wren", "name": "Other"}')
    assert "`name`" in assert_problem(answer, 400, "parse_error")["detail"]


@pytest.mark.parametrize("number", [b"NaN", b"Infinity", b"-Infinity"])
def test_what_is_no_json_number_is_refused(office: Caller, number: bytes) -> None:
    answer = raw(office, b'{"name": "Wren", "notes": ' + number + b"}")
    assert number.decode().lstrip("-") in assert_problem(answer, 400, "parse_error")["detail"]


@pytest.mark.parametrize(
    "body", [b"", b"{", b'{"name": "\xff"}', b'{"name": 1' + b"0" * 5000 + b"}", b"[" * 100_000]
)
def test_what_is_no_json_is_refused(office: Caller, body: bytes) -> None:
    answer = raw(office, body)
    assert answer.status_code == 400  # type: ignore[attr-defined]


@pytest.mark.parametrize("body", [b"[]", b"7", b'"text"', b"null", b"true"])
def test_json_that_is_no_object_is_refused(office: Caller, body: bytes) -> None:
    answer = raw(office, body)
    assert answer.status_code == 400  # type: ignore[attr-defined]


@pytest.mark.parametrize("text", ["a\x00b", "\ud800"])
@pytest.mark.parametrize("name", ["name", "notes", "email"])
def test_text_that_no_database_keeps_is_refused(office: Caller, name: str, text: str) -> None:
    body = json.dumps({"name": "Wren", name: text}).encode()
    assert_problem(raw(office, body), 400, "parse_error")


def test_a_text_may_tell_of_escapes_and_hold_any_whole_character(office: Caller) -> None:
    notes = "\\u0000 is no NUL, \U0001f6bf is a shower"
    told = office.post(CUSTOMERS, {"name": "山根 由佳", "notes": notes}).json()
    assert (told["name"], told["notes"]) == ("山根 由佳", notes)


@pytest.mark.parametrize("value", [["x"], {"a": 1}, True])
def test_a_text_is_a_text_and_no_other_type(office: Caller, value: object) -> None:
    answer = office.post(CUSTOMERS, {"name": value})
    assert_problem(answer, 400, "invalid", "/name")


def test_too_long_a_text_is_refused_with_its_limit(office: Caller) -> None:
    body = assert_problem(office.post(CUSTOMERS, {"name": "x" * 201}), 400, "max_length", "/name")
    assert "200" in body["detail"]


@pytest.mark.parametrize("phone", ["555-0123", "+1 555 5550123", "+0155555501", "+1"])
def test_a_phone_is_written_as_e164(office: Caller, phone: str) -> None:
    answer = office.post(CUSTOMERS, {"name": "Wren", "phone": phone})
    body = assert_problem(answer, 400, "phone", "/phone")
    assert "+15555550123" in body["detail"]


@pytest.mark.parametrize("text", ["2027-01-01T10:00:00", "2027-01-01", "tomorrow", 1, "", None])
def test_a_time_without_offset_is_refused(office: Caller, text: object) -> None:
    body = {"name": "Grey tablet", "holder": office.member.number, "expires_at": text}
    answer = office.post("/api/v1/tablets/", body)
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["pointer"] == "/expires_at"


def test_a_time_comes_back_with_its_offset(office: Caller) -> None:
    body = {
        "name": "Grey tablet",
        "holder": office.member.number,
        "expires_at": "2027-01-01T10:00:00-05:00",
    }
    told = office.post("/api/v1/tablets/", body).json()
    assert told["expires_at"] == "2027-01-01T15:00:00Z"


@pytest.mark.parametrize("zone", ["America/Nowhere", "EST5EDT6", "../etc", "", "UTC+5"])
def test_a_time_zone_is_one_of_the_database(office: Caller, zone: str) -> None:
    body = {
        "customer": CustomerFactory().number,
        "time_zone": zone,
        "address": {"streetAddress": "4 Tern Ladder", "addressLocality": "Marrowgate"},
    }
    answer = office.post("/api/v1/sites/", body)
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["pointer"] == "/time_zone"


@pytest.mark.parametrize("length", ["30", "30 cm in", "-3 in", "5913/16 in", 30, None])
def test_a_way_in_has_its_unit(office: Caller, length: object) -> None:
    site = SiteFactory()
    answer = office.patch(
        f"/api/v1/sites/{site.number}/", {"way_in": {"door_width": length}}, seen=1
    )
    assert answer.status_code == 400
    error = answer.json()["errors"][0]
    assert error["pointer"] == "/way_in/door_width"
    assert error["hint"]

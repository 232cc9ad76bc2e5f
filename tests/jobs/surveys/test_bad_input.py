"""Is each mistake of a survey told with field, value and what to send, and nothing half written?"""

import json
from typing import Any

import pytest

from jobs.surveys.models import Reading, Survey, Zone
from jobs.verdicts.models import Verdict
from tests.clients import Caller, assert_problem
from tests.factories import Case, fresh_uuid, survey_body, survey_case

SURVEYS = "/api/v1/surveys/"


@pytest.fixture
def case(db: None) -> Case:
    return survey_case("fits")


def refused(tablet: Caller, body: Any, code: str, pointer: str, *, says: str = "") -> str:
    """Post, and check that it is refused at a pointer and wrote nothing; returns the hint there."""
    problem = assert_problem(tablet.post(SURVEYS, body, key=None), 400, code, pointer)
    own = next(one for one in problem["errors"] if one["pointer"] == pointer)
    assert own["code"] == code
    assert says in own["detail"]
    assert not any(one.objects.exists() for one in (Survey, Reading, Zone, Verdict))
    return str(own["hint"])


@pytest.mark.parametrize("value", [59, 59.375, "59", "59.375", "1508"])
def test_a_length_without_its_unit_is_refused(tablet: Caller, case: Case, value: Any) -> None:
    case.body["readings"][0]["value"] = value
    hint = refused(tablet, case.body, "length_without_unit", "/readings/0/value")
    assert "59 3/8 in" in hint


def test_a_lost_space_before_the_fraction_is_named_with_what_was_meant(
    tablet: Caller, case: Case
) -> None:
    case.body["readings"][0]["value"] = "5913/16 in"
    hint = refused(tablet, case.body, "fraction_improper", "/readings/0/value", says="5913/16")
    assert "59 13/16 in" in hint


def test_a_width_read_below_the_sill_is_refused(tablet: Caller, case: Case) -> None:
    case.body["readings"][0]["height"] = "-2 in"
    refused(tablet, case.body, "length_out_of_range", "/readings/0/height", says="height")


def test_a_width_in_centimetres_that_is_really_inches_is_asked_about(
    tablet: Caller, case: Case
) -> None:
    case.body["readings"][0]["value"] = "58.3125 cm"
    pointer = "/readings/0/value"
    hint = refused(tablet, case.body, "reading_implausible", pointer, says="58.3125 cm")
    assert 'Did you mean "58.3125 in"?' in hint
    assert '"confirmed": true' in hint


def test_an_odd_width_that_somebody_stands_by_is_taken_and_does_not_fit(
    tablet: Caller, case: Case
) -> None:
    for one in case.body["readings"]:
        if one["quantity"] == "width":
            one["confirmed"] = True
        if one["quantity"] == "width" and one["height"] == "0 in":
            one["value"] = "58.3125 cm"
    reply = tablet.post(SURVEYS, case.body, key=None)
    assert reply.status_code == 201
    assert reply.data["verdict"]["state"] == "fails"


def test_a_reading_that_cannot_be_true_is_asked_about_and_taken_when_somebody_stands_by_it(
    tablet: Caller, case: Case
) -> None:
    place, level = next(
        (n, one) for n, one in enumerate(case.body["readings"]) if one["quantity"] == "sill_level"
    )
    level["value"] = "60 in"
    pointer = f"/readings/{place}/value"
    hint = refused(tablet, case.body, "reading_impossible", pointer, says="cannot be")
    assert hint == 'Read it again. If it is so, send "confirmed": true with this reading.'

    level["confirmed"] = True
    reply = tablet.post(SURVEYS, case.body, key=None)

    assert reply.status_code == 201
    rules = [one["rule"] for one in reply.data["verdict"]["result"]["findings"]]
    assert "shape.possible" in rules


@pytest.mark.parametrize("quantity", ["curb_depth", "ceiling_height", "diagonal"])
def test_a_size_below_nothing_is_refused(tablet: Caller, case: Case, quantity: str) -> None:
    index = next(i for i, one in enumerate(case.body["readings"]) if one["quantity"] == quantity)
    case.body["readings"][index]["value"] = "-1 in"
    refused(tablet, case.body, "length_out_of_range", f"/readings/{index}/value")


def test_a_lean_may_be_either_way(tablet: Caller, case: Case) -> None:
    lean = next(one for one in case.body["readings"] if one["quantity"] == "lean")
    lean["value"] = "-1/16 in"
    assert tablet.post(SURVEYS, case.body, key=None).status_code == 201


@pytest.mark.parametrize(
    ("member", "value", "code"),
    [
        ("id", "7", "not_a_uuid"),
        ("id", "not-a-uuid-but-as-long-as-one-is-yes", "not_a_uuid"),
        ("taken_at", "2026-03-07T09:00:00", "time_without_offset"),
        ("taken_at", "yesterday", "time_without_offset"),
        ("taken_at", "0001-01-01T00:00:00+14:00", "time_without_offset"),
        ("supersedes", "7", "not_a_uuid"),
        ("app", "x" * 61, "not_a_text"),
        ("notes", ["a"], "not_a_text"),
        ("readings", {}, "not_a_list"),
        ("widths", [], "unknown_member"),
    ],
)
def test_a_member_of_the_survey_that_cannot_be_read_is_named(
    tablet: Caller, case: Case, member: str, value: Any, code: str
) -> None:
    refused(tablet, {**case.body, member: value}, code, f"/{member}")


@pytest.mark.parametrize(
    ("member", "value", "code", "pointer"),
    [
        ("id", None, "missing", "id"),
        ("quantity", "widht", "not_a_choice", "quantity"),
        ("height", None, "height_needed", "height"),
        ("tool", {"kind": "tape"}, "missing", "tool/graduation"),
        ("tool", {"kind": "string", "graduation": "1 mm"}, "not_a_choice", "tool/kind"),
        ("replaces", ["x"], "not_a_uuid", "replaces/0"),
        ("note", {"a": 1}, "not_a_text", "note"),
        ("note", "x" * 501, "not_a_text", "note"),
        ("read_by", "x" * 121, "not_a_text", "read_by"),
        ("taken_at", "2026-03-07T09:00", "time_without_offset", "taken_at"),
        ("value_exact", "1508 mm", "values_differ", "value_exact"),
        ("confirmed", "yes", "not_a_flag", "confirmed"),
        ("wdith", "1 in", "unknown_member", "wdith"),
        ("value", "200 m", "length_too_large", "value"),
        ("value", "1508,5 mm", "decimal_comma", "value"),
    ],
)
def test_a_member_of_a_reading_that_cannot_be_read_is_named(
    tablet: Caller, case: Case, member: str, value: Any, code: str, pointer: str
) -> None:
    case.body["readings"][0][member] = value
    refused(tablet, case.body, code, f"/readings/0/{pointer}")


@pytest.mark.parametrize("member", ["note", "value_exact", "confirmed"])
def test_a_zone_takes_nothing_that_would_be_lost(tablet: Caller, case: Case, member: str) -> None:
    case.body["zones"][0][member] = "Grout is loose."
    refused(tablet, case.body, "unknown_member", f"/zones/0/{member}")


def test_every_mistake_is_told_at_once(tablet: Caller, case: Case) -> None:
    case.body["taken_at"] = "noon"
    case.body["readings"][0]["value"] = 59
    case.body["readings"][2]["value"] = "5913/16 in"
    case.body["zones"][1]["finish"] = "marbel"
    problem = assert_problem(tablet.post(SURVEYS, case.body, key=None), 400, "invalid")
    pointers = {one["pointer"] for one in problem["errors"]}
    wanted = {"/taken_at", "/readings/0/value", "/readings/2/value", "/zones/1/finish"}
    assert wanted <= pointers


@pytest.mark.parametrize("text", ["\0", "\ud800"])
def test_a_text_that_no_database_keeps_is_refused(tablet: Caller, case: Case, text: str) -> None:
    body = json.dumps({**case.body, "notes": f"a{text}b"})
    reply = tablet.generic("POST", SURVEYS, body, content_type="application/json")
    assert_problem(reply, 400, "parse_error")
    assert not Survey.objects.exists()


def test_a_member_that_stands_twice_is_refused(tablet: Caller, case: Case) -> None:
    body = json.dumps(case.body)[:-1] + ', "notes": "a", "notes": "b"}'
    reply = tablet.generic("POST", SURVEYS, body, content_type="application/json")
    assert "notes" in assert_problem(reply, 400, "parse_error")["detail"]


def test_a_list_of_surveys_is_refused(tablet: Caller, case: Case) -> None:
    assert_problem(tablet.post(SURVEYS, [case.body], key=None), 400, "not_an_object")


def test_a_superseded_survey_is_refused_naming_the_newer(tablet: Caller, case: Case) -> None:
    first = tablet.post(SURVEYS, case.body, key=None).data["id"]
    newer = survey_body(case.opening, case.kit, supersedes=first)
    assert tablet.post(SURVEYS, newer, key=None).status_code == 201
    late = survey_body(case.opening, case.kit, supersedes=first)
    problem = assert_problem(
        tablet.post(SURVEYS, late, key=None), 409, "survey_superseded", "/supersedes"
    )
    assert problem["superseded_by"] == newer["id"]
    assert newer["id"] in problem["detail"]
    asked = tablet.post("/api/v1/verdicts/", {"survey": first, "kit": case.kit.slug})
    problem = assert_problem(asked, 409, "survey_superseded", "/survey")
    assert problem["superseded_by"] == newer["id"]
    assert Survey.objects.count() == 2


def test_a_survey_can_only_supersede_one_of_its_own_opening(tablet: Caller, case: Case) -> None:
    body = survey_body(case.opening, case.kit, supersedes=fresh_uuid())
    assert_problem(tablet.post(SURVEYS, body, key=None), 400, "survey_unknown", "/supersedes")
    itself = survey_body(case.opening, case.kit)
    itself["supersedes"] = itself["id"]
    assert_problem(tablet.post(SURVEYS, itself, key=None), 400, "survey_unknown", "/supersedes")
    assert not Survey.objects.exists()

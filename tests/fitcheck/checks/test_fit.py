"""Is a question answered as a survey would be, and kept nowhere?"""

import copy
from typing import Any

import pytest
from django.apps import apps

from fitcheck.kits.models import RuleSheet
from jobs.verdicts.models import Verdict
from tests.clients import Caller, assert_problem
from tests.factories import STORY, Case, kit_published, sheet_body, survey_case

FIT = "/api/v1/checks/fit/"
OWN = ("id", "opening", "taken_at", "kit")


def rows() -> dict[str, int]:
    """How many rows each table has."""
    return {one._meta.label: one._default_manager.count() for one in apps.get_models()}


def question(case: Case) -> dict[str, Any]:
    """The survey's own readings as a question that names no row."""
    body = copy.deepcopy(case.body)
    asked = {name: value for name, value in body.items() if name not in OWN}
    return {**asked, "kit": body["kit"], "opening": case.opening.facts()}


@pytest.mark.parametrize("like", STORY)
def test_a_question_is_answered_as_the_kept_verdict_is(office: Caller, like: str) -> None:
    case = survey_case(like)
    office.post("/api/v1/surveys/", case.body)
    verdict = Verdict.objects.get()
    asked = {name: value for name, value in verdict.inputs.items() if name != "sheet"}
    answer = office.post(FIT, {**asked, "kit": verdict.sheet.key})
    assert answer.status_code == 200, answer.content
    kept = office.get(f"/api/v1/verdicts/{verdict.pk}/").json()["result"]
    assert answer.json() == kept
    assert kept["state"] == like


def test_a_question_as_a_tablet_would_send_it_is_answered_alike(office: Caller) -> None:
    case = survey_case("fits")
    kept = office.post("/api/v1/surveys/", case.body).json()["verdict"]["result"]
    told = office.post(FIT, question(case)).json()
    digests = told.pop("inputs_digest"), kept.pop("inputs_digest")
    assert all(one.startswith("sha256:") for one in digests)
    assert told == kept


def test_a_question_leaves_every_table_as_it_was(scheduler: Caller) -> None:
    case = survey_case("fits")
    asked = question(case)
    before = rows()
    assert scheduler.post(FIT, asked, key=None).status_code == 200
    assert scheduler.post(FIT, {"kit": "nothing", "opening": {}}).status_code == 400
    assert rows() == before


def test_a_sheet_of_ones_own_may_be_asked_about(office: Caller) -> None:
    case = survey_case("fits")
    asked = question(case)
    by_name = office.post(FIT, asked).json()
    del asked["kit"]
    by_body = office.post(FIT, {**asked, "sheet": sheet_body(version=2)}).json()
    for told in (by_name, by_body):
        told.pop("inputs_digest")
    assert by_body == by_name


def test_a_sheet_of_ones_own_that_contradicts_itself_is_refused_at_its_member(
    office: Caller,
) -> None:
    asked = question(survey_case("fits"))
    del asked["kit"]
    sheet = sheet_body(version=2)
    sheet["cuts"][0]["deduct"] = "100 in"
    answer = office.post(FIT, {**asked, "sheet": sheet})
    assert_problem(answer, 400, "nothing_left", "/sheet/cuts/0/deduct")


@pytest.mark.parametrize("address", ["fit", "chance", "least-change"])
def test_a_published_sheet_that_contradicts_itself_passes_nowhere(
    office: Caller, address: str
) -> None:
    case = survey_case("fits")
    body = sheet_body(version=2)
    body["lean"]["most"] = body["lean"]["over"]
    RuleSheet.objects.create(kit=case.kit, number=7, body=body, digest="sha256:other")
    asked = {**question(case), "kit": f"{case.kit.slug}:7"}
    answer = office.post(f"/api/v1/checks/{address}/", asked)
    if address == "fit":
        told = answer.json()
        assert (told["state"], told["findings"][0]["rule"]) == ("unknown", "sheet.agrees")
    else:
        assert_problem(answer, 400, "lean_too_far", "/kit")


def test_the_same_question_has_the_same_answer_in_any_order(office: Caller) -> None:
    asked = question(survey_case("fits"))
    first = office.post(FIT, asked).json()
    asked["readings"].reverse()
    again = office.post(FIT, asked).json()
    assert again["state"] == first["state"]
    assert sorted(map(str, again["cuts"])) == sorted(map(str, first["cuts"]))


def test_a_kit_and_a_sheet_are_one_too_many(office: Caller) -> None:
    asked = question(survey_case("fits")) | {"sheet": sheet_body()}
    assert_problem(office.post(FIT, asked), 400, "one_of_two", "/kit")


@pytest.mark.parametrize("body", [[], "text", None, 7])
def test_what_is_no_object_is_refused(office: Caller, body: Any) -> None:
    answer = office.generic("POST", FIT, str(body).encode(), content_type="application/json")
    assert answer.status_code == 400


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"kit": "nothing"}, "/kit"),
        ({"kit": 7}, "/kit"),
        ({"readnigs": []}, "/readnigs"),
        ({"opening": {}}, "/opening/enclosure"),
        ({"opening": 7}, "/opening"),
        ({"readings": {}}, "/readings"),
        ({"zones": [7]}, "/zones/0"),
        ({"size": 7}, "/size"),
        ({"house": {"mark": 7}}, "/house/mark"),
    ],
)
def test_a_wrong_member_is_named(office: Caller, change: dict[str, Any], pointer: str) -> None:
    asked = question(survey_case("fits")) | change
    answer = office.post(FIT, asked)
    assert answer.status_code == 400, answer.content
    errors = answer.json()["errors"]
    assert pointer in [one["pointer"] for one in errors], errors
    assert all(one["hint"] for one in errors)


@pytest.mark.parametrize(
    ("value", "code"),
    [
        ("58", "length_without_unit"),
        (58, ""),
        ("5913/16 in", ""),
        ("-58 in", ""),
        ("58 1/0 in", ""),
        ("58,5 in", ""),
        ("9" * 300 + " in", ""),
        ("NaN in", ""),
        (None, ""),
    ],
)
def test_a_wrong_length_is_named_with_what_to_send(office: Caller, value: Any, code: str) -> None:
    asked = question(survey_case("fits"))
    asked["readings"][0]["value"] = value
    answer = office.post(FIT, asked)
    assert answer.status_code == 400
    (error,) = answer.json()["errors"]
    assert error["pointer"] == "/readings/0/value"
    assert error["hint"]
    assert code in error["code"]


def test_a_question_without_kit_or_sheet_says_which_to_send(office: Caller) -> None:
    asked = question(survey_case("fits"))
    del asked["kit"]
    answer = office.post(FIT, asked)
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["pointer"] in {"/kit", "/sheet"}


def test_a_kit_without_a_sheet_is_unknown_to_a_question(office: Caller) -> None:
    from tests.factories import KitFactory

    asked = question(survey_case("fits")) | {"kit": KitFactory().slug}
    assert_problem(office.post(FIT, asked), 400, "kit_unknown", "/kit")


def test_a_question_with_no_reading_says_everything_that_is_missing(office: Caller) -> None:
    kit = kit_published()
    asked = {"kit": kit.slug, "opening": {"enclosure": "alcove", "stands_on": "curb"}}
    told = office.post(FIT, asked | {"readings": [], "zones": []}).json()
    assert told["state"] == "unknown"
    assert {"width", "ceiling_height", "backing_centre"} <= {
        one["quantity"] for one in told["missing"]
    }

"""Is a verdict given for another kit from the readings at hand, and is it told when it is outdated?"""

from typing import Any

import pytest

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from fitcheck.check import check
from fitcheck.kits.services import sheet_publish
from fitcheck.rules.sheet_parse import sheet_parse
from jobs.surveys.models import Reading, Survey
from jobs.verdicts.models import Verdict
from tests.clients import Caller, assert_problem
from tests.factories import (
    Case,
    OpeningFactory,
    fresh_uuid,
    kit_published,
    sheet_body,
    survey_body,
    survey_case,
)

SURVEYS, VERDICTS = "/api/v1/surveys/", "/api/v1/verdicts/"


@pytest.fixture
def case(db: None) -> Case:
    return survey_case("fits")


def surveyed(caller: Caller, case: Case) -> Any:
    reply = caller.post(SURVEYS, case.body, key=None)
    assert reply.status_code == 201
    return reply.json()


@pytest.mark.parametrize("by", ["opening", "survey"])
def test_another_kit_is_answered_from_the_readings_at_hand(
    tablet: Caller, case: Case, by: str
) -> None:
    survey = surveyed(tablet, case)
    other = kit_published("pellandrake-gullimot")
    named = {"opening": case.opening.number, "survey": survey["id"]}[by]
    before = (Survey.objects.count(), Reading.objects.count())
    reply = tablet.post(VERDICTS, {by: named, "kit": other.slug})
    assert reply.status_code == 201
    assert (reply.data["kit"], str(reply.data["survey"])) == (other.slug, survey["id"])
    assert (Survey.objects.count(), Reading.objects.count()) == before
    assert Notice.objects.filter(type="verdict.given").count() == 1


@pytest.mark.parametrize("like", ["fits", "tight", "fails", "unknown", "s-03", "s-09"])
def test_a_kept_verdict_is_what_the_rules_say_of_the_same_inputs(
    office: Caller, like: str, db: None
) -> None:
    case = survey_case(like)
    told = surveyed(office, case)["verdict"]
    kept = Verdict.objects.select_related("sheet").get(pk=told["id"])
    opening = case.opening
    inputs = {
        "opening": {
            "enclosure": opening.enclosure,
            "stands_on": opening.stands_on,
            "shower_head_side": opening.shower_head_side,
            "year_built": opening.job.site.year_built,
        },
        "readings": sorted(case.body["readings"], key=lambda one: one["id"]),
        "zones": sorted(case.body["zones"], key=lambda one: one["id"]),
        "size": None,
        "house": {"mark": 16},
    }
    again = check({**inputs, "sheet": kept.sheet.body}, sheet_parse(kept.sheet.body)).as_json()
    for result in (told["result"], kept.result):
        assert {**result, "inputs_digest": ""} == {**again, "inputs_digest": ""}
    assert told["state"] == again["state"]


def test_an_opening_that_nobody_read_has_no_verdict(office: Caller, case: Case) -> None:
    reply = office.post(VERDICTS, {"opening": case.opening.number, "kit": case.kit.slug})
    assert_problem(reply, 409, "no_survey")


@pytest.mark.parametrize(
    ("change", "code", "pointer"),
    [
        ({"kit": "no-such-kit"}, "kit_unknown", "/kit"),
        ({"kit": "osquith-tillybeck:99"}, "kit_unknown", "/kit"),
        ({"kit": "osquith-tillybeck:x"}, "kit_unknown", "/kit"),
        ({"size": "99"}, "size_unknown", "/size"),
        ({"survey": fresh_uuid(), "opening": None}, "does_not_exist", "/survey"),
        ({"opening": "O-9999"}, "does_not_exist", "/opening"),
    ],
)
def test_what_cannot_be_asked_about_is_named(
    office: Caller, case: Case, change: dict[str, Any], code: str, pointer: str
) -> None:
    surveyed(office, case)
    asked = {"opening": case.opening.number, "kit": case.kit.slug, **change}
    asked = {name: value for name, value in asked.items() if value is not None}
    assert_problem(office.post(VERDICTS, asked), 400, code, pointer)
    assert Verdict.objects.count() == 1


def test_an_opening_and_a_survey_at_once_are_refused(office: Caller, case: Case) -> None:
    survey = surveyed(office, case)
    asked = {"opening": case.opening.number, "survey": survey["id"], "kit": case.kit.slug}
    assert_problem(office.post(VERDICTS, asked), 400, "one_of_two")


def test_a_verdict_says_outdated_once_the_opening_is_surveyed_again(
    office: Caller, case: Case
) -> None:
    url = surveyed(office, case)["verdict"]["url"]
    assert office.get(url).data["outdated"] is False
    newer = office.post(SURVEYS, survey_body(case.opening, case.kit)).json()["verdict"]["url"]
    assert office.get(url).data["outdated"] is True
    assert office.get(newer).data["outdated"] is False


def test_a_survey_of_another_opening_outdates_nothing(office: Caller, case: Case) -> None:
    url = surveyed(office, case)["verdict"]["url"]
    office.post(SURVEYS, survey_body(OpeningFactory(), case.kit))
    assert office.get(url).data["outdated"] is False


@pytest.mark.parametrize(
    "change", [{"stands_on": "tub_deck"}, {"shower_head_side": "right"}, {"enclosure": "corner"}]
)
def test_a_verdict_says_outdated_once_the_opening_is_described_otherwise(
    office: Caller, case: Case, change: dict[str, str]
) -> None:
    url = surveyed(office, case)["verdict"]["url"]
    path = f"/api/v1/openings/{case.opening.number}/"
    assert office.patch(path, {"name": "Guest bathroom"}, seen=1).status_code == 200
    assert office.get(url).data["outdated"] is False
    assert office.patch(path, change, seen=2).status_code == 200
    assert office.get(url).data["outdated"] is True


def test_publishing_a_new_sheet_leaves_the_old_verdict_as_it_was(
    office: Caller, case: Case
) -> None:
    old = surveyed(office, case)["verdict"]
    body = sheet_body(case.kit.slug)
    body["document"]["edition"] = "another edition"
    sheet = sheet_publish(by=SYSTEM, kit=case.kit, body=body)
    read = office.get(old["url"]).json()
    assert (read["sheet"], read["result"]) == (old["sheet"], old["result"])
    assert office.get(f"{old['url']}replay/").data["agrees"] is True
    asked = {"opening": case.opening.number, "kit": case.kit.slug}
    newer = office.post(VERDICTS, asked).data
    assert newer["sheet"] == sheet.key != old["sheet"]


def test_lists_leave_out_what_the_rules_said_in_full(office: Caller, case: Case) -> None:
    surveyed(office, case)
    (row,) = office.get(VERDICTS, {"opening": case.opening.number}).data["results"]
    assert "result" not in row
    assert row["state"] == "fits"
    assert office.get(VERDICTS, {"state": "fails"}).data["results"] == []


def test_a_second_person_who_reads_the_same_leaves_the_verdict_as_it_was(
    office: Caller, case: Case
) -> None:
    surveyed(office, case)
    second = survey_body(case.opening, case.body["kit"])
    assert office.post(SURVEYS, second).data["verdict"]["state"] == "fits"


def test_two_people_who_saw_different_walls_leave_it_unknown(office: Caller, case: Case) -> None:
    surveyed(office, case)
    second = survey_body(case.opening, case.body["kit"])
    second["zones"][0]["finish_thickness"] = "1/2 in"
    verdict = office.post(SURVEYS, second).data["verdict"]
    assert verdict["state"] == "unknown"
    assert "Two build-ups meet" in verdict["result"]["questions"][0]["text"]

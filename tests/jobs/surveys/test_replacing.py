"""Which readings stand when some replace others, and what if two of them disagree?"""

import copy
from typing import Any

import pytest

from jobs.surveys.models import Reading
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import heads_of
from tests.clients import Caller
from tests.factories import Case, fresh_uuid, survey_body, survey_case

SURVEYS = "/api/v1/surveys/"


@pytest.fixture
def case(db: None) -> Case:
    return survey_case("fits")


def post(tablet: Caller, body: dict[str, Any]) -> dict[str, Any]:
    reply = tablet.post(SURVEYS, body, key=None)
    assert reply.status_code == 201, reply.content[:500]
    return reply.json()  # type: ignore[no-any-return]


def one_width(case: Case, value: str, **changes: Any) -> dict[str, Any]:
    """A survey of a single width at the sill by a laser."""
    reading = {
        "id": fresh_uuid(),
        "quantity": "width",
        "height": "0 in",
        "value": value,
        "tool": {"kind": "laser", "accuracy_class": "none", "graduation": "1 mm"},
    }
    body = survey_body(case.opening, case.kit)
    return {**body, "zones": [], "readings": [{**reading, **changes}]}


def standing(case: Case) -> set[str]:
    heads = heads_of(case.opening)
    assert heads is not None
    return {str(one.id) for one in heads.readings}


def test_a_reading_replaces_one_of_an_earlier_survey(tablet: Caller, case: Case) -> None:
    post(tablet, case.body)
    old = case.body["readings"][0]["id"]
    newer = one_width(case, "58 1/4 in", replaces=[old.upper()])
    post(tablet, newer)
    assert old not in standing(case)
    assert newer["readings"][0]["id"] in standing(case)
    assert Reading.objects.filter(pk=old).exists()


def test_a_reading_may_replace_one_that_arrives_only_later(tablet: Caller, case: Case) -> None:
    late = one_width(case, "47 1/4 in")
    early = one_width(case, "58 1/4 in", replaces=[late["readings"][0]["id"]])
    post(tablet, early)
    post(tablet, late)
    assert standing(case) == {early["readings"][0]["id"]}


def test_a_zone_replaces_a_zone(tablet: Caller, case: Case) -> None:
    post(tablet, case.body)
    zone = copy.deepcopy(case.body["zones"][0])
    zone |= {"id": fresh_uuid(), "replaces": [zone["id"]], "structure": "blocking"}
    body = {**survey_body(case.opening, case.kit), "readings": [], "zones": [zone]}
    post(tablet, body)
    heads = heads_of(case.opening)
    assert heads is not None
    ids = {str(one.id) for one in heads.zones}
    assert zone["id"] in ids
    assert case.body["zones"][0]["id"] not in ids


def test_a_chain_of_corrections_leaves_the_last(tablet: Caller, case: Case) -> None:
    last = ""
    for value in ("58 1/8 in", "58 3/16 in", "58 1/4 in"):
        body = one_width(case, value, replaces=[last] if last else [])
        last = body["readings"][0]["id"]
        post(tablet, body)
    assert standing(case) == {last}


def test_readings_that_replace_each_other_all_stand(tablet: Caller, case: Case) -> None:
    first, second = one_width(case, "58 1/4 in"), one_width(case, "58 5/16 in")
    ids = [one["readings"][0]["id"] for one in (first, second)]
    first["readings"][0]["replaces"] = [ids[1]]
    second["readings"][0]["replaces"] = [ids[0]]
    post(tablet, first)
    post(tablet, second)
    assert standing(case) == set(ids)


def test_a_reading_that_replaces_itself_stands(tablet: Caller, case: Case) -> None:
    body = one_width(case, "58 1/4 in")
    body["readings"][0]["replaces"] = [body["readings"][0]["id"]]
    post(tablet, body)
    assert standing(case) == {body["readings"][0]["id"]}


def test_a_survey_that_supersedes_another_leaves_none_of_its_readings(
    tablet: Caller, case: Case
) -> None:
    post(tablet, case.body)
    newer = survey_body(case.opening, case.kit, supersedes=case.body["id"])
    told = post(tablet, newer)
    assert standing(case) == {one["id"] for one in newer["readings"]}
    assert told["verdict"]["survey"] == newer["id"]


def test_two_readings_that_disagree_make_the_verdict_unknown_until_one_replaces_both(
    tablet: Caller, case: Case
) -> None:
    assert post(tablet, case.body)["verdict"]["state"] == "fits"
    at_the_sill = [
        one["id"]
        for one in case.body["readings"]
        if one["quantity"] == "width" and one["height"] == "0 in"
    ]
    odd = one_width(case, "59 5/16 in")
    verdict = post(tablet, odd)["verdict"]
    assert verdict["state"] == "unknown"
    disagreement = verdict["result"]["disagreements"][0]
    assert odd["readings"][0]["id"] in str(disagreement)
    again = one_width(case, "58 5/16 in", replaces=[*at_the_sill, odd["readings"][0]["id"]])
    verdict = post(tablet, again)["verdict"]
    assert verdict["state"] == "fits"
    assert verdict["result"]["disagreements"] == []


def test_what_is_missing_is_named_and_taking_it_answers_the_question(
    tablet: Caller, case: Case
) -> None:
    """Every reading named as missing is taken in turn; then nothing is missing and the kit fits."""
    whole = copy.deepcopy(case.body)
    gone = [one for one in whole["readings"] if one["quantity"] in {"curb_depth", "ceiling_height"}]
    partial = {**whole, "readings": [one for one in whole["readings"] if one not in gone]}
    result = post(tablet, partial)["verdict"]["result"]
    assert result["state"] == "unknown"
    named = {(one["quantity"], one["side"]) for one in result["missing"]}
    assert named == {(one["quantity"], one["side"]) for one in gone}
    assert all(one["why"] and one["rules"] for one in result["missing"])
    rest = {**survey_body(case.opening, case.kit), "readings": gone, "zones": []}
    result = post(tablet, rest)["verdict"]["result"]
    assert (result["state"], result["missing"]) == ("fits", [])


def test_a_first_width_alone_is_answered_with_every_other_reading_to_take(
    tablet: Caller, case: Case
) -> None:
    verdict = post(tablet, one_width(case, "58 5/16 in"))["verdict"]
    assert verdict["state"] == "unknown"
    named = {one["quantity"] for one in verdict["result"]["missing"]}
    assert {"width", "backing_centre", "curb_depth"} <= named
    assert Verdict.objects.count() == 1

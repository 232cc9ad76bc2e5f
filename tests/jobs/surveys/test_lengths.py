"""Does a length come back exactly as it was entered, and may what was given out be sent back?"""

import copy
from fractions import Fraction
from typing import Any

import pytest

from jobs.surveys.models import Reading
from tests.clients import Caller
from tests.factories import Case, fresh_uuid, survey_body, survey_case

SURVEYS = "/api/v1/surveys/"
# 1 in = 25.4 mm exactly (NIST SP 811, appendix B); the second column follows from it.
ENTERED = [
    ("58 5/16 in", Fraction(933, 16) * Fraction(254, 10)),
    ("58 5/16in", Fraction(933, 16) * Fraction(254, 10)),
    ('58 21/64"', Fraction(58 * 64 + 21, 64) * Fraction(254, 10)),
    ("4' 10 1/4\"", Fraction(233, 4) * Fraction(254, 10)),
    ("58.3125 in", Fraction(933, 16) * Fraction(254, 10)),
    ("1481 mm", Fraction(1481)),
    ("148.1 cm", Fraction(1481)),
    ("1.4811 m", Fraction(14811, 10)),
    ("58¼ in", Fraction(233, 4) * Fraction(254, 10)),
]


@pytest.fixture
def case(db: None) -> Case:
    return survey_case("fits")


def mm_of(text: str) -> Fraction:
    number, unit = text.split(" ")
    assert unit == "mm"
    return Fraction(number)


@pytest.mark.parametrize(("text", "mm"), ENTERED)
def test_a_width_comes_back_as_entered_and_in_exact_millimetres(
    office: Caller, case: Case, text: str, mm: Fraction
) -> None:
    case.body["readings"][0]["value"] = text
    key = case.body["readings"][0]["id"]
    posted = office.post(SURVEYS, case.body)
    assert posted.status_code == 201
    read = office.get(posted.data["url"]).json()
    for told in (posted.json(), read):
        reading = next(one for one in told["readings"] if one["id"] == key)
        assert reading["value"] == text
        assert mm_of(reading["value_exact"]) == mm
    assert Reading.objects.get(pk=key).value_nm == mm * 1_000_000


def test_readings_and_zones_given_out_may_be_sent_back_as_they_are(
    office: Caller, case: Case
) -> None:
    told = office.post(SURVEYS, case.body).json()
    again: dict[str, Any] = survey_body(case.opening, case.kit, supersedes=told["id"])
    for name in ("readings", "zones"):
        again[name] = [{**one, "id": fresh_uuid()} for one in copy.deepcopy(told[name])]
    reply = office.post(SURVEYS, again)
    assert reply.status_code == 201, reply.content[:500]
    assert reply.data["verdict"]["state"] == told["verdict"]["state"]
    names = ("quantity", "side", "height", "over", "value", "value_exact", "tool", "read_by")
    for sent, came in zip(told["readings"], reply.json()["readings"], strict=True):
        assert {name: sent[name] for name in names} == {name: came[name] for name in names}


def test_a_computed_length_of_a_verdict_may_be_sent_as_a_reading(
    office: Caller, case: Case
) -> None:
    verdict = office.post(SURVEYS, case.body).json()["verdict"]
    cut = next(one for one in verdict["result"]["cuts"] if one["distance"])
    reading = {
        **case.body["readings"][0],
        "id": fresh_uuid(),
        "value": cut["distance"],
        "height": cut["height"],
    }
    body = {**survey_body(case.opening, None), "readings": [reading], "zones": []}
    reply = office.post(SURVEYS, body)
    assert reply.status_code == 201, reply.content[:500]
    told = reply.data["readings"][0]
    assert told["value"] == cut["distance"]["mm"]
    assert mm_of(told["value_exact"]) == mm_of(cut["distance"]["mm"])


def test_obstructions_come_back_as_entered(office: Caller, case: Case) -> None:
    box = {"what": "valve", "surface": "left_wall", "from_edge": "14 in", "width": "170 mm"}
    reply = office.post(SURVEYS, {**case.body, "obstructions": [box]})
    assert reply.data["obstructions"] == [box]
    assert office.get(reply.data["url"]).json()["obstructions"] == [box]

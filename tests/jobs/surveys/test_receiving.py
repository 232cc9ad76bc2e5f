"""Is a survey taken in whole, once, or not at all?"""

import copy
from datetime import datetime
from typing import Any

import pytest

from contractor.notices.models import Notice
from jobs.surveys.models import Reading, Refused, Survey, Zone
from jobs.verdicts.models import Verdict
from tests.clients import Caller, assert_problem, twin
from tests.factories import Case, OpeningFactory, fresh_uuid, survey_body, survey_case
from tests.threads import in_parallel

SURVEYS = "/api/v1/surveys/"


@pytest.fixture
def case(db: None) -> Case:
    return survey_case("fits")


def counts() -> tuple[int, ...]:
    return tuple(one.objects.count() for one in (Survey, Reading, Zone, Verdict, Notice))


def test_a_survey_with_a_kit_is_answered_with_the_verdict(tablet: Caller, case: Case) -> None:
    reply = tablet.post(SURVEYS, case.body, key=None)
    assert reply.status_code == 201
    assert reply.data["verdict"]["state"] == "fits"
    assert reply.data["verdict"]["kit"] == case.kit.slug
    assert reply["Location"] == reply.data["url"]
    assert [one["id"] for one in reply.data["readings"]] == [r["id"] for r in case.body["readings"]]


def test_what_was_posted_is_what_is_read_later(office: Caller, case: Case) -> None:
    posted = office.post(SURVEYS, case.body).json()
    read = office.get(posted["url"]).json()
    for name in ("readings", "zones"):
        posted[name] = sorted(posted[name], key=lambda one: one["id"])
        read[name] = sorted(read[name], key=lambda one: one["id"])
    for moment in ("taken_at", "received_at"):
        sent, told = (datetime.fromisoformat(one.pop(moment)) for one in (posted, read))
        assert sent == told
    assert read == posted


def test_the_same_body_again_is_answered_200_and_writes_nothing(tablet: Caller, case: Case) -> None:
    first = tablet.post(SURVEYS, case.body, key=None)
    before = counts()
    second = tablet.post(SURVEYS, case.body, key=None)
    assert (first.status_code, second.status_code) == (201, 200)
    assert counts() == before
    assert second.data["verdict"]["id"] == first.data["verdict"]["id"]
    assert second.data["digest"] == first.data["digest"]


def test_an_id_sent_with_other_content_is_refused_and_kept_aside(
    office: Caller, tablet: Caller, case: Case
) -> None:
    tablet.post(SURVEYS, case.body, key=None)
    before = counts()
    other = copy.deepcopy(case.body)
    other["readings"][0]["value"] = "58 1/8 in"
    assert_problem(tablet.post(SURVEYS, other, key=None), 409, "id_taken", "/id")
    assert counts()[:4] == before[:4]
    kept = office.get("/api/v1/refused-surveys/").json()["results"]
    assert [one["body"] for one in kept] == [other]
    assert kept[0]["opening"] == case.opening.number


def test_a_refused_body_sent_ten_times_is_kept_once(tablet: Caller, case: Case) -> None:
    tablet.post(SURVEYS, case.body, key=None)
    other = {**case.body, "notes": "Something else."}
    for _ in range(10):
        assert tablet.post(SURVEYS, other, key=None).status_code == 409
    assert Refused.objects.count() == 1


def test_a_reading_id_used_in_another_survey_is_refused_at_its_pointer(
    tablet: Caller, case: Case
) -> None:
    tablet.post(SURVEYS, case.body, key=None)
    before = counts()
    second = survey_body(case.opening, case.kit)
    second["readings"][3]["id"] = case.body["readings"][0]["id"].upper()
    reply = tablet.post(SURVEYS, second, key=None)
    assert_problem(reply, 409, "id_taken", "/readings/3/id")
    assert counts()[:4] == before[:4]
    assert Refused.objects.get().body == second


def test_a_zone_id_used_in_another_survey_is_refused_at_its_pointer(
    tablet: Caller, case: Case
) -> None:
    tablet.post(SURVEYS, case.body, key=None)
    second = survey_body(case.opening, case.kit)
    second["zones"][1]["id"] = case.body["zones"][0]["id"]
    assert_problem(tablet.post(SURVEYS, second, key=None), 409, "id_taken", "/zones/1/id")
    assert Survey.objects.count() == 1


@pytest.mark.parametrize("write", [str, str.upper])
def test_twin_ids_in_one_body_are_refused(tablet: Caller, case: Case, write: Any) -> None:
    case.body["readings"][1]["id"] = write(case.body["readings"][0]["id"])
    reply = tablet.post(SURVEYS, case.body, key=None)
    assert_problem(reply, 400, "id_twice")
    assert counts() == (0, 0, 0, 0, Notice.objects.count())


def test_a_survey_for_an_unknown_kit_writes_nothing(tablet: Caller, case: Case) -> None:
    before = counts()
    reply = tablet.post(SURVEYS, {**case.body, "kit": "no-such-kit"}, key=None)
    assert "no-such-kit" in assert_problem(reply, 400, "kit_unknown", "/kit")["detail"]
    assert counts() == before


def test_a_size_that_the_sheet_does_not_have_writes_nothing(tablet: Caller, case: Case) -> None:
    before = counts()
    assert_problem(
        tablet.post(SURVEYS, {**case.body, "size": "99"}, key=None), 400, "size_unknown", "/size"
    )
    assert counts() == before


def test_a_survey_without_a_kit_is_kept_without_a_verdict(tablet: Caller, case: Case) -> None:
    del case.body["kit"]
    reply = tablet.post(SURVEYS, case.body, key=None)
    assert reply.status_code == 201
    assert reply.data["verdict"] is None


def test_the_kit_decided_on_is_asked_about_when_the_body_names_none(
    tablet: Caller, case: Case
) -> None:
    case.opening.kit = case.kit
    case.opening.save()
    del case.body["kit"]
    assert tablet.post(SURVEYS, case.body, key=None).data["verdict"]["kit"] == case.kit.slug


def test_the_reader_is_the_caller_unless_the_reading_says_otherwise(
    measurer: Caller, case: Case
) -> None:
    readings = case.body["readings"]
    del readings[0]["read_by"]
    readings[1]["read_by"] = "Callum Reyes"
    told = {one["id"]: one["read_by"] for one in measurer.post(SURVEYS, case.body).data["readings"]}
    assert told[readings[0]["id"]] == "Tobias Ankrah"
    assert told[readings[1]["id"]] == "Callum Reyes"


def test_one_notice_tells_of_a_survey_and_its_verdict(tablet: Caller, case: Case) -> None:
    reply = tablet.post(SURVEYS, case.body, key=None)
    notice = Notice.objects.get(type="survey.received")
    assert notice.about == case.opening.number
    assert notice.changes["verdict"] == [None, reply.data["verdict"]["id"]]
    assert notice.changes["state"] == [None, "fits"]
    assert notice.caller == f"tablet:{tablet.row.pk}"


@pytest.mark.django_db(transaction=True)
def test_a_tablet_that_sends_twice_at_once_is_answered_as_if_once(tablet: Caller) -> None:
    opening, _, body = survey_case("fits")
    replies = in_parallel(4, lambda n: twin(tablet).post(SURVEYS, body, key=None))
    assert sorted(one.status_code for one in replies) == [200, 200, 200, 201]
    assert len({one.data["verdict"]["id"] for one in replies}) == 1
    assert Survey.objects.filter(opening=opening).count() == 1
    assert Refused.objects.count() == 0


@pytest.mark.django_db(transaction=True)
def test_of_two_surveys_at_once_one_verdict_knows_the_readings_of_both(tablet: Caller) -> None:
    opening, kit, _ = survey_case("fits")
    bodies = [survey_body(opening, kit) for _ in range(2)]
    replies = in_parallel(2, lambda n: twin(tablet).post(SURVEYS, bodies[n], key=None))
    assert [one.status_code for one in replies] == [201, 201]
    verdicts = [Verdict.objects.get(pk=one.data["verdict"]["id"]) for one in replies]
    seen = sorted(len(one.inputs["readings"]) for one in verdicts)
    assert seen == [len(bodies[0]["readings"]), 2 * len(bodies[0]["readings"])]


def test_a_survey_of_an_opening_that_is_not_there_is_refused(tablet: Caller, case: Case) -> None:
    for opening, code in (("O-9999", "does_not_exist"), ("B-0001", "not_a_number")):
        reply = tablet.post(SURVEYS, {**case.body, "opening": opening}, key=None)
        assert opening in assert_problem(reply, 400, code, "/opening")["detail"]
    assert Survey.objects.count() == 0


def test_readings_of_one_opening_never_reach_the_verdict_of_another(
    tablet: Caller, case: Case
) -> None:
    other = OpeningFactory()
    tablet.post(SURVEYS, survey_body(other, None), key=None)
    reply = tablet.post(SURVEYS, case.body, key=None)
    verdict = Verdict.objects.get(pk=reply.data["verdict"]["id"])
    assert {one["id"] for one in verdict.inputs["readings"]} == {
        one["id"] for one in case.body["readings"]
    }


def test_only_photos_make_a_survey_but_nothing_at_all_does_not(tablet: Caller, case: Case) -> None:
    empty = {"id": fresh_uuid(), "opening": case.opening.number, "taken_at": case.body["taken_at"]}
    assert_problem(tablet.post(SURVEYS, empty, key=None), 400, "nothing_sent", "/readings")
    reply = tablet.post(SURVEYS, {**empty, "photos": ["0" * 64]}, key=None)
    assert reply.status_code == 201
    assert reply.data["missing_photos"] == ["0" * 64]

"""Does a published sheet stay as it was, and does a bad one never become law?"""

import copy
from typing import Any

import pytest

from fitcheck.kits.models import RuleSheet
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_replay
from tests.clients import Caller, assert_problem, twin
from tests.factories import KitFactory, kit_published, sheet_body, survey_body, survey_case
from tests.threads import in_parallel

SHEETS = "/api/v1/sheets/"
SURVEYS = "/api/v1/surveys/"


def publish(caller: Caller, slug: str, body: Any) -> Any:
    return caller.post(SHEETS, {"kit": slug, "body": body})


def narrowed() -> dict[str, Any]:
    """The demo's sheet with windows that the fitting survey is too wide for."""
    body = sheet_body()
    for size in body["sizes"]:
        for window in size["windows"]:
            window["most"] = window["least"]
    return body


def test_versions_of_a_kit_count_up_by_themselves(office: Caller) -> None:
    kits = [KitFactory(), KitFactory()]
    told = [publish(office, kits[0].slug, sheet_body()).json()["number"] for _ in range(3)]
    assert told == [1, 2, 3]
    assert publish(office, kits[1].slug, sheet_body()).json()["id"] == f"{kits[1].slug}:1"


def test_a_published_sheet_is_read_back_word_for_word(office: Caller) -> None:
    kit, body = KitFactory(), sheet_body()
    answer = publish(office, kit.slug, body)
    told = office.get(answer["Location"]).json()
    assert told["body"] == body
    assert (told["published_by"], told["number"]) == ("Imke Thorsby", 1)
    assert told["digest"].startswith("sha256:")


def test_equal_bodies_have_one_digest_and_different_ones_two(office: Caller) -> None:
    kit = KitFactory()
    turned = dict(reversed(sheet_body().items()))
    digests = [
        publish(office, kit.slug, body).json()["digest"]
        for body in (sheet_body(), turned, narrowed())
    ]
    assert digests[0] == digests[1] != digests[2]


def test_the_list_of_sheets_leaves_their_bodies_out(office: Caller) -> None:
    kit = kit_published("vellumbrook-fennimule")
    rows = office.get(f"{SHEETS}?kit={kit.slug}").json()["results"]
    assert [one["id"] for one in rows] == [f"{kit.slug}:2", f"{kit.slug}:1"]
    assert all("body" not in one for one in rows)


def test_a_new_version_leaves_the_old_verdict_as_it_was(office: Caller) -> None:
    case = survey_case("fits")
    given = office.post(SURVEYS, case.body).json()["verdict"]
    assert publish(office, case.kit.slug, narrowed()).status_code == 201
    again = office.get(given["url"]).json()
    assert again["state"] == given["state"] == "fits"
    assert again["sheet"] == given["sheet"] == f"{case.kit.slug}:2"
    assert again["result"] == given["result"]
    assert office.get(f"{given['url']}replay/").json()["agrees"] is True


def test_a_new_version_is_what_the_next_verdict_uses(office: Caller) -> None:
    case = survey_case("fits")
    office.post(SURVEYS, case.body)
    publish(office, case.kit.slug, narrowed())
    ask = {"opening": case.opening.number, "kit": case.kit.slug}
    newest = office.post("/api/v1/verdicts/", ask).json()
    assert (newest["sheet"], newest["state"]) == (f"{case.kit.slug}:3", "fails")
    older = office.post("/api/v1/verdicts/", {**ask, "kit": f"{case.kit.slug}:2"}).json()
    assert older["state"] == "fits"
    assert all(verdict_replay(verdict=one) == [] for one in Verdict.objects.all())


def break_everywhere(body: dict[str, Any]) -> set[str]:
    """Spoil a sheet in places far apart; returns the pointer of each."""
    body["sizes"][0]["windows"][0]["least"] = "58"
    body["cuts"][0]["part"] = None
    body["panels"][0]["width"] = "five inches"
    body["hands"]["least"] = 0
    del body["cure"]["page"]
    body["colour"] = "blue"
    return {
        "/body/sizes/0/windows/0/least",
        "/body/cuts/0/part",
        "/body/panels/0/width",
        "/body/hands/least",
        "/body/cure/page",
        "/body/colour",
    }


def test_a_bad_sheet_lists_every_mistake_at_its_place(office: Caller) -> None:
    kit, body = KitFactory(), sheet_body()
    wanted = break_everywhere(body)
    problem = assert_problem(publish(office, kit.slug, body), 400, "invalid")
    told = {one["pointer"]: one for one in problem["errors"]}
    assert set(told) == wanted
    assert all(one["hint"] and one["code"] and one["detail"] for one in told.values())
    assert not RuleSheet.objects.exists()


def test_a_sheet_that_contradicts_itself_is_refused_at_its_members(office: Caller) -> None:
    kit, body = KitFactory(), sheet_body()
    body["cuts"][0]["deduct"] = "100 in"
    body["fixings"][1]["load"] = "40 N"
    problem = assert_problem(publish(office, kit.slug, body), 400, "invalid")
    told = {one["pointer"]: one for one in problem["errors"]}
    assert set(told) == {"/body/cuts/0/deduct", "/body/fixings/1/must_reach"}
    assert "100 in" in told["/body/cuts/0/deduct"]["detail"]
    assert "/sizes/0/windows/1/least" in told["/body/cuts/0/deduct"]["hint"]
    assert not RuleSheet.objects.exists()


@pytest.mark.parametrize("body", [None, [], "text", 7, {}, {"format": 2}])
def test_what_is_no_sheet_is_refused_at_its_body(office: Caller, body: Any) -> None:
    answer = publish(office, KitFactory().slug, body)
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["pointer"].startswith("/body")
    assert not RuleSheet.objects.exists()


def spoil(body: Any, value: Any) -> Any:
    """Every copy of a body in which one leaf is replaced."""
    if isinstance(body, dict):
        for name, inner in body.items():
            for bad in spoil(inner, value):
                yield {**body, name: bad}
    elif isinstance(body, list):
        for index, inner in enumerate(body):
            for bad in spoil(inner, value):
                yield [*body[:index], bad, *body[index + 1 :]]
    else:
        yield copy.deepcopy(value)


@pytest.mark.parametrize("value", [None, "²", -1, [], {}, True, "#²", "9" * 400, "1/0 in"])
def test_no_wrong_leaf_of_a_sheet_ever_breaks_the_service(office: Caller, value: Any) -> None:
    kit = KitFactory()
    codes = {publish(office, kit.slug, body).status_code for body in spoil(sheet_body(), value)}
    assert codes <= {201, 400}
    assert 400 in codes


def test_a_sheet_of_an_unknown_kit_is_refused(office: Caller) -> None:
    assert_problem(publish(office, "nothing", sheet_body()), 400, "does_not_exist", "/kit")


@pytest.mark.parametrize("key", ["osquith-tillybeck", "osquith-tillybeck:", "osquith-tillybeck:x"])
@pytest.mark.parametrize("tail", ["", "9", "0", "-1"])
def test_an_absent_version_is_not_found(office: Caller, key: str, tail: str) -> None:
    kit_published()
    assert_problem(office.get(f"{SHEETS}{key}{tail}/"), 404, "not_found")


@pytest.mark.parametrize("name", ["nothing", "osquith-tillybeck:9", "osquith-tillybeck:x", ":1"])
def test_a_survey_that_asks_for_an_absent_sheet_keeps_nothing(office: Caller, name: str) -> None:
    case = survey_case("fits")
    answer = office.post(SURVEYS, survey_body(case.opening, name))
    body = assert_problem(answer, 400, "kit_unknown", "/kit")
    assert name in body["detail"]
    assert office.get(SURVEYS).json()["results"] == []


@pytest.mark.django_db(transaction=True)
def test_two_who_publish_at_one_moment_get_two_numbers(office: Caller) -> None:
    kit = KitFactory()
    answers = in_parallel(4, lambda _: publish(twin(office), kit.slug, sheet_body()))
    assert {one.status_code for one in answers} == {201}
    assert sorted(one.json()["number"] for one in answers) == [1, 2, 3, 4]


def test_a_sheet_of_glass_made_to_measure_is_given_out_as_the_schema_says(office: Caller) -> None:
    kit = kit_published("corvelune-thrissaway")
    body = office.get(f"/api/v1/sheets/{kit.slug}:1/").data["body"]

    assert body["made_glass"]["panels"][1]["holes"][0]["from"] == "handle"
    assert_problem(
        office.post(
            "/api/v1/sheets/",
            {"kit": kit.slug, "body": {**body, "glazing": None}},
        ),
        400,
        "missing",
    )

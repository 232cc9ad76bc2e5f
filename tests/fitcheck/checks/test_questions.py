"""Is every question answered at its own address, described whole, and never with a number for nonsense?"""

import copy
import json
import re
from collections.abc import Iterator
from html import unescape
from typing import Any

import pytest

from fitcheck.checks.question import Question
from fitcheck.checks.questions import BY_ADDRESS, QUESTIONS
from tests.clients import Caller, assert_problem
from tests.factories import kit_published, sheet_body
from tests.schema_check import schema, validator

ALL = pytest.mark.parametrize("question", QUESTIONS, ids=lambda one: one.address)
STRANGER = "a_member_nobody_knows"


def address(question: Question) -> str:
    return f"/api/v1/checks/{question.address}/"


def places(value: Any, pointer: str = "") -> Iterator[tuple[Any, Any, str]]:
    """Every member inside a body: the container that holds it, its key, and its pointer."""
    if isinstance(value, dict | list):
        for key in list(value) if isinstance(value, dict) else range(len(value)):
            yield value, key, f"{pointer}/{key}"
            yield from places(value[key], f"{pointer}/{key}")


def described(node: Any) -> dict[str, Any]:
    """Follow references to what a schema says itself."""
    while not {"properties", "discriminator", "items"} & set(node):
        inner = node.get("allOf") or node.get("oneOf") or [node]
        name = inner[0].get("$ref", "")
        node = schema()["components"]["schemas"][name.rpartition("/")[2]] if name else inner[0]
    found: dict[str, Any] = node
    return found


def members_at(question: Question, pointer: str, body: Any) -> set[str]:
    """The members that the schema tells for the object at a pointer of a body."""
    path = schema()["paths"][address(question)]["post"]
    node = described(path["requestBody"]["content"]["application/json"]["schema"])
    for step in [one for one in pointer.split("/") if one]:
        body = body[int(step)] if isinstance(body, list) else body[step]
        node = described(node["items"] if "items" in node else node["properties"][step])
        if "oneOf" in node:
            node = described({"$ref": node["discriminator"]["mapping"][body["kind"]]})
    return set(node["properties"])


@ALL
def test_its_example_is_answered_as_described_and_keeps_to_its_own_description(
    office: Caller, question: Question
) -> None:
    kit_published()

    answer = office.post(address(question), question.example)

    assert answer.status_code == 200, answer.content
    assert not re.search(r"\b(nan|inf|infinity)\b", answer.content.decode().lower())
    told = schema()["paths"][address(question)]["post"]["requestBody"]["content"]
    pointer = told["application/json"]["schema"]["$ref"]
    wanted = validator(pointer.removeprefix("#"), closed=True)
    assert [one.message for one in wanted.iter_errors(question.example)] == []
    assert told["application/json"]["examples"]["AWorkedExample"]["value"] == question.example


@ALL
def test_the_description_names_just_the_members_that_the_rules_know(
    office: Caller, question: Question
) -> None:
    kit_published()
    objects = [""] + [p for h, k, p in places(question.example) if isinstance(h[k], dict)]
    for pointer in objects:
        body = copy.deepcopy(question.example)
        at = body
        for step in [one for one in pointer.split("/") if one]:
            at = at[int(step)] if isinstance(at, list) else at[step]
        at[STRANGER] = 1

        errors = office.post(address(question), body).json()["errors"]

        (wrong,) = [one for one in errors if one["pointer"] == f"{pointer}/{STRANGER}"]
        assert wrong["code"] == "unknown_member"
        known = set(wrong["hint"].removeprefix("known: ").split(", "))
        told = members_at(question, pointer, question.example)
        by_name = {"kit"} if question.by_kit and pointer == "" else set()
        assert known == told - by_name, pointer


@ALL
def test_its_page_shows_the_example_to_be_asked(office: Caller, question: Question) -> None:
    page = office.get(address(question), headers={"Accept": "text/html"}).content.decode()

    assert question.title in page
    first = next(iter(question.example))
    assert f"&quot;{first}&quot;" in page


@ALL
def test_its_answer_stands_on_a_page(office: Caller, question: Question) -> None:
    kit_published()

    answer = office.post(address(question), question.example, headers={"Accept": "text/html"})

    page = answer.content.decode()
    assert answer.status_code == 200
    assert '<dl class="facts">' in page or "<table>" in page
    told = question.ask(copy.deepcopy(question.example))
    assert all(caution in unescape(page) for caution in told.get("cautions", []))


@pytest.mark.parametrize(
    "body", ["[]", '"58 in"', "7", "null", "{", '{"a": 1, "a": 2}', "[" * 5000]
)
def test_what_is_no_object_is_refused_in_words(office: Caller, body: str) -> None:
    answer = office.generic("POST", "/api/v1/checks/rail/", body, content_type="application/json")

    assert answer.status_code == 400
    assert answer.json()["hint"]


def test_a_kit_of_the_catalogue_and_its_sheet_give_the_same(office: Caller) -> None:
    kit = kit_published()
    asked = {**BY_ADDRESS["chance"].example, "kit": f"{kit.slug}:1"}

    named = office.post("/api/v1/checks/chance/", asked)

    del asked["kit"]
    sent = office.post("/api/v1/checks/chance/", {**asked, "sheet": sheet_body()})
    assert named.json() == sent.json()
    assert_problem(
        office.post("/api/v1/checks/chance/", {**asked, "kit": "x", "sheet": {}}),
        *(400, "one_of_two", "/kit"),
    )
    assert_problem(
        office.post("/api/v1/checks/chance/", {**asked, "kit": "none-such"}),
        *(400, "kit_unknown", "/kit"),
    )


def test_the_catalogue_is_asked_by_its_newest_sheets_and_compiled_once(
    office: Caller, django_assert_num_queries: Any
) -> None:
    question = BY_ADDRESS["kits"]
    assert_problem(
        office.post(address(question), question.example), 400, "catalogue_empty", "/kits"
    )
    kit = kit_published()

    told = office.post(address(question), {**question.example, "reasons_for": [kit.slug]}).json()

    assert [one["kit"] for one in told["kits"]] == [f"{kit.slug}:2"]
    assert told["kits"][0]["state"] in {"fits", "tight", "fails", "unknown"}
    with django_assert_num_queries(1):
        question.ask(question.example)


def test_a_sheet_that_contradicts_itself_is_named(office: Caller) -> None:
    sheet = copy.deepcopy(sheet_body())
    sheet["sizes"][0]["code"] = sheet["sizes"][-1]["code"] = "58"
    sheet["sizes"].append(copy.deepcopy(sheet["sizes"][0]))
    asked = {**BY_ADDRESS["least-change"].example, "sheet": sheet}
    del asked["kit"]

    errors = office.post("/api/v1/checks/least-change/", asked).json()["errors"]

    assert any(one["pointer"].startswith("/sheet/sizes") for one in errors)
    assert all(one["hint"] for one in errors)


def test_a_body_that_is_too_large_is_refused_as_that(office: Caller) -> None:
    body = json.dumps({"span": "x" * 3_000_000})
    answer = office.generic("POST", "/api/v1/checks/rail/", body, content_type="application/json")
    assert_problem(answer, 413, "body_too_large")


def test_of_a_body_that_is_wrong_all_over_only_the_first_mistakes_are_told(office: Caller) -> None:
    body = {f"k{number}": number for number in range(20_000)}
    told = office.post("/api/v1/checks/rail/", body)
    assert told.status_code == 400
    assert len(told.json()["errors"]) <= 200
    assert len(office.post("/api/v1/customers/", body).json()["errors"]) <= 50


def test_a_question_about_nothing_is_no_question(office: Caller) -> None:
    assert_problem(office.post("/api/v1/checks/sealant/", {}), 400, "missing", "/runs")

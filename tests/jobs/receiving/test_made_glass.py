"""Is glass made to measure ordered panel by panel as the verdict cuts it, and only when it fits?"""

from typing import Any

from jobs.verdicts.models import Verdict
from tests.clients import Caller, assert_problem
from tests.factories import survey_case

MADE = "s-16"  # a survey of the story whose kit describes glass made to measure


def surveyed(office: Caller, without: str = "") -> Any:
    case = survey_case(MADE)
    read = [one for one in case.body["readings"] if one["quantity"] != without]
    assert office.post("/api/v1/surveys/", {**case.body, "readings": read}).status_code == 201
    case.opening.kit = case.kit
    case.opening.save()
    return case.opening


def ordered(office: Caller, opening: Any, kind: str) -> Any:
    return office.post("/api/v1/orders/", {"job": opening.job.number, "kind": kind})


def test_an_order_of_glass_expects_each_panel_that_the_verdict_cuts(office: Caller) -> None:
    opening = surveyed(office)
    reply = ordered(office, opening, "glass")
    assert reply.status_code == 201, reply.content
    told = Verdict.objects.get(opening=opening).result["panels"]

    lines = [(one["name"], one["mass"], one["state"]) for one in reply.data["lines"]]
    assert lines == [(f"{one['name']} panel", one["mass"], "awaited") for one in told]
    assert [one["size"] for one in reply.data["lines"]] == [
        f"{one['width']} × {one['height']} × 3/8 in, cut as drawn" for one in told
    ]


def test_the_kit_brings_what_is_not_glass(office: Caller) -> None:
    lines = ordered(office, surveyed(office), "kit").data["lines"]

    assert {one["what"] for one in lines} == {"part"}
    assert "threshold strip" in {one["name"] for one in lines}


def test_glass_waits_for_a_verdict_that_fits(office: Caller) -> None:
    opening = surveyed(office, without="ceiling_height")

    problem = assert_problem(ordered(office, opening, "glass"), 409, "verdict_not_fitting")
    assert f"{opening.number} says unknown" in problem["detail"]


def test_glass_of_boxed_kits_is_named_piece_by_piece(office: Caller) -> None:
    case = survey_case("fits")
    assert office.post("/api/v1/surveys/", case.body).status_code == 201

    assert_problem(ordered(office, case.opening, "glass"), 400, "lines_missing", "/lines")

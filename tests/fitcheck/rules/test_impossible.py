"""Readings that cannot be true are asked about where they come in, and never adjusted to a number."""

import copy
from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check, depth
from fitcheck.rules.impossible import impossible_readings
from fitcheck.rules.plausible import implausible_readings
from fitcheck.rules.shape_report import answer
from fitcheck.rules.strict import InputErrors, Strict
from fitcheck.rules.survey import Survey, survey_read

Inputs = dict[str, Any]
Find = Callable[..., Any]
TAPE = {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in"}
LEVEL = {"kind": "level", "graduation": "1/32 in"}


def one(name: str, quantity: str, value: str, **more: object) -> Inputs:
    tool = LEVEL if quantity in ("lean", "sill_level", "sill_fall") else TAPE
    return {"id": name, "quantity": quantity, "value": value, "tool": tool, **more}


WIDTH = one("w", "width", "58 in", height="72 in")


def survey_of(*rows: Inputs) -> Survey:
    opening = {"enclosure": "alcove", "stands_on": "curb"}
    return survey_read(Strict({"opening": opening, "readings": list(rows)}))


def lean(name: str, value: str, over: str = "72 in") -> Inputs:
    return one(name, "lean", value, side=name, over=over)


CANNOT = {
    "a lean of more than its height": ([lean("left", "3 in", "1 in")], "left", "value"),
    "a lean out as steep": ([lean("left", "-1 in", "1 in")], "left", "value"),
    "walls that would meet": ([WIDTH, lean("left", "40 in"), lean("right", "40 in")], "left", "value"),
    "a level of the whole width": ([WIDTH, one("l", "sill_level", "60 in")], "l", "value"),
    "a level of more than its span": ([one("l", "sill_level", "3 in", over="2 in")], "l", "value"),
    "a level over more than the sill": (
        [WIDTH, one("l", "sill_level", "1/4 in", over="96 in")], "l", "over",
    ),
    "a fall of more than its span": ([one("f", "sill_fall", "3 in", over="2 in")], "f", "value"),
    "a diagonal below its mark": (
        [one("d", "diagonal", "60 in", side="left", height="72 in")], "d", "value",
    ),
    "a diagonal below the highest width": (
        [WIDTH, one("d", "diagonal", "60 in", side="left")], "d", "value",
    ),
    "a width above the ceiling": (
        [{**WIDTH, "height": "100 in"}, one("c", "ceiling_height", "90 in", side="right")],
        "w", "height",
    ),
    "a lean above the ceiling": (
        [lean("left", "0 in", "100 in"), one("c", "ceiling_height", "90 in", side="left")],
        "left", "over",
    ),
    "a diagonal above the other wall": (
        [
            one("d", "diagonal", "110 in", side="left", height="100 in"),
            one("c", "ceiling_height", "90 in", side="right"),
        ],
        "d", "height",
    ),
    "a tool of one mark": (
        [{**WIDTH, "tool": {**TAPE, "graduation": "100 in"}}], "w", "tool/graduation",
    ),
    "a width by a level": ([{**WIDTH, "tool": LEVEL}], "w", "tool/kind"),
}  # fmt: skip


@pytest.mark.parametrize("name", CANNOT)
def test_what_cannot_be_is_found_at_its_member(name: str) -> None:
    rows, wrong, member = CANNOT[name]

    found = impossible_readings(survey_of(*rows).readings)

    assert [(each.reading.id, each.member) for each in found] == [(wrong, member)]


@pytest.mark.parametrize(
    "rows",
    [
        [lean("left", "15/16 in", "1 in")],
        [WIDTH, lean("left", "40 in"), lean("right", "10 in")],
        [WIDTH, lean("left", "40 in"), lean("right", "-40 in")],
        [WIDTH, one("l", "sill_level", "57 in")],
        [WIDTH, one("l", "sill_level", "1/4 in", over="58 in")],
        [WIDTH, one("l", "sill_level", "1/4 in", over="1474 mm")],
        [one("d", "diagonal", "72 in", side="left", height="72 in")],
        [{**WIDTH, "height": "92 in"}, one("c", "ceiling_height", "90 in", side="right")],
        [lean("left", "0 in", "100 in"), one("c", "ceiling_height", "90 in", side="right")],
        [{**WIDTH, "tool": {**TAPE, "graduation": "1 in"}}],
        [{**lean("left", "0 in"), "tool": TAPE}],
    ],
)
def test_what_can_be_is_left_alone(rows: list[Inputs]) -> None:
    assert impossible_readings(survey_of(*rows).readings) == []


def test_a_diagonal_to_the_ceiling_has_no_mark_to_reach() -> None:
    rows = survey_of(WIDTH, one("d", "diagonal", "60 in", side="left")).readings

    assert impossible_readings(rows, to_ceiling=True) == []


@pytest.mark.parametrize("name", CANNOT)
def test_a_survey_is_asked_about_it_unless_somebody_stands_by_it(name: str) -> None:
    rows, wrong, member = CANNOT[name]
    survey = survey_of(*rows)

    (found,) = implausible_readings(survey)

    place = next(n for n, row in enumerate(rows) if row["id"] == wrong)
    assert (found.pointer, found.code) == (f"/readings/{place}/{member}", "reading_impossible")
    assert '"confirmed": true' in found.hint
    assert implausible_readings(survey, frozenset({wrong})) == []


@pytest.mark.parametrize("name", [name for name in CANNOT if "fall" not in name])
def test_the_shape_is_not_asked_for_with_it(name: str) -> None:
    rows, _, member = CANNOT[name]

    with pytest.raises(InputErrors) as caught:
        answer({"readings": copy.deepcopy(rows)})

    assert [each.code for each in caught.value.errors] == ["reading_impossible"]
    assert caught.value.errors[0].pointer.endswith(member)
    assert "confirmed" not in caught.value.errors[0].hint


def put(inputs: Inputs, row: Inputs) -> None:
    """Put a reading in the place of those of its quantity."""
    inputs["readings"] = [r for r in inputs["readings"] if r["quantity"] != row["quantity"]]
    inputs["readings"].append({**row, "read_by": "-", "taken_at": "2026-03-02T10:00:00Z"})


def test_a_verdict_tells_no_shape_and_does_not_pass(bypass: Inputs, finding: Find) -> None:
    put(bypass, one("l", "sill_level", "60 in"))
    says = "A sill rises by less than it is long: 60 in in an opening 56 5/16 in wide cannot be."

    verdict = check(bypass)
    told = verdict.as_json()

    assert verdict.state in ("unknown", "fails")
    assert finding(verdict, "shape.possible").state == "unknown"
    assert finding(verdict, "shape.possible").do == (
        f"{says} Read the level of the sill over its run again."
    )
    assert (told["shape"], told["shape_why"]) == (None, finding(verdict, "shape.possible").do)
    again = finding(verdict, "sill.level")
    assert again.state == "unknown"
    assert again.do.startswith(says)


def test_a_reading_that_shapes_nothing_leaves_the_shape_alone(
    bypass: Inputs, finding: Find
) -> None:
    put(bypass, {**one("c", "curb_depth", "4 in"), "tool": LEVEL})

    verdict = check(bypass)

    assert verdict.as_json()["shape"]["state"] == "agree"  # type: ignore[index]
    assert finding(verdict, "shape.possible").state == "unknown"
    assert finding(verdict, "curb.depth").do == (
        "A level reads no such length. Name the tape or laser that it was read with."
    )


def test_the_rules_before_take_them_as_they_did(bypass: Inputs) -> None:
    put(bypass, one("l", "sill_level", "60 in"))

    for version in "1234":
        rules = {each.rule for each in check(bypass, version=version).findings}
        assert "shape.possible" not in rules
        assert "sill.level" in rules


def test_what_is_told_at_length_gives_no_number_either(bypass: Inputs) -> None:
    put(bypass, one("l", "sill_level", "60 in"))

    told: Inputs = depth(bypass)

    assert told["shape"] is None
    assert "cannot be" in told["shape_why"]
    first = told["least_change"]["changes"][0]
    assert (first["rule"], first["kind"], first["amount"]) == ("shape.possible", "read_again", None)

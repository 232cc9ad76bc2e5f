"""A build-up that cannot be so as it was written down is a question, and no number comes out of it.

House setting: no finish and no backing is thicker than 3 in. The rest is what the words mean.
"""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.verdict import Fixing

Find = Callable[..., Any]
Inputs = dict[str, Any]
BARE = {"finish": "bare", "finish_thickness": None}
ON_PAINT = {"finish": "painted_board", "finish_thickness": "0 in"}
BRICK_FACE = {"finish": "masonry", "finish_thickness": None}
NO_BOARD = {"backing": "none", "backing_thickness": None}


def rows(inputs: Inputs, version: str = "5") -> list[Fixing]:
    return [f for f in check(inputs, version=version).fixings if f.surface == "left_wall"]


@pytest.mark.parametrize(
    ("zone", "said"),
    [
        (
            {"finish": "porcelain", "finish_thickness": "0 in"},
            "How thick is the porcelain? It is written down as 0 in.",
        ),
        (
            {"backing": "unknown", "backing_thickness": "0 in"},
            "How thick is the backing? It is written down as 0 in.",
        ),
        (
            {**ON_PAINT, **NO_BOARD},
            "How thick is the painted board? It is written down as 0 in.",
        ),
        (
            {"backing": "none", "backing_thickness": "1/2 in"},
            "The backing is written down as none, and as 1/2 in thick: which of the two is true?",
        ),
        (
            {"finish": "bare", "finish_thickness": "5/16 in"},
            "The finish is written down as bare, and as 5/16 in thick: which of the two is true?",
        ),
        (
            BRICK_FACE,
            "The finish is written down as masonry, and behind it cement board: what is there?",
        ),
        (
            {**BRICK_FACE, **NO_BOARD},
            "The finish is written down as masonry, and behind it wood stud: what is there?",
        ),
        (
            {"finish_thickness": "20 in"},
            "Is the glazed ceramic really 20 in thick? Probe or measure.",
        ),
        (
            {"backing_thickness": "3 1/16 in"},
            "Is the cement board really 3 1/16 in thick? Probe or measure.",
        ),
    ],
)
def test_what_cannot_be_so_is_asked_at_every_hole_and_gives_no_number(
    bypass: Inputs, zone: Inputs, said: str
) -> None:
    bypass["zones"][0] |= zone
    told = rows(bypass)

    assert all(said in row.questions for row in told)
    assert {row.state for row in told} == {"unknown"}
    assert all(row.stack_nm is row.reach_nm is None for row in told)
    assert check(bypass).state in ("unknown", "fails")
    assert not any("How thick are finish and backing" in one for r in told for one in r.questions)
    assert not any(said in one for row in rows(bypass, "4") for one in row.questions)


@pytest.mark.parametrize(
    ("zone", "stack_mm"),
    [
        ({"finish_thickness": "3 in"}, 88.9),
        ({"backing": "none", "backing_thickness": "0 in"}, 7.9375),
        (ON_PAINT, 12.7),
        (BARE, 12.7),
        ({**BRICK_FACE, **NO_BOARD, "structure": "brick"}, 0),
        ({**BRICK_FACE, **NO_BOARD, "structure": "unknown"}, 0),
    ],
)
def test_what_can_be_so_is_added_up(bypass: Inputs, zone: Inputs, stack_mm: float) -> None:
    bypass["zones"][0] |= zone

    assert {row.stack_nm for row in rows(bypass)} == {round(stack_mm * 1_000_000)}
    assert not any("written down" in one for row in rows(bypass) for one in row.questions)


def test_a_doubted_stack_holds_no_services_and_no_negative_reach(
    bypass: Inputs, finding: Find
) -> None:
    bypass["zones"][0]["finish_thickness"] = "20 in"
    rules = {f.rule for f in check(bypass).findings if "left wall" in f.place}
    before = {f.rule for f in check(bypass, version="4").findings if "left wall" in f.place}

    assert "fixing.services" in before
    assert "fixing.services" not in rules
    assert "fixing.embedment" not in rules


def test_a_screw_that_ends_within_the_stack_reaches_nothing(bypass: Inputs, finding: Find) -> None:
    bypass["sheet"]["fixings"][0]["screw"]["length"] = "3/4 in"
    verdict = check(bypass)

    assert finding(verdict, "fixing.embedment", "left wall").state == "fails"
    assert not [f for f in verdict.findings if f.rule == "fixing.services" and "left" in f.place]
    assert rows(bypass)[0].reach_nm == 0


def test_with_masonry_behind_it_the_doubt_stands_alone(bypass: Inputs) -> None:
    bypass["zones"][0] |= {"structure": "block", "finish_thickness": "20 in"}
    asked = [one for row in rows(bypass) for one in row.questions]

    assert "Is the glazed ceramic really 20 in thick? Probe or measure." in asked
    assert "How thick are finish and backing together? Probe or measure." not in asked

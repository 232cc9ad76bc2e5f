"""Lean, level, fall, heights, surround and curb: both sides of each limit, and never unread."""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check as checked
from fitcheck.rules.verdict import Verdict

Read = Callable[..., None]
Find = Callable[..., Any]


def check(inputs: dict[str, Any]) -> Verdict:
    """By the first rules: one reading alone is changed here, which the others would contradict."""
    return checked(inputs, version="1")


@pytest.mark.parametrize(
    ("quantity", "side", "rule", "place", "value", "state"),
    [
        ("lean", "left", "wall.lean", "left", "1/8 in", "fits"),
        ("lean", "left", "wall.lean", "left", "-1/8 in", "fits"),
        ("lean", "left", "wall.lean", "left", "5/16 in", "fails"),
        ("lean", "right", "wall.lean", "right", "-5/16 in", "fails"),
        ("lean", "right", "wall.lean", "right", "9/32 in", "tight"),
        ("sill_level", "none", "sill.level", "", "-3/16 in", "tight"),
        ("sill_level", "none", "sill.level", "", "-1/4 in", "fails"),
        ("sill_level", "none", "sill.level", "", "1/4 in", "fails"),
        ("sill_fall", "none", "sill.fall", "", "-1/8 in", "fails"),
        ("sill_fall", "none", "sill.fall", "", "0 in", "fails"),
        ("sill_fall", "none", "sill.fall", "", "1/16 in", "tight"),
        ("sill_fall", "none", "sill.fall", "", "7/16 in", "fails"),
        ("ceiling_height", "left", "ceiling.height", "left", "75 15/16 in", "fails"),
        ("ceiling_height", "left", "ceiling.height", "left", "76 in", "tight"),
        ("ceiling_height", "right", "ceiling.height", "right", "77 in", "fits"),
        ("curb_depth", "none", "curb.depth", "", "3 3/16 in", "fails"),
        ("curb_depth", "none", "curb.depth", "", "3 1/2 in", "fits"),
        ("curb_flat", "none", "curb.flat", "", "2 7/16 in", "fails"),
    ],
)
def test_a_reading_beside_its_limit(
    bypass: dict[str, Any],
    read: Read,
    finding: Find,
    quantity: str,
    side: str,
    rule: str,
    place: str,
    value: str,
    state: str,
) -> None:
    read(bypass, quantity, value, side=side)

    assert finding(check(bypass), rule, place).state == state


@pytest.mark.parametrize(
    ("quantity", "side", "rule", "place"),
    [
        ("lean", "left", "wall.lean", "left"),
        ("sill_level", "none", "sill.level", ""),
        ("sill_fall", "none", "sill.fall", ""),
        ("ceiling_height", "right", "ceiling.height", "right"),
        ("curb_depth", "none", "curb.depth", ""),
        ("curb_flat", "none", "curb.flat", ""),
    ],
)
def test_a_reading_that_is_missing_is_unknown_and_named(
    bypass: dict[str, Any],
    read: Read,
    finding: Find,
    quantity: str,
    side: str,
    rule: str,
    place: str,
) -> None:
    read(bypass, quantity, None, side=side)

    verdict = check(bypass)

    assert finding(verdict, rule, place).state == "unknown"
    assert verdict.state == "unknown"
    assert [(m.quantity, m.side) for m in verdict.missing] == [(quantity, side)]


def test_a_lean_is_scaled_to_the_height_of_the_limit_by_hand(
    bypass: dict[str, Any], read: Read, finding: Find
) -> None:
    """By hand: 1/8 in over 72 in is 73/576 in over 73 in; 5/16 less that is 4.718403 mm."""
    read(bypass, "lean", "1/8 in", side="left")

    margin = finding(check(bypass), "wall.lean", "left").as_json()["margin"]

    assert margin["mm"] == "4.718 mm"


def test_a_sheet_without_a_rule_makes_no_finding(bypass: dict[str, Any]) -> None:
    for name in ("lean", "level", "sill_fall", "ceiling_height", "surround_height", "curb"):
        bypass["sheet"][name] = None

    rules = {f.rule.split(".")[0] for f in check(bypass).findings}

    assert rules.isdisjoint({"wall", "sill", "ceiling", "surround", "curb"})


@pytest.mark.parametrize("finish", ["acrylic", "fibreglass", "unknown"])
def test_a_wall_that_has_or_may_have_a_surround_wants_its_height(
    bypass: dict[str, Any], finding: Find, finish: str
) -> None:
    bypass["zones"][0]["finish"] = finish

    assert finding(check(bypass), "surround.height", "left").state == "unknown"


@pytest.mark.parametrize(("height", "state"), [("74 in", "fails"), ("75 in", "fits")])
def test_the_height_of_a_surround_beside_its_limit(
    bypass: dict[str, Any], read: Read, finding: Find, height: str, state: str
) -> None:
    bypass["zones"][0]["finish"] = "acrylic"
    read(bypass, "surround_height", height, side="left", height="0 in")

    assert finding(check(bypass), "surround.height", "left").state == state


def test_a_tiled_wall_is_not_asked_for_a_surround(bypass: dict[str, Any]) -> None:
    assert [f for f in check(bypass).findings if f.rule == "surround.height"] == []


def test_a_wall_without_any_zone_may_have_a_surround(bypass: dict[str, Any], finding: Find) -> None:
    bypass["zones"] = [z for z in bypass["zones"] if z["surface"] != "right_wall"]

    assert finding(check(bypass), "surround.height", "right").state == "unknown"

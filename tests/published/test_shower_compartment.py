"""Shower compartments: IRC P2708.1, P2708.1.1 and P2709.1 as quoted on guideline pages, ADA 2010
608.2.2 and 608.7 as quoted; the slope of a curb's top is from memory of a tile handbook.
"""

from typing import Any

import pytest

from fitcheck.rules.length import length_parse
from fitcheck.rules.shower_code import (
    access_wide_enough,
    compartment_large_enough,
    curb_high_enough,
    curb_top_fall_nm,
    floor_slopes_enough,
    threshold_low_enough,
)
from fitcheck.rules.shower_room import answer


def nm(text: str) -> int:
    return length_parse(text).nm


@pytest.mark.parametrize(
    ("width", "depth", "enough"),
    [
        ("29 in", "32 in", False),
        ("30 in", "30 in", True),
        ("30 in", "29.9 in", False),
        ("60 in", "30 in", True),
    ],
)
def test_p2708_1_900_square_inches_and_a_30_inch_disc(width: str, depth: str, enough: bool) -> None:
    assert compartment_large_enough(nm(width), nm(depth)) is enough


def test_p2708_1_1_way_in_of_22_in() -> None:
    assert access_wide_enough(nm("22 in"))
    assert not access_wide_enough(nm("22 in") - 1)


@pytest.mark.parametrize(
    ("curb", "enough"), [("2 in", True), ("1.9 in", False), ("9 in", True), ("9.1 in", False)]
)
def test_p2709_1_curb_above_the_drain(curb: str, enough: bool) -> None:
    assert curb_high_enough(nm(curb)) is enough


@pytest.mark.parametrize(
    ("fall", "enough"), [("1/4 in", True), ("0.24 in", False), ("1/2 in", True), ("0.51 in", False)]
)
def test_p2709_1_floor_falls_a_quarter_to_a_half_in_a_foot(fall: str, enough: bool) -> None:
    assert floor_slopes_enough(nm(fall), nm("12 in")) is enough


def test_a_floor_without_a_run_has_no_slope() -> None:
    with pytest.raises(ValueError, match="run"):
        floor_slopes_enough(1, 0)


def test_a_curb_of_4_and_a_half_in_falls_3_32_from_memory() -> None:
    assert curb_top_fall_nm(nm("4 1/2 in")) == nm("3/32 in")
    assert curb_top_fall_nm(1) == 1


@pytest.mark.parametrize(
    ("height", "existing", "enough"),
    [
        ("1/2 in", False, True),
        ("9/16 in", False, False),
        ("2 in", True, True),
        ("2 1/16 in", True, False),
    ],
)
def test_ada_608_7_threshold(height: str, existing: bool, enough: bool) -> None:
    assert threshold_low_enough(nm(height), existing_transfer=existing) is enough


def told(**members: Any) -> dict[str, dict[str, Any]]:
    answered: Any = answer(members)
    return {one["rule"]: one for one in answered["findings"]}


def test_p2708_1_the_size_is_kept_up_to_70_in_above_the_drain() -> None:
    asked = told(width="36 in", depth="36 in")["code.compartment"]["question"]

    assert "30 in wide both ways, up to 70 in above the drain" in asked


@pytest.mark.parametrize(
    ("swing", "state"),
    [("outward", "fits"), ("both", "fits"), ("slides", "fits"), ("inward", "fails")],
)
def test_p2708_1_a_hinged_door_opens_outward(swing: str, state: str) -> None:
    found = told(door_swing=swing)["code.door_swing"]

    assert found["state"] == state
    assert found["source"]["clause"] == "P2708.1"


@pytest.mark.parametrize(
    ("below", "state"), [("1 1/16 in", "fits"), ("1 in", "tight"), ("15/16 in", "fails")]
)
def test_p2709_1_the_curb_lies_an_inch_below_the_receptors_sides(below: str, state: str) -> None:
    assert told(curb_below_sides=below)["code.curb_below_sides"]["state"] == state


ROLL_IN = {"width": "61 in", "depth": "31 in", "access": "61 in"}


@pytest.mark.parametrize(
    ("changed", "rule", "state"),
    [
        ({}, "code.roll_in_width", "fits"),
        ({"width": "60 in"}, "code.roll_in_width", "tight"),
        ({"width": "59.9 in"}, "code.roll_in_width", "fails"),
        ({"depth": "30 in"}, "code.roll_in_depth", "tight"),
        ({"depth": "29.9 in"}, "code.roll_in_depth", "fails"),
        ({"width": "31 in", "depth": "61 in"}, "code.roll_in_depth", "fits"),
        ({"access": "61 in"}, "code.roll_in_entry", "fits"),
        ({"access": "59.9 in"}, "code.roll_in_entry", "fails"),
    ],
)
def test_ada_608_2_2_a_roll_in_shower_is_30_by_60_in_with_a_way_in_of_60(
    changed: dict[str, str], rule: str, state: str
) -> None:
    assert told(**(ROLL_IN | changed), roll_in=True)[rule]["state"] == state
    assert rule not in told(**(ROLL_IN | changed))

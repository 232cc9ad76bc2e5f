"""A shower against the model codes, asked in plain JSON; the limits' own sources stand in published/."""

from typing import Any

import pytest

from fitcheck.rules.shower_room import answer
from fitcheck.rules.strict import InputErrors

ROOM = {"width": "60 in", "depth": "32 in"}


def states(**members: Any) -> dict[str, str]:
    told: Any = answer(members)
    return {one["rule"]: one["state"] for one in told["findings"]}


def test_a_room_may_be_wide_both_ways_and_still_too_small() -> None:
    assert states(**ROOM) == {"code.compartment": "fits", "code.area": "fits"}
    assert states(width="29 in", depth="40 in")["code.compartment"] == "fails"
    assert states(width="30 in", depth="29.9 in")["code.area"] == "fails"


@pytest.mark.parametrize(
    ("members", "rule", "state"),
    [
        ({"access": "22 in"}, "code.access", "tight"),
        ({"access": "22 1/16 in"}, "code.access", "fits"),
        ({"access": "22 1/16 in", "uncertainty": "1 mm"}, "code.access", "tight"),
        ({"access": "21.9 in"}, "code.access", "fails"),
        ({"curb_above_drain": "9.1 in"}, "code.curb", "fails"),
        ({"curb_above_drain": "0 in"}, "code.curb", "fails"),
        ({"curb_depth": "4 in", "curb_fall": "3/32 in"}, "code.curb_top", "fits"),
        ({"curb_depth": "4 in", "curb_fall": "1/16 in"}, "code.curb_top", "fails"),
        ({"threshold": "2 in"}, "code.threshold", "fails"),
        ({"threshold": "1 7/8 in", "existing_transfer": True}, "code.threshold", "fits"),
        ({"floor": {"fall": "3/4 in", "run": "30 in"}}, "code.floor", "fits"),
        ({"floor": {"fall": "0 in", "run": "30 in"}}, "code.floor", "fails"),
    ],
)
def test_each_limit_on_both_sides(members: dict[str, Any], rule: str, state: str) -> None:
    assert states(**members)[rule] == state


@pytest.mark.parametrize(
    ("members", "pointer"),
    [
        ({}, "/width"),
        ({"width": "60 in"}, "/depth"),
        ({"curb_fall": "0 in"}, "/curb_depth"),
        ({"floor": {"fall": "1 in", "run": "0 in"}}, "/floor/run"),
        ({"width": "-60 in", "depth": "30 in"}, "/width"),
        ({"roll_in": True, "width": "60 in", "depth": "30 in"}, "/access"),
        ({"roll_in": True, "access": "60 in"}, "/width"),
        ({"door_swing": "sideways"}, "/door_swing"),
    ],
)
def test_half_a_question_is_named(members: dict[str, Any], pointer: str) -> None:
    with pytest.raises(InputErrors) as refused:
        answer(members)
    assert pointer in [one.pointer for one in refused.value.errors]

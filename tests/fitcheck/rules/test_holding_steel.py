"""Does a screw in a steel stud, or a group of screws beside its load, hold?"""

import math

import pytest

from fitcheck.rules import holding
from fitcheck.rules.strict import InputErrors
from tests.fitcheck.rules.holding_cases import (
    BRACKET,
    Question,
    asked,
    by_rule,
    hinge,
    layout,
    steel,
    wood,
)


def test_a_bracket_on_a_steel_stud() -> None:
    light = {"kind": "load", "down": "30 lbf"}
    answer = holding.answer(asked(steel(off_centre=False), demand=light, stack="0 in"))

    assert answer["state"] == "fits"
    assert answer["capacity"]["pull_out"]["lbf"] == "109.2 lbf"
    assert answer["capacity"]["tension"]["lbf"] == "109.2 lbf"
    assert answer["capacity"]["pull_over"]["lbf"] == "956.2 lbf"
    assert answer["capacity"]["screw_tension"]["lbf"] == "386.0 lbf"
    assert answer["settings"]["pull_over"] == "on centre"
    assert answer["settings"]["stud_strength"] == "45000 psi"
    assert by_rule(answer)["fixing.together"]["reading"] == "0.15"


def test_pull_over_is_halved_unless_said_otherwise_and_aluminium_is_softer() -> None:
    bracket = {**BRACKET, "metal": "aluminium"}
    light = {"kind": "load", "down": "30 lbf"}
    answer = holding.answer(asked(steel(), demand=light, stack="0 in", bracket=bracket))

    assert answer["settings"]["pull_over"] == "off centre, half"
    assert answer["capacity"]["pull_over"]["lbf"] == "233.7 lbf"


@pytest.mark.parametrize(
    ("down", "state"), [("180 lbf", "fits"), ("190 lbf", "tight"), ("210 lbf", "fails")]
)
def test_what_a_steel_stud_holds_is_used_up(down: str, state: str) -> None:
    demand = {"kind": "load", "down": down}
    found = by_rule(holding.answer(asked(steel(), demand=demand, stack="0 in")))["fixing.together"]

    assert found["state"] == state
    if state != "fits":
        assert "blocking" in found["do"]


def test_through_a_stack_the_shear_of_a_steel_stud_is_not_known() -> None:
    answer = holding.answer(asked(steel(), demand={"kind": "load", "down": "10 lbf"}))

    assert answer["state"] == "unknown"
    assert by_rule(answer)["fixing.contact"]["reading"] == "25.4 mm in between"


@pytest.mark.parametrize(
    ("length", "state"), [("9/16 in", "fails"), ("5/8 in", "fits"), (None, "unknown")]
)
def test_a_screw_passes_bracket_and_steel_by_three_threads_and_its_point(
    length: str | None, state: str
) -> None:
    """1/8 in of bracket, 43 mil, #10: 0.125 + 0.0451 + 3/16 + 0.21 = 0.5676 in."""
    base = steel(screw={"size": "#10", "length": length})
    light = {"kind": "load", "down": "30 lbf"}
    answer = holding.answer(asked(base, demand=light, stack="0 in"))

    assert by_rule(answer)["fixing.threads"]["state"] == answer["state"] == state
    assert ("How long is the screw? 5/8 in" in by_rule(answer)["fixing.threads"]["do"]) == (
        length is None
    )


def test_no_length_is_asked_of_a_stud_that_may_not_be_asked() -> None:
    assert "fixing.threads" not in by_rule(holding.answer(asked(steel(thickness="18 mil"))))


def test_a_steel_stud_says_where_its_screws_go() -> None:
    capacity = holding.answer(asked(steel(), stack="0 in"))["capacity"]

    assert capacity["spacing_least"] == "14.478 mm"
    assert capacity["edge_least"] == "7.239 mm"
    assert capacity["threads"] == "3 show beyond the steel at least"


@pytest.mark.parametrize(
    ("stud", "state"),
    [
        ({"off_centre": "1/4 in", "uncertainty": "0 mm"}, "fits"),
        ({"off_centre": "1/4 in", "uncertainty": "1 mm"}, "tight"),
        ({"off_centre": "5/16 in", "uncertainty": "0 mm"}, "fails"),
        ({"off_centre": "5/16 in", "uncertainty": "0 mm", "face": "3 in"}, "fits"),
    ],
)
def test_where_the_stud_was_found_is_a_finding(stud: Question, state: str) -> None:
    answer = holding.answer(asked(wood(stud=stud)))

    assert by_rule(answer)["fixing.stud_hit"]["state"] == state
    assert answer["capacity"]["locating_tolerance"] == "6.985 mm"
    assert "fixing.stud_hit" not in by_rule(holding.answer(asked(wood())))


def test_a_load_beside_its_screws_twists_them() -> None:
    """68 lbf at 2.25 in off two screws 3 in apart: 61.29 each, not 34."""
    pair = layout(("0 in", "0 in"), ("0 in", "3 in"), load=("2.25 in", "1.5 in"))
    demand = {"kind": "load", "down": "68 lbf"}
    answer = holding.answer(asked(wood(), demand=demand, bracket={**BRACKET, "layout": pair}))

    assert answer["cases"][0]["shear"]["lbf"] == "61.3 lbf"
    assert answer["cases"][0]["pull"]["lbf"] == "68.0 lbf"


def test_an_open_door_twists_its_hinge_leaf() -> None:
    """Across 21.5, down 86, 1 in beside the middle of four screws: P/n and M r/J added."""
    four = layout(
        ("0 in", "0 in"),
        ("0 in", "2 in"),
        ("1 in", "0 in"),
        ("1 in", "2 in"),
        load=("1.5 in", "1 in"),
    )
    bracket = {**BRACKET, "screws": 4, "reach": "0 in", "layout": four}
    answer = holding.answer(asked(wood(), demand=hinge(), bracket=bracket, stack="0 in"))

    worst = math.hypot(21.5 / 4 + 86 * 1 / 5, 86 / 4 + 86 * 0.5 / 5)
    assert answer["cases"][1]["shear"]["lbf"] == f"{math.ceil(worst * 10) / 10:.1f} lbf"


@pytest.mark.parametrize(
    ("screws", "places", "load", "pointer"),
    [
        (2, (("0 in", "0 in"),), ("0 in", "0 in"), "/bracket/layout/screws"),
        (2, (("0 in", "0 in"), ("0 in", "0 in")), ("0 in", "0 in"), "/bracket/layout/screws"),
        (1, (("0 in", "0 in"),), ("1 in", "0 in"), "/bracket/layout/load"),
    ],
)
def test_a_layout_that_cannot_hold_is_refused(
    screws: int, places: tuple[tuple[str, str], ...], load: tuple[str, str], pointer: str
) -> None:
    bracket = {**BRACKET, "screws": screws, "layout": layout(*places, load=load)}

    with pytest.raises(InputErrors) as refused:
        holding.answer(asked(wood(), bracket=bracket))

    assert [each.pointer for each in refused.value.errors] == [pointer]


def test_one_screw_under_its_load_is_enough_of_a_layout() -> None:
    one = layout(("0 in", "0 in"), load=("0 in", "0 in"))
    answer = holding.answer(asked(wood(), bracket={**BRACKET, "screws": 1, "layout": one}))

    assert answer["cases"][0]["shear"]["lbf"] == "45.0 lbf"


@pytest.mark.parametrize(
    ("thickness", "state"), [("20 ga", "unknown"), ("18 mil", "fails"), ("40 mil", "unknown")]
)
def test_a_gauge_or_a_thin_stud_gets_no_number(thickness: str, state: str) -> None:
    answer = holding.answer(asked(steel(thickness=thickness)))

    assert answer["state"] == by_rule(answer)["fixing.stud"]["state"] == state
    assert answer["capacity"] is None

"""How a bracket's screws stand to each other and to the wood: spacing, the outer one, and a hinge's turn.

Hand calculations. Spacing and edge by the commentary to NDS 2018, C12.1.5.7, and lags by 12.5.1C, all from
memory: rows 3 D apart, 2.5 D to an edge, lags 1.5 D along the grain and 4 D across it.
"""

from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules import holding
from fitcheck.rules.demand import HINGE_TWIST
from fitcheck.rules.fixing_apart import wood_spacing_nm
from fitcheck.rules.length import length_parse
from fitcheck.rules.locating import edge_distance_nm
from tests.fitcheck.rules.holding_cases import BRACKET, asked, by_rule, hinge, wood
from tests.fitcheck.rules.test_what_is_borne import bracket, case, walls

Inputs = dict[str, Any]


def states(inputs: Inputs, rule: str, version: str = "5") -> dict[str, str]:
    found = check(inputs, version=version).findings
    return {f.place.split(",")[1].strip(): f.state for f in found if f.rule == rule}


@pytest.mark.parametrize(
    ("size", "least"), [("#10", "0.57 in"), ("#12", "0.648 in"), ("1/4 in", "3/4 in")]
)
def test_screws_in_wood_stand_three_diameters_apart(size: str, least: str) -> None:
    assert wood_spacing_nm(size) == length_parse(least).nm


@pytest.mark.parametrize(
    ("spacing", "state"), [("1/4 in", "fails"), ("5/8 in", "fails"), ("11/16 in", "fits")]
)
def test_a_brackets_holes_are_held_against_that(spacing: str, state: str) -> None:
    """#12: 3 x 0.216 = 0.648 in."""
    inputs = case("s-01")
    bracket(inputs)["bracket"]["spacing"] = spacing

    assert states(inputs, "fixing.spacing") == {"left wall": state, "right wall": state}
    assert states(inputs, "fixing.spacing", "4") == {}
    rows = {f.surface: f.state for f in check(inputs).fixings if f.place == "rail bracket"}
    assert rows["right_wall"] == state


def test_one_screw_alone_has_no_neighbour_in_wood() -> None:
    inputs = case("s-01")
    bracket(inputs)["count"] = bracket(inputs)["bracket"]["top_row"] = 1
    bracket(inputs)["bracket"]["spacing"] = "1/4 in"

    assert states(inputs, "fixing.spacing") == {}


@pytest.mark.parametrize(
    ("top_row", "spacing", "state"),
    [(1, "3/4 in", "fits"), (2, "3/4 in", "fails"), (3, "3/4 in", "fails"), (3, None, "fits")],
)
def test_the_outer_screw_hits_the_stud_too(top_row: int, spacing: str | None, state: str) -> None:
    """Off by 1/8 in, #12: 0.21 in either way; two screws 3/4 in apart stand 3/8 in further out."""
    inputs = case("s-01")
    bracket(inputs)["bracket"] |= {"top_row": top_row, "spacing": spacing}

    assert states(inputs, "fixing.stud_hit")["left wall"] == state
    assert states(inputs, "fixing.stud_hit", "4")["left wall"] == "fits"


def cautions(inputs: Inputs, place: str, version: str = "5") -> str:
    rows = [f for f in check(inputs, version=version).fixings if f.place == place]
    assert rows
    return " ".join(one for row in rows for one in row.cautions)


def test_where_the_sheet_does_not_say_it_the_crew_is_told_the_distances() -> None:
    inputs = case("s-01")
    said = "in wood at least 11/16 in from each other and 9/16 in from the edge of the stud"

    assert said in cautions(inputs, "rail bracket")
    assert said not in cautions(inputs, "rail bracket", "4")
    bracket(inputs)["bracket"]["spacing"] = "3/4 in"
    assert said not in cautions(inputs, "rail bracket")


@pytest.mark.parametrize(
    "change",
    [
        lambda inputs: walls(inputs, structure="concrete"),
        lambda inputs: bracket(inputs).update(screw={"size": "#16", "length": "3 in"}),
        lambda inputs: (
            bracket(inputs).update(count=1),
            bracket(inputs)["bracket"].update(top_row=1),
        ),
    ],
    ids=["masonry", "a screw of unknown root", "one screw"],
)
def test_no_distance_is_told_where_there_is_none(change: Any) -> None:
    inputs = case("s-01")
    change(inputs)

    assert "does not say how far apart" not in cautions(inputs, "rail bracket")


def door(**changes: Any) -> Any:
    """A door of 86 lb, 30 in wide, on hinges 60 in apart: a couple of 21.5 lbf."""
    leaf = {**BRACKET, "screws": 4, "top_row": 2, **changes}
    return holding.answer(asked(wood(), demand=hinge(), bracket=leaf))


def pulls(answer: Any) -> dict[str, float]:
    return {one["case"]: float(one["pull"]["lbf"].split()[0]) for one in answer["cases"]}


def test_an_open_door_turns_the_hinge_about_its_upright_edge() -> None:
    """21.5 lbf at 1 in of reach and 1 in of stack, over 2 in of width: 21.5 lbf in two screws."""
    before, after = pulls(door()), pulls(door(screw_width="2 in"))

    assert after["door open"] - before["door open"] == pytest.approx(21.5 * 2 / 2 / 2, abs=0.11)
    assert after["door shut"] == before["door shut"]


def test_one_row_above_the_other_is_a_column_of_all() -> None:
    one = (
        pulls(door(top_row=1, screw_width="2 in"))["door open"]
        - pulls(door(top_row=1))["door open"]
    )

    assert one == pytest.approx(21.5 * 2 / 2 / 4, abs=0.11)


def test_what_is_left_out_is_said() -> None:
    assert HINGE_TWIST in door()["cautions"]
    assert HINGE_TWIST not in door(screw_width="2 in")["cautions"]
    assert HINGE_TWIST not in holding.answer(asked(wood()))["cautions"]


def test_a_sheet_may_say_how_wide_its_hinge_stands() -> None:
    inputs = case("s-12")
    assert HINGE_TWIST in cautions(inputs, "hinge")
    assert HINGE_TWIST not in cautions(inputs, "hinge", "4")
    narrow: Any = check(inputs).as_json()["loads"][0]

    bracket(inputs)["bracket"]["screw_width"] = "40 mm"
    wide: Any = check(inputs).as_json()["loads"][0]
    assert HINGE_TWIST not in cautions(inputs, "hinge")
    shut, opened = (
        float(wide["cases"][n]["pull"]["lbf"].split()[0])
        - float(narrow["cases"][n]["pull"]["lbf"].split()[0])
        for n in (0, 1)
    )
    # 14 mm of reach and 20 mm of tile and board, over 40 mm, in two of the four screws
    couple = float(check(inputs).as_json()["panes"][0]["hinges"]["top_pulls"]["lbf"].split()[0])
    assert shut == 0
    assert opened == pytest.approx(2 * couple * 34 / 40 / 2, abs=0.3)


def lag(demand: Any, **base: Any) -> Any:
    screw = {"size": "1/4 in", "length": "4 in"}
    return by_rule(holding.answer(asked(wood(screw=screw, **base), demand=demand)))


def test_a_lag_pulled_across_the_grain_wants_four_diameters() -> None:
    assert edge_distance_nm("1/4 in", across=True) == length_parse("1 in").nm
    assert edge_distance_nm("#10", across=True) == edge_distance_nm("#10")
    stud = {"off_centre": "0 in", "uncertainty": "1 mm"}

    assert lag(hinge(), stud=stud)["fixing.stud_hit"]["state"] == "fails"
    assert lag(hinge(), stud={**stud, "face": "3 in"})["fixing.stud_hit"]["state"] == "fits"
    assert lag({"kind": "load", "down": "45 lbf"}, stud=stud)["fixing.stud_hit"]["state"] == "fits"


def test_without_a_stud_the_lags_edge_is_asked_for() -> None:
    found = lag(hinge())["fixing.stud_hit"]

    assert (found["state"], found["reading"]) == ("unknown", None)
    assert "stays 1 in from the edge" in found["do"]
    assert "fixing.stud_hit" not in lag({"kind": "load", "down": "45 lbf"})
    assert "fixing.stud_hit" not in by_rule(door())

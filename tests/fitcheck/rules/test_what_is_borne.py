"""What do bracket, rail and screw bear in a verdict, and is nothing told that nobody can know?

Hand calculations and house values; published values stand in tests/published.
"""

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check

ROOT = Path(__file__).resolve().parents[3]
STORY = json.loads((ROOT / "contractor/config/demo/story.json").read_text(encoding="utf-8"))
SURVEYS = {one["ref"]: one for opening in STORY["openings"] for one in opening["surveys"]}
Inputs = dict[str, Any]


def case(ref: str) -> Inputs:
    """A survey of the story with the newest sheet of its kit."""
    told = SURVEYS[ref]
    kit = json.loads((ROOT / f"fitcheck/kits/demo/{told['kit']}.json").read_text(encoding="utf-8"))
    return copy.deepcopy({**told["inputs"], "sheet": kit["sheets"][-1]["body"]})


def bracket(inputs: Inputs) -> dict[str, Any]:
    return next(f for f in inputs["sheet"]["fixings"] if "bracket" in f)


def walls(inputs: Inputs, **changes: Any) -> None:
    for zone in inputs["zones"]:
        if zone["surface"].endswith("wall"):
            zone.update(changes)


def used(inputs: Inputs) -> list[float]:
    """Share of each screw that is used, as the findings say it."""
    told: Any = check(inputs).as_json()
    pairs = [
        (f["reading"].split()[0], f["limit"].split()[0])
        for f in told["findings"]
        if f["rule"] == "fixing.together"
    ]
    return [float(load) / float(holds) for load, holds in pairs]


def test_the_worst_screw_is_held_against_what_it_gets_of_the_panels() -> None:
    told: Any = check(case("s-01")).as_json()
    rail = told["rail"]
    weight = 2 * sum(float(one.split()[0]) for one in rail["panels"]) * 9.80665

    assert rail["slam_factor"] == "2"
    assert weight / 2 < float(rail["reaction"]["newton"].split()[0]) < weight + 40
    (one, other) = (row for row in told["loads"] if row["place"] == "rail bracket")
    assert one["cases"] == other["cases"]
    # six screws share the shear, the upper three the pull about the heel
    shear = float(one["cases"][0]["shear"]["lbf"].split()[0])
    assert shear == pytest.approx(float(rail["reaction"]["lbf"].split()[0]) / 6, abs=0.1)
    assert {f["state"] for f in told["findings"] if f["rule"] == "fixing.together"} == {"fits"}


def test_two_short_screws_in_a_tiled_wall_do_not_hold_the_panels() -> None:
    inputs = case("s-01")
    fixing = bracket(inputs)
    fixing |= {"count": 2, "screw": {"size": "#10", "length": "2 1/2 in"}}
    fixing["bracket"]["top_row"] = 1

    assert check(inputs).state == "fails"
    assert all(share > 1 for share in used(inputs))


def test_a_screw_that_hardly_reaches_the_wood_counts_for_nothing() -> None:
    inputs = case("s-01")
    bracket(inputs)["screw"] = {"size": "#12", "length": "1 1/2 in"}
    rules = {f.rule: f.state for f in check(inputs).findings}

    assert rules["fixing.counts"] == "fails"
    assert "fixing.together" not in rules


def test_a_species_that_nobody_named_is_taken_as_weak() -> None:
    unknown, known = case("s-01"), case("s-01")
    walls(known, species="douglas_fir_larch")

    assert min(used(unknown)) > max(used(known))
    told: Any = check(unknown).as_json()
    assert told["loads"][0]["settings"]["gravity"] == "0.36"


@pytest.mark.parametrize(("more", "less"), [(6, 4), (8, 6)])
def test_more_screws_are_never_worse(more: int, less: int) -> None:
    many, few = case("s-01"), case("s-01")
    bracket(many)["count"], bracket(few)["count"] = more, less

    assert max(used(many)) < min(used(few))


def test_a_thicker_tile_is_never_better() -> None:
    thin, thick = case("s-01"), case("s-01")
    walls(thick, finish_thickness="1/2 in")

    assert min(used(thick)) > max(used(thin))


@pytest.mark.parametrize(
    ("wall", "why"),
    [
        ({"structure": "block"}, "evaluation report"),
        ({"structure": "none"}, "no hollow-wall anchor"),
        ({"structure": "steel_stud"}, "mils"),
        ({"structure": "unknown"}, "build-up"),
        ({"finish_thickness": None}, "build-up"),
    ],
)
def test_where_nobody_can_know_nothing_is_told(wall: dict[str, Any], why: str) -> None:
    inputs = case("s-01")
    walls(inputs, **wall)
    told: Any = check(inputs).as_json()

    assert told["state"] in ("fails", "unknown")
    rows = [row for row in told["loads"] if row["place"] == "rail bracket"]
    assert all(why in row["why"] and row["capacity"] is None for row in rows)
    assert "fixing.together" not in {f["rule"] for f in told["findings"]}


def test_a_steel_stud_answers_by_its_mils_and_lifts_no_question() -> None:
    told: Any = check(case("s-13")).as_json()
    unknown = {f["rule"] for f in told["findings"] if f["state"] == "unknown"}

    assert unknown == {"fixing.hole", "fixing.contact"}
    thin = case("s-13")
    walls(thin, mils="18 mil")
    assert {f.state for f in check(thin).findings if f.rule == "fixing.stud"} == {"fails"}
    gauge = case("s-13")
    walls(gauge, mils="20 gauge")
    assert {f.state for f in check(gauge).findings if f.rule == "fixing.stud"} == {"unknown"}


def test_a_hinge_gives_its_couple_to_the_wall_shut_and_open() -> None:
    told: Any = check(case("s-12")).as_json()
    (pane,) = told["panes"]
    row = next(one for one in told["loads"] if one["place"] == "hinge")

    assert [one["case"] for one in row["cases"]] == ["door shut", "door open"]
    # H = W (w/2 + s) / h
    weight = float(pane["hinges"]["down_if_one_carries_all"]["newton"].split()[0])
    couple = float(pane["hinges"]["top_pulls"]["newton"].split()[0])
    width = 846 if "900" in str(told["size"]) else 746
    assert couple == pytest.approx(weight * (width / 2 + 16) / 1420, abs=0.3)


def test_a_bracket_off_the_studs_middle_is_told() -> None:
    inputs = case("s-01")
    bracket(inputs)["bracket"]["setback"] = "3 5/8 in"
    hits = {f.place: f.state for f in check(inputs).findings if f.rule == "fixing.stud_hit"}

    assert set(hits.values()) == {"fails"}
    assert all("left" in place for place in hits)  # the right wall has blocking, wide enough


def test_a_sheet_that_names_no_bracket_is_not_judged_by_one() -> None:
    inputs = case("s-07")
    told: Any = check(inputs).as_json()

    assert told["rail"] is None
    assert all("does not say" in row["why"] for row in told["loads"])
    assert told["state"] == "fits"


def test_only_the_walls_that_count_are_asked() -> None:
    inputs = case("s-14")
    one_wall = {f.place for f in check(inputs).findings if f.rule == "wall.lean"}
    del inputs["sheet"]["walls"]
    both = {f.place for f in check(inputs).findings if f.rule == "wall.lean"}

    assert (one_wall, both) == ({"right wall"}, {"left wall", "right wall"})


def test_sliding_panels_overlap_less_in_a_wider_opening() -> None:
    inputs = case("s-04")
    narrow = next(f for f in check(inputs).findings if f.rule == "sliding.overlap")
    for one in inputs["readings"]:
        if one["quantity"] == "width":
            one["value"] = f"{int(one['value'].split()[0]) + 3} mm"
    wide = next(f for f in check(inputs).findings if f.rule == "sliding.overlap")

    assert narrow.margin
    assert wide.margin
    assert narrow.margin.low_nm - wide.margin.low_nm == 3_000_000

"""What a fixing must pass before it holds, and how far its tip goes: bracket, finish and board count.

Hand calculations; six diameters of a #10 are 1.14 in (NDS 2018, 12.1.5), 1 1/4 in are kept for services
(NEC 300.4). Threads to the inch and the point of a self-drilling screw are common practice, no source.
"""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.holes import DRILL, WAIT
from fitcheck.rules.length import length_parse
from fitcheck.rules.steel_stud import steel_screw_least_nm
from fitcheck.rules.verdict import Fixing
from tests.fitcheck.rules.test_masonry_in_verdict import cellar
from tests.fitcheck.rules.test_steel_in_verdict import on_the_steel
from tests.fitcheck.rules.test_what_is_borne import bracket, case, walls

Find = Callable[..., Any]
Inputs = dict[str, Any]


def row(inputs: Inputs, place: str, version: str = "5", surface: str = "left_wall") -> Fixing:
    told = check(inputs, version=version).fixings
    return next(f for f in told if (f.place, f.surface) == (place, surface))


@pytest.mark.parametrize("hollow", [False, True])
def test_a_bracket_never_hangs_on_an_anchor_in_the_finish(hollow: bool) -> None:
    inputs = case("s-01")
    bracket(inputs)["must_reach"] = "finish"
    del bracket(inputs)["load"]
    if hollow:
        gap = {"fit": "hollow", "backing": "none", "backing_thickness": None}
        walls(inputs, finish="acrylic", finish_thickness="1/8 in", **gap)
    now, before = row(inputs, "rail bracket"), row(inputs, "rail bracket", "4")

    assert before.anchor in ("tile anchor", "hollow-wall anchor")
    assert now.anchor is None
    assert now.state == "unknown"  # nor does its sheet agree with itself
    if not hollow:
        rules = {f.rule for f in check(inputs).findings if "rail bracket, left" in f.place}
        assert {"fixing.embedment", "fixing.together"} <= rules


def two_screws(**screw: str) -> Inputs:
    """The story's rail bracket, 3/16 in thick, on the 13/16 in of tile and board of the left wall."""
    inputs = case("s-01")
    bracket(inputs)["screw"] = screw or None
    return inputs


def test_a_screw_is_chosen_for_bracket_stack_and_six_diameters() -> None:
    """3/16 + 13/16 + 1.14 = 2.14 in: 2 1/4 in will do, 2 in of version 4 did not."""
    now, before = row(two_screws(), "rail bracket"), row(two_screws(), "rail bracket", "4")

    assert (before.screw_length, now.screw_length) == ("2 in", "2 1/4 in")
    rules = {f.rule for f in check(two_screws()).findings if "rail bracket" in f.place}
    assert "fixing.counts" not in rules
    assert "fixing.counts" in {f.rule for f in check(two_screws(), version="4").findings}


def test_embedment_counts_the_bracket_too(finding: Find) -> None:
    """2 in less 3/16 and 13/16 in is 1 in; the longer one that is named has room for them as well."""
    inputs = two_screws(size="#10", length="2 in")
    found = finding(check(inputs), "fixing.embedment", "left wall")

    assert found.reading.low_nm == 25_400_000
    assert found.state == "tight"
    assert found.do.startswith("Use a #10 screw 2 1/4 in long")
    assert finding(check(inputs, version="4"), "fixing.embedment", "left wall").state == "fits"
    assert row(inputs, "rail bracket").reach_nm == 25_400_000


def test_a_row_in_wood_does_not_pass_where_its_screw_does_not_hold(finding: Find) -> None:
    inputs = two_screws(size="#10", length="3 in")
    bracket(inputs)["count"] = 2
    bracket(inputs)["bracket"]["top_row"] = 1
    verdict = check(inputs)
    failing = [f for f in verdict.findings if f.rule == "fixing.together" and "left" in f.place]
    now, before = row(inputs, "rail bracket"), row(inputs, "rail bracket", "4")

    assert {f.state for f in failing} == {"fails"}
    assert (before.state, now.state) == ("fits", "fails")
    assert now.questions == (failing[0].do,)
    assert finding(verdict, "fixing.hole", "rail bracket, left").do == WAIT
    assert finding(check(inputs, version="4"), "fixing.hole", "rail bracket, left").do == DRILL


def test_what_was_tight_before_the_wood_was_asked_stays_so() -> None:
    inputs = two_screws(size="#12", length="3 in")
    assert row(inputs, "rail bracket").state == "fits"
    bracket(inputs)["bracket"]["setback"] = "2 7/8 in"
    verdict = check(inputs)

    hits = {f.state for f in verdict.findings if f.rule == "fixing.stud_hit"}
    assert row(inputs, "rail bracket").state == hits.pop()


def test_no_hole_is_drilled_beside_the_stud(bypass: Inputs, read: Any, finding: Find) -> None:
    read(bypass, "backing_centre", "9 in", "left")
    found = finding(check(bypass), "fixing.hole", "rail bracket, left")

    assert row(bypass, "rail bracket").backing_hit == "missed"
    assert found.do == WAIT


@pytest.mark.parametrize(
    ("number", "mils", "grip", "least_in"),
    [
        (10, 43, "1/8 in", 0.125 + 0.0451 + 3 / 16 + 0.21),
        (12, 33, "0 in", 0.0346 + 3 / 14 + 0.21),
        (8, 54, "1 in", 1 + 0.0566 + 3 / 18 + 0.21),
    ],
)
def test_a_screw_passes_bracket_stud_three_threads_and_its_point(
    number: int, mils: int, grip: str, least_in: float
) -> None:
    least_nm = steel_screw_least_nm(number, mils, length_parse(grip).nm)

    assert 0 <= least_nm - least_in * 25_400_000 < 2


@pytest.mark.parametrize(
    ("length", "state"), [("1/4 in", "fails"), ("5/8 in", "fails"), ("11/16 in", "fits")]
)
def test_a_screw_in_steel_is_long_enough(length: str, state: str) -> None:
    """3/16 in leaf, 33 mil, #12: 0.1875 + 0.0346 + 0.2143 + 0.21 = 0.6464 in."""
    inputs = on_the_steel()
    bracket(inputs)["screw"]["length"] = length
    verdict = check(inputs)
    found = {f.state for f in verdict.findings if f.rule == "fixing.threads"}

    assert found == {state}
    assert row(inputs, "hinge").state == state
    assert "fixing.threads" not in {f.rule for f in check(inputs, version="4").findings}


def test_a_long_screw_in_steel_minds_the_services() -> None:
    inputs = on_the_steel()
    bracket(inputs)["screw"]["length"] = "1 7/16 in"
    assert row(inputs, "hinge").reach_nm == 31_750_000
    assert not any("Locate pipes" in one for one in row(inputs, "hinge").cautions)

    bracket(inputs)["screw"]["length"] = "1 1/2 in"
    assert any("goes 1 5/16 in beyond" in one for one in row(inputs, "hinge").cautions)
    assert not any("Locate" in one for one in row(inputs, "hinge", "4").cautions)


def test_an_anchor_in_masonry_minds_pipes_cables_and_bars() -> None:
    now, before = row(cellar(), "rail plate"), row(cellar(), "rail plate", "4")

    assert any("anchor goes 2 1/4 in into the concrete" in one for one in now.cautions)
    assert not any("Locate" in one for one in before.cautions)


@pytest.mark.parametrize(
    ("length", "reach", "cautioned"),
    [("1/2 in", 0, False), ("2 1/16 in", 31_750_000, False), ("3 in", 55_562_500, True)],
)
def test_a_light_fixing_minds_its_tip_too(
    bypass: Inputs, length: str, reach: int, cautioned: bool
) -> None:
    bypass["sheet"]["fixings"][1]["screw"] = {"size": "#8", "length": length}
    now = row(bypass, "side strip")

    assert now.reach_nm == reach
    assert any("Locate pipes" in one for one in now.cautions) == cautioned
    assert now.state == "fits"
    assert row(bypass, "side strip", "4").reach_nm is None


@pytest.mark.parametrize(
    ("zone", "length", "said"),
    [
        ({"fit": "hollow", "finish": "acrylic", "finish_thickness": "1/8 in"}, "3 in", "2 3/8 in"),
        ({"fit": "hollow", "finish": "acrylic", "finish_thickness": "1/8 in"}, "1 7/8 in", ""),
        ({"backing_thickness": None}, "2 in", "1 11/16 in"),
        ({"backing_thickness": None}, "1 9/16 in", ""),
    ],
)
def test_where_the_stack_is_not_known_the_most_is_minded(
    bypass: Inputs, zone: Inputs, length: str, said: str
) -> None:
    """1/8 in of acrylic and 1/2 in of board, or 5/16 in of tile alone, are known to be in between."""
    bypass["zones"][0] |= zone
    bypass["sheet"]["fixings"][1]["screw"] = {"size": "#8", "length": length}
    now = row(bypass, "side strip")
    told = [one for one in now.cautions if "Locate pipes" in one]

    assert now.reach_nm is None
    assert bool(told) == bool(said)
    assert all(f"may go up to {said} beyond it" in one for one in told)


@pytest.mark.parametrize(
    ("species", "pilot"),
    [("red_oak", "9/64 in"), ("white_oak", "9/64 in"), ("southern_pine", "7/64 in")],
)
def test_dense_wood_gets_the_wider_lead_hole(bypass: Inputs, species: str, pilot: str) -> None:
    """NDS 2018, 12.1.5 (bands from memory): 90 % of .152 in is .137 in above 0.60, else 70 %."""
    bypass["zones"][0]["species"] = species
    now, before = row(bypass, "rail bracket"), row(bypass, "rail bracket", "4")

    assert now.pilot
    assert before.pilot
    assert (now.pilot.text, before.pilot.text) == (pilot, "7/64 in")


def test_dense_wood_behind_solid_acrylic_gets_it_too(bypass: Inputs) -> None:
    bypass["zones"][0] |= {"species": "red_oak", "finish": "acrylic", "fit": "solid"}
    bypass["sheet"]["fixings"][1]["screw"] = {"size": "#10", "length": "1 in"}
    held = row(bypass, "side strip").pilot
    bypass["zones"][0]["structure"] = "block"
    loose = row(bypass, "side strip").pilot

    assert held
    assert loose
    assert (held.text, loose.text) == ("9/64 in", "7/64 in")


def test_no_hole_means_no_pilot_either(bypass: Inputs) -> None:
    guide = {"place": "guide", "surface": "sill", "height": "0 in", "count": 2, "page": "9"}
    bypass["sheet"]["fixings"].append({**guide, "must_reach": "finish"})
    bypass["zones"][2]["membrane"] = "yes"
    now = row(bypass, "guide", surface="sill")

    assert now.seal == "No hole here."
    assert now.pilot is now.final_hole is now.anchor is now.bit is now.depth_nm is None
    assert row(bypass, "guide", "4", "sill").pilot is not None


def test_whoever_drills_wet_is_told_of_the_breaker(bypass: Inputs) -> None:
    now, before = row(bypass, "side strip"), row(bypass, "side strip", "4")

    assert any("GFCI" in one for one in now.cautions)
    assert not any("GFCI" in one for one in before.cautions)
    bypass["zones"][0]["finish"] = "painted_board"
    assert not any("GFCI" in one for one in row(bypass, "side strip").cautions)

"""Each hole follows from the build-up of its own zone; what is unknown is a question.

Common practice, no source: tile 1/8 in pilot, 1/4 in final, tile anchor; hollow acrylic ordinary
bit, 1/8 in, then 3/8 in with a hollow-wall anchor.
"""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.verdict import Fixing

Find = Callable[..., Any]


def row(inputs: dict[str, Any], place: str, surface: str = "left_wall") -> Fixing:
    return next(f for f in check(inputs).fixings if (f.place, f.surface) == (place, surface))


def texts(fixing: Fixing) -> tuple[str | None, str | None, str | None]:
    pilot, final = fixing.pilot, fixing.final_hole
    return pilot.text if pilot else None, final.text if final else None, fixing.anchor


@pytest.mark.parametrize(
    ("finish", "bit"),
    [
        ("glazed_ceramic", "carbide spear or diamond bit"),
        ("porcelain", "diamond bit"),
        ("glass_tile", "diamond bit"),
        ("natural_stone", "diamond bit"),
    ],
)
def test_tile_gets_its_bit_its_two_holes_and_a_tile_anchor(
    bypass: dict[str, Any], finish: str, bit: str
) -> None:
    bypass["zones"][0]["finish"] = finish

    found = row(bypass, "side strip")

    assert found.bit == bit
    assert texts(found) == ("1/8 in", "1/4 in", "tile anchor")
    assert "water" in (found.cooling or "")
    assert any("Hammer off" in each for each in found.cautions)
    assert "C920" in found.seal


def test_hollow_acrylic_gets_an_ordinary_bit_and_a_hollow_wall_anchor(
    bypass: dict[str, Any],
) -> None:
    bypass["zones"][0] |= {"finish": "acrylic", "fit": "hollow"}

    found = row(bypass, "side strip")

    assert found.bit == "ordinary twist bit, sharp"
    assert texts(found) == ("1/8 in", "3/8 in", "hollow-wall anchor")
    assert found.state == "fits"


@pytest.mark.parametrize(
    "change",
    [{"finish": "unknown"}, {"finish": "acrylic", "fit": "unknown"}],
    ids=["unknown finish", "acrylic, solid or hollow not known"],
)
@pytest.mark.parametrize("place", ["side strip", "rail bracket"])
def test_what_is_not_known_is_a_question_and_no_bit_is_named(
    bypass: dict[str, Any], change: dict[str, str], place: str
) -> None:
    bypass["zones"][0] |= change

    found = row(bypass, place)

    assert found.bit is None
    assert found.final_hole is None
    assert found.questions
    assert found.state == "unknown"
    assert check(bypass).state != "fits"


@pytest.mark.parametrize(
    ("change", "state", "said"),
    [
        ({"structure": "unknown"}, "unknown", "What is behind the wall"),
        ({"structure": "none"}, "fails", "fit blocking"),
        ({"structure": "steel_stud"}, "unknown", "mils"),
        ({"structure": "block"}, "unknown", "masonry anchor"),
        ({"finish_thickness": None}, "unknown", "How thick"),
        ({"backing": "unknown", "backing_thickness": None}, "unknown", "How thick"),
        ({"finish": "acrylic", "fit": "hollow"}, "unknown", "bridges a gap"),
    ],
)
def test_what_carries_the_door_must_reach_wood(
    bypass: dict[str, Any], finding: Find, change: dict[str, Any], state: str, said: str
) -> None:
    bypass["zones"][0] |= change

    found = finding(check(bypass), "fixing.hole", "rail bracket, left wall")

    assert found.state == state
    assert said in found.do


def test_a_load_on_a_fixing_in_the_finish_must_reach_wood_all_the_same(
    bypass: dict[str, Any],
) -> None:
    bypass["sheet"]["fixings"][1]["load"] = "40 N"
    bypass["zones"][0] |= {"structure": "none"}

    found = row(bypass, "side strip")
    before = next(f for f in check(bypass, version="4").fixings if f.place == "side strip")

    assert (before.anchor, before.state) == (None, "fails")
    assert (found.anchor, found.state) == (None, "unknown")  # the sheet contradicts itself


def test_stack_reach_and_holes_of_a_bracket_by_hand(bypass: dict[str, Any]) -> None:
    """By hand: 5/16 + 1/2 = 13/16 in; 2 in less that is 1 3/16 in; .190 + 1/16 up to 17/64."""
    found = row(bypass, "rail bracket").as_json()

    assert found["stack"]["inch"] == "13/16 in"  # type: ignore[index]
    assert found["reach"]["inch"] == "1 3/16 in"  # type: ignore[index]
    assert found["depth"]["inch"] == "2 in"  # type: ignore[index]
    assert found["final_hole"]["text"] == "17/64 in"  # type: ignore[index]
    assert found["pilot"]["text"] == "7/64 in"  # type: ignore[index]


@pytest.mark.parametrize(
    ("screw", "embedment"),
    [("3/4 in", "fails"), ("1 3/4 in", "tight"), ("2 in", "fits"), ("2 1/4 in", "fits")],
)
def test_a_screw_goes_deep_enough_into_the_wood(
    bypass: dict[str, Any], finding: Find, screw: str, embedment: str
) -> None:
    bypass["sheet"]["fixings"][0]["screw"]["length"] = screw

    verdict = check(bypass)

    assert finding(verdict, "fixing.embedment", "left wall").state == embedment


def test_within_the_depth_kept_for_services_the_screw_is_said_to_stay_there(
    bypass: dict[str, Any], finding: Find
) -> None:
    assert finding(check(bypass), "fixing.services", "left wall").state == "fits"


def test_a_deep_screw_is_cautioned_but_does_not_make_the_kit_doubtful(
    bypass: dict[str, Any],
) -> None:
    bypass["sheet"]["fixings"][0]["screw"]["length"] = "2 1/4 in"

    verdict = check(bypass)

    assert verdict.state == "fits"
    assert "1 7/16 in beyond the stud" in " ".join(verdict.fixings[0].cautions)


def test_a_deep_screw_carries_the_caution_on_its_own_row(bypass: dict[str, Any]) -> None:
    bypass["sheet"]["fixings"][0]["screw"]["length"] = "2 1/4 in"

    assert any("Locate pipes" in each for each in row(bypass, "rail bracket").cautions)


def test_a_box_without_screws_gets_the_shortest_stock_screw_that_holds(
    bypass: dict[str, Any],
) -> None:
    """By hand: 13/16 + 6 x 0.190 = 1.9525 in, so 2 in."""
    bypass["sheet"]["fixings"][0]["screw"] = None

    found = row(bypass, "rail bracket")

    assert (found.screw_size, found.screw_length) == ("#10", "2 in")


def test_a_fixing_where_two_build_ups_meet_is_a_question(bypass: dict[str, Any]) -> None:
    bypass["zones"][0]["to_height"] = "73 in"
    above = {"id": "above", "from_height": "73 in", "to_height": "90 in", "membrane": "yes"}
    bypass["zones"][0]["membrane"] = "no"
    bypass["zones"].append({**bypass["zones"][0], **above})

    found = row(bypass, "rail bracket")

    assert found.zone is None
    assert "Two build-ups meet" in found.questions[0]
    assert found.state == "unknown"


def test_a_fixing_where_two_people_saw_the_same_build_up_is_no_question(
    bypass: dict[str, Any],
) -> None:
    once = row(bypass, "rail bracket")
    bypass["zones"].append({**bypass["zones"][0], "id": "seen again"})

    assert row(bypass, "rail bracket") == once


def test_a_fixing_where_no_build_up_is_known_is_a_question(bypass: dict[str, Any]) -> None:
    bypass["zones"][0]["to_height"] = "70 in"

    found = row(bypass, "rail bracket")

    assert found.questions == (
        "What is the left wall at 73 in made of: finish, backing and structure?",
    )
    assert found.bit is None


@pytest.mark.parametrize(
    ("membrane", "allowed", "state"),
    [
        ("yes", False, "fails"),
        ("unknown", False, "unknown"),
        ("no", False, "fits"),
        ("yes", True, "fits"),
    ],
)
def test_no_hole_in_the_top_of_a_curb_over_its_membrane(
    bypass: dict[str, Any], membrane: str, allowed: bool, state: str
) -> None:
    guide = {
        "place": "guide",
        "surface": "sill",
        "height": "0 in",
        "count": 2,
        "must_reach": "finish",
    }
    bypass["sheet"]["fixings"].append({**guide, "through_membrane": allowed, "page": "9"})
    bypass["zones"][2]["membrane"] = membrane

    assert row(bypass, "guide", "sill").state == state


@pytest.mark.parametrize(
    "zone",
    [
        {"finish": "solid_surface"},
        {"finish": "painted_board"},
        {"finish": "masonry", "finish_thickness": None, "backing": "none", "structure": "brick"},
        {"finish": "bare", "finish_thickness": None},
    ],
    ids=lambda zone: zone["finish"],
)
def test_a_finish_that_the_trade_has_no_anchor_for_is_a_question_with_its_bit(
    bypass: dict[str, Any], zone: dict[str, Any]
) -> None:
    bypass["zones"][0] |= {**zone, "backing_thickness": None}

    found = row(bypass, "side strip")

    assert found.bit is not None
    assert found.anchor is None
    assert "Which screw or anchor" in found.questions[0]
    assert found.state == "unknown"


def test_solid_acrylic_takes_the_screw_of_the_box_through_a_clearance_hole(
    bypass: dict[str, Any],
) -> None:
    bypass["zones"][0] |= {"finish": "acrylic", "fit": "solid"}
    bypass["sheet"]["fixings"][1]["screw"] = {"size": "#8", "length": "1 in"}

    assert texts(row(bypass, "side strip")) == ("3/32 in", "15/64 in", None)

    bypass["sheet"]["fixings"][1]["screw"] = None
    assert row(bypass, "side strip").state == "unknown"


def test_a_zone_of_which_only_the_finish_is_known_asks_for_the_rest(bypass: dict[str, Any]) -> None:
    named = ("id", "surface", "from_height", "to_height", "finish")
    bypass["zones"][0] = {name: bypass["zones"][0][name] for name in named}

    found = row(bypass, "rail bracket")

    assert found.stack_nm is None
    assert found.backing_hit == "unknown"
    assert "What is behind the wall" in " ".join(found.questions)
    assert found.state == "unknown"


def test_with_nothing_behind_the_wall_the_backing_is_missed(bypass: dict[str, Any]) -> None:
    bypass["zones"][0]["structure"] = "none"

    assert row(bypass, "rail bracket").backing_hit == "missed"


def test_a_screw_without_a_known_root_is_a_question(bypass: dict[str, Any]) -> None:
    bypass["sheet"]["fixings"][0]["screw"] = {"size": "#16", "length": "2 1/2 in"}

    assert "lead hole" in " ".join(row(bypass, "rail bracket").questions)


def test_a_wall_thicker_than_every_stock_screw_is_a_question(bypass: dict[str, Any]) -> None:
    bypass["sheet"]["fixings"][0]["screw"] = None
    bypass["zones"][0]["backing_thickness"] = "3 in"

    assert "No stock screw" in " ".join(row(bypass, "rail bracket").questions)


def test_the_same_question_about_one_place_is_asked_once(bypass: dict[str, Any]) -> None:
    bypass["zones"][0]["finish"] = "unknown"
    bypass["sheet"]["fixings"].append(bypass["sheet"]["fixings"][1])

    asked = [(q.about, q.text) for q in check(bypass).questions]

    assert len(asked) == len(set(asked))

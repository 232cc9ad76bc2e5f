"""Does a fixing hold: whole questions in plain JSON, with hand calculations shown."""

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules import holding
from fitcheck.rules.strict import InputErrors
from fitcheck.rules.wood_screw import WoodJoint, gravity_of, root_tension, wood_holds

Question = dict[str, Any]
BRACKET = {
    "reach": "1 in",
    "screw_height": "2 in",
    "screws": 2,
    "top_row": 1,
    "thickness": "1/8 in",
    "metal": "steel",
}


def wood(**changes: Any) -> Question:
    base = {
        "kind": "wood",
        "species": "spruce_pine_fir",
        "screw": {"size": "#10", "length": "2 5/8 in"},
    }
    return {**base, **changes}


def asked(base: Question, **changes: Any) -> Question:
    question: Question = {
        "demand": {"kind": "load", "down": "45 lbf"},
        "bracket": BRACKET,
        "stack": "1 in",
        "slam_factor": "1",
        "base": base,
    }
    return {**question, **changes}


def by_rule(answer: dict[str, Any]) -> dict[str, Any]:
    return {finding["rule"]: finding for finding in answer["findings"]}


def test_a_stack_of_an_inch_pries_and_is_a_gap() -> None:
    """T = 45 (1 + 1)/2 = 45, V = 45/2; W'p = 95.52 x 1.5 x 0.9; Z' = 33.4 x 0.9."""
    answer = holding.answer(asked(wood()))

    case = answer["cases"][0]
    assert (case["pull"]["lbf"], case["shear"]["lbf"]) == ("45.0 lbf", "22.5 lbf")
    assert answer["capacity"]["withdrawal"]["lbf"] == "128.9 lbf"
    assert answer["capacity"]["lateral"]["lbf"] == "30.0 lbf"
    assert answer["capacity"]["lateral_modes"]["governing"] == "IIIs"
    assert answer["capacity"]["lateral_modes"]["modes"]["IIIs"] == "33.4 lbf"
    assert answer["capacity"]["penetration"] == "38.1 mm"
    assert answer["settings"] == {
        "slam_factor": "1",
        "tight_from": "0.9",
        "species": "spruce_pine_fir",
        "gravity": "0.42",
        "duration_factor": "0.9",
        "duration": "permanent",
    }
    together = by_rule(answer)["fixing.together"]
    assert together["reading"] == "50.4 lbf (223.8 N)"
    assert together["limit"] == "77.7 lbf (346.0 N)"
    assert together["do"] == "Nothing to do: 0.65 of it is used."
    assert together["source"]["document"] == "AWC TR12, General dowel equations"
    assert by_rule(answer)["fixing.root"]["state"] == "fits"


def test_without_a_stack_the_specifications_own_equations_stand_behind_it() -> None:
    answer = holding.answer(asked(wood(screw={"size": "#10", "length": "1 5/8 in"}), stack="0 in"))

    assert by_rule(answer)["fixing.together"]["source"]["clause"] == "table 12.3.1A, 12.4.1"
    assert answer["capacity"]["lateral_modes"]["modes"]["IIIs"] == "117.4 lbf"


def test_the_reach_beyond_the_zone_for_services_asks_for_care() -> None:
    answer = holding.answer(asked(wood()))

    services = by_rule(answer)["fixing.services"]
    assert services["state"] == answer["state"] == "tight"
    assert "goes 1 1/2 in into the stud" in services["do"]


def test_the_slam_factor_is_two_unless_said_and_is_printed() -> None:
    question = asked(wood())
    del question["slam_factor"]

    answer = holding.answer(question)

    assert answer["settings"]["slam_factor"] == "2"
    assert answer["cases"][0]["pull"]["lbf"] == "90.0 lbf"
    assert by_rule(answer)["fixing.together"]["state"] == "fails"


def test_an_unknown_species_is_taken_as_weak_and_said_so() -> None:
    answer = holding.answer(asked(wood(species="unknown")))

    assert answer["settings"]["gravity"] == "0.36"
    assert by_rule(answer)["fixing.species"]["reading"] == "not known"
    assert "0.36" in by_rule(answer)["fixing.species"]["do"]
    assert holding.answer(asked({**wood(), "species": None}))["settings"]["species"] == "unknown"
    assert "fixing.species" not in by_rule(holding.answer(asked(wood())))


def test_wet_wood_holds_seven_tenths_and_a_short_load_more() -> None:
    dry = joint_of(duration=0.9)
    wet = joint_of(duration=0.9, wet=True)
    short = joint_of(duration=1.6)

    assert wood_holds(wet).out_lbf == pytest.approx(0.7 * wood_holds(dry).out_lbf)
    assert wood_holds(wet).lateral_lbf == pytest.approx(0.7 * wood_holds(dry).lateral_lbf)
    assert wood_holds(short).lateral_lbf == pytest.approx(1.6 / 0.9 * wood_holds(dry).lateral_lbf)
    assert wood_holds(wet).root_lbf == wood_holds(dry).root_lbf
    answer = holding.answer(asked(wood(wet=True, duration="ten_minutes")))
    assert answer["settings"]["duration_factor"] == "1.6"
    assert answer["capacity"]["lateral"]["lbf"] == "37.4 lbf"


def test_the_root_of_a_number_10_takes_a_third_of_its_yield() -> None:
    assert root_tension("#10") == pytest.approx(0.33 * 80_000 * math.pi * 0.152**2 / 4)


def joint_of(**changes: Any) -> WoodJoint:
    members: dict[str, Any] = {
        "size": "#10",
        "length_nm": 66_675_000,
        "bracket_nm": 3_175_000,
        "bracket_psi": 61_850.0,
        "stack_nm": 25_400_000,
        "gravity": 0.42,
        "duration": 0.9,
    }
    return WoodJoint(**{**members, **changes})


@pytest.mark.parametrize("changes", [{"stack_nm": -1}, {"bracket_nm": 0}, {"stack_nm": 70_000_000}])
def test_an_impossible_stack_is_an_error_never_a_number(changes: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match=r"stack|counts"):
        wood_holds(joint_of(**changes))


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 36), st.integers(0, 36))
def test_a_thicker_stack_never_holds_more(a: int, b: int) -> None:
    """The screw grows with the stack, so that only the gap changes."""
    thin, thick = sorted((a, b))
    held = [
        wood_holds(joint_of(stack_nm=s * 10**6, length_nm=s * 10**6 + 41_275_000)).lateral_lbf
        for s in (thin, thick)
    ]

    assert held[1] <= held[0] * (1 + 1e-9)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.3, 0.7), st.floats(0.3, 0.7), st.sampled_from(["#8", "#10", "#12"]))
def test_denser_wood_never_holds_less(a: float, b: float, size: str) -> None:
    light, dense = sorted((a, b))
    weak, strong = (wood_holds(joint_of(gravity=g, size=size)) for g in (light, dense))

    assert strong.out_lbf >= weak.out_lbf
    assert strong.lateral_lbf >= weak.lateral_lbf * (1 - 1e-9)


def test_a_lag_loses_its_tip_and_takes_its_lower_value_across_the_grain() -> None:
    answer = holding.answer(
        asked(wood(screw={"size": "1/4 in", "length": "3 in"}), bracket=BRACKET)
    )

    held = wood_holds(joint_of(size="1/4 in", length_nm=76_200_000))
    assert held.penetration_nm == 47_625_000
    thread = min(1.875, 2.0) - 5 / 32
    per_inch = 1800 * 0.42**1.5 * 0.25**0.75
    assert held.out_lbf == pytest.approx(0.9 * per_inch * thread)
    assert (
        answer["capacity"]["withdrawal"]["lbf"] == f"{math.floor(held.out_lbf * 10) / 10:.1f} lbf"
    )
    across = wood_holds(joint_of(size="1/4 in", length_nm=76_200_000, degrees=90.0))
    assert across.lateral_lbf < held.lateral_lbf
    found = float(answer["capacity"]["lateral"]["lbf"].split()[0])
    assert found == pytest.approx(across.lateral_lbf, abs=0.1)


@pytest.mark.parametrize("length", ["1 1/8 in", "1 in", "2 1/4 in"])
def test_a_screw_that_is_too_short_fails_without_a_number(length: str) -> None:
    """1 1/8 in is used up by bracket and stack; 2 1/4 in leaves 1 1/8, less than six diameters."""
    answer = holding.answer(asked(wood(screw={"size": "#10", "length": length})))

    found = by_rule(answer)["fixing.embedment"]
    assert found["state"] == answer["state"] == "fails"
    assert answer["capacity"] is None
    assert "longer screw" in found["do"]
    assert found["reading"] == (
        "28.575 mm" if length == "2 1/4 in" else "it never reaches the wood"
    )


def hinge(**changes: Any) -> Question:
    return {
        "kind": "hinge",
        "mass": "86 lb",
        "width": "30 in",
        "hinge_centres": "60 in",
        "offset": "0 in",
        "hinges": 2,
        **changes,
    }


def test_a_hinged_door_shut_pulls_and_open_shears() -> None:
    """H = 86 x 15/60 = 21.5; three screws: 7.17 each; one hinge carries all: 86/3 = 28.67."""
    bracket = {**BRACKET, "screws": 3, "reach": "0 in"}

    answer = holding.answer(asked(wood(), demand=hinge(), bracket=bracket, stack="0 in"))

    shut, opened = answer["cases"]
    assert (shut["case"], shut["pull"]["lbf"], shut["shear"]["lbf"]) == (
        "door shut",
        "7.2 lbf",
        "28.7 lbf",
    )
    assert (opened["case"], opened["pull"]["lbf"], opened["shear"]["lbf"]) == (
        "door open",
        "0.0 lbf",
        "29.6 lbf",
    )
    assert len([f for f in answer["findings"] if f["rule"] == "fixing.together"]) == 2


def test_a_third_hinge_does_not_share_the_pull_and_a_stack_pries_at_a_hinge_too() -> None:
    bracket = {**BRACKET, "screws": 3, "reach": "0 in", "top_row": 1}
    two = holding.answer(asked(wood(), demand=hinge(), bracket=bracket))
    three = holding.answer(asked(wood(), demand=hinge(hinges=3), bracket=bracket))

    assert two["cases"] == three["cases"]
    assert two["cases"][1]["pull"]["lbf"] == "43.0 lbf"
    assert two["cases"][0]["pull"]["lbf"] == "50.2 lbf"


def test_a_slammed_door_counts_by_its_factor_in_weight_and_couple() -> None:
    """Twice 21.5/3 and twice 86/3 by a factor of two; one and a half by 1.5."""
    bracket = {**BRACKET, "screws": 3, "reach": "0 in"}
    question = asked(wood(), demand=hinge(), bracket=bracket, stack="0 in")

    for factor, pull, shear in (("2", "14.4 lbf", "57.4 lbf"), ("1.5", "10.8 lbf", "43.0 lbf")):
        shut = holding.answer({**question, "slam_factor": factor})["cases"][0]
        assert (shut["pull"]["lbf"], shut["shear"]["lbf"]) == (pull, shear)


def rail_demand() -> Question:
    return {
        "kind": "rail",
        "span": "60 in",
        "shape": "tube",
        "width": "1 in",
        "height": "2 in",
        "wall": "1/8 in",
        "panels": [
            {"mass": "36 kg", "roller_spacing": "22 in", "first_from": "2 in", "first_to": "36 in"}
        ],
    }


def test_a_rail_bracket_gets_the_worst_end_of_the_rail() -> None:
    """36 kg = 79.37 lbf; its middle 47 in from the far end: 62.17 at the bracket."""
    answer = holding.answer(asked(wood(), demand=rail_demand()))

    assert answer["cases"][0]["case"] == "panels at this end"
    assert answer["cases"][0]["pull"]["lbf"] == "62.2 lbf"
    assert answer["cases"][0]["shear"]["lbf"] == "31.1 lbf"


def test_two_screws_in_the_top_row_halve_the_pull_and_a_pull_outward_is_added() -> None:
    demand = {"kind": "load", "down": "45 lbf", "outward": "11 lbf"}
    answer = holding.answer(asked(wood(), demand=demand, bracket={**BRACKET, "top_row": 2}))

    assert answer["cases"][0]["pull"]["lbf"] == "28.0 lbf"


@pytest.mark.parametrize(("down", "state"), [("62.5 lbf", "fits"), ("62.7 lbf", "tight")])
def test_nine_tenths_used_is_tight(down: str, state: str) -> None:
    answer = holding.answer(asked(wood(), demand={"kind": "load", "down": down}))

    found = by_rule(answer)["fixing.together"]
    assert found["state"] == state
    if state == "tight":
        assert found["do"] == "Have it looked at by the crew lead: 0.91 of it is used."


def steel(**changes: Any) -> Question:
    return {"kind": "steel_stud", "thickness": "43 mil", "screw": {"size": "#10"}, **changes}


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


def layout(*screws: tuple[str, str], load: tuple[str, str]) -> Question:
    return {
        "screws": [{"right": right, "up": up} for right, up in screws],
        "load": {"right": load[0], "up": load[1]},
    }


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


def block(**changes: Any) -> Question:
    base = {
        "kind": "block",
        "anchor": "1/4 in",
        "embedment": "1 1/4 in",
        "edge": "3 in",
        "spacing": "3 in",
        "head_joint": "2 in",
        "unit": "8 in",
        "grouted": "no",
        "report": {
            "number": "an invented report",
            "tension": "100 lbf",
            "shear": "200 lbf",
            "edge": "2 in",
            "spacing": "2 in",
        },
    }
    return {**base, **changes}


def test_masonry_is_judged_by_its_report_only() -> None:
    answer = holding.answer(asked(block()))

    assert by_rule(answer)["anchor.report"]["reading"] == "0.57"
    assert answer["state"] == "tight"
    assert by_rule(answer)["anchor.face_shell"]["state"] == "tight"
    assert answer["capacity"]["load"] == "from the anchor's evaluation report only"
    assert answer["capacity"]["hole_depth"]["inch"] == "1 3/4 in"
    assert answer["capacity"]["bit_depth"]["inch"] == "2 3/4 in"
    assert answer["settings"]["distances"] == "an invented report"


def test_masonry_without_a_report_is_never_a_number() -> None:
    answer = holding.answer(asked(block(report=None)))

    assert answer["state"] == "unknown"
    assert by_rule(answer)["anchor.report"]["reading"] is None
    assert "report" in by_rule(answer)["anchor.report"]["do"]
    assert answer["settings"]["distances"] == "rule of thumb, a screen only"
    assert by_rule(answer)["anchor.spacing"]["limit"]["inch"] == "2 1/2 in"


@pytest.mark.parametrize(
    ("down", "state"), [("81 lbf", "fits"), ("82 lbf", "tight"), ("91 lbf", "fails")]
)
def test_the_reports_loads_are_used_up(down: str, state: str) -> None:
    """The lever of 2 + 0.4 over 2.2222 pulls 1.08 per pound; half of each pound shears."""
    demand = {"kind": "load", "down": down}
    bracket = {**BRACKET, "reach": "2 in", "screw_height": "2.2222 in"}
    base = block(embedment="1 in")
    base["report"] = {**base["report"], "shear": "2000 lbf"}
    answer = holding.answer(asked(base, demand=demand, bracket=bracket, stack="0.4 in"))

    share = (2.4 / 2.2222 / 100 + 0.5 / 2000) * float(down.split()[0])
    assert by_rule(answer)["anchor.report"]["state"] == state
    assert ("each by its own report" in by_rule(answer)["anchor.report"]["do"]) == (state != "fits")
    assert by_rule(answer)["anchor.report"]["reading"] == f"{math.ceil(share * 100) / 100:.2f}"


@pytest.mark.parametrize(
    ("changes", "rule", "state"),
    [
        ({"embedment": "1 5/16 in"}, "anchor.face_shell", "fails"),
        ({"edge": "1 in"}, "anchor.edge", "fails"),
        ({"edge": None}, "anchor.edge", "unknown"),
        ({"spacing": "1 in"}, "anchor.spacing", "fails"),
        ({"head_joint": "1 in"}, "anchor.head_joint", "fails"),
        ({"head_joint": "0 in"}, "anchor.head_joint", "fails"),
        ({"head_joint": None}, "anchor.head_joint", "unknown"),
        ({"unit": None}, "anchor.face_shell", "fails"),
    ],
)
def test_an_anchor_without_room_is_named(changes: Question, rule: str, state: str) -> None:
    assert by_rule(holding.answer(asked(block(**changes))))[rule]["state"] == state


def test_a_grouted_cell_has_no_face_shell_and_concrete_no_joints() -> None:
    assert "anchor.face_shell" not in by_rule(holding.answer(asked(block(grouted="yes"))))
    concrete = by_rule(holding.answer(asked(block(kind="concrete"))))
    assert {"anchor.face_shell", "anchor.head_joint"} & set(concrete) == set()


@pytest.mark.parametrize("kind", ["hollow_anchor", "none"])
def test_a_hollow_anchor_carries_no_door(kind: str) -> None:
    answer = holding.answer(asked({"kind": kind}))

    assert answer["state"] == "fails"
    assert "no hollow-wall anchor does" in answer["findings"][0]["do"]
    assert answer["capacity"] is None


def test_an_unknown_wall_is_a_question() -> None:
    answer = holding.answer(asked({"kind": "unknown"}))

    assert answer["state"] == "unknown"
    assert answer["findings"][0]["reading"] is None


@pytest.mark.parametrize(
    ("change", "pointer", "code"),
    [
        ({"demand": {"kind": "load"}}, "/demand/down", "missing"),
        ({"demand": {"kind": "lod"}}, "/demand/kind", "not_a_choice"),
        ({"demand": None}, "/demand/kind", "missing"),
        ({"demand": hinge(hinges=1)}, "/demand/hinges", "not_in_range"),
        ({"demand": hinge(spam=1)}, "/demand/spam", "unknown_member"),
        ({"bracket": {**BRACKET, "screws": 0}}, "/bracket/screws", "not_in_range"),
        ({"bracket": {**BRACKET, "top_row": 3}}, "/bracket/top_row", "not_in_range"),
        (
            {"bracket": {**BRACKET, "screw_height": "0 in"}},
            "/bracket/screw_height",
            "length_out_of_range",
        ),
        ({"stack": "-1 in"}, "/stack", "length_out_of_range"),
        ({"base": wood(species="oak")}, "/base/species", "not_a_choice"),
        (
            {"base": wood(screw={"size": "#7", "length": "2 in"})},
            "/base/screw/size",
            "not_a_choice",
        ),
        (
            {"base": wood(screw={"size": "10", "length": "2 in"})},
            "/base/screw/size",
            "not_a_choice",
        ),
        ({"base": {"kind": "none", "spam": 1}}, "/base/spam", "unknown_member"),
        ({"base": block(unit="2 in")}, "/base/unit", "length_out_of_range"),
        ({"base": block(report={"number": "x"})}, "/base/report/tension", "missing"),
        ({"base": steel(screw={"size": "#6"})}, "/base/screw/size", "not_a_choice"),
        ({"slam_factor": 2}, "/slam_factor", "not_in_range"),
        ({"brackt": {}}, "/brackt", "unknown_member"),
    ],
)
def test_a_question_that_makes_no_sense_is_refused(
    change: Question, pointer: str, code: str
) -> None:
    with pytest.raises(InputErrors) as refused:
        holding.answer(asked(wood(), **change) if "base" not in change else {**asked({}), **change})

    assert (pointer, code) in [(each.pointer, each.code) for each in refused.value.errors]


def test_an_empty_question_names_every_mistake() -> None:
    with pytest.raises(InputErrors) as refused:
        holding.answer({})

    pointers = {each.pointer for each in refused.value.errors}
    assert {"/bracket", "/stack", "/demand/kind", "/base/kind"} <= pointers


def test_gravity_of_a_species_that_nobody_listed_is_an_error() -> None:
    with pytest.raises(KeyError):
        gravity_of("balsa")

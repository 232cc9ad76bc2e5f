"""Does a bracket hold in concrete and block in a verdict, by its anchor's evaluation report alone?

Hand calculations (heel of the bracket, reference sheet on fasteners, bracket statics 1 and 5) on the story's
cellar bathroom; the report is invented. Nothing here is a published capacity.
"""

import math
from typing import Any

import pytest

from fitcheck.check import check, sheet_parse
from fitcheck.rules.strict import InputErrors
from tests.fitcheck.rules.test_what_is_borne import Inputs, bracket, case


def cellar() -> Inputs:
    """Concrete on the left, hollow block on the right; everything is read."""
    return case("s-17")


def wall(inputs: Inputs, side: str) -> dict[str, Any]:
    zone: dict[str, Any] = next(z for z in inputs["zones"] if z["surface"] == f"{side}_wall")
    return zone


def reading(inputs: Inputs, quantity: str, side: str) -> dict[str, Any]:
    found = (r for r in inputs["readings"] if (r["quantity"], r["side"]) == (quantity, side))
    return next(found)  # type: ignore[no-any-return]


def anchor(inputs: Inputs, number: int) -> dict[str, Any]:
    found: dict[str, Any] = inputs["sheet"]["anchors"][number]
    return found


def told(inputs: Inputs) -> Any:
    return check(inputs).as_json()


def of_anchors(answer: Any) -> dict[tuple[str, str], Any]:
    """Findings on anchors by rule and wall."""
    return {
        (f["rule"].removeprefix("anchor."), side): f
        for f in answer["findings"]
        for side in ("left", "right")
        if f["rule"].startswith("anchor.") and f"{side} wall" in f["place"]
    }


def row(answer: Any, side: str) -> Any:
    return next(r for r in answer["loads"] if r["surface"] == f"{side}_wall")


def plate(answer: Any, side: str) -> Any:
    places = (f for f in answer["fixings"] if f["place"] == "rail plate")
    return next(f for f in places if f["surface"] == f"{side}_wall")


def test_the_share_of_the_report_is_pull_and_shear_added_up() -> None:
    """R down at 1/2 in + 9/16 in of tile, rows 3 1/2 in over the heel: T = R 1.0625/3.5 over 3, V = R/6."""
    answer = told(cellar())
    reaction = float(answer["rail"]["reaction"]["lbf"].split()[0])
    pull, shear = reaction * 1.0625 / 3.5 / 3, reaction / 6

    assert answer["state"] == "fits"
    for side, tension, across in (("left", 285, 370), ("right", 85, 160)):
        used = pull / tension + shear / across
        assert float(row(answer, side)["used"]) == pytest.approx(used, abs=0.011)
        finding = of_anchors(answer)["report", side]
        assert finding["reading"] == row(answer, side)["used"]
        assert finding["source"]["document"] == "Evaluation report XR-0417 (invented)"
        assert row(answer, side)["by"] == finding["source"]


def test_the_schedule_names_anchor_holes_and_what_the_report_holds_for() -> None:
    left = plate(told(cellar()), "left")

    # 3 in less 3/16 in of plate and 9/16 in of tile; 1/2 in more for the dust
    assert left["reach"]["inch"] == "2 1/4 in"
    assert left["depth"]["inch"] == "3 5/16 in"
    assert (left["pilot"]["text"], left["pilot"]["through"]) == ("1/4 in", "concrete")
    assert (left["final_hole"]["text"], left["final_hole"]["through"]) == ("5/16 in", "porcelain")
    assert left["anchor"] == "Corbelthorn 1/4 in screw anchor (invented), 3 in long"
    assert (left["questions"], left["screw"], left["state"]) == ([], None, "fits")
    assert any("not cracked: make sure" in one for one in left["cautions"])


def test_without_a_report_one_finding_asks_for_it_and_no_number_is_told() -> None:
    inputs = cellar()
    del inputs["sheet"]["anchors"]
    wall(inputs, "right")["structure"] = "concrete"
    answer = told(inputs)
    (finding,) = (f for f in answer["findings"] if f["rule"].startswith("anchor."))

    assert answer["state"] == finding["state"] == "unknown"
    assert finding["do"].startswith("Needs the anchor's evaluation report for concrete")
    assert "left wall" in finding["place"]
    assert "right wall" in finding["place"]
    for one in answer["loads"]:
        assert (one["capacity"], one["used"], one["by"]) == (None, None, None)
        assert "evaluation report" in one["why"]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"structure": "brick"}, "for brick"),
        ({"structure": "concrete", "grouted": "unknown"}, ""),
    ],
)
def test_a_report_speaks_of_its_own_masonry_only(changes: dict[str, str], words: str) -> None:
    inputs = cellar()
    wall(inputs, "right").update(changes)
    found = of_anchors(told(inputs))["report", "right"]

    assert (
        (words in found["do"] and found["state"] == "unknown")
        if words
        else found["state"] == "fits"
    )


def test_hollow_and_grouted_cells_have_reports_of_their_own() -> None:
    inputs = cellar()
    del inputs["sheet"]["anchors"][2]
    wall(inputs, "right")["grouted"] = "yes"

    assert "for grouted block" in of_anchors(told(inputs))["report", "right"]["do"]
    del inputs["sheet"]["anchors"][1]
    wall(inputs, "right")["grouted"] = "no"
    inputs["sheet"]["anchors"].append({**cellar()["sheet"]["anchors"][2]})
    assert "for hollow block" in of_anchors(told(inputs))["report", "right"]["do"]


def test_grouted_cells_have_no_face_and_no_joints() -> None:
    inputs = cellar()
    wall(inputs, "right")["grouted"] = "yes"
    found = of_anchors(told(inputs))

    assert ("face_shell", "right") not in found
    assert ("head_joint", "right") not in found
    assert found["report", "right"]["source"]["clause"] == "page 8"


def test_cells_that_nobody_sounded_are_a_question() -> None:
    inputs = cellar()
    del wall(inputs, "right")["grouted"]
    answer = told(inputs)
    (rule,) = (rule for rule, side in of_anchors(answer) if side == "right")

    assert rule == "cells"
    assert answer["state"] == "unknown"
    assert row(answer, "right")["capacity"] is None
    assert "grouted" in plate(answer, "right")["questions"][0]


def take_away(inputs: Inputs, quantity: str, side: str) -> None:
    inputs["readings"].remove(reading(inputs, quantity, side))


@pytest.mark.parametrize(
    ("change", "rule", "state"),
    [
        (lambda i: reading(i, "masonry_edge", "right").update(value="3 1/2 in"), "edge", "fails"),
        (lambda i: take_away(i, "masonry_edge", "right"), "edge", "unknown"),
        (lambda i: reading(i, "head_joint", "right").update(value="1 in"), "head_joint", "fails"),
        (lambda i: take_away(i, "head_joint", "right"), "head_joint", "unknown"),
        (lambda i: bracket(i)["bracket"].update(spacing="1 in"), "spacing", "fails"),
        (lambda i: bracket(i)["bracket"].pop("spacing"), "spacing", "unknown"),
        (lambda i: anchor(i, 1).update(length="1 5/8 in"), "embedment", "fails"),
        (lambda i: wall(i, "right").update(unit="4 in"), "face_shell", "fails"),
        (lambda i: wall(i, "right").pop("unit"), "face_shell", "unknown"),
        (lambda i: anchor(i, 1).pop("stack_most"), "stack", "unknown"),
        (lambda i: anchor(i, 1).update(stack_most="1/2 in"), "stack", "unknown"),
        (lambda i: anchor(i, 1).update(tension="20 lbf"), "report", "tight"),
        (lambda i: anchor(i, 1).update(tension="15 lbf"), "report", "fails"),
    ],
)
def test_what_the_report_asks_is_held_against_the_wall(change: Any, rule: str, state: str) -> None:
    inputs = cellar()
    change(inputs)
    answer = told(inputs)
    found = of_anchors(answer)
    worse = {
        which for (which, side), f in found.items() if side == "right" and f["state"] != "fits"
    }

    assert found[rule, "right"]["state"] == answer["state"] == state
    assert worse == {rule}
    waits = plate(answer, "right")["questions"]
    assert waits == ([] if state == "tight" else [found[rule, "right"]["do"]])


def test_distances_that_nobody_read_are_listed_as_readings_to_take() -> None:
    inputs = cellar()
    take_away(inputs, "masonry_edge", "left")
    take_away(inputs, "head_joint", "right")
    missing = [(m["quantity"], m["side"], m["height"]) for m in told(inputs)["missing"]]

    assert missing == [
        ("masonry_edge", "left", "74 3/4 in"),
        ("head_joint", "right", "74 3/4 in"),
    ]


def test_a_joint_of_which_the_report_is_silent_is_kept_clear_by_the_rule_of_the_trade() -> None:
    inputs = cellar()
    del anchor(inputs, 1)["head_joint"]
    found = of_anchors(told(inputs))["head_joint", "right"]

    assert found["limit"]["inch"] == "1 1/2 in"
    assert found["source"]["status"] == "common practice, no source"


def test_through_a_thicker_stack_no_share_is_told_but_what_fails_still_fails() -> None:
    inputs = cellar()
    anchor(inputs, 1)["stack_most"] = "1/4 in"
    answer = told(inputs)
    assert ("report", "right") not in of_anchors(answer)
    assert row(answer, "right")["used"] is None

    anchor(inputs, 1)["shear"] = "12 lbf"
    assert of_anchors(told(inputs))["report", "right"]["state"] == "fails"


def test_of_two_anchors_the_one_that_holds_is_told() -> None:
    inputs = cellar()
    weak = {**anchor(inputs, 0), "anchor": "a weak one", "tension": "10 lbf"}
    inputs["sheet"]["anchors"].insert(0, weak)

    assert "weak" not in plate(told(inputs), "left")["anchor"]


def test_one_anchor_alone_has_no_neighbour() -> None:
    inputs = cellar()
    fixing = bracket(inputs)
    fixing["count"] = fixing["bracket"]["top_row"] = 1
    del fixing["bracket"]["spacing"]

    assert ("spacing", "left") not in of_anchors(told(inputs))


def test_the_line_that_a_report_names_is_used() -> None:
    shares = {}
    for line in ("straight", "trilinear", "power"):
        inputs = cellar()
        anchor(inputs, 1).update(together=line, tension="50 lbf", shear="60 lbf")
        shares[line] = float(row(told(inputs), "right")["used"])
    answer = told(cellar())
    case_of = row(answer, "right")["cases"][0]
    pull, shear = (float(case_of[name]["lbf"].split()[0]) for name in ("pull", "shear"))
    pull, shear = pull / 50, shear / 60

    assert shares["straight"] == pytest.approx(pull + shear, abs=0.015)
    assert shares["trilinear"] == pytest.approx((pull + shear) / 1.2, abs=0.015)
    assert shares["power"] == pytest.approx((pull**1.667 + shear**1.667) ** 0.6, abs=0.015)


def test_a_masonry_wall_has_no_stud_to_be_found() -> None:
    inputs = cellar()
    assert "backing.setback" not in {f.rule for f in check(inputs).findings}

    wall(inputs, "right").update(structure="wood_stud")
    asked = [f for f in check(inputs).findings if f.rule == "backing.setback"]
    assert [(f.state, "right" in f.place) for f in asked] == [("unknown", True)]


def test_a_sheet_that_describes_no_bracket_is_asked_for_no_report() -> None:
    inputs = cellar()
    for fixing in inputs["sheet"]["fixings"]:
        fixing.pop("bracket", None)
    del inputs["sheet"]["rail"]
    answer = told(inputs)

    assert of_anchors(answer) == {}
    assert {f["rule"] for f in answer["findings"] if f["state"] == "unknown"} == {"fixing.hole"}


def test_a_finish_that_is_the_masonry_itself_needs_one_hole_only() -> None:
    inputs = cellar()
    wall(inputs, "left").update(finish="bare", finish_thickness=None)
    inputs["sheet"]["substrates"]["finishes"].append("bare")
    left = plate(told(inputs), "left")

    assert left["final_hole"] is None
    assert left["pilot"]["text"] == "1/4 in"
    assert left["bit"].startswith("carbide masonry bit")


def test_a_wall_of_unknown_thickness_is_a_question_of_thickness() -> None:
    inputs = cellar()
    wall(inputs, "left")["finish_thickness"] = None
    answer = told(inputs)

    assert plate(answer, "left")["questions"] == [
        "How thick are finish and backing together? Probe or measure."
    ]
    assert row(answer, "left")["used"] is None


@pytest.mark.parametrize(
    ("changes", "member", "code"),
    [
        ({"report": None}, "report", "not_an_object"),
        ({"report": {"number": "x", "page": "1"}}, "report/edition", "missing"),
        ({"base": "wood"}, "base", "not_a_choice"),
        ({"grouted": True}, "grouted", "not_a_block"),
        ({"holds_for": None}, "holds_for", "missing"),
        ({"tension": "0 N"}, "tension", "not_in_range"),
        ({"shear": "strong"}, "shear", "amount_not_understood"),
        ({"together": "ellipse"}, "together", "not_a_choice"),
        ({"embedment": "4 in"}, "embedment", "limits_crossed"),
        ({"edge": None}, "edge", "missing"),
        ({"stack_most": "-1 in"}, "stack_most", "length_out_of_range"),
        ({"spam": 1}, "spam", "unknown_member"),
    ],
)
def test_an_anchor_that_makes_no_sense_is_refused(
    changes: dict[str, Any], member: str, code: str
) -> None:
    sheet = cellar()["sheet"]
    sheet["anchors"][0].update(changes)
    with pytest.raises(InputErrors) as refused:
        sheet_parse(sheet)

    assert [(e.pointer, e.code) for e in refused.value.errors] == [(f"/anchors/0/{member}", code)]


def test_a_block_thinner_than_any_is_refused() -> None:
    inputs = cellar()
    wall(inputs, "right")["unit"] = "2 in"
    with pytest.raises(InputErrors) as refused:
        check(inputs)

    assert [e.code for e in refused.value.errors] == ["length_out_of_range"]


def test_used_is_rounded_up() -> None:
    answer = told(cellar())
    case_of = row(answer, "right")["cases"][0]
    pull, shear = (float(case_of[name]["newton"].split()[0]) for name in ("pull", "shear"))
    exact = pull / (85 * 4.4482216) + shear / (160 * 4.4482216)

    assert float(row(answer, "right")["used"]) == math.ceil((exact - 0.001) * 100) / 100


def test_a_bracket_on_a_sill_of_concrete_is_left_to_its_report() -> None:
    inputs = cellar()
    next(z for z in inputs["zones"] if z["surface"] == "sill")["structure"] = "concrete"
    inputs["sheet"]["fixings"].append({
        **bracket(inputs), "surface": "sill", "height": "0 in", "through_membrane": True,
        "bracket": {**bracket(inputs)["bracket"], "bears": "load"},
    })  # fmt: skip
    answer = told(inputs)
    (load,) = (one for one in answer["loads"] if one["surface"] == "sill")

    assert load["why"].endswith("what it carries in concrete.")
    assert (load["capacity"], load["used"], answer["state"]) == (None, None, "unknown")

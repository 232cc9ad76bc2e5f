"""Does an anchor in masonry hold, and what is refused or asked about any wall?"""

import math

import pytest

from fitcheck.rules import holding
from fitcheck.rules.strict import InputErrors
from fitcheck.rules.wood_screw import gravity_of
from tests.fitcheck.rules.holding_cases import (
    BRACKET,
    Question,
    asked,
    block,
    by_rule,
    hinge,
    steel,
    wood,
)


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


def of_the_report(stack: str = "1 in", deep: str = "1 1/4 in", **report: str | None) -> Question:
    base = block(embedment=deep)
    base["report"] |= report
    return by_rule(
        holding.answer(asked(base, stack=stack, demand={"kind": "load", "down": "20 lbf"}))
    )


@pytest.mark.parametrize(
    ("embedment", "asks", "state"),
    [
        ("1 1/4 in", "1 1/4 in", "tight"),
        ("1 1/4 in", "1 3/16 in", "fits"),
        ("1 3/16 in", "1 1/4 in", "fails"),
        ("1/8 in", "1 in", "fails"),
        ("1 in", None, "unknown"),
    ],
)
def test_an_anchor_is_as_deep_as_its_report_asks(
    embedment: str, asks: str | None, state: str
) -> None:
    found = of_the_report("0 in", embedment, embedment=asks)["anchor.embedment"]

    assert found["state"] == state
    assert found["source"]["clause"] == "an invented report"
    assert ("Which embedment" in found["do"]) == (state == "unknown")


@pytest.mark.parametrize(
    ("stack", "most", "state"),
    [
        ("1 in", "1 in", "fits"),
        ("1 1/16 in", "1 in", "unknown"),
        ("1/16 in", None, "unknown"),
        ("0 in", None, "fits"),
    ],
)
def test_through_more_than_its_report_allows_no_share_is_told(
    stack: str, most: str | None, state: str
) -> None:
    found = of_the_report(stack, stack_most=most)

    assert found["anchor.stack"]["state"] == state
    assert ("anchor.report" in found) == (state == "fits")


def test_what_fails_at_the_masonry_fails_through_any_stack() -> None:
    found = of_the_report("1 1/16 in", tension="1 lbf")

    assert found["anchor.stack"]["state"] == "unknown"
    assert found["anchor.report"]["state"] == "fails"


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
        ({"stack": "6 1/16 in"}, "/stack", "length_out_of_range"),
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

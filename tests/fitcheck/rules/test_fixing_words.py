"""Is what a row says to mind and to do said word for word, where nothing else tells it?"""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.fixing_in_masonry import ROTARY
from tests.fitcheck.rules.test_masonry_in_verdict import anchor, cellar, plate, told, wall
from tests.fitcheck.rules.test_steel_in_verdict import on_the_steel
from tests.fitcheck.rules.test_what_is_borne import bracket, case, walls

Inputs = dict[str, Any]


@pytest.mark.parametrize(("base", "said"), [("block", True), ("brick", True), ("concrete", False)])
def test_block_and_brick_are_drilled_without_hammer(base: str, said: bool) -> None:
    inputs = cellar()
    anchor(inputs, 0)["base"] = wall(inputs, "left")["structure"] = base
    if base == "block":
        wall(inputs, "left").update(grouted="no", unit="8 in")
    inputs["sheet"]["substrates"]["structures"] = ["block", "brick", "concrete"]

    assert (ROTARY in plate(told(inputs), "left")["cautions"]) == said


def test_a_metal_leaf_is_as_strong_as_its_metal_in_a_stud_of_the_rules_before() -> None:
    """Pull-over by J4.4.2, half off centre: 0.75 t1 dw Fu1, of 22 ksi in aluminium and 45 ksi in steel."""
    over = {}
    for metal in ("steel", "aluminium"):
        inputs = on_the_steel()
        bracket(inputs)["bracket"] |= {"metal": metal, "thickness": "1/16 in"}
        row: Any = check(inputs, version="3").as_json()["loads"][0]
        over[metal] = float(row["capacity"]["pull_over"]["lbf"].split()[0])

    assert over["steel"] == pytest.approx(0.75 * 0.0625 * 0.34 * 45_000 / 3, abs=0.1)
    assert over["aluminium"] == pytest.approx(0.75 * 0.0625 * 0.34 * 22_000 / 3, abs=0.1)


@pytest.mark.parametrize(
    ("structure", "why"),
    [
        ("none", "Nothing behind the finish carries a door, and no hollow-wall anchor does."),
        (
            "steel_stud",
            "How many mils is the steel stud? It is printed on it; gauge does not tell.",
        ),
        ("unknown", "Known once the build-up and the screw are known: see the fastener schedule."),
        ("block", "Only the anchor's own evaluation report says what it carries in block."),
    ],
)
def test_the_rules_before_say_why_nothing_is_worked_out(structure: str, why: str) -> None:
    inputs = case("s-01")
    walls(inputs, structure=structure)
    rows: Any = check(inputs, version="3").as_json()["loads"]

    assert {row["why"] for row in rows} == {why}


def test_a_screw_just_within_the_depth_for_services_says_what_is_to_spare(
    bypass: Inputs, finding: Callable[..., Any]
) -> None:
    """2 in less 13/16 in is 1 3/16 in, 1/16 in short of the 1 1/4 in kept."""
    found = finding(check(bypass), "fixing.services", "left wall")

    assert found.do == "Nothing to do: 1/16 in (1.5 mm) to spare."
    assert found.question == "Does the screw stay within 1 1/4 in of the stud's face?"
    assert found.source.document == "NFPA 70, National Electrical Code"


def test_the_firms_own_depth_for_services_is_the_firms(
    bypass: Inputs, finding: Callable[..., Any]
) -> None:
    found = finding(
        check({**bypass, "house": {"safe_reach": "1 3/8 in"}}), "fixing.services", "left wall"
    )

    assert (found.source.document, found.source.clause) == ("The firm's own settings", "safe_reach")


@pytest.mark.parametrize(
    ("membrane", "said"),
    [
        ("unknown", "Is there a membrane under the top of the curb? If so, no hole."),
        (
            "yes",
            "Do not drill the top of the curb over its membrane: bed the part in sealant, or get the "
            "maker's leave in writing.",
        ),
    ],
)
def test_the_membrane_is_asked_for_and_spared(
    bypass: Inputs, finding: Callable[..., Any], membrane: str, said: str
) -> None:
    guide = {"place": "guide", "surface": "sill", "height": "0 in", "count": 2, "page": "9"}
    bypass["sheet"]["fixings"].append({**guide, "must_reach": "finish"})
    bypass["zones"][2]["membrane"] = membrane

    assert finding(check(bypass), "fixing.hole", "guide, sill").do == said

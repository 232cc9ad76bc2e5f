"""A load whose bracket the sheet does not describe is held against the weaker way, never passed over.

Hand calculation: the load with the slam factor, shared by the screws, over the lesser of NDS withdrawal
(2850 G2 D on the thread in the wood) and TR12 shear through the stack.
"""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.length import length_parse
from fitcheck.rules.wood_screw import WoodJoint, wood_holds

Find = Callable[..., Any]
Inputs = dict[str, Any]


def load(inputs: Inputs, newton: str, **changes: Any) -> Inputs:
    inputs["sheet"]["fixings"][0] |= {"load": newton, **changes}
    return inputs


@pytest.mark.parametrize(
    ("newton", "state"),
    [("80 N", "fits"), ("91 N", "fits"), ("92 N", "tight"), ("101 N", "tight"), ("102 N", "unknown"),
     ("333 N", "unknown"), ("334 N", "fails")],
)  # fmt: skip
def test_a_load_is_held_against_the_weaker_way(
    bypass: Inputs, finding: Find, newton: str, state: str
) -> None:
    """Of a #10 x 2 in through 13/16 in in weak wood 74.9 lbf come out and 22.8 lbf go sideways."""
    verdict = check(load(bypass, newton))
    found = finding(verdict, "fixing.load", "left wall")
    each = float(newton.split()[0]) / 4.4482216 * 2 / 2
    holds = wood_holds(
        WoodJoint("#10", length_parse("2 1/16 in").nm, length_parse("1/16 in").nm, 30250.0,
                  length_parse("13/16 in").nm, 0.36, 0.9)
    )  # fmt: skip

    assert found.state == state
    assert float(found.reading) == pytest.approx(each / holds.lateral_lbf, abs=0.01)
    row = next(f for f in verdict.fixings if f.place == "rail bracket")
    assert row.state == state
    remedy = {"unknown": "Have the office add the bracket", "fails": "Use longer or more screws"}
    assert [one.startswith(remedy.get(state, "-")) for one in row.questions] == [True] * (
        state in remedy
    )


def test_the_share_and_its_source_stand_in_the_row_of_loads(bypass: Inputs) -> None:
    told: Any = check(load(bypass, "80 N")).as_json()
    row = told["loads"][0]

    assert row["used"] == "0.79"
    assert row["by"]["document"].startswith("AWC TR12")
    assert "nor which way its load acts" in row["why"]
    assert row["cases"][0]["pull"] == row["cases"][0]["shear"]
    assert row["cases"][0]["shear"]["newton"] == "80.0 N"  # doubled by the slam, shared by two
    assert float(row["capacity"]["lateral"]["lbf"].split()[0]) < float(
        row["capacity"]["withdrawal"]["lbf"].split()[0]
    )


@pytest.mark.parametrize(
    ("changes", "zone"),
    [
        ({"load": None}, {}),
        ({}, {"finish_thickness": None}),
        ({}, {"structure": "steel_stud"}),
        ({}, {"structure": "concrete"}),
        ({}, {"structure": "unknown"}),
        ({"screw": {"size": "#16", "length": "2 1/2 in"}}, {}),
    ],
)
def test_where_it_cannot_be_told_no_share_is_and_what_asks_already_asks(
    bypass: Inputs, changes: dict[str, Any], zone: dict[str, Any]
) -> None:
    bypass["zones"][0] |= zone
    bypass["sheet"]["fixings"][0] |= changes
    told: Any = check(bypass).as_json()
    row = next(one for one in told["loads"] if one["surface"] == "left_wall")

    assert row["used"] is row["capacity"] is None
    assert not [f for f in told["findings"] if f["rule"] == "fixing.load" and "left" in f["place"]]
    (left,) = (
        one
        for one in told["fixings"]
        if (one["place"], one["surface"]) == ("rail bracket", "left_wall")
    )
    assert left["state"] == ("unknown" if zone or "screw" in changes else "fits")


def test_a_screw_that_hardly_reaches_the_wood_holds_no_load(bypass: Inputs, finding: Find) -> None:
    bypass["sheet"]["fixings"][0]["screw"]["length"] = "1 3/4 in"
    verdict = check(bypass)
    found = finding(verdict, "fixing.load", "left wall")

    assert (found.state, found.reading, verdict.state) == ("fails", None, "fails")
    assert "counts for nothing" in found.do


def test_the_versions_before_hold_no_such_load(bypass: Inputs) -> None:
    verdict = check(load(bypass, "334 N"), version="4")

    assert verdict.state == "fits"
    assert "fixing.load" not in {f.rule for f in verdict.findings}

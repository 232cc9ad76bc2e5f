"""What a sheet's own panels are told: hinge loads, hinges that do not go on them, the way in."""

from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.length import Length, length_parse
from fitcheck.rules.pane_handling import pane_hinges
from fitcheck.rules.sheet import PanelRule
from fitcheck.rules.sheet_more import HingeRule
from tests.fitcheck.rules.test_what_is_borne import case

KG = 10**9  # micrograms


def inches(value: str) -> Length:
    return length_parse(f"{value} in")


def panel(width: str) -> PanelRule:
    sizes = {"width": inches(width), "height": inches("70"), "thickness": inches("3/8")}
    words = {"name": "door", "handing": "", "handle": "none", "page": "1"}
    return PanelRule(**sizes, **words, hardware_ug=0, order=1, sizes=())  # type: ignore[arg-type]


def test_a_panes_hinges_are_told_by_equilibrium_in_inches() -> None:
    """40 kg weigh 88.185 lbf; H = 88.185 x (28/2 + 1)/60 = 22.046 lbf."""
    told = pane_hinges(panel("28"), 40 * KG, HingeRule("door", inches("60"), inches("1")))

    assert told is not None
    assert told["top_pulls"] == {"lbf": "22.1 lbf", "newton": "98.1 N", "rounded": "up"}
    assert told["bottom_pushes"] == told["top_pulls"]
    assert told["down_if_one_carries_all"]["lbf"] == "88.2 lbf"  # type: ignore[index]
    assert told["down_if_two_share"]["lbf"] == "44.1 lbf"  # type: ignore[index]


def test_a_pane_that_hangs_on_nothing_has_no_hinges() -> None:
    assert pane_hinges(panel("28"), 40 * KG, None) is None


def hinged(centres: str) -> dict[str, Any]:
    inputs = case("s-16")
    inputs["sheet"]["fixings"][0]["bracket"]["hinge"]["centres"] = centres
    return inputs


@pytest.mark.parametrize(("centres", "wrong"), [("74 in", False), ("76 in", True)])
def test_hinges_are_nearer_than_the_panel_is_high(centres: str, wrong: bool) -> None:
    """The door of this sheet is cut 75 1/8 in high: 75 1/2 less the foot's 3/8."""
    told = {f.rule: f for f in check(hinged(centres)).findings}

    assert ("hinge.centres" in told) == wrong
    if wrong:
        found = told["hinge.centres"]
        assert (found.state, found.place) == ("fails", "door, hinges")
        assert str(found.reading).startswith("76 in")
        assert found.source.page == "4"


def test_the_versions_before_ask_nothing_of_where_hinges_are() -> None:
    rules = {f.rule for f in check(hinged("76 in"), version="4").findings}

    assert "hinge.centres" not in rules


def test_the_way_in_is_taken_where_the_opening_is_narrowest() -> None:
    inputs = case("s-04")
    widths = [one for one in inputs["readings"] if one["quantity"] == "width"]
    narrow = min(length_parse(one["value"]).nm for one in widths)
    wide = max(length_parse(one["value"]).nm for one in widths)
    assert wide > narrow

    ways = {
        version: next(
            f for f in check(inputs, version=version).findings if f.rule == "sliding.entry"
        )
        for version in ("4", "5")
    }

    before, now = ways["4"].reading, ways["5"].reading
    assert before.high_nm - now.high_nm == wide - narrow  # type: ignore[union-attr]

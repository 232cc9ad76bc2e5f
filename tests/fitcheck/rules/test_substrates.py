"""What the opening stands on and what its walls are made of must be what the kit allows."""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check

Find = Callable[..., Any]


@pytest.mark.parametrize(("deck", "state"), [("tub_deck", "fits"), ("curb", "fails")])
def test_the_opening_stands_on_what_the_sheet_allows(
    bypass: dict[str, Any], finding: Find, deck: str, state: str
) -> None:
    bypass["sheet"]["stands_on"] = ["tub_deck"]
    bypass["opening"]["stands_on"] = deck

    assert finding(check(bypass), "opening.stands_on").state == state


@pytest.mark.parametrize(
    ("part", "value", "state"),
    [
        ("finish", "porcelain", "fits"),
        ("finish", "glass_tile", "fails"),
        ("finish", "unknown", "unknown"),
        ("structure", "blocking", "fits"),
        ("structure", "steel_stud", "fails"),
        ("structure", "unknown", "unknown"),
        ("fit", "hollow", "fails"),
        ("fit", "unknown", "unknown"),
    ],
)
def test_each_part_of_a_build_up_is_judged(
    bypass: dict[str, Any], finding: Find, part: str, value: str, state: str
) -> None:
    bypass["zones"][0][part] = value

    assert finding(check(bypass), f"substrate.{part}", "left wall").state == state


def test_only_zones_that_hold_a_fixing_are_judged(bypass: dict[str, Any]) -> None:
    bypass["zones"][3]["finish"] = "painted_board"

    places = {f.place for f in check(bypass).findings if f.rule == "substrate.finish"}

    assert places == {"left wall, 0 in to 90 in", "right wall, 0 in to 90 in"}

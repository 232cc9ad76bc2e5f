"""Are a saw plan, a bit and a lag told whole: every word, number and boundary?

Numbers worked by hand beside each test; words are this house's own; trade facts are common practice,
no source.
"""

from dataclasses import replace
from typing import Any

import pytest

from fitcheck.rules.drilling import Bit, bit_for
from fitcheck.rules.lateral import bearing_length
from fitcheck.rules.pane_checks import hidden_taper
from fitcheck.rules.pane_geometry import Point
from fitcheck.rules.pane_outline import Pane, Quad
from fitcheck.rules.quantity import UG_PER_KG
from fitcheck.rules.saw_order import answer
from fitcheck.rules.sources_site import site_source
from fitcheck.rules.strict import InputErrors, Strict
from fitcheck.rules.structure_inputs import mass_of
from fitcheck.rules.survey import FINISHES, house_read
from fitcheck.rules.wood_screw import WoodJoint, wood_holds

INCH = 25_400_000
WET = "water or a wet sponge all the time; no cooling oil near grout"
SLOW_DIAMOND = "about 450 rpm, never above 800 rpm (from memory)"
BITS = {
    "glazed_ceramic": Bit("carbide spear or diamond bit", "100 to 200 rpm with carbide", WET),
    "porcelain": Bit("diamond bit", SLOW_DIAMOND, WET),
    "natural_stone": Bit("diamond bit", SLOW_DIAMOND, WET),
    "glass_tile": Bit("diamond bit", SLOW_DIAMOND, WET),
    "acrylic": Bit("ordinary twist bit, sharp", "slow, light pressure", "none; clear the chips"),
    "fibreglass": Bit("ordinary twist bit, sharp", "slow, light pressure", "none; clear the chips"),
    "solid_surface": Bit("carbide bit", "slow", "none; round the edge of the hole"),
    "painted_board": Bit("ordinary twist bit", "slow", "none"),
    "masonry": Bit(
        "carbide masonry bit, rotary only in block and brick", "slow", "none; dust drawn off"
    ),
    "bare": Bit("ordinary twist bit", "slow", "none"),
}
PLAN: dict[str, Any] = {
    "pieces": [
        {"job": "J-1", "part": "rail", "length": "50 in", "count": 2},
        {"job": "J-2", "part": "sill", "length": "130 in", "count": 1},
    ],
    "stock": [{"name": "bar", "length": "120 in", "cost": "10.50"}],
    "saw": {"kerf": "1/8 in", "trim": "1/4 in", "convention": "between", "least_useful": "12 in"},
}


@pytest.mark.parametrize("finish", FINISHES)
def test_every_finish_has_its_bit_and_an_unknown_one_none(finish: str) -> None:
    assert bit_for(finish, "1/4 in") == BITS.get(finish)
    assert (finish in BITS) == (finish != "unknown")


def inches(mm: str, inch: str) -> dict[str, str]:
    return {"mm": mm, "inch": inch, "inch_mark": "1/16 in", "rounded": "down"}


def test_a_saw_plan_is_told_cut_by_cut() -> None:
    """120 in less 2 trims of 1/4 in, 2 pieces of 50 in and 2 kerfs of 1/8 in leave 19 1/4 in; lost are
    2 x 6.35 + 2 x 3.175 = 19.05 mm of 3048 mm, 0.625 %.
    """
    piece = {"job": "J-1", "part": "rail", "length": inches("1270 mm", "50 in")}
    told: Any = answer(PLAN)

    assert told == {
        "state": "fails",
        "bars": [
            {
                "bar": "bar",
                "kind": "new",
                "length": inches("3048 mm", "120 in"),
                "trim_each_end": "6.35 mm",
                "trim_each_end_inch": "1/4 in",
                "pieces": [
                    {
                        **piece,
                        "from": "6.35 mm",
                        "to": "1276.35 mm",
                        "from_inch": "1/4 in",
                        "to_inch": "50 1/4 in",
                    },
                    {
                        **piece,
                        "from": "1279.525 mm",
                        "to": "2549.525 mm",
                        "from_inch": "50 3/8 in",
                        "to_inch": "100 3/8 in",
                    },
                ],
                "rest": inches("488.95 mm", "19 1/4 in"),
                "offcut_kept": True,
                "lost": "19.05 mm",
            }
        ],
        "bar_count": 1,
        "cost": "10.50",
        "bound": "10.50",
        "gap": "0.00",
        "proven": True,
        "method": "first fit",
        "waste_percent": "0.63 %",
        "uncut": [
            {
                "job": "J-2",
                "part": "sill",
                "length": inches("3302 mm", "130 in"),
                "count": 1,
                "why": "longer than every bar",
            }
        ],
        "source": {
            "document": "Bin packing and cutting stock",
            "edition": "-",
            "clause": "patterns",
            "status": "derived",
        },
        "do": "Order more or longer stock: some pieces have no bar.",
        "cautions": [
            "A plan releases no mark: each cut is sawn to its own released mark, read twice.",
            "Wear eye and hearing protection at the saw, clamp the bar, deburr the ends.",
        ],
        "saw": {"convention": "between", "counted": "a kerf between two pieces, n - 1 of them"},
    }


@pytest.mark.parametrize(("cost", "asked"), [("10.505", False), ("10.5", True), ("100000", True)])
def test_a_cost_has_at_most_two_decimals(cost: str, asked: bool) -> None:
    body = {**PLAN, "stock": [{**PLAN["stock"][0], "cost": cost}]}
    if asked:
        assert answer(body)["bar_count"] == 1
        return
    with pytest.raises(InputErrors) as told:
        answer(body)

    (one,) = told.value.errors
    assert (one.pointer, one.code) == ("/stock/0/cost", "not_in_range")
    assert one.detail == "cost has at most two decimals."


def joint(size: str, inches_in: float) -> WoodJoint:
    bracket = 3_175_000
    length = bracket + round(inches_in * INCH)
    return WoodJoint(size, length, bracket, 60_000.0, 0, 0.42, 1.0)


def test_a_lag_counts_from_four_diameters_and_a_wood_screw_from_six() -> None:
    """NDS 2018, 12.1.4 (from memory): a 5/16 in lag from 1.25 in, a #14 screw (0.242 in) from 1.452 in."""
    assert wood_holds(joint("5/16 in", 1.25)).lateral_lbf > 0
    assert wood_holds(joint("#14", 1.46)).lateral_lbf > 0
    with pytest.raises(ValueError, match=r"^the screw goes in less than 4 diameters"):
        wood_holds(joint("5/16 in", 1.24))
    with pytest.raises(ValueError, match=r"^the screw goes in less than 6 diameters"):
        wood_holds(joint("#14", 1.44))


@pytest.mark.parametrize(
    ("lag", "at", "bears"),
    [
        (True, 1.25, 1.0),
        (True, 1.99, 1.74),
        (True, 2.0, 2.0),
        (False, 1.5, 1.25),
        (False, 2.49, 2.24),
        (False, 2.5, 2.5),
    ],
)
def test_a_short_screw_loses_half_its_tip(lag: bool, at: float, bears: float) -> None:
    """D = 0.25 in, tip 2 D: 0.25 in is lost below 8 D (a lag) or 10 D (NDS 2018, 12.1.5, from memory)."""
    assert bearing_length(at, 0.25, lag=lag) == pytest.approx(bears)


def test_wet_wood_holds_less_by_one_factor_all_over() -> None:
    dry = wood_holds(joint("#10", 1.5))
    wet = wood_holds(replace(joint("#10", 1.5), wet=True))

    assert wet.out_lbf / dry.out_lbf == pytest.approx(wet.lateral_lbf / dry.lateral_lbf)
    assert 0 < wet.out_lbf < dry.out_lbf
    assert wet.root_lbf == dry.root_lbf


SQUARE = Quad(Point(0, 0), Point(INCH, 0), Point(INCH, 2 * INCH), Point(0, 2 * INCH))


def test_a_wedge_that_a_channel_does_not_hide_is_told_with_what_to_do() -> None:
    pane, source = Pane("return", SQUARE, INCH // 2), site_source("house", "house setting")

    hidden = hidden_taper(pane, "left", INCH // 8, INCH // 8, source, house_read(Strict({})))
    seen = hidden_taper(pane, "left", INCH // 8 + 1, INCH // 8, source, house_read(Strict({})))

    assert (hidden.rule, hidden.place, hidden.state) == ("pane.taper", "return, left", "fits")
    assert hidden.question == "Does the channel hide the wedge on the left side?"
    assert (seen.state, seen.source) == ("fails", source)
    assert seen.do.startswith("Put the taper on the panel, or take a deeper channel. Out by ")


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({}, ("missing", "mass is not understood.")),
        ({"mass": "heavy"}, ("amount_not_understood", "mass is not understood.")),
        ({"mass": "0 kg"}, ("not_in_range", "mass is more than zero.")),
    ],
)
def test_a_mass_that_was_refused_stands_for_the_least_there_is(
    sent: dict[str, str], told: tuple[str, str]
) -> None:
    own = Strict(sent)

    assert mass_of(own, "mass") == 1
    (error,) = own.errors
    assert (error.pointer, error.code, error.detail) == ("/mass", *told)
    assert ("kg" in error.hint) is ("understood" in error.detail)


def test_a_mass_of_a_microgram_is_one() -> None:
    own = Strict({"mass": "0.000001 g", "more": "2 kg"})

    assert (mass_of(own, "mass"), mass_of(own, "more")) == (1, 2 * UG_PER_KG)
    assert own.errors == []

"""Drilling of tile as several trade texts agree, which were read: porcelain, glass and granite want
diamond, glazed ceramic takes carbide at 100 to 200 rpm, the hammer is off until the bit is past tile
and board. A tiling contractors' manual and a trade specification: what goes through a wet wall is
sealed with ASTM C920 sealant. Diamond speeds and the distance to a tile's edge are from memory.
"""

import pytest

from fitcheck.rules.drilling import bit_for, drilling_cautions
from fitcheck.rules.holes import SEAL

TILES = ("glazed_ceramic", "porcelain", "natural_stone", "glass_tile")


@pytest.mark.parametrize("finish", ["porcelain", "natural_stone", "glass_tile"])
def test_porcelain_stone_and_glass_get_no_carbide(finish: str) -> None:
    bit = bit_for(finish, "1/4 in")

    assert bit is not None
    assert bit.name == "diamond bit"


def test_glazed_ceramic_takes_carbide_at_100_to_200_rpm_or_diamond() -> None:
    bit = bit_for("glazed_ceramic", "1/4 in")

    assert bit is not None
    assert "carbide" in bit.name
    assert "diamond" in bit.name
    assert bit.speed == "100 to 200 rpm with carbide"


@pytest.mark.parametrize("finish", TILES)
def test_the_hammer_is_off_until_the_bit_is_past_tile_and_board(finish: str) -> None:
    said = drilling_cautions(finish, "wood_stud")

    assert any("Hammer off" in one and "board behind" in one for one in said)
    bit = bit_for(finish, "1/4 in")
    assert bit is not None
    assert "water" in bit.cooling


@pytest.mark.parametrize("finish", TILES)
def test_an_inch_to_the_edge_and_never_less_than_a_half_from_memory(finish: str) -> None:
    said = " ".join(drilling_cautions(finish, "wood_stud"))

    assert "1 in from the edge of a tile, never less than 1/2 in" in said


@pytest.mark.parametrize(
    ("diameter", "rpm"), [("1/4 in", "about 450 rpm"), ("5/16 in", "about 360 rpm")]
)
def test_a_wet_diamond_bit_at_30_feet_a_minute_and_below_800_from_memory(
    diameter: str, rpm: str
) -> None:
    bit = bit_for("porcelain", diameter)

    assert bit is not None
    assert rpm in bit.speed
    assert "never above 800 rpm" in bit.speed


def test_a_hole_through_a_wet_wall_is_filled_with_c920_sealant_before_the_screw() -> None:
    assert "ASTM C920" in SEAL
    assert "before the screw" in SEAL

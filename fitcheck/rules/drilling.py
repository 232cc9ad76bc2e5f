"""Which bit goes through which finish, how fast, how cooled, and what must be minded?"""

import math
from dataclasses import dataclass

from fitcheck.rules import tables
from fitcheck.rules.length import NM_PER_INCH, length_parse

TILE = frozenset({"glazed_ceramic", "porcelain", "natural_stone", "glass_tile"})
SHEET = frozenset({"acrylic", "fibreglass"})
MASONRY = frozenset({"block", "brick", "concrete"})
DUSTY = TILE | {"masonry"}
WET = "water or a wet sponge all the time; no cooling oil near grout"
HAMMER_OFF = "Hammer off until the bit is past the finish and any board behind it."
WET_POWER = (
    "Drilling wet: plug the drill into a GFCI (an RCD), or use a battery drill (from memory)."
)
TILE_EDGE = (
    "Keep 1 in from the edge of a tile, never less than 1/2 in (common practice, no source)."
)


@dataclass(frozen=True, slots=True)
class Bit:
    """A bit with its speed and cooling."""

    name: str
    speed: str
    cooling: str


def rim_speed_rpm(feet_per_minute: float, diameter_in: float) -> float:
    """Return the turning speed that gives a speed at the rim of a bit.

    Source: arithmetic, rpm = 12 v / (pi d).

    Args:
        feet_per_minute: speed at the rim [ft/min].
        diameter_in: diameter of the bit [in].

    Returns:
        The turning speed [1/min].
    """
    return 12 * feet_per_minute / (math.pi * diameter_in)


def bit_for(finish: str, diameter: str) -> Bit | None:
    """Return the bit for a finish; a finish that is not known gets none.

    Source: trade texts: porcelain, glass and hard stone want diamond, glazed ceramic takes
    carbide too; speeds as in the tables.

    Args:
        finish: the finish [-].
        diameter: the hole, such as "1/4 in" [-].

    Returns:
        The bit, None when the finish is unknown [-].
    """
    if finish == "glazed_ceramic":
        slow, fast = tables.CARBIDE_SPEED_RPM.value
        return Bit("carbide spear or diamond bit", f"{slow} to {fast} rpm with carbide", WET)
    if finish in TILE:
        return Bit("diamond bit", _diamond_speed(diameter), WET)
    if finish in SHEET:
        return Bit("ordinary twist bit, sharp", "slow, light pressure", "none; clear the chips")
    if finish == "solid_surface":
        return Bit("carbide bit", "slow", "none; round the edge of the hole")
    if finish in {"painted_board", "bare"}:
        return Bit("ordinary twist bit", "slow", "none")
    if finish == "masonry":
        return Bit(
            "carbide masonry bit, rotary only in block and brick", "slow", "none; dust drawn off"
        )
    return None


def _diamond_speed(diameter: str) -> str:
    inches = length_parse(diameter).nm / NM_PER_INCH
    rpm = rim_speed_rpm(tables.RIM_SPEED_FT_PER_MIN.value, inches)
    fastest = tables.DIAMOND_SPEED_RPM.value[1]
    return f"about {math.floor(rpm / 10) * 10} rpm, never above {fastest} rpm (from memory)"


def drilling_cautions(finish: str, structure: str) -> list[str]:
    """Return what must be minded at a hole through this finish.

    Source: common practice, no source.

    Args:
        finish: the finish [-].
        structure: what is behind it [-].

    Returns:
        Sentences [-].
    """
    cautions = [HAMMER_OFF, TILE_EDGE] if finish in TILE else []
    if finish in SHEET:
        cautions.append(
            "No hammer; do not crush the sheet: space it or back it where it is hollow."
        )
    if structure in MASONRY:
        cautions.append(
            "Anchors in masonry by their own data sheet only; clean the hole; move it off a bar."
        )
    return cautions

"""How wide and deep is a joint, how far may it move, how much sealant fills it?"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from fitcheck.rules.tables_sealing import (
    DEPTH_SHARE,
    DEPTH_STRAYS,
    EXPANSION_OF_FIR,
    EXPANSION_READ,
    EXPANSION_REMEMBERED,
    JOINT_CLASS_PERCENT,
    LEAST_DEPTH,
    LEAST_JOINT,
    MOST_DEPTH,
    UM3_PER_FLUID_OUNCE,
    UM3_PER_ML,
)

_NM3_PER_UM3 = 10**9


@dataclass(frozen=True, slots=True)
class Gap:
    """A joint's width, or how narrow and how wide it may become [nm]."""

    least_nm: int
    most_nm: int


def rectangular_volume_um3(width_nm: int, depth_nm: int, length_nm: int) -> int:
    """Return the volume of a bead in a joint, rounded up.

    Source: geometry, width x depth x length.

    Args:
        width_nm: width of the joint [nm].
        depth_nm: depth of the sealant [nm].
        length_nm: length of the run [nm].

    Returns:
        The volume with no waste [um3].
    """
    return -(-width_nm * depth_nm * length_nm // _NM3_PER_UM3)


def fillet_volume_um3(leg_nm: int, other_leg_nm: int, length_nm: int) -> int:
    """Return the volume of a triangular fillet, rounded up.

    Source: geometry, half of leg x leg x length.

    Args:
        leg_nm: one leg [nm].
        other_leg_nm: the other leg [nm].
        length_nm: length of the run [nm].

    Returns:
        The volume with no waste [um3].
    """
    return -(-leg_nm * other_leg_nm * length_nm // (2 * _NM3_PER_UM3))


@lru_cache(maxsize=256)
def volume_parse(text: object) -> int:
    """Read the content of a cartridge.

    Source: NIST SP 811, 1 US fl oz = 29.5735295625 mL (231/128 in3).

    Args:
        text: "300 mL" or "10.1 fl oz" [-].

    Returns:
        The volume, rounded down [um3].

    Raises:
        ValueError: no number above zero, no unit or another unit.
    """
    number, _, unit = text.strip().partition(" ") if isinstance(text, str) else ("", "", "")
    scale = {"mL": UM3_PER_ML.value, "fl oz": UM3_PER_FLUID_OUNCE.value}.get(unit)
    plain = number.replace(".", "", 1)
    if scale is None or not (plain.isascii() and plain.isdigit()) or len(number) > 8:
        raise ValueError('write "300 mL" or "10.1 fl oz"')
    volume = int(Fraction(number) * scale)
    if volume <= 0:
        raise ValueError("a cartridge holds more than nothing")
    return volume


def cartridges(volume_um3: int, cartridge_um3: int, waste_percent: Decimal) -> int:
    """Return how many cartridges a job takes; a begun one counts whole.

    Source: arithmetic; the waste is a house setting.

    Args:
        volume_um3: all runs together, with no waste [um3].
        cartridge_um3: content of one [um3].
        waste_percent: added for tooling, tails and the nozzle [%].

    Returns:
        How many [-].
    """
    waste, whole = waste_percent.as_integer_ratio()
    return -(-volume_um3 * (100 * whole + waste) // (100 * whole * cartridge_um3))


def yield_nm(cartridge_um3: int, width_nm: int, depth_nm: int) -> int:
    """Return how far one cartridge reaches along a joint with no waste, rounded down.

    Source: geometry.

    Args:
        cartridge_um3: content [um3].
        width_nm: width of the joint [nm].
        depth_nm: depth of the sealant [nm].

    Returns:
        The length [nm].
    """
    return cartridge_um3 * _NM3_PER_UM3 // (width_nm * depth_nm)


def joint_depth(width_nm: int) -> Gap | None:
    """Return the depth of sealant that suits a width: half of it, never outside 6 to 13 mm.

    Source: ASTM C1193 as restated: depth w/2, not under 6 mm, not over 13 mm; least joint 6 mm.

    Args:
        width_nm: width of the joint [nm].

    Returns:
        Least and most depth, both the same; None for a joint that is too narrow [nm].
    """
    if width_nm < LEAST_JOINT.value:
        return None
    over, under = DEPTH_SHARE.value
    depth = min(max(width_nm * over // under, LEAST_DEPTH.value), MOST_DEPTH.value)
    return Gap(depth, depth)


def class_limits(width_nm: int, movement_class: str) -> Gap:
    """Return how narrow and how wide a joint of this class may become.

    Source: ASTM C920, class: per cent of the joint's width, opened and closed.

    Args:
        width_nm: width as it was made [nm].
        movement_class: "12.5", "25", "35", "50" or "100/50" [-].

    Returns:
        The limits, rounded inwards [nm].

    Raises:
        KeyError: no such class.
    """
    opened, closed = (Fraction(percent) for percent in JOINT_CLASS_PERCENT.value[movement_class])
    least = width_nm * (100 - closed) / 100
    most = width_nm * (100 + opened) / 100
    return Gap(-(-least.numerator // least.denominator), most.numerator // most.denominator)


def expansion(material: str) -> tuple[Fraction, Fraction]:
    """Return the least and the greatest linear expansion that a material may have.

    Source: a table of thermal expansion; Douglas fir as a course of 2002 has it; stainless steel,
    concrete and timber from memory.

    Args:
        material: a key of the three tables [-].

    Returns:
        Millionths of its length per kelvin, both ends of the range [1e-6/K].

    Raises:
        KeyError: no such material.
    """
    read = (EXPANSION_READ.value | EXPANSION_OF_FIR.value).get(material)
    return EXPANSION_REMEMBERED.value[material] if read is None else (read, read)


def greatest_expansion(material: str, against: str | None = None) -> Fraction:
    """Return the greatest expansion of a material, or the greatest difference of two.

    Source: `expansion`; of a range the end that moves the joint more.

    Args:
        material: what moves [-].
        against: what it moves against, None for something that does not move [-].

    Returns:
        Millionths of the length per kelvin [1e-6/K].

    Raises:
        KeyError: no such material.
    """
    low, high = expansion(material)
    if against is None:
        return high
    other_low, other_high = expansion(against)
    return max(high - other_low, other_high - low)


def depth_suits(width_nm: int, depth_nm: int) -> bool:
    """Return whether a depth of sealant is near enough to half the width of its joint.

    Source: ASTM C1193 as restated, `joint_depth`; how near is a house setting.

    Args:
        width_nm: width of the joint [nm].
        depth_nm: depth of the sealant [nm].

    Returns:
        False also for a joint too narrow for any depth, and outside 6 to 13 mm [-].
    """
    suits = joint_depth(width_nm)
    if suits is None or not LEAST_DEPTH.value <= depth_nm <= MOST_DEPTH.value:
        return False
    return abs(depth_nm - suits.least_nm) <= DEPTH_STRAYS.value


def movement_nm(millionths: Fraction, length_nm: int, kelvin: Fraction) -> int:
    """Return how much a length moves with temperature, rounded up.

    Source: geometry, alpha x L x dT; of two materials take the difference of their alphas.

    Args:
        millionths: expansion, or a difference of two [1e-6/K].
        length_nm: length that moves [nm].
        kelvin: range of temperature [K].

    Returns:
        The movement, zero or more [nm].
    """
    moved = abs(millionths * length_nm * kelvin) / 10**6
    return -(-moved.numerator // moved.denominator)


def joint_width_nm(
    movement: int, movement_class: str, other_nm: int = 0, tolerance_nm: int = 0
) -> int:
    """Return the width that a joint needs; never under the least joint.

    Source: ASTM C1472 form as a course states it: W = (100/S)(alpha L dT + M) + t, with the lesser
    per cent of the class; the least joint by C1193.

    Args:
        movement: movement with temperature [nm].
        movement_class: class of the sealant [-].
        other_nm: M, any other movement [nm].
        tolerance_nm: t, tolerance of the work [nm].

    Returns:
        The width, rounded up [nm].

    Raises:
        KeyError: no such class.
    """
    percent = Fraction(min(JOINT_CLASS_PERCENT.value[movement_class]))
    width = 100 * (movement + other_nm) / percent + tolerance_nm
    return max(-(-width.numerator // width.denominator), LEAST_JOINT.value)

"""How far out of square, of plumb or of level is it, as an angle or a slope?"""

import math


def angle_degrees(out_mm: float, over_mm: float) -> float:
    """Return how far a wall or sill is out of true as an angle.

    Source: plane geometry, atan(e / H).

    Args:
        out_mm: how far it is out [mm].
        over_mm: over which length, more than zero [mm].

    Returns:
        The angle [degrees].

    Raises:
        ValueError: the length is not more than zero.
    """
    if over_mm <= 0:
        raise ValueError("an angle is told over a length above zero")
    return math.degrees(math.atan(out_mm / over_mm))


def angle_uncertainty(out_mm: float, u_out: float, over_mm: float, u_over: float) -> float:
    """Return the standard uncertainty of an angle told by an offset over a length.

    Source: JCGM 100:2008, 5.1.2, over atan(e / H).

    Args:
        out_mm: how far it is out [mm].
        u_out: its standard uncertainty [mm].
        over_mm: over which length, more than zero [mm].
        u_over: its standard uncertainty [mm].

    Returns:
        The standard uncertainty [degrees].
    """
    square = out_mm**2 + over_mm**2
    return math.degrees(math.hypot(over_mm * u_out, out_mm * u_over) / square)


def slope_per_metre(out_mm: float, over_mm: float) -> float:
    """Return how far something is out of true over each metre.

    Source: plane geometry.

    Args:
        out_mm: how far it is out [mm].
        over_mm: over which length, more than zero [mm].

    Returns:
        The slope [mm/m].

    Raises:
        ValueError: the length is not more than zero.
    """
    if over_mm <= 0:
        raise ValueError("a slope is told over a length above zero")
    return 1000 * out_mm / over_mm


def corner_degrees(one_mm: float, other_mm: float, diagonal_mm: float) -> float:
    """Return the angle between two sides that a diagonal closes.

    Source: plane geometry, law of cosines.

    Args:
        one_mm: one side [mm].
        other_mm: the other side [mm].
        diagonal_mm: the distance between their far ends [mm].

    Returns:
        The angle; 90 when the corner is square [degrees].

    Raises:
        ValueError: no triangle has these sides.
    """
    longest = max(one_mm, other_mm, diagonal_mm)
    if min(one_mm, other_mm, diagonal_mm) <= 0 or 2 * longest >= one_mm + other_mm + diagonal_mm:
        raise ValueError("these three lengths close no triangle")
    cosine = (one_mm**2 + other_mm**2 - diagonal_mm**2) / (2 * one_mm * other_mm)
    return math.degrees(math.acos(cosine))


def parallelogram_gap(side_mm: float, other_mm: float, diagonals_mm: tuple[float, float]) -> float:
    """Return by how much the diagonals of equal opposite sides break the parallelogram law.

    Source: plane geometry, d1^2 + d2^2 = 2 (a^2 + b^2), told as a length on one diagonal.

    Args:
        side_mm: one pair of sides [mm].
        other_mm: the other pair [mm].
        diagonals_mm: both diagonals, more than zero [mm].

    Returns:
        How much too long the diagonals are together; nothing when the law holds [mm].
    """
    square = sum(each * each for each in diagonals_mm) - 2 * (side_mm**2 + other_mm**2)
    return square / sum(diagonals_mm)

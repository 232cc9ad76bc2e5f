"""Which rectangle goes through which other, round which corner, under which ceiling?

Plane geometry of rigid rectangles in millimetres; no opinion about people or glass.
"""

import math
from collections.abc import Callable

STEPS = 60
_GOLDEN = (math.sqrt(5) - 1) / 2


def rectangle_fits(long: float, short: float, room_long: float, room_short: float) -> bool:
    """Return whether one rectangle lies in another, turned if it must be.

    Source: W. B. Carver 1957 (from memory): p x q lies in a x b when p <= a and q <= b, or when
    p > a, q <= b and b (p2 + q2) >= 2 p q a + (p2 - q2) sqrt(p2 + q2 - a2).

    Args:
        long: the longer side of the rectangle [mm].
        short: its shorter side [mm].
        room_long: the longer side of the room [mm].
        room_short: its shorter side [mm].

    Returns:
        True when it fits [-].

    Valid for: sides more than zero, given in any order.
    """
    p, q = max(long, short), min(long, short)
    a, b = max(room_long, room_short), min(room_long, room_short)
    if b <= 0 or q > b:
        return False
    if p <= a:
        return True
    needs = 2 * p * q * a + (p * p - q * q) * math.sqrt(p * p + q * q - a * a)
    return b * (p * p + q * q) >= needs


def longest_in(room_long: float, room_short: float, thick: float) -> float:
    """Return the longest rectangle of this thickness that lies in a rectangle.

    Source: `rectangle_fits`, by halving.

    Args:
        room_long: the longer side of the room [mm].
        room_short: its shorter side [mm].
        thick: thickness of the rectangle [mm].

    Returns:
        The greatest length, 0 where the thickness alone does not fit [mm].
    """
    if min(room_long, room_short) < thick:
        return 0.0
    return greatest(
        lambda length: rectangle_fits(length, thick, room_long, room_short),
        0.0,
        math.hypot(room_long, room_short),
    )


def longest_round_corner(from_width: float, to_width: float, thick: float) -> float:
    """Return the longest rectangle, in plan, that goes round a right-angled corridor corner.

    The outer edge slides along both outer walls while the inner corner stays a thickness away:
    least of (a sin x + b cos x - t) / (sin x cos x). It is convex in x, so that golden section
    finds its least. What is no longer than a corridor is wide goes round without turning.

    Source: ladder round a corner, by calculus; with t = 0 it is (a^2/3 + b^2/3)^3/2.

    Args:
        from_width: clear width of the corridor it comes from [mm].
        to_width: clear width of the corridor it goes to [mm].
        thick: thickness with packing or trolley [mm].

    Returns:
        The greatest length, 0 where the thickness alone does not fit [mm].
    """
    if thick >= min(from_width, to_width):
        return 0.0

    def span(angle: float) -> float:
        sine, cosine = math.sin(angle), math.cos(angle)
        return (from_width * sine + to_width * cosine - thick) / (sine * cosine)

    low, high = 1e-9, math.pi / 2 - 1e-9
    for _ in range(STEPS):
        step = _GOLDEN * (high - low)
        if span(high - step) < span(low + step):
            high = low + step
        else:
            low = high - step
    return max(span((low + high) / 2), from_width, to_width)


def shortest_plan(side: float, upright: float, ceiling: float) -> float | None:
    """Return the shortest length in plan that a panel can be given under a ceiling.

    Standing, lying on its edge, or tilted in its own plane until it just clears the ceiling; the
    length in plan is concave in the tilt, so that the least lies at one of these.

    Source: geometry of rigid bodies.

    Args:
        side: the side that is level when the panel stands as it will hang [mm].
        upright: the side that is plumb then [mm].
        ceiling: clear height [mm].

    Returns:
        The length in plan, or None when no pose clears the ceiling [mm].
    """
    if ceiling <= 0:
        return None
    plans = [side] if upright <= ceiling else []
    plans += [upright] if side <= ceiling else []
    diagonal = math.hypot(side, upright)
    if diagonal > ceiling:
        lead = math.atan2(upright, side)
        turn = math.asin(ceiling / diagonal)
        for tilt in (turn - lead, math.pi - turn - lead):
            if 0 < tilt < math.pi / 2:
                plans.append(side * math.cos(tilt) + upright * math.sin(tilt))
    return min(plans, default=None)


def greatest(passes: Callable[[float], bool], low: float, high: float) -> float:
    """Return the greatest value that still passes, by halving.

    Args:
        passes: true up to some value and false beyond it [-].
        low: a value to begin from; it is returned when nothing passes [mm].
        high: a value to end at [mm].

    Returns:
        The greatest value that passes [mm].
    """
    if passes(high):
        return high
    for _ in range(STEPS):
        middle = (low + high) / 2
        if passes(middle):
            low = middle
        else:
            high = middle
    return low

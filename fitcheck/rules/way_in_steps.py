"""By how much is a panel lifted over the steps that it hangs over as a stair turns?"""

import math
from functools import lru_cache
from typing import NamedTuple

_DEGREES = range(2, 90, 2)
_TOUCHING = 1e-6  # mm


class Tilt(NamedTuple):
    """A rectangle standing on one corner: how steep its forward edge rises, and its box [mm].

    `behind` is the length in plan from its hindmost point to the corner that it stands on [mm].
    """

    slope: float
    plan: float
    high: float
    behind: float = 0.0


@lru_cache(maxsize=64)
def tilts(side: float, upright: float) -> tuple[Tilt, ...]:
    """Return a rectangle tilted in its own plane, each two degrees.

    Source: geometry of rigid bodies.

    Args:
        side: the edge that rises forward from the corner it stands on [mm].
        upright: the edge that rises backward from it [mm].

    Returns:
        Its tilts, the flattest first [-].
    """
    found = []
    for degrees in _DEGREES:
        sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
        plan, high = side * cosine + upright * sine, side * sine + upright * cosine
        found.append(Tilt(sine / cosine, plan, high, upright * sine))
    return tuple(found)


def lifted_over_steps(tilt: Tilt, floor: float, rise: float, going: float) -> float:
    """Return by how much a rectangle must be lifted so that what hangs over steps clears them.

    It stands with its hindmost point at the far wall of a level floor, at whose other end the first
    riser stands. With a level edge each step begun takes a rise: about (length - floor) / going x
    rise, counted in whole steps.

    Source: geometry of rigid bodies.

    Args:
        tilt: the rectangle; slope 0 for a level edge [mm].
        floor: length of the level floor [mm].
        rise: of one step [mm].
        going: of one step, more than zero [mm].

    Returns:
        The lift, 0 when nothing hangs over [mm].
    """
    floor = max(floor, 0.0)
    over = tilt.plan - floor
    if over <= _TOUCHING:
        return 0.0
    last = math.ceil((over - _TOUCHING) / going) - 1
    corner = int((tilt.behind - floor) // going)
    return max(0.0, *(_over_step(tilt, floor, (rise, going), k) for k in _ends(corner, last)))


def _ends(corner: int, last: int) -> set[int]:
    """Return the steps of which one is the worst: the clearance is linear between them."""
    return {min(max(step, 0), last) for step in (0, corner - 1, corner, corner + 1, last)}


def _over_step(tilt: Tilt, floor: float, step: tuple[float, float], count: int) -> float:
    """Return by how much a step of the flight stands higher than the lower edge above it [mm]."""
    rise, going = step
    nosing = floor + count * going
    lowest = min(max(tilt.behind, nosing), nosing + going, tilt.plan)
    return (count + 1) * rise - _edge(tilt, lowest)


def _edge(tilt: Tilt, where: float) -> float:
    """Return how high the lower edge is at a place in plan, not yet lifted [mm]."""
    ahead = where - tilt.behind
    return ahead * tilt.slope if ahead >= 0 else -ahead / tilt.slope

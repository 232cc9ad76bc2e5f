"""How high is the ceiling on each side, and do its readings agree?"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from operator import mul

from fitcheck.rules import tables_shape
from fitcheck.rules.glance_fit import Told
from fitcheck.rules.glance_rows import seen_of
from fitcheck.rules.survey import Reading

_AT_CEILING = "ceiling_height"


@dataclass(frozen=True, slots=True)
class Ceiling:
    """All readings of one height to the ceiling, levelled."""

    told: Told
    chi_square: float
    freedom: int
    worst: float


def ceiling_of(readings: Iterable[Reading], side: str) -> Ceiling | None:
    """Level all readings of one height to the ceiling; no other reading tells of it.

    Source: weighted mean; JCGM 100:2008, F.1.2.3, for what one tool shares.

    Args:
        readings: the readings of a survey [-].
        side: "left" or "right" [-].

    Returns:
        The height with what judges its readings, None when it was not read [mm].
    """
    seen = [seen_of(r, 1.0) for r in readings if r.quantity == _AT_CEILING and r.side == side]
    if not seen:
        return None
    weights = [1.0 / one.sigma**2 for one in seen]
    total = sum(weights)
    value = sum(w * one.value for w, one in zip(weights, seen, strict=True)) / total
    square, by_tool, worst, chi = 1.0 / total, dict[object, float](), 0.0, 0.0
    for weight, one in zip(weights, seen, strict=True):
        part = weight / total * one.shared
        by_tool[one.tool] = by_tool.get(one.tool, 0.0) + part
        square -= part * part
        off, share = (one.value - value) / one.sigma, 1.0 - weight / total
        chi += off * off
        if share > tables_shape.LEAST_REDUNDANCY.value:
            worst = max(worst, abs(off) / math.sqrt(share))
    u = math.sqrt(square + sum(map(mul, by_tool.values(), by_tool.values())))
    return Ceiling(Told(value, u), chi, len(seen) - 1, worst)

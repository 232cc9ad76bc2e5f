"""How does each reading answer to the five unknowns of an opening?"""

import math
from dataclasses import dataclass
from functools import lru_cache

from fitcheck.rules import tables_shape
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.survey import Reading
from fitcheck.rules.tables import READING_REPEATABILITY
from fitcheck.rules.uncertainty import reading_uncertainty, resolution

Row = tuple[float, float, float, float, float]


@dataclass(frozen=True, slots=True)
class Seen:
    """One reading, or the assumption of straight walls, with how it answers to the unknowns."""

    quantity: str
    side: str
    height: float
    over: float
    value: float
    sigma: float
    shared: float
    tool: tuple[object, ...]


def seen_of(reading: Reading, top: float) -> Seen:
    """Turn a reading into what the glance needs; a diagonal without a height ends at the top.

    Source: JCGM 100:2008, 5.1.2, over the tool's uncertainty, as in `observations`.

    Args:
        reading: the reading [-].
        top: height of the highest width [mm].

    Returns:
        The reading with its uncertainty and the part that its tool shares [mm].
    """
    value, u = reading.value.nm / NM_PER_MM, reading_uncertainty(reading)
    height = reading.height.nm / NM_PER_MM if reading.height else 0.0
    tool = reading.tool
    shared = _shared(tool.kind, tool.graduation.nm, u)
    if reading.quantity == "diagonal":
        height = height or top
        mark = tables_shape.STATION_MARK.value * min(1.0, height / value)
        u = math.hypot(u, mark)
    over = reading.over.nm / NM_PER_MM if reading.over else 0.0
    same = (tool.kind, tool.accuracy_class, tool.graduation.entered, tool.hook)
    return Seen(reading.quantity, reading.side, height, over, value, u, shared, same)


@lru_cache(maxsize=4096)
def _shared(kind: str, graduation_nm: int, u: float) -> float:
    if kind not in ("tape", "laser"):
        return 0.0
    own = resolution(graduation_nm / NM_PER_MM)
    return math.sqrt(max(0.0, u * u - own * own - READING_REPEATABILITY.value**2))


def belly_of(share: float) -> float:
    """Return how much of the bow shows at a share of the height: 1 midway, nothing at the ends.

    Args:
        share: of the frame's height [-].

    Returns:
        The share of the bow [-].
    """
    return max(0.0, 4 * share * (1 - share))

"""What would each reading of an opening be if its shape were known?"""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fitcheck.rules import tables_shape
from fitcheck.rules.length import NM_PER_MM, Length, inch_text
from fitcheck.rules.survey import Reading
from fitcheck.rules.tables import READING_REPEATABILITY
from fitcheck.rules.uncertainty import reading_uncertainty, resolution

Array = NDArray[np.float64]
UNKNOWNS = ("width", "lean_left", "lean_right", "level", "bow", "top_left", "top_right")
WIDTH, LEAN_LEFT, LEAN_RIGHT, LEVEL, BOW, TOP_LEFT, TOP_RIGHT = range(len(UNKNOWNS))
ADJUSTED = ("width", "lean", "sill_level", "ceiling_height", "diagonal")
_AT_THE_SILL = Length(0, "")
_REFERENCE_WHEN_NONE_MM = 1000.0


@dataclass(frozen=True, slots=True)
class Observation:
    """One reading as the adjustment sees it, in millimetres; `height` of a diagonal is its top.

    `said` is that height as somebody wrote it.
    """

    id: str
    quantity: str
    side: str
    height: float | None
    over: float | None
    value: float
    sigma: float
    shared: float
    tool: object
    said: str = ""


def height_said(each: Observation, rules: int) -> str | None:
    """Return the height of a reading as it was written; before version 5 in sixty-fourths of an inch.

    Args:
        each: the observation [mm].
        rules: the version of the rules [-].

    Returns:
        The height as it is said, None where the reading has none [-].
    """
    if each.height is None:
        return None
    return each.said if rules >= 5 and each.said else inch_text(round(each.height * NM_PER_MM), 64)


@dataclass(frozen=True, slots=True)
class Frame:
    """The height over which leans and the bow are counted."""

    top: float

    def share(self, height: float) -> float:
        """Return how far up the frame a height is, 1 at its top."""
        return height / self.top

    def belly(self, height: float) -> float:
        """Return how much of the bow shows at a height: 1 midway, nothing at sill and top."""
        share = height / self.top
        return max(0.0, 4 * share * (1 - share))


def observations(
    readings: tuple[Reading, ...], *, to_ceiling: bool = False
) -> tuple[Observation, ...]:
    """Turn the readings that shape an opening into observations with their uncertainty.

    The tool's own error is kept apart as `shared`: it goes the same way in every reading of one
    tool. A diagonal without a height ends at the height of the highest width, or at the ceiling
    when that is said; the mark at its upper end adds to its uncertainty.

    Source: JCGM 100:2008, 5.1.2, over the tool's uncertainty; the mark is a house setting.

    Args:
        readings: all readings of a survey; quantities that shape nothing are left aside [-].
        to_ceiling: diagonals without a height end in the corner at the ceiling [-].

    Returns:
        The observations, in the order of the readings [mm].
    """
    heights = [r.height for r in readings if r.quantity == "width" and r.height]
    highest = max(heights, default=_AT_THE_SILL, key=lambda height: height.nm)
    top = highest.nm / NM_PER_MM
    kept = [_observed(each) for each in readings if each.quantity in ADJUSTED]
    if not to_ceiling:
        kept = [
            replace(each, height=top, said=highest.entered)
            if each.quantity == "diagonal" and each.height is None and top
            else each
            for each in kept
        ]
    return tuple(_with_mark(each) for each in kept)


def _observed(reading: Reading) -> Observation:
    u = reading_uncertainty(reading)
    return Observation(
        reading.id,
        reading.quantity,
        reading.side,
        reading.height.nm / NM_PER_MM if reading.height else None,
        reading.over.nm / NM_PER_MM if reading.over else None,
        reading.value.nm / NM_PER_MM,
        u,
        shared_part(reading, u),
        reading.tool,
        reading.height.entered if reading.height else "",
    )


def shared_part(reading: Reading, u: float) -> float:
    """Return the part of a reading's uncertainty that all readings of its tape or laser share.

    Source: JCGM 100:2008, F.1.2.3; a level is turned about between readings, so it shares none.

    Args:
        reading: the reading with its tool [-].
        u: its standard uncertainty [mm].

    Returns:
        The tool's own part, without graduation and repeatability [mm].
    """
    if reading.tool.kind not in ("tape", "laser"):
        return 0.0
    graduation = resolution(reading.tool.graduation.nm / NM_PER_MM)
    return math.sqrt(max(0.0, u * u - graduation**2 - READING_REPEATABILITY.value**2))


def _with_mark(each: Observation) -> Observation:
    if each.quantity != "diagonal" or each.height is None:
        return each
    mark = tables_shape.STATION_MARK.value * min(1.0, each.height / each.value)
    return replace(each, sigma=math.hypot(each.sigma, mark))


def frame_of(seen: tuple[Observation, ...]) -> Frame:
    """Return the frame of an opening: up to its highest width, else its highest reading.

    Args:
        seen: the observations [mm].

    Returns:
        The frame [mm].
    """
    widths = [each.height for each in seen if each.quantity == "width" and each.height]
    others = [
        h for each in seen for h in (each.over, each.height) if h and each.quantity != "width"
    ]
    return Frame(max(widths or others, default=_REFERENCE_WHEN_NONE_MM))


def expected(each: Observation, shape: Array, frame: Frame) -> tuple[float, Array]:
    """Return what a reading would be for a shape, and how it answers to each unknown.

    Gravity gives the axes. The left foot is the origin; heights are counted up each wall from the
    sill at its own foot; a lean is positive into the opening.

    Source: plane geometry.

    Args:
        each: the observation [mm].
        shape: the unknowns, in the order of `UNKNOWNS` [mm].
        frame: the height over which leans are counted [mm].

    Returns:
        The value and its derivatives [mm, -].

    Raises:
        KeyError: the quantity does not shape an opening.
    """
    return {
        "width": _width,
        "lean": _lean,
        "sill_level": _level,
        "ceiling_height": _ceiling,
        "diagonal": _diagonal,
        "straight": _straight,
    }[each.quantity](each, shape, frame)


def width_row(height: float, shape: Array, frame: Frame) -> tuple[float, Array]:
    """Return the width of a shape at a height, and how it answers to each unknown.

    Source: plane geometry: the wall-to-wall distance along the sill's slope.

    Args:
        height: height above the sill [mm].
        shape: the unknowns [mm].
        frame: the height over which leans are counted [mm].

    Returns:
        The width and its derivatives [mm, -].
    """
    share, belly = frame.share(height), frame.belly(height)
    across = shape[WIDTH] - (shape[LEAN_LEFT] + shape[LEAN_RIGHT]) * share - shape[BOW] * belly
    value = math.hypot(across, shape[LEVEL]) or 1.0
    slopes = _zeros()
    slopes[[WIDTH, LEAN_LEFT, LEAN_RIGHT, BOW]] = np.array([1.0, -share, -share, -belly])
    slopes *= across / value
    slopes[LEVEL] = shape[LEVEL] / value
    return value, slopes


def _width(each: Observation, shape: Array, frame: Frame) -> tuple[float, Array]:
    return width_row(each.height or 0.0, shape, frame)


def _lean(each: Observation, shape: Array, frame: Frame) -> tuple[float, Array]:
    over = each.over or frame.top
    slopes = _zeros()
    slopes[LEAN_LEFT if each.side == "left" else LEAN_RIGHT] = frame.share(over)
    slopes[BOW] = frame.belly(over) / 2
    return float(slopes @ shape), slopes


def _level(each: Observation, shape: Array, frame: Frame) -> tuple[float, Array]:
    slopes = _zeros()
    slopes[LEVEL] = each.over / shape[WIDTH] if each.over and shape[WIDTH] else 1.0
    return float(slopes @ shape), slopes


def _straight(each: Observation, shape: Array, frame: Frame) -> tuple[float, Array]:
    """Follow the assumption that the walls bow by nothing, give or take."""
    slopes = _zeros()
    slopes[BOW] = 1.0
    return float(shape[BOW]), slopes


def _ceiling(each: Observation, shape: Array, frame: Frame) -> tuple[float, Array]:
    slopes = _zeros()
    slopes[TOP_LEFT if each.side == "left" else TOP_RIGHT] = 1.0
    return float(slopes @ shape), slopes


def _diagonal(each: Observation, shape: Array, frame: Frame) -> tuple[float, Array]:
    """Follow a diagonal from the foot on its side to the other wall's top."""
    from_left = each.side == "left"
    lean = LEAN_RIGHT if from_left else LEAN_LEFT
    top = TOP_RIGHT if from_left else TOP_LEFT
    height = each.height if each.height is not None else float(shape[top])
    share, belly = frame.share(height), frame.belly(height)
    across = shape[WIDTH] - shape[lean] * share - shape[BOW] * belly / 2
    rise = 1.0 if from_left else -1.0
    up = height + rise * shape[LEVEL]
    value = math.hypot(across, up) or 1.0
    slopes = _zeros()
    slopes[[WIDTH, lean, BOW]] = np.array([1.0, -share, -belly / 2]) * across / value
    slopes[LEVEL] = rise * up / value
    if each.height is None:
        slopes[top] = (up - shape[lean] / frame.top * across) / value
    return value, slopes


def _zeros() -> Array:
    return np.zeros(len(UNKNOWNS))

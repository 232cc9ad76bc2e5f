"""What shape have the readings given the opening: widths by height, leans, outline?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fitcheck.drawings.measures import length_mm

LADDER = (50, 20, 10, 5, 2, 1)  # exaggerations that a reader can divide by in the head
SHOWN = 0.09  # of the mean width: the most that a drawn lean may take up
FALLBACK_MM = (1500.0, 1900.0)  # the blank shape drawn when nothing has been read


@dataclass(frozen=True, slots=True)
class Width:
    """One height at which the width was read, with the strings of its readings."""

    height_mm: float
    width_mm: float
    height: str
    entered: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Lean:
    """How far a wall's top leans into the opening over a height."""

    value_mm: float
    over_mm: float
    value: str
    over: str


@dataclass(frozen=True, slots=True)
class Outline:
    """The opening as it was read, ready to be drawn."""

    widths: tuple[Width, ...]
    leans: Mapping[str, Lean]
    top_mm: float
    rail_mm: float | None

    @property
    def base_mm(self) -> float:
        """Return the lowest width read, or the blank shape's [mm]."""
        return self.widths[0].width_mm if self.widths else FALLBACK_MM[0]

    def offsets(self, height_mm: float) -> tuple[float, float]:
        """Return how far the left and the right wall stand inside their feet's plumb lines [mm].

        A width says the sum, a lean says the share of one wall; what the leans do not explain is
        halved between the walls.
        """
        left, right = self._lean("left", height_mm), self._lean("right", height_mm)
        narrowing = self._narrowing(height_mm)
        if narrowing is None:
            return left or 0.0, right or 0.0
        if left is not None and right is None:
            return left, narrowing - left
        if right is not None and left is None:
            return narrowing - right, right
        rest = narrowing - (left or 0.0) - (right or 0.0)
        return (left or 0.0) + rest / 2, (right or 0.0) + rest / 2

    def stations(self) -> list[float]:
        """Return the heights between which the walls are drawn straight [mm]."""
        known = {w.height_mm for w in self.widths} | {0.0, self.top_mm}
        return sorted(h for h in known if h <= self.top_mm)

    def exaggeration(self) -> int:
        """Return how many times leans are drawn larger than they are [-]."""
        most = max((max(map(abs, self.offsets(h))) for h in self.stations()), default=0.0)
        if most == 0:
            return 1
        return next((e for e in LADDER if most * e <= SHOWN * self.base_mm), 1)

    def _lean(self, side: str, height_mm: float) -> float | None:
        lean = self.leans.get(side)
        return None if lean is None else lean.value_mm * height_mm / lean.over_mm

    def _narrowing(self, height_mm: float) -> float | None:
        if len(self.widths) < 2:
            return None
        below = [w for w in self.widths if w.height_mm <= height_mm] or [self.widths[0]]
        above = [w for w in self.widths if w.height_mm >= height_mm] or [self.widths[-1]]
        low, high = below[-1], above[0]
        span = high.height_mm - low.height_mm
        share = (height_mm - low.height_mm) / span if span > 0 else 0.0
        width = low.width_mm + share * (high.width_mm - low.width_mm)
        return self.widths[0].width_mm - width


def outline_of(inputs: Mapping[str, Any]) -> Outline:
    """Return the opening's shape from whatever has been read, which may be nothing."""
    readings = [r for r in inputs.get("readings") or [] if isinstance(r, Mapping)]
    sheet = inputs.get("sheet") or {}
    widths = widths_of(readings)
    leans = {side: lean for side in ("left", "right") if (lean := lean_of(readings, side))}
    rail = length_mm(sheet.get("rail_height"))
    panels = [length_mm(p.get("height")) or 0.0 for p in sheet.get("panels") or []]
    heights = [w.height_mm for w in widths] + panels + [rail or 0.0]
    top = max([*heights, 0.0])
    return Outline(widths, leans, top if top > 0 else FALLBACK_MM[1], rail)


def widths_of(readings: Sequence[Mapping[str, Any]]) -> tuple[Width, ...]:
    """Return the widths by rising height; several readings at one height are averaged."""
    by_height: dict[float, list[Mapping[str, Any]]] = {}
    for reading in readings:
        if reading.get("quantity") == "width" and length_mm(reading.get("value")) is not None:
            height = length_mm(reading.get("height"))
            if height is not None:
                by_height.setdefault(height, []).append(reading)
    return tuple(_width(height, by_height[height]) for height in sorted(by_height))


def _width(height: float, readings: Sequence[Mapping[str, Any]]) -> Width:
    values = [length_mm(r["value"]) or 0.0 for r in readings]
    entered = tuple(str(r["value"]) for r in readings)
    return Width(height, sum(values) / len(values), str(readings[0]["height"]), entered)


def lean_of(readings: Sequence[Mapping[str, Any]], side: str) -> Lean | None:
    """Return the last lean read on a wall, if it can be drawn."""
    for reading in reversed(readings):
        if reading.get("quantity") == "lean" and reading.get("side") == side:
            value, over = length_mm(reading.get("value")), length_mm(reading.get("over"))
            if value is not None and over:
                return Lean(value, over, str(reading["value"]), str(reading["over"]))
    return None

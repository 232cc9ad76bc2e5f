"""How is one place of a way in sketched, with a panel in the pose that passes it?"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import atan2, cos, pi, radians, sin
from typing import Any

from fitcheck.drawings.measures import length_mm, length_nm, pair
from fitcheck.drawings.model import At, Dimension, Path, Shape, nm
from fitcheck.drawings.signs import box, stroke
from fitcheck.rules.way_in_shapes import shortest_plan

THIN = 12.0  # mm: the least a panel on edge is drawn thick, so that it can be seen
STEPS = 5


@dataclass(frozen=True, slots=True)
class Sketch:
    """A sketch in its own millimetres from its lower left corner."""

    shapes: tuple[Shape, ...]
    dims: tuple[Dimension, ...]
    wide_mm: float
    tall_mm: float


@dataclass(frozen=True, slots=True)
class _Slab:
    side: float
    upright: float
    thick: float


def sketch_of(panel: Mapping[str, Any], kind: str, sizes: Mapping[str, str], pose: Any) -> Sketch:
    """Return the sketch of a place all of whose sizes are told."""
    more = 2 * (length_mm(panel.get("packed")) or 0.0)
    thick = (length_mm(panel.get("thickness")) or 10.0) + (length_mm(panel.get("packing")) or 0.0)
    slab = _Slab(
        (length_mm(panel.get("width")) or 0.0) + more,
        (length_mm(panel.get("height")) or 0.0) + more,
        max(thick + more, THIN),
    )
    return DRAWN[kind](slab, sizes, str(pose or ""))


def _mm(sizes: Mapping[str, str], name: str) -> float:
    return length_mm(sizes[name]) or 0.0


def _across(sizes: Mapping[str, str], name: str, a: At, b: At, off: float) -> list[Dimension]:
    return [Dimension(a, b, length_nm(sizes[name]) or 0, pair(sizes[name])[:1], "level", off)]


def _at(x: float, y: float) -> At:
    return At(nm(x), nm(y))


def _turned(x: float, y: float, wide: float, tall: float, turn: float) -> Path:
    """Return a panel's box turned leftward about its lower left corner, filled white."""
    c, s = cos(turn), sin(turn)
    corners = ((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall))
    points = tuple(_at(x + u * c - v * s, y + u * s + v * c) for u, v in corners)
    return Path(points, "glass", "solid", closed=True, fill="paper")


def _doorway(slab: _Slab, sizes: Mapping[str, str], pose: str) -> Sketch:
    wide, high = _mm(sizes, "width"), _mm(sizes, "height")
    shapes: list[Shape] = [
        Path((_at(0, 0), _at(0, high), _at(wide, high), _at(wide, 0)), "way", "heavy")
    ]
    shapes.append(stroke(_at(-60, 0), _at(wide + 60, 0), "way"))
    if pose:
        tall = slab.side if pose.startswith("on its side") else slab.upright
        turn = _lean(tall, slab.thick, high) if "leaning" in pose else 0.0
        foot = wide / 2 - slab.thick / 2 if not turn else min(wide, tall * sin(turn) + slab.thick)
        shapes.append(_turned(foot, 0, slab.thick, tall, turn))
    dims = _across(sizes, "width", _at(0, 0), _at(wide, 0), -14)
    return Sketch(tuple(shapes), tuple(dims), wide, high)


def _lean(tall: float, thick: float, high: float) -> float:
    """Return the least lean at which a panel's box is no higher than a door [rad]."""
    turn = 0.0
    while turn < pi / 2 and tall * cos(turn) + thick * sin(turn) > high:
        turn += 0.005
    return turn


def _level(slab: _Slab, sizes: Mapping[str, str], pose: str) -> float:
    """Return how long a panel is in plan, in its pose [mm]."""
    if pose.startswith("tilted"):
        plan = shortest_plan(slab.side, slab.upright, _mm(sizes, "height"))
        return plan or slab.side
    return slab.upright if pose.startswith("on its side") else slab.side


def _corner(before: str, after: str) -> Callable[[_Slab, Mapping[str, str], str], Sketch]:
    def draw(slab: _Slab, sizes: Mapping[str, str], pose: str) -> Sketch:
        a, b = _mm(sizes, before), _mm(sizes, after)
        far = 1.35 * max(a, b, _level(slab, sizes, pose) if pose else 0.0)
        shapes: list[Shape] = [
            Path((_at(0, far), _at(0, 0), _at(far, 0)), "way", "heavy"),
            Path((_at(a, far), _at(a, b), _at(far, b)), "way", "heavy"),
        ]
        if pose:
            shapes.append(_round(slab, _level(slab, sizes, pose), (a, b)))
        dims = _across(sizes, before, _at(0, far), _at(a, far), 12)
        told = length_nm(sizes[after]) or 0, pair(sizes[after])[:1]
        dims.append(Dimension(_at(far, 0), _at(far, b), *told, "plumb", -10))
        return Sketch(tuple(shapes), tuple(dims), far, far)

    return draw


def _round(slab: _Slab, long: float, corridor: tuple[float, float]) -> Path:
    """Return a panel in plan at the turn where a corner leaves it the least room."""
    a, b = corridor
    worst = min(
        (radians(d) for d in range(3, 88)),
        key=lambda t: (a * sin(t) + b * cos(t) - slab.thick) / (sin(t) * cos(t)),
    )
    # Its outer edge leans from the one outer wall to the other; leftward of it lies the panel.
    return _turned(long * cos(worst), 0, slab.thick, long, pi - worst - pi / 2)


def _stairs(slab: _Slab, sizes: Mapping[str, str], pose: str) -> Sketch:
    head = _mm(sizes, "headroom")
    rise, going = _mm(sizes, "rise"), _mm(sizes, "going")
    side = pose.startswith("on its side")
    long, across = (slab.upright, slab.side) if side else (slab.side, slab.upright)
    turn = atan2(rise, going)
    foot = across * sin(turn) + going / 4
    count = max(STEPS, int((foot + long * cos(turn)) / going) + 1) if pose else STEPS
    walk = [_at(0, 0)]
    for i in range(count):
        walk += [_at(i * going, (i + 1) * rise), _at((i + 1) * going, (i + 1) * rise)]
    wide, tall = count * going, count * rise
    shapes: list[Shape] = [
        Path(tuple(walk), "way", "heavy"),
        stroke(_at(0, rise + head), _at(wide, tall + rise + head), "way", "heavy"),
    ]
    if pose:
        shapes.append(_turned(foot, rise * (1.2 + foot / going), long, across, turn))
    dims: list[Dimension] = []
    a, b = _at(0, rise), _at(0, rise + head)
    dims.append(Dimension(a, b, nm(head), pair(sizes["headroom"])[:1], "plumb", 0))
    return Sketch(tuple(shapes), tuple(dims), wide, tall + rise + head)


def _lift(slab: _Slab, sizes: Mapping[str, str], pose: str) -> Sketch:
    wide, deep = _mm(sizes, "width"), _mm(sizes, "depth")
    high = _mm(sizes, "height")
    if pose == "leaning over":
        walls = box(_at(0, 0), _at(max(wide, deep), high), "way", "heavy")
        turn = _lean(max(slab.side, slab.upright), slab.thick, high)
        foot = max(slab.side, slab.upright) * sin(turn) + slab.thick
        leaning = _turned(
            min(foot, max(wide, deep)), 0, slab.thick, max(slab.side, slab.upright), turn
        )
        return Sketch((walls, leaning), (), max(wide, deep), high)
    shapes: list[Shape] = [box(_at(0, 0), _at(wide, deep), "way", "heavy")]
    door = _mm(sizes, "door_width")
    shapes.append(stroke(_at((wide - door) / 2, 0), _at((wide + door) / 2, 0), "way", "dotted"))
    if pose:
        long = _level(slab, sizes, pose)
        turn = 0.0 if long <= deep else _lean(long, slab.thick, deep)
        shapes.append(
            _turned(min(wide, long * sin(turn) + slab.thick + 1), 0, slab.thick, long, turn)
        )
    dims = _across(sizes, "width", _at(0, 0), _at(wide, 0), -14)
    return Sketch(tuple(shapes), tuple(dims), wide, deep)


DRAWN: dict[str, Callable[[_Slab, Mapping[str, str], str], Sketch]] = {
    "doorway": _doorway,
    "corner": _corner("from", "to"),
    "stairs": _stairs,
    "stair_turn": _corner("flight", "landing"),
    "lift_car": _lift,
}

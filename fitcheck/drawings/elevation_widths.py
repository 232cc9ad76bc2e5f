"""How do the widths stand in a front elevation: as entered, in the other unit, as adjusted?"""

from fitcheck.drawings.adjusted import Adjusted
from fitcheck.drawings.captions import other_unit
from fitcheck.drawings.elevation_view import STRIP, ElevationView
from fitcheck.drawings.model import At, Dimension, Shape, nm
from fitcheck.drawings.outline import Width
from fitcheck.drawings.signs import LEADING, spread, stroke
from fitcheck.drawings.svg import SMALL, lines_of

STEP = SMALL * LEADING
RAIL = 17.0  # pt: what the head rail's own words take under it
COLUMN = 72.0  # pt: words beside a narrow opening
AWAY = STRIP + 26.0


def width_shapes(view: ElevationView, adjusted: Adjusted | None) -> list[Shape]:
    """Return every width as a dimension, from the head down; narrow openings have them beside."""
    widths = list(reversed(view.outline.widths))
    if not widths:
        return []
    return _beside(view, widths, adjusted) if view.narrow else _across(view, widths, adjusted)


def _across(view: ElevationView, widths: list[Width], adjusted: Adjusted | None) -> list[Shape]:
    shapes: list[Shape] = []
    rail = view.outline.rail_mm
    labels = [_label(w, adjusted) for w in widths]
    heights = [len(label) * STEP + 3 for label in labels]
    wanted = [view.floor - w.height_mm * view.scale for w in widths]
    top = view.top - 30
    if rail is not None:
        at = view.floor - rail * view.scale
        if abs(wanted[0] - at) < RAIL + heights[0] / 2:
            wanted[0] = at + RAIL / 2 + heights[0] / 2
            top = at + RAIL / 2
    wanted[-1] = min(wanted[-1], view.floor - heights[-1] / 2 - 2)
    tops = spread(wanted, heights, top)
    for width, label, up, high in zip(widths, labels, tops, heights, strict=True):
        middle = up + high / 2
        off = view.floor - middle - width.height_mm * view.scale
        a, b = view.wall_at("left", width.height_mm), view.wall_at("right", width.height_mm)
        shapes.append(Dimension(a, b, nm(width.width_mm), label, off=off))
    return shapes


def _beside(view: ElevationView, widths: list[Width], adjusted: Adjusted | None) -> list[Shape]:
    shapes: list[Shape] = []
    labels = [
        tuple(part for line in _label(w, adjusted) for part in lines_of(line, COLUMN))
        for w in widths
    ]
    heights = [len(label) * STEP + 5 for label in labels]
    wanted = [view.floor - w.height_mm * view.scale for w in widths]
    wanted[-1] = min(wanted[-1], view.floor + STRIP - heights[-1] / 2)
    tops = spread(wanted, heights, view.top - 40)
    for width, label, up in zip(widths, labels, tops, strict=True):
        a, b = view.wall_at("left", width.height_mm), view.wall_at("right", width.height_mm)
        words = At(view.base_nm, 0, AWAY, view.floor - up - 9)
        shapes.append(Dimension(a, b, nm(width.width_mm), label, "level", 0, words, "start"))
        shapes.append(stroke(b, words.moved(-3, 3), "dimensions", "fine"))
    return shapes


def _label(width: Width, adjusted: Adjusted | None) -> tuple[str, ...]:
    entered = ", ".join(dict.fromkeys(width.entered))
    others = ", ".join(dict.fromkeys(map(other_unit, width.entered)))
    lines = [f"at {width.height}: {entered}", others]
    found = adjusted.near(width.height_mm) if adjusted else None
    if found:
        lines.append(f"adjusted {' · '.join(found.label)}")
    return tuple(lines)

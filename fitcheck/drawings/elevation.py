"""What does the opening look like from the front, as read, with the kit drawn into it?"""

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from fitcheck.drawings import captions
from fitcheck.drawings.hatching import family_of, hatched
from fitcheck.drawings.measures import length_mm
from fitcheck.drawings.outline import Outline, Width, outline_of
from fitcheck.drawings.svg import (
    DASHED,
    DOTTED,
    FINE,
    HEAVY,
    INK,
    PAGE_WIDTH,
    SMALL,
    Point,
    arrow,
    circle,
    frame,
    line,
    paragraph,
    polygon,
    rect,
    text,
)

PLOT_LEFT, PLOT_WIDTH = 160.0, 190.0
PLOT_TOP, PLOT_HEIGHT = 56.0, 284.0
STRIP = 11.0  # width of the hatched strip that stands for a wall seen on edge
COLUMN = 118.0  # width of the words beside each wall
WRAPPED = 0.92  # of it is used, so that a wider face in somebody's browser still fits
LETTER_ROOM = 22.0  # a strip lower than this has its letter beside it
LABEL_GAP = 25.0  # a two-line dimension needs this much height


class View:
    """Turns heights and distances of the opening into points of the page."""

    def __init__(self, outline: Outline) -> None:
        """Choose one scale for both directions, and how much leans are enlarged."""
        self.outline = outline
        self.scale = min(PLOT_WIDTH / outline.base_mm, PLOT_HEIGHT / outline.top_mm)
        self.times = outline.exaggeration()
        self.left = PLOT_LEFT + (PLOT_WIDTH - outline.base_mm * self.scale) / 2
        self.right = self.left + outline.base_mm * self.scale
        self.floor = PLOT_TOP + outline.top_mm * self.scale

    def y(self, height_mm: float) -> float:
        """Return the page's y of a height above the sill."""
        return self.floor - height_mm * self.scale

    def walls(self, height_mm: float) -> tuple[float, float]:
        """Return the page's x of both walls at a height, leans enlarged."""
        left, right = self.outline.offsets(height_mm)
        enlarge = self.scale * self.times
        return self.left + left * enlarge, self.right - right * enlarge


def svg_elevation(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> str:
    """Return the front elevation: measured opening, kit, backing and surfaces, with dimensions."""
    outline = outline_of(inputs)
    view = View(outline)
    parts = [
        *_strips(view, inputs),
        *_opening(view),
        *_rail(view, inputs),
        *_panels(view, verdict_json),
        *_widths(view),
        *_backing(view, inputs),
        *_shower_head(view, inputs),
    ]
    below, height = _words(view, inputs)
    size = verdict_json.get("size")
    title = f"Front elevation{f', kit size {size}' if size else ''}"
    return frame(PAGE_WIDTH, height, title, captions.description(outline, inputs), parts + below)


def _opening(view: View) -> list[str]:
    stations = view.outline.stations()
    left: list[Point] = [(view.walls(h)[0], view.y(h)) for h in stations]
    right: list[Point] = [(view.walls(h)[1], view.y(h)) for h in stations]
    top = view.y(view.outline.top_mm) - 8
    plumb = [
        line((view.left, view.floor), (view.left, top), DOTTED),
        line((view.right, view.floor), (view.right, top), DOTTED),
    ]
    if not view.outline.widths:
        return [polygon([*left, *reversed(right)], DASHED), *_nothing_read(view)]
    faces = [line(a, b, HEAVY) for side in (left, right) for a, b in pairwise(side)]
    sill = line((view.left - STRIP - 8, view.floor), (view.right + STRIP + 8, view.floor), HEAVY)
    return [*plumb, polygon([*left, *reversed(right)], 'fill="#fff" stroke="none"'), *faces, sill]


def _nothing_read(view: View) -> list[str]:
    words = (
        "No width has been read yet. Read the widths at the sill, in the middle and near the head."
    )
    middle = (view.left + view.right) / 2
    lines, _ = paragraph(
        view.left + 12,
        view.y(view.outline.top_mm * 0.55),
        words,
        view.right - view.left - 24,
        bold=True,
    )
    return [
        circle(middle, view.y(view.outline.top_mm * 0.72), 13, FINE),
        text(middle, view.y(view.outline.top_mm * 0.72) + 6, "?", size=18, anchor="middle"),
        *lines,
    ]


def _strips(view: View, inputs: Mapping[str, Any]) -> list[str]:
    parts: list[str] = []
    for letter, zone in captions.lettered(inputs):
        surface = zone.get("surface")
        if surface in ("left_wall", "right_wall"):
            parts += _wall_strip(view, letter, zone, str(surface))
        elif surface == "sill":
            across = (view.left, view.right - view.left)
            parts.append(hatched(family_of(zone), across[0], view.floor, across[1], STRIP))
            parts += _letter(view.left - 10, view.floor + 9, letter)
    return parts


def _wall_strip(view: View, letter: str, zone: Mapping[str, Any], surface: str) -> list[str]:
    low = max(0.0, length_mm(zone.get("from_height")) or 0.0)
    high = min(length_mm(zone.get("to_height")) or view.outline.top_mm, view.outline.top_mm * 1.04)
    if high <= low:
        return []
    bulge = [view.walls(h) for h in view.outline.stations()]
    if surface == "left_wall":
        x = min(view.left, *(b[0] for b in bulge)) - STRIP - 3
    else:
        x = max(view.right, *(b[1] for b in bulge)) + 3
    y = view.y(high)
    box = hatched(family_of(zone), x, y, STRIP, view.y(low) - y)
    outwards = -1 if surface == "left_wall" else 1
    aside = 0 if view.y(low) - y > LETTER_ROOM else outwards * STRIP * 1.3
    return [box, *_letter(x + STRIP / 2 + aside, (y + view.y(low)) / 2, letter)]


def _letter(x: float, y: float, letter: str) -> list[str]:
    return [
        circle(x, y, 7, f'fill="#fff" stroke="{INK}" stroke-width="0.8"'),
        text(x, y + 3.2, letter, anchor="middle", bold=True),
    ]


def _rail(view: View, inputs: Mapping[str, Any]) -> list[str]:
    if view.outline.rail_mm is None:
        return []
    y = view.y(view.outline.rail_mm)
    left, right = view.walls(view.outline.rail_mm)
    height = str((inputs.get("sheet") or {}).get("rail_height"))
    return [
        rect(left, y - 3, right - left, 6, DASHED),
        text((left + right) / 2, y - 19, f"head rail at {height}", anchor="middle", bold=True),
        text((left + right) / 2, y - 8, captions.other_unit(height), anchor="middle"),
    ]


def _panels(view: View, verdict: Mapping[str, Any]) -> list[str]:
    panels = [p for p in verdict.get("panels") or [] if length_mm(p.get("width"))]
    parts: list[str] = []
    room = view.right - view.left
    taken = view.left  # labels stand clear of the panel before
    for place, panel in enumerate(panels):
        wide = min((length_mm(panel.get("width")) or 0.0) * view.scale, room)
        tall = (length_mm(panel.get("height")) or view.outline.top_mm) * view.scale
        share = place / (len(panels) - 1) if len(panels) > 1 else 0.0
        x, foot = view.left + share * (room - wide), view.floor - 4
        label = f"{panel.get('name')} {panel.get('width')} × {panel.get('height')}"
        at = max(x, taken) + 6
        taken = x + wide
        lines, after = paragraph(at, foot - 60, label, taken - at - 6)
        parts += [rect(x, foot - tall, wide, tall, DASHED), *lines]
        if panel.get("mass"):
            parts.append(text(at, after, panel["mass"], bold=True))
    return parts


def _widths(view: View) -> list[str]:
    parts: list[str] = []
    rail = view.outline.rail_mm
    ceiling = -1e9 if rail is None else view.y(rail)
    spots: list[tuple[float, Width]] = []
    for width in reversed(view.outline.widths):
        lowest = spots[-1][0] + LABEL_GAP if spots else ceiling + 17
        near = bool(spots) or abs(view.y(width.height_mm) - ceiling) < 17
        spots.append(
            (max(view.y(width.height_mm), lowest) if near else view.y(width.height_mm), width)
        )
    if spots and spots[-1][0] > view.floor - 14:  # the sill's own width stands above the sill
        spots[-1] = (view.floor - 14, spots[-1][1])
    for y, width in spots:
        left, right = view.walls(width.height_mm)
        middle = (left + right) / 2
        other = ", ".join(dict.fromkeys(map(captions.other_unit, width.entered)))
        over = f"at {width.height}: " + ", ".join(dict.fromkeys(width.entered))
        parts += [
            line((left, y), (right, y), FINE),
            arrow((left, y), -1),
            arrow((right, y), 1),
            text(middle, y - 2.5, over, anchor="middle", bold=True, halo=True),
            text(middle, y + 9, other, anchor="middle", halo=True),
        ]
    return parts


def _backing(view: View, inputs: Mapping[str, Any]) -> list[str]:
    parts: list[str] = []
    for reading in captions.of_quantity(inputs, "backing_centre"):
        height = length_mm(reading.get("height"))
        if height is None or height > view.outline.top_mm * 1.1:
            continue
        x = view.walls(height)[0 if reading.get("side") == "left" else 1]
        y = view.y(height)
        parts += [
            circle(x, y, 5, f'fill="#fff" stroke="{INK}" stroke-width="1.1"'),
            line((x - 8, y), (x + 8, y), FINE),
            line((x, y - 8), (x, y + 8), FINE),
        ]
    return parts


def _shower_head(view: View, inputs: Mapping[str, Any]) -> list[str]:
    side = (inputs.get("opening") or {}).get("shower_head_side")
    if side not in ("left", "right"):
        return []
    x, way = (view.left, 1) if side == "left" else (view.right, -1)
    y = 14.0
    pipe = line((x, y), (x + 16 * way, y), HEAVY)
    rose = polygon(
        [(x + 12 * way, y), (x + 22 * way, y), (x + 26 * way, y + 7), (x + 8 * way, y + 7)],
        f'fill="{INK}"',
    )
    anchor = "start" if side == "left" else "end"
    return [pipe, rose, text(x + 30 * way, y + 7, "shower head", anchor=anchor)]


def _words(view: View, inputs: Mapping[str, Any]) -> tuple[list[str], float]:
    parts: list[str] = []
    lowest = view.floor + STRIP + 8
    for side, x in (("left", 4.0), ("right", PAGE_WIDTH - COLUMN - 2)):
        y = PLOT_TOP - 8
        for heading, words in captions.wall(view.outline, inputs, side):
            lines, y = paragraph(x, y, heading, COLUMN * WRAPPED, bold=True)
            more, y = paragraph(x, y, words, COLUMN * WRAPPED)
            parts += [*lines, *more]
            y += 5
        lowest = max(lowest, y)
    y = lowest + 8
    for words in captions.foot(view.times, bool(view.outline.widths), inputs):
        lines, y = paragraph(4, y, words, PAGE_WIDTH - 8)
        parts += lines
        y += 2
    return parts, y + SMALL / 2

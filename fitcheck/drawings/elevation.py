"""What does the opening look like from the front: as read, as adjusted, with the kit drawn into it?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings import captions
from fitcheck.drawings.adjusted import Adjusted, adjusted_of
from fitcheck.drawings.elevation_kit import kit_shapes, panels_said
from fitcheck.drawings.elevation_view import STRIP, ElevationView
from fitcheck.drawings.elevation_widths import width_shapes
from fitcheck.drawings.hatching import family_of
from fitcheck.drawings.measures import length_mm, length_nm
from fitcheck.drawings.model import At, Circle, Drawing, Hatch, Path, Shape, Text, View, nm, page
from fitcheck.drawings.outline import outline_of
from fitcheck.drawings.signs import balloon, note, notes_down, shower_head, stroke, stud
from fitcheck.drawings.svg import PAGE_WIDTH, SMALL
from fitcheck.drawings.write_svg import svg_write

COLUMN = 118.0  # width of the words beside each wall
WRAPPED = 0.86  # of it is used, so that a wider face in somebody's browser still fits
MOST_HIGH, MOST_LOWER = 540.0, 30.0  # pt: what a page has under its headings; what may be saved
CROWDED = 24.0  # a column that reaches lower below the sill leaves the zones to the words below
LETTER_ROOM = 22.0  # a strip lower than this has its letter beside it


def svg_elevation(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> str:
    """Return the front elevation as SVG, leans enlarged as it says."""
    return svg_write(elevation(inputs, verdict_json))


def elevation(
    inputs: Mapping[str, Any], verdict_json: Mapping[str, Any], *, true: bool = False
) -> Drawing:
    """Return the opening from the front: walls as read and as adjusted, kit, studs, surfaces.

    `true` draws leans at their size, so that what is measured in a drawing program is right. An
    opening whose words take a little more than a page leaves is drawn a little lower.
    """
    drawn = _drawn(inputs, verdict_json, true)
    over = drawn.height - MOST_HIGH
    return _drawn(inputs, verdict_json, true, over) if 0 < over <= MOST_LOWER else drawn


def _drawn(
    inputs: Mapping[str, Any], verdict_json: Mapping[str, Any], true: bool, lower: float = 0.0
) -> Drawing:
    outline, adjusted = outline_of(inputs), adjusted_of(verdict_json)
    view = ElevationView.of(outline, true=true, lower=lower)
    shapes: list[Shape] = [
        *_strips(view, inputs),
        *_opening(view),
        *_adjusted(view, adjusted),
        *kit_shapes(view, inputs, verdict_json),
        *width_shapes(view, adjusted),
        *_backing(view, inputs),
        *_shower_head(view, inputs),
    ]
    words, height = _words(view, inputs, verdict_json, adjusted)
    size = verdict_json.get("size")
    title = f"Front elevation{f', kit size {size}' if size else ''}"
    views = (View(view.left, view.floor, view.scale, tuple(shapes)), View(0, 0, 1, tuple(words)))
    said = " ".join([captions.description(outline, inputs), *adjusted_said(adjusted)])
    return Drawing("elevation", title, said, PAGE_WIDTH, height, views, view.times == 1)


def _opening(view: ElevationView) -> list[Shape]:
    stations = view.outline.stations()
    left = tuple(view.wall_at("left", h) for h in stations)
    right = tuple(view.wall_at("right", h) for h in stations)
    top, wide = nm(view.outline.top_mm), view.base_nm
    plumb = [
        stroke(At(0, 0), At(0, top, 0, 8), "opening", "dotted"),
        stroke(At(wide, 0), At(wide, top, 0, 8), "opening", "dotted"),
    ]
    around = (*left, *reversed(right))
    if not view.outline.widths:
        return [Path(around, "unknown", "dashed", closed=True), *_nothing_read(view)]
    sill = (At(0, 0, -STRIP - 8), At(wide, 0, STRIP + 8))
    return [
        *plumb,
        Path(left, "opening", "heavy"),
        Path(right, "opening", "heavy"),
        Path(sill, "opening", "heavy"),
    ]


def _nothing_read(view: ElevationView) -> list[Shape]:
    words = (
        "No width has been read yet. Read the widths at the sill, in the middle and near the head."
    )
    wide, top = view.base_nm, view.outline.top_mm
    middle = At(wide // 2, nm(top * 0.72))
    lines, _ = note(At(0, nm(top * 0.55), 12), words, view.wide - 24, bold=True, layer="unknown")
    return [
        Circle(middle, "unknown", radius_pt=13, kind="fine"),
        Text(middle.moved(0, -6), "?", "unknown", size=18, anchor="middle"),
        *lines,
    ]


def _adjusted(view: ElevationView, adjusted: Adjusted | None) -> list[Shape]:
    """Draw the walls that all readings together give, as chain lines."""
    if adjusted is None or not view.outline.widths:
        return []
    left, right = [], []
    for width in adjusted.widths:
        into = adjusted.left_mm(width.height_mm)
        at = nm(width.height_mm)
        far = view.base_nm - nm(into) - width.width_nm
        left.append(At(nm(into) * view.times, at))
        right.append(At(view.base_nm - far * view.times, at))
    if len(left) < 2:
        return []
    return [Path(tuple(side), "adjusted", "chain") for side in (left, right)]


def adjusted_said(adjusted: Adjusted | None) -> list[str]:
    """Return the adjusted widths with their doubt, and whether the readings agree."""
    if adjusted is None:
        return []
    rows = [
        f"{' · '.join(w.label)} at {w.height}" + f" (u {w.uncertainty})" * bool(w.uncertainty)
        for w in adjusted.widths
    ]
    return [f"Adjusted from all readings: {'; '.join(rows)}. {adjusted.summary}"]


def _strips(view: ElevationView, inputs: Mapping[str, Any]) -> list[Shape]:
    shapes: list[Shape] = []
    sills = 0
    for letter, zone in captions.lettered(inputs):
        surface = zone.get("surface")
        if surface in ("left_wall", "right_wall"):
            shapes += _wall_strip(view, letter, zone, str(surface).removesuffix("_wall"))
        elif surface == "sill":
            shapes.append(Hatch(At(dy=-STRIP), At(view.base_nm), family_of(zone)))
            shapes += balloon(At(dx=-12 - 16 * sills, dy=-STRIP), letter)
            sills += 1
    return shapes


def _wall_strip(
    view: ElevationView, letter: str, zone: Mapping[str, Any], side: str
) -> list[Shape]:
    top = nm(view.outline.top_mm)
    low = max(0, length_nm(zone.get("from_height")) or 0)
    high = min(length_nm(zone.get("to_height")) or top, round(top * 1.04))
    if high <= low:
        return []
    way = -1 if side == "left" else 1
    x = view.bulge(side)
    ends = sorted((way * 3.0, way * (3.0 + STRIP)))
    box = Hatch(At(x, low, ends[0]), At(x, high, ends[1]), family_of(zone))
    tall = (high - low) / 1e6 * view.scale
    aside = 0 if tall > LETTER_ROOM else way * STRIP * 1.3
    return [box, *balloon(At(x, (low + high) // 2, way * (3 + STRIP / 2) + aside), letter)]


def _backing(view: ElevationView, inputs: Mapping[str, Any]) -> list[Shape]:
    shapes: list[Shape] = []
    for reading in captions.of_quantity(inputs, "backing_centre"):
        height = length_mm(reading.get("height"))
        if height is None or height > view.outline.top_mm * 1.1:
            continue
        side = "left" if reading.get("side") == "left" else "right"
        shapes += stud(view.wall_at(side, height))
    return shapes


def _shower_head(view: ElevationView, inputs: Mapping[str, Any]) -> list[Shape]:
    side = (inputs.get("opening") or {}).get("shower_head_side")
    if side not in ("left", "right"):
        return []
    x, way = (0, 1) if side == "left" else (view.base_nm, -1)
    return shower_head(At(x, 0, 0, view.floor - 14), way)


def _words(
    view: ElevationView,
    inputs: Mapping[str, Any],
    verdict_json: Mapping[str, Any],
    adjusted: Adjusted | None,
) -> tuple[list[Shape], float]:
    below = view.floor + STRIP + 12
    shapes, lowest = _columns(view, inputs, zones=True)
    crowded = not view.below and lowest > below + CROWDED
    if crowded:
        shapes, lowest = _columns(view, inputs, zones=False)
    lowest = max(lowest, below)
    measured, told = bool(view.outline.widths), adjusted is not None
    sayings = [
        *panels_said(inputs, verdict_json),
        *adjusted_said(adjusted),
        *([f"Not adjusted: {why}"] if (why := verdict_json.get("shape_why")) else []),
        *captions.foot(view.times, measured, inputs, told, walls=crowded),
    ]
    foot, down = notes_down(page(4, lowest + 8), sayings, PAGE_WIDTH - 8)
    return [*shapes, *foot], lowest + 8 + down + SMALL / 2


def _columns(
    view: ElevationView, inputs: Mapping[str, Any], *, zones: bool
) -> tuple[list[Shape], float]:
    """Write what is known of each wall in its column; returns how low the words reach [pt]."""
    shapes: list[Shape] = []
    first = view.floor + STRIP + 18 if view.below else view.top - 30
    lowest = first
    wide = PAGE_WIDTH / 2 - 12 if view.below else COLUMN * WRAPPED
    right = PAGE_WIDTH / 2 + 4 if view.below else PAGE_WIDTH - COLUMN - 2
    for side, x in (("left", 4.0), ("right", right)):
        y = first
        for heading, words in captions.wall(view.outline, inputs, side, zones=zones):
            for text, bold in ((heading, True), (words, False)):
                more, high = note(page(x, y), text, wide, bold=bold)
                shapes += more
                y += high
            y += 5
        lowest = max(lowest, y)
    return shapes, lowest

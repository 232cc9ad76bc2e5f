"""How is a drawing written as SVG, for the screen and for the packet?"""

from collections.abc import Iterator
from math import cos, hypot, radians, sin

from fitcheck.drawings.hatching import hatched
from fitcheck.drawings.model import (
    NM_PER_MM,
    Arc,
    Circle,
    Dimension,
    Drawing,
    Hatch,
    Kind,
    Path,
    Shape,
    Text,
    View,
)
from fitcheck.drawings.signs import LEADING, wide
from fitcheck.drawings.svg import (
    GREY,
    INK,
    SMALL,
    Point,
    frame,
    ground,
    line,
    number,
    polygon,
    text,
)
from fitcheck.drawings.svg import circle as ring

STROKES: dict[Kind, str] = {
    "heavy": f'stroke="{INK}" stroke-width="2.2"',
    "solid": f'stroke="{INK}" stroke-width="1.2"',
    "fine": f'stroke="{GREY}" stroke-width="0.6"',
    "dashed": f'stroke="{INK}" stroke-width="0.9" stroke-dasharray="6 3"',
    "dotted": f'stroke="{GREY}" stroke-width="0.7" stroke-dasharray="1 3"',
    "chain": f'stroke="{INK}" stroke-width="0.9" stroke-dasharray="9 2 2 2"',
}
FILLS = {"": "none", "paper": "#fff", "ink": INK}
HEADS = 14.0  # what two arrow heads take of a dimension line
FLAT = 1e-9


def svg_write(drawing: Drawing) -> str:
    """Return a drawing as one SVG with title and description, no text below nine points."""
    parts = [part for view, shape in drawing.shapes() for part in _written(view, shape)]
    return frame(drawing.width, drawing.height, drawing.title, drawing.desc, parts)


def _written(view: View, shape: Shape) -> Iterator[str]:
    match shape:
        case Path():
            yield _path(view, shape)
        case Circle():
            radius = shape.radius_pt or shape.radius_nm / NM_PER_MM * view.scale
            yield ring(*view.place(shape.centre), radius, _style(shape.kind, shape.fill))
        case Arc():
            yield _arc(view, shape)
        case Hatch():
            left, bottom = view.place(shape.low)
            right, top = view.place(shape.high)
            yield hatched(shape.family, left, top, right - left, bottom - top)
        case Text():
            yield _text(view, shape)
        case Dimension():
            yield from _dimension(view, shape)


def _style(kind: Kind, fill: str) -> str:
    return f'{STROKES[kind]} fill="{FILLS[fill]}"'


def _path(view: View, path: Path) -> str:
    points = [view.place(at) for at in path.points]
    if path.bulges:
        return _bent(points, path)
    if len(points) == 2:
        return line(points[0], points[1], _style(path.kind, ""))
    if path.closed:
        return polygon(points, _style(path.kind, path.fill))
    walk = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return f'<polyline points="{walk}" {_style(path.kind, path.fill)}/>'


def _bent(points: list[Point], path: Path) -> str:
    """Write a path whose strokes bend; a bulge of b over a chord c has the radius c(1+bb)/4b."""
    walk = [f"M {number(points[0][0])} {number(points[0][1])}"]
    ends = [*points[1:], points[0]] if path.closed else points[1:]
    for start, end, bulge in zip(points, ends, path.bulges, strict=False):
        to = f"{number(end[0])} {number(end[1])}"
        chord = hypot(end[0] - start[0], end[1] - start[1])
        if abs(bulge) < FLAT or chord == 0:
            walk.append(f"L {to}")
            continue
        radius = number(chord * (1 + bulge * bulge) / (4 * abs(bulge)))
        walk.append(f"A {radius} {radius} 0 {int(abs(bulge) > 1)} {int(bulge < 0)} {to}")
    return f'<path d="{" ".join(walk)}{" Z" * path.closed}" {_style(path.kind, path.fill)}/>'


def _arc(view: View, arc: Arc) -> str:
    radius = arc.radius_nm / NM_PER_MM * view.scale
    x, y = view.place(arc.centre)
    ends = [
        f"{number(x + radius * cos(radians(a)))} {number(y - radius * sin(radians(a)))}"
        for a in (arc.start, arc.end)
    ]
    far = 1 if (arc.end - arc.start) % 360 > 180 else 0
    walk = f"M {ends[0]} A {number(radius)} {number(radius)} 0 {far} 0 {ends[1]}"
    return f'<path d="{walk}" {_style(arc.kind, "")}/>'


def _text(view: View, shape: Text) -> str:
    x, y = view.place(shape.at)
    return text(
        x,
        y,
        shape.words,
        size=shape.size,
        anchor=shape.anchor,
        bold=shape.bold,
        halo=shape.halo,
    )


def dimension_line(view: View, dim: Dimension) -> tuple[Point, Point]:
    """Return both ends of a dimension's line on the paper [pt]."""
    (ax, ay), (bx, by) = view.place(dim.a), view.place(dim.b)
    if dim.along == "level":
        return (ax, ay - dim.off), (bx, ay - dim.off)
    if dim.along == "plumb":
        return (ax + dim.off, ay), (ax + dim.off, by)
    long = max(hypot(bx - ax, by - ay), 0.01)
    out = (dim.off * (by - ay) / long, -dim.off * (bx - ax) / long)
    return (ax + out[0], ay + out[1]), (bx + out[0], by + out[1])


def dimension_words(view: View, dim: Dimension) -> list[tuple[float, float, str, str]]:
    """Return each line of a dimension's label with its place and anchor on the paper [pt]."""
    start, end = dimension_line(view, dim)
    step, rows = SMALL * LEADING, len(dim.label)
    if dim.label_at is not None:
        x, y = view.place(dim.label_at)
        return [(x, y + i * step, words, dim.anchor) for i, words in enumerate(dim.label)]
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    first = y + 3 - (rows - 1) * step / 2
    if _has_room(dim, start, end):
        return [(x, first + i * step, words, "middle") for i, words in enumerate(dim.label)]
    if _lies(start, end):
        x = max(start[0], end[0]) + 9
    return [
        (x if _lies(start, end) else x + 5, first + i * step, words, "start")
        for i, words in enumerate(dim.label)
    ]


def _lies(start: Point, end: Point) -> bool:
    """Tell whether a dimension's line is nearer to level than to plumb."""
    return abs(end[0] - start[0]) >= abs(end[1] - start[1])


def _has_room(dim: Dimension, start: Point, end: Point) -> bool:
    if _lies(start, end):
        return abs(end[0] - start[0]) >= max(map(wide, dim.label)) + HEADS
    return abs(end[1] - start[1]) >= len(dim.label) * SMALL * LEADING + HEADS


def _dimension(view: View, dim: Dimension) -> Iterator[str]:
    start, end = dimension_line(view, dim)
    for at, tip in ((dim.a, start), (dim.b, end)):
        if (foot := view.place(at)) != tip:
            yield line(foot, tip, _style("fine", ""))
    yield line(start, end, _style("fine", ""))
    yield from _heads(dim, start, end)
    rows = dimension_words(view, dim)
    if dim.label_at is None:  # one ground for all lines, so that none is struck through
        longest = max(dim.label, key=len)
        yield from (ground(x, y, longest, SMALL, anchor) for x, y, _, anchor in rows)
    for i, (x, y, words, anchor) in enumerate(rows):
        yield text(x, y, words, anchor=anchor, bold=i == 0)


def _heads(dim: Dimension, start: Point, end: Point) -> Iterator[str]:
    for tip, other in ((start, end), (end, start)):
        dx, dy = tip[0] - other[0], tip[1] - other[1]
        long = max((dx * dx + dy * dy) ** 0.5, 0.01)
        ux, uy = dx / long, dy / long
        if long < HEADS:  # no room between: the heads stand outside and point in
            tail = (tip[0] + 10 * ux, tip[1] + 10 * uy)
            yield line(tip, tail, _style("fine", ""))
            ux, uy = -ux, -uy
        back = (tip[0] - 6 * ux, tip[1] - 6 * uy)
        yield polygon(
            [tip, (back[0] - 2 * uy, back[1] + 2 * ux), (back[0] + 2 * uy, back[1] - 2 * ux)],
            f'fill="{INK}"',
        )

"""What is one panel cut to size: outline, holes, notches, every dimension, mass?"""

from dataclasses import dataclass
from math import hypot, tan

from fitcheck.drawings.measures import nearest_text
from fitcheck.drawings.model import (
    NM_PER_MM,
    Along,
    Anchor,
    At,
    Circle,
    Dimension,
    Drawing,
    Path,
    Shape,
    Text,
    View,
    page,
)
from fitcheck.drawings.order import Order, Release
from fitcheck.drawings.pane_words import pane_said, pane_sayings
from fitcheck.drawings.signs import LEADING, balloon, notes_down, spread, stroke
from fitcheck.drawings.svg import PAGE_WIDTH, SMALL
from fitcheck.drawings.write_svg import svg_write
from fitcheck.rules.pane_geometry import Point, apart_nm
from fitcheck.rules.pane_outline import Notch, Pane
from fitcheck.rules.pane_taken import rounded_inside

LEFT, TOP, WIDE, TALL, MOST_TALL = 114.0, 76.0, 190.0, 320.0, 560.0
CHECK_TALL = 225.0  # on a crew's paper, so that a panel and its words go on one page
COLUMN, STEP, ROW = 404.0, SMALL * LEADING, 25.0
QUARTER = tan(3.141592653589793 / 8)  # the bulge of a quarter of a circle
DRAFT_SIZE = 15.0


def svg_pane(order: Order, index: int, release: Release, unit: str = "inch") -> str:
    """Return one panel of an order as SVG."""
    return svg_write(pane_drawing(order, index, release, unit))


def pane_drawing(order: Order, index: int, release: Release, unit: str = "inch") -> Drawing:
    """Return one panel to scale, its own left foot at the origin, seen from outside.

    `release` says in the drawing itself whether anybody has signed that it may be cut.
    """
    sheet = _Sheet(order, index, unit, CHECK_TALL if release.checks else TALL)
    shapes = [*sheet.outline(), *sheet.edges(), *sheet.ups(), *sheet.rights()]
    bottom = sheet.base + sheet.below
    words = pane_sayings(order, sheet.pane, release, unit)
    foot, down = notes_down(page(4, bottom + 12), words, PAGE_WIDTH - 8)
    views = (
        View(LEFT, sheet.base, sheet.scale, tuple(shapes)),
        View(0, 0, 1, (*_head(sheet.pane, release), *foot)),
    )
    title = f"Panel {sheet.pane.name}, cut to size"
    said = pane_said(order, sheet.pane, release, unit)
    name = f"panel-{index + 1}"
    return Drawing(name, title, said, PAGE_WIDTH, bottom + 12 + down, views, true_scale=True)


def _head(pane: Pane, release: Release) -> list[Shape]:
    title = Text(page(4, 16), f"Panel {pane.name}", size=13, bold=True)
    size = SMALL + 1 if release.signed_by else DRAFT_SIZE
    return [
        title,
        Text(page(4, 36), release.words, "draft", size=size, bold=True),
        Text(page(PAGE_WIDTH - 4, 16), f"{release.number} {release.about}".strip(), anchor="end"),
    ]


@dataclass(frozen=True, slots=True)
class _Item:
    """A distance from the panel's left foot to something in it."""

    value_nm: int
    at: Point
    word: str


class _Sheet:
    """One pane on the paper: its scale, and the stacks of its dimensions."""

    def __init__(self, order: Order, index: int, unit: str, least: float) -> None:
        self.order, self.pane, self.unit = order, order.panes[index], unit
        self.foot = self.pane.outline.left_foot
        self.up_items, self.right_items = self._items(up=True), self._items(up=False)
        places = [self.at(p) for p in self.pane.outline.corners]
        self.low = min(p.y for p in places)
        high, self.right = max(p.y for p in places), max(p.x for p in places)
        left = min(p.x for p in places)
        tall = max(least, min(ROW * (len(self.up_items) + 1), MOST_TALL))
        wide_mm, tall_mm = (self.right - left) / NM_PER_MM, (high - self.low) / NM_PER_MM
        self.scale = min(WIDE / wide_mm, tall / tall_mm)
        self.base = TOP + high / NM_PER_MM * self.scale
        self.drawn = self.right / NM_PER_MM * self.scale

    @property
    def below(self) -> float:
        """Return what the stack under the panel takes [pt]."""
        return 60 - self.low / NM_PER_MM * self.scale + ROW * len(self.right_items)

    def at(self, point: Point) -> At:
        """Return a corner by its distances from the panel's own left foot."""
        return At(point.x - self.foot.x, point.y - self.foot.y)

    def _items(self, *, up: bool) -> list[_Item]:
        found: dict[int, _Item] = {}
        for hole in self.pane.holes:
            value = hole.centre.y - self.foot.y if up else hole.centre.x - self.foot.x
            found.setdefault(value, _Item(value, hole.centre, hole.name))
        for notch in self.pane.notches:
            start, end = notch.corners[0], notch.corners[1]
            plumb = abs(end.y - start.y) > abs(end.x - start.x)
            for corner in (start, end) if plumb == up else ():
                value = corner.y - self.foot.y if up else corner.x - self.foot.x
                found.setdefault(value, _Item(value, corner, notch.name))
        return [found[value] for value in sorted(found) if value > 0]

    def label(self, nm_: int) -> tuple[str, ...]:
        """Return a length in both units."""
        return nearest_text(nm_, self.unit, self.order.house.mark)

    def outline(self) -> list[Shape]:
        """Draw the outline, holes with their numbers, notches with rounded inner corners."""
        corners = tuple(self.at(p) for p in self.pane.outline.corners)
        shapes: list[Shape] = [Path(corners, "glass", "heavy", closed=True)]
        number = 0
        for hole in self.pane.holes:
            number += 1
            at = self.at(hole.centre)
            shapes.append(Circle(at, "holes", radius_nm=hole.diameter_nm // 2))
            shapes += [
                stroke(at.moved(-5), at.moved(5), "words", "fine"),
                stroke(at.moved(0, -5), at.moved(0, 5), "words", "fine"),
                *balloon(at.moved(-12 if at.x > self.right / 2 else 12, 10), str(number)),
            ]
        for notch in self.pane.notches:
            number += 1
            shapes += self._notch(notch, str(number))
        return shapes

    def _notch(self, notch: Notch, number: str) -> list[Shape]:
        a, b, c, _ = notch.corners
        middle = At((a.x + c.x) // 2 - self.foot.x, (a.y + c.y) // 2 - self.foot.y)
        inward = (c.x - b.x, c.y - b.y)
        long = hypot(*inward) or 1.0
        shift = (inward[0] / long * 20, inward[1] / long * 20)
        depth = self.label(notch.depth_nm)
        beside, way = self._beside(notch, inward)
        return [
            notch_path(self.pane, notch),
            *balloon(middle.moved(*shift), number),
            Dimension(
                self.at(b), self.at(c), notch.depth_nm, depth, "aligned", 0, beside, way
            ),
        ]  # fmt: skip

    def _beside(self, notch: Notch, inward: tuple[int, int]) -> tuple[At, Anchor]:
        """Place the words of a notch's depth: over one in a side, to the right of one in foot or head."""
        places = [self.at(corner) for corner in notch.corners]
        if abs(inward[0]) > abs(inward[1]):
            over = max(places, key=lambda at: at.y)
            return (over.moved(8, 16), "start") if inward[0] > 0 else (over.moved(-8, 16), "end")
        right = max(places, key=lambda at: at.x)
        low = min(at.y for at in places)
        return At(right.x, low, 8, -12 if low > 0 else 24), "start"

    def edges(self) -> list[Shape]:
        """Draw the length of foot, head and left edge; the right one stands in the column."""
        quad = self.pane.outline
        shapes: list[Shape] = []
        for name, off in (("foot", -(self.below - 20)), ("head", -14.0), ("left", -14.0)):
            start, end = quad.edge(name)  # type: ignore[arg-type]
            long = apart_nm(start, end)
            a, b = self.at(start), self.at(end)
            label_at = None
            if name == "left":
                label_at = At(0, (a.y + b.y) // 2, min(0, a.x) / NM_PER_MM * self.scale - 20, 5)
            if name == "foot":
                off += self.low / NM_PER_MM * self.scale
            anchor = "end" if name == "left" else "middle"
            shapes.append(
                Dimension(a, b, long, self.label(long), "aligned", off, label_at, anchor)  # type: ignore[arg-type]
            )
        return shapes

    def ups(self) -> list[Shape]:
        """Draw every height over the left foot, and the right edge, labelled in one column."""
        quad = self.pane.outline
        edge = apart_nm(*quad.edge("right"))
        start, end = (self.at(p) for p in quad.edge("right"))
        rows: list[tuple[float, Dimension]] = []
        n = len(self.up_items) + 1
        apart = min(9.0, 84.0 / n)
        for i, item in enumerate(self.up_items):
            first, words = self.label(item.value_nm)
            a = At(self.right, 0)
            b = At(item.at.x - self.foot.x, item.value_nm)
            off = 12 + apart * i
            label = (f"up {first}", words)
            rows.append((item.value_nm, self._dim(a, b, item.value_nm, label, "plumb", off)))
        first, words = self.label(edge)
        off = -(12 + apart * (n - 1) + (self.right - start.x) / NM_PER_MM * self.scale)
        told = ("right edge", first, words)
        rows.append((end.y, self._dim(start, end, edge, told, "aligned", off)))
        rows.reverse()
        wanted = [self.base - value / NM_PER_MM * self.scale for value, _ in rows]
        heights = [len(dim.label) * STEP + 3 for _, dim in rows]
        tops = spread(wanted, heights, TOP - 14)
        shapes: list[Shape] = []
        for (value, dim), top in zip(rows, tops, strict=True):
            words_at = At(0, 0, COLUMN - LEFT, self.base - top - 9)
            line = self.drawn + 12 + apart * (n - 1 - len(shapes) // 2)
            from_ = At(0, round(value), line)
            shapes += [
                Dimension(
                    dim.a, dim.b, dim.value_nm, dim.label, dim.along, dim.off, words_at, "start"
                ),
                stroke(from_, words_at.moved(-3, -2), "dimensions", "fine"),
            ]
        return shapes

    def _dim(
        self, a: At, b: At, value: int, label: tuple[str, ...], along: Along, off: float
    ) -> Dimension:
        return Dimension(a, b, value, label, along, off)

    def rights(self) -> list[Shape]:
        """Draw every distance from the left foot to the right, one under the other."""
        shapes: list[Shape] = []
        low = self.low / NM_PER_MM * self.scale
        for i, item in enumerate(self.right_items):
            a = At(0, 0)
            b = At(item.value_nm, item.at.y - self.foot.y)
            off = low - 16 - ROW * i
            first, words = self.label(item.value_nm)
            shapes.append(Dimension(a, b, item.value_nm, (f"right {first}", words), "level", off))
        return shapes


def notch_path(pane: Pane, notch: Notch) -> Path:
    """Return a notch as one closed line from the panel's left foot, its inner corners rounded."""
    origin = pane.outline.left_foot
    a, b, c, d = notch.corners

    def place(point: Point) -> At:
        return At(point.x - origin.x, point.y - origin.y)

    def towards(start: Point, end: Point) -> At:
        long = hypot(end.x - start.x, end.y - start.y) or 1.0
        share = min(1.0, notch.radius_nm / long)
        return place(
            Point(
                round(start.x + (end.x - start.x) * share),
                round(start.y + (end.y - start.y) * share),
            )
        )

    if notch.radius_nm == 0:
        return Path(tuple(map(place, notch.corners)), "notches", closed=True)
    points, bulges = [place(a), place(b)], [0.0, 0.0]
    inner = ((b, c, d), (c, d, a))
    for (before, at, after), is_round in zip(inner, rounded_inside(pane, notch), strict=True):
        points += [towards(at, before), towards(at, after)] if is_round else [place(at)]
        bulges += [QUARTER, 0.0] if is_round else [0.0]
    return Path(tuple(points), "notches", closed=True, bulges=tuple(bulges))

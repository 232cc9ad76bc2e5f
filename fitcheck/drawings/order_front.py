"""How do panels cut to size stand in their opening, and which gap is which?"""

from collections.abc import Callable
from itertools import pairwise

from fitcheck.drawings.measures import nearest_text
from fitcheck.drawings.model import NM_PER_MM, At, Circle, Drawing, Path, Shape, Text, View, page
from fitcheck.drawings.order import Order, Release
from fitcheck.drawings.signs import balloon, notes_down, stroke
from fitcheck.drawings.svg import PAGE_WIDTH
from fitcheck.drawings.write_svg import svg_write
from fitcheck.rules.length import mm_text
from fitcheck.rules.pane_geometry import Point, apart_nm
from fitcheck.rules.pane_outline import EDGES, Pane
from fitcheck.rules.quantity import kg_text

LEFT, TOP, WIDE, TALL = 40.0, 60.0, 430.0, 300.0
DRAFT_SIZE = 15.0


def svg_order_front(order: Order, release: Release, unit: str = "inch") -> str:
    """Return the opening with the ordered panels in it as SVG."""
    return svg_write(order_front(order, release, unit))


def order_front(order: Order, release: Release, unit: str = "inch") -> Drawing:
    """Return the opening from outside with every panel in it and every gap by its name, to scale."""
    opening = order.asked.opening
    xs, ys = [p.x for p in opening.corners], [p.y for p in opening.corners]
    wide, tall = (max(xs) - min(xs)) / NM_PER_MM, (max(ys) - min(ys)) / NM_PER_MM
    scale = min(WIDE / wide, TALL / tall)
    origin = Point(min(xs), min(ys))
    x, base = LEFT + (WIDE - wide * scale) / 2, TOP + tall * scale

    def at(point: Point) -> At:
        return At(point.x - origin.x, point.y - origin.y)

    shapes: list[Shape] = [
        Path(tuple(at(p) for p in opening.corners), "opening", "heavy", closed=True)
    ]
    for index, pane in enumerate(order.panes):
        corners = tuple(at(p) for p in pane.outline.corners)
        shapes.append(Path(corners, "glass", "solid", closed=True))
        shapes += [Circle(at(h.centre), "holes", radius_nm=h.diameter_nm // 2) for h in pane.holes]
        shapes += [
            Path(tuple(at(c) for c in n.corners), "notches", "fine", closed=True)
            for n in pane.notches
        ]
        shapes += balloon(at(pane.centre()), str(index + 1))
    shapes += _gap_signs(order, at)
    words = _sayings(order, unit)
    foot, down = notes_down(page(4, base + 40), words, PAGE_WIDTH - 8)
    size = 10.0 if release.signed_by else DRAFT_SIZE
    head = Text(page(4, 18), release.words, "draft", size=size, bold=True)
    views = (View(x, base, scale, tuple(shapes)), View(0, 0, 1, (head, *foot)))
    said = " ".join([f"{release.words}.", *words])
    title = "Opening with the ordered panels"
    return Drawing("front", title, said, PAGE_WIDTH, base + 40 + down, views, true_scale=True)


def _gap_signs(order: Order, at: Callable[[Point], At]) -> list[Shape]:
    """Point at each gap with its letter; letters stand outside the opening, or over a joint."""
    quad = order.asked.opening
    shapes: list[Shape] = []
    left = _between(quad.left_foot, quad.left_head, 0.62)
    right = _between(quad.right_foot, quad.right_head, 0.62)
    foot = _between(quad.left_foot, quad.right_foot, 0.25)
    head = _between(quad.left_head, quad.right_head, 0.25)
    for letter, point, (dx, dy) in (
        ("A", left, (-20.0, 0.0)),
        ("B", right, (20.0, 0.0)),
        ("C", head, (0.0, 20.0)),
        ("D", foot, (0.0, -20.0)),
    ):
        shapes += _pointed(at(point), dx, dy, letter)
    for one, other in pairwise(order.panes):
        a, b = one.outline.right_head, other.outline.left_head
        joint = Point((a.x + b.x) // 2, (a.y + b.y) // 2)
        shapes += _pointed(at(joint), 0.0, 24.0, "E")
    return shapes


def _pointed(at: At, dx: float, dy: float, letter: str) -> list[Shape]:
    return [
        stroke(at, at.moved(dx * 0.6, dy * 0.6), "words", "fine"),
        *balloon(at.moved(dx, dy), letter),
    ]


def _between(a: Point, b: Point, share: float) -> Point:
    return Point(round(a.x + (b.x - a.x) * share), round(a.y + (b.y - a.y) * share))


def _sayings(order: Order, unit: str) -> list[str]:
    def told(nm: int) -> str:
        return " · ".join(nearest_text(nm, unit, order.house.mark))

    asked = order.asked
    gaps = [
        f"(A) left {told(asked.gaps.left)}",
        f"(B) right {told(asked.gaps.right)}",
        f"(C) head {told(asked.gaps.head)}"
        if asked.top_nm is None
        else f"(C) head: panels level at {told(asked.top_nm)}",
        f"(D) foot {told(asked.gaps.foot)}",
    ]
    if len(order.panes) > 1:
        gaps.append(f"(E) joints {told(asked.gaps.between)}")
    panes = "; ".join(f"{i + 1} {_pane(p)}" for i, p in enumerate(order.panes))
    edges = ", ".join(f"{name} {told(apart_nm(*asked.opening.edge(name)))}" for name in EDGES)
    return [
        f"Opening: {edges}; standard uncertainty {mm_text(asked.u_nm)}.",
        f"Gaps: {', '.join(gaps)}.",
        f"Panels: {panes}.",
        f"The rules say of the whole order: {order.state}.",
        "Seen from outside, facing in, to scale; leans are not enlarged.",
    ]


def _pane(pane: Pane) -> str:
    return f"{pane.name}, {kg_text(pane.mass_ug())}"

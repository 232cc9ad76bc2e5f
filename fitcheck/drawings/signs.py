"""Which small signs recur in every drawing, and how do words keep clear of each other?"""

from collections.abc import Sequence

from fitcheck.drawings.model import Anchor, At, Circle, Kind, Layer, Path, Shape, Text
from fitcheck.drawings.svg import MEAN_LETTER, SMALL, lines_of

LEADING = 1.22
WRAPPED = 0.9  # of a paragraph's width is used, so that a wider face still fits


def stroke(a: At, b: At, layer: Layer, kind: Kind = "solid") -> Path:
    """Return one straight stroke."""
    return Path((a, b), layer, kind)


def box(low: At, high: At, layer: Layer, kind: Kind = "solid") -> Path:
    """Return an upright box between two opposite corners."""
    corners = (
        low,
        At(high.x, low.y, high.dx, low.dy),
        high,
        At(low.x, high.y, low.dx, high.dy),
    )
    return Path(corners, layer, kind, closed=True)


def stud(at: At) -> list[Shape]:
    """Return the crossed circle that marks the centre of a stud or blocking."""
    return [
        Circle(at, "backing", radius_pt=5, fill="paper"),
        stroke(at.moved(-8), at.moved(8), "backing", "fine"),
        stroke(at.moved(0, -8), at.moved(0, 8), "backing", "fine"),
    ]


def hole(at: At, *, known: bool = True) -> list[Shape]:
    """Return the sign of a hole; dashed where nobody has said how far in it is."""
    if not known:
        return [Circle(at, "holes", radius_pt=5, kind="dashed", fill="paper")]
    rim = Circle(at, "holes", radius_pt=3.5, fill="paper")
    return [rim, Circle(at, "holes", radius_pt=0.8, fill="ink")]


def balloon(at: At, letter: str, layer: Layer = "words") -> list[Shape]:
    """Return a letter or number in a circle."""
    return [
        Circle(at, layer, radius_pt=7.5, kind="fine", fill="paper"),
        Text(at.moved(0, -3.2), letter, layer, anchor="middle", bold=True),
    ]


def head(tip: At, way: tuple[float, float], layer: Layer = "words", size: float = 6) -> Path:
    """Return a filled arrow head; `way` is the unit vector that it points along, right and up."""
    back, side = (-size * way[0], -size * way[1]), (-way[1] * size / 3, way[0] * size / 3)
    points = (
        tip,
        tip.moved(back[0] + side[0], back[1] + side[1]),
        tip.moved(back[0] - side[0], back[1] - side[1]),
    )
    return Path(points, layer, "fine", closed=True, fill="ink")


def arrow(start: At, end: At, way: tuple[float, float], layer: Layer = "words") -> list[Shape]:
    """Return a stroke with a head at its end."""
    return [stroke(start, end, layer), head(end, way, layer)]


def shower_head(at: At, way: int) -> list[Shape]:
    """Return the sign of the shower head; `way` is +1 when its wall is on the left."""
    rose = (at.moved(12 * way), at.moved(22 * way), at.moved(26 * way, -7), at.moved(8 * way, -7))
    anchor: Anchor = "start" if way > 0 else "end"
    return [
        stroke(at, at.moved(16 * way), "words", "heavy"),
        Path(rose, "words", closed=True, fill="ink"),
        Text(at.moved(30 * way, -7), "shower head", anchor=anchor),
    ]


def note(
    at: At,
    words: object,
    width: float,
    *,
    bold: bool = False,
    layer: Layer = "words",
    anchor: Anchor = "start",
) -> tuple[list[Shape], float]:
    """Return words wrapped to a width, downward from a place, and how far down they reach [pt]."""
    step = SMALL * LEADING
    lines = lines_of(words, width)
    shapes: list[Shape] = [
        Text(at.moved(0, -i * step), line, layer, bold=bold, anchor=anchor)
        for i, line in enumerate(lines)
    ]
    return shapes, len(lines) * step


def notes_down(at: At, sayings: Sequence[str], width: float) -> tuple[list[Shape], float]:
    """Return paragraphs one under the other, and how far down they reach [pt]."""
    shapes: list[Shape] = []
    down = 0.0
    for words in sayings:
        if words:
            more, high = note(at.moved(0, -down), words, width * WRAPPED)
            shapes += more
            down += high + 2
    return shapes, down


def spread(wanted: Sequence[float], heights: Sequence[float], top: float) -> list[float]:
    """Return places downward for labels that want to stand at heights, none over another [pt].

    Args:
        wanted: where the middle of each would stand, downward, rising [pt].
        heights: how high each is [pt].
        top: where the first may begin [pt].

    Returns:
        The upper edge of each, as near to what was wanted as pushing downward, then up, allows.
    """
    tops = [middle - high / 2 for middle, high in zip(wanted, heights, strict=True)]
    for _ in range(2):
        edge = top
        for i, high in enumerate(heights):
            tops[i] = max(tops[i], edge)
            edge = tops[i] + high
        if not tops:
            break
        lowest = max(wanted[-1] + heights[-1] / 2, top + sum(heights))
        for i in range(len(tops) - 1, -1, -1):
            tops[i] = min(tops[i], lowest - heights[i])
            lowest = tops[i]
    return tops


def wide(words: str, size: float = SMALL) -> float:
    """Return about how wide a line of words is [pt]."""
    return len(words) * size * MEAN_LETTER

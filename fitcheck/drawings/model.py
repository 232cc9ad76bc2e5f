"""What is a drawing made of, before anybody has chosen a paper or a file?

A place is true to the opening in whole nanometres, plus a shift in points of the paper for what
has no size in the bathroom: words, arrow heads, signs. One drawing is written as SVG for screen and
packet and as DXF for the fabricator.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

NM_PER_MM = 1_000_000
Kind = Literal["heavy", "solid", "fine", "dashed", "dotted", "chain"]
Along = Literal["level", "plumb", "aligned"]
Anchor = Literal["start", "middle", "end"]
Fill = Literal["", "paper", "ink"]
Layer = Literal[
    "opening",
    "adjusted",
    "kit",
    "glass",
    "holes",
    "notches",
    "backing",
    "surface",
    "limits",
    "way",
    "unknown",
    "dimensions",
    "words",
    "draft",
]
LAYERS: tuple[Layer, ...] = Layer.__args__  # type: ignore[attr-defined]


@dataclass(frozen=True, slots=True)
class At:
    """A place: right and up in the bathroom [nm], then right and up on the paper [pt]."""

    x: int = 0
    y: int = 0
    dx: float = 0.0
    dy: float = 0.0

    def moved(self, dx: float = 0.0, dy: float = 0.0) -> "At":
        """Return the place shifted on the paper [pt]."""
        return At(self.x, self.y, self.dx + dx, self.dy + dy)


def page(x: float, y: float) -> At:
    """Return a place by the paper's own points, from its top left corner, rightward and down."""
    return At(0, 0, x, -y)


@dataclass(frozen=True, slots=True)
class Path:
    """Strokes from place to place; a bulge bends the stroke that begins at its place.

    A bulge is the tangent of a quarter of the angle that the stroke turns leftward, none when
    every stroke is straight.
    """

    points: tuple[At, ...]
    layer: Layer
    kind: Kind = "solid"
    closed: bool = False
    fill: Fill = ""
    bulges: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle, leftward round from one angle to the other [degrees]."""

    centre: At
    radius_nm: int
    start: float
    end: float
    layer: Layer
    kind: Kind = "solid"


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle of a true radius, or a sign of a radius on the paper."""

    centre: At
    layer: Layer
    radius_nm: int = 0
    radius_pt: float = 0.0
    kind: Kind = "solid"
    fill: Fill = ""


@dataclass(frozen=True, slots=True)
class Hatch:
    """An upright box filled with the hatch that stands for a surface."""

    low: At
    high: At
    family: str
    layer: Layer = "surface"


@dataclass(frozen=True, slots=True)
class Text:
    """One line of words."""

    at: At
    words: str
    layer: Layer = "words"
    size: float = 9.0
    anchor: Anchor = "start"
    bold: bool = False
    halo: bool = False


@dataclass(frozen=True, slots=True)
class Dimension:
    """A measure between two places: the value is the data's, the label its words.

    The line runs `off` points beside the first place: above it when level, to its right when plumb,
    to the left of the way from a to b when aligned.
    The label stands on the line where it has room; else, or when `label_at` says so, beside it.
    """

    a: At
    b: At
    value_nm: int
    label: tuple[str, ...]
    along: Along = "level"
    off: float = 0.0
    label_at: At | None = None
    anchor: Anchor = "middle"
    layer: Layer = "dimensions"


Shape = Path | Arc | Circle | Hatch | Text | Dimension


@dataclass(frozen=True, slots=True)
class View:
    """Shapes at one scale [pt/mm], their origin at a place of the paper [pt from the top left]."""

    x: float
    y: float
    scale: float
    shapes: tuple[Shape, ...]

    def place(self, at: At) -> tuple[float, float]:
        """Return where a place lies on the paper [pt, rightward and down]."""
        return (
            self.x + at.x / NM_PER_MM * self.scale + at.dx,
            self.y - at.y / NM_PER_MM * self.scale - at.dy,
        )


@dataclass(frozen=True, slots=True)
class Drawing:
    """One picture: its name, what it says, and its views on a paper of a size [pt]."""

    name: str
    title: str
    desc: str
    width: float
    height: float
    views: tuple[View, ...]
    true_scale: bool = False

    def shapes(self) -> Iterator[tuple[View, Shape]]:
        """Yield every shape with the view that it belongs to."""
        for view in self.views:
            for shape in view.shapes:
                yield view, shape


def nm(mm: float) -> int:
    """Return a coordinate in whole nanometres [nm]."""
    return round(mm * NM_PER_MM)

"""How are drawings written for the fabricator: DXF in millimetres, one layer per meaning?

The library is imported late: a web process never loads it.
"""

from collections.abc import Sequence
from io import StringIO
from typing import TYPE_CHECKING, Any

from fitcheck.drawings.model import (
    NM_PER_MM,
    Arc,
    At,
    Circle,
    Dimension,
    Drawing,
    Hatch,
    Kind,
    Layer,
    Path,
    Shape,
    Text,
    View,
)
from fitcheck.drawings.signs import LEADING, wide
from fitcheck.drawings.svg import SMALL
from fitcheck.drawings.write_svg import dimension_words

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

# Layer by meaning: its name in the file, its colour number (7 is black or white), its line.
LAYERS: dict[Layer, tuple[str, int, str]] = {
    "opening": ("OPENING", 7, "CONTINUOUS"),
    "adjusted": ("OPENING_ADJUSTED", 7, "DASHDOT"),
    "kit": ("KIT", 8, "DASHED"),
    "glass": ("PANEL_OUTLINE", 7, "CONTINUOUS"),
    "holes": ("HOLES", 1, "CONTINUOUS"),
    "notches": ("NOTCHES", 3, "CONTINUOUS"),
    "backing": ("BACKING", 8, "CONTINUOUS"),
    "surface": ("SURFACES", 8, "CONTINUOUS"),
    "limits": ("LIMITS", 8, "CONTINUOUS"),
    "way": ("WAY_IN", 8, "CONTINUOUS"),
    "unknown": ("UNKNOWN", 8, "DASHED"),
    "dimensions": ("DIMENSIONS", 4, "CONTINUOUS"),
    "words": ("WORDS", 8, "CONTINUOUS"),
    "draft": ("DRAFT_STATE", 1, "CONTINUOUS"),
}
LINES: dict[Kind, str] = {"dashed": "DASHED", "dotted": "DOT", "chain": "DASHDOT"}
PATTERNS = {
    "tile": "NET",
    "stone": "AR-CONC",
    "moulded_hollow": "ANSI31",
    "moulded_solid": "ANSI31",
    "board": "DOTS",
    "masonry": "BRICK",
}
STYLE = "LABEL"
MILLIMETRES = 4
NEW_LINE = "\\P"
APART = 200  # mm between two drawings in one file


def dxf_write(drawings: Sequence[Drawing]) -> bytes:
    """Return drawings side by side in one DXF file, the same bytes for the same drawings.

    Every dimension measures the geometry; its text override says both units.

    Raises:
        ValueError: a drawing is not to scale, so that what is measured in it would be wrong.
    """
    from ezdxf import options  # type: ignore[attr-defined]
    from ezdxf.filemanagement import new

    kept, options.write_fixed_meta_data_for_testing = (
        options.write_fixed_meta_data_for_testing,
        True,
    )
    try:
        document = new("R2010", setup=["linetypes"], units=MILLIMETRES)
        _prepare(document)
        space, right = document.modelspace(), 0.0
        for drawing in drawings:
            right += _Writer(space, drawing, right).write()
        out = StringIO(newline="\n")
        document.write(out)
    finally:
        options.write_fixed_meta_data_for_testing = kept
    return out.getvalue().encode(document.output_encoding, errors="dxfreplace")


def _prepare(document: "Document") -> None:
    document.header["$INSUNITS"] = MILLIMETRES
    document.header["$MEASUREMENT"] = 1
    document.header["$LUNITS"] = 2
    for name, colour, line in LAYERS.values():
        document.layers.add(name, color=colour, linetype=line)
    document.styles.add(STYLE, font="DejaVuSans.ttf")


def plain(words: str) -> str:
    """Return words as the file's text shows them: its control codes and line breaks disarmed."""
    kept = "".join(c if c >= " " else " " for c in words)
    return kept.replace("%%", "% %").replace("^", "^ ")


class _Writer:
    """One drawing in the file: the first view's origin at `right`, words at the size they print."""

    def __init__(self, space: "Modelspace", drawing: Drawing, right: float) -> None:
        if not drawing.true_scale:
            raise ValueError(f"{drawing.name} is not to scale")
        self.space, self.drawing = space, drawing
        self.main = drawing.views[0]
        self.right = right

    def write(self) -> float:
        """Write every shape; returns how far to the right the next drawing begins [mm]."""
        for view, shape in self.drawing.shapes():
            self._shape(view, shape)
        return float(round(self.drawing.width / self.main.scale)) + APART

    @property
    def point(self) -> float:
        """Return what a point of the paper measures in the drawing [mm]."""
        return 1 / self.main.scale

    def place(self, view: View, at: At) -> tuple[float, float]:
        """Return a place in the file: true millimetres, words shifted as on the paper [mm]."""
        if view is self.main:
            return (
                self.right + at.x / NM_PER_MM + at.dx * self.point,
                at.y / NM_PER_MM + at.dy * self.point,
            )
        return self.paper(*view.place(at))

    def paper(self, x: float, y: float) -> tuple[float, float]:
        """Return where a point of the paper lies in the file [mm]."""
        return self.right + (x - self.main.x) * self.point, (self.main.y - y) * self.point

    def _shape(self, view: View, shape: Shape) -> None:
        match shape:
            case Path():
                self._path(view, shape)
            case Circle():
                radius = shape.radius_nm / NM_PER_MM or shape.radius_pt * self.point
                self.space.add_circle(self.place(view, shape.centre), radius, self._as(shape))
            case Arc():
                centre, radius = self.place(view, shape.centre), shape.radius_nm / NM_PER_MM
                self.space.add_arc(
                    centre, radius, shape.start, shape.end, dxfattribs=self._as(shape)
                )
            case Hatch():
                self._hatch(view, shape)
            case Text():
                self._text(
                    self.place(view, shape.at), shape.words, shape.size, shape.anchor, shape.layer
                )
            case Dimension():
                self._dimension(view, shape)

    def _as(self, shape: Path | Circle | Arc) -> dict[str, Any]:
        line = {"linetype": LINES[shape.kind]} if shape.kind in LINES else {}
        return {"layer": LAYERS[shape.layer][0], **line}

    def _path(self, view: View, path: Path) -> None:
        points = [self.place(view, at) for at in path.points]
        bulges = path.bulges or (0.0,) * len(points)
        if path.fill == "ink":
            hatch = self.space.add_hatch(color=7, dxfattribs={"layer": LAYERS[path.layer][0]})
            hatch.paths.add_polyline_path(points, is_closed=True)
            return
        self.space.add_lwpolyline(
            [(x, y, bulge) for (x, y), bulge in zip(points, bulges, strict=True)],
            format="xyb",
            close=path.closed,
            dxfattribs=self._as(path),
        )

    def _hatch(self, view: View, shape: Hatch) -> None:
        (left, low), (right, high) = self.place(view, shape.low), self.place(view, shape.high)
        corners = [(left, low), (right, low), (right, high), (left, high)]
        layer = {"layer": LAYERS[shape.layer][0]}
        self.space.add_lwpolyline(corners, close=True, dxfattribs=layer)
        if pattern := PATTERNS.get(shape.family):
            hatch = self.space.add_hatch(color=8, dxfattribs=layer)
            hatch.set_pattern_fill(pattern, scale=4 * self.point)
            hatch.paths.add_polyline_path(corners, is_closed=True)

    def _text(
        self, place: tuple[float, float], words: str, size: float, anchor: str, layer: Layer
    ) -> None:
        from ezdxf.enums import TextEntityAlignment

        align = {
            "start": TextEntityAlignment.LEFT,
            "middle": TextEntityAlignment.CENTER,
            "end": TextEntityAlignment.RIGHT,
        }[anchor]
        text = self.space.add_text(
            plain(words),
            height=size * 0.7 * self.point,
            dxfattribs={"layer": LAYERS[layer][0], "style": STYLE},
        )
        text.set_placement(place, align=align)

    def _dimension(self, view: View, dim: Dimension) -> None:
        a, b = self.place(view, dim.a), self.place(view, dim.b)
        off = dim.off * self.point
        kwargs: dict[str, Any] = {
            "text": NEW_LINE.join(dim.label) or "<>",
            "override": self._style(dim),
            "dxfattribs": {"layer": LAYERS[dim.layer][0]},
        }
        if dim.along == "aligned":
            made = self.space.add_aligned_dim(a, b, off, **kwargs)
        elif dim.along == "level":
            made = self.space.add_linear_dim((a[0], a[1] + off), a, b, angle=0, **kwargs)
        else:
            made = self.space.add_linear_dim((a[0] + off, a[1]), a, b, angle=90, **kwargs)
        made.set_location(self._middle(view, dim), leader=False)
        made.render()

    def _middle(self, view: View, dim: Dimension) -> tuple[float, float]:
        """Return where the middle of a dimension's words stands: beside it, or over its line."""
        x, y, _, anchor = dimension_words(view, dim)[0]
        high = len(dim.label) * SMALL * LEADING
        half = max(map(wide, dim.label)) / 2 * {"start": 1, "middle": 0, "end": -1}[anchor]
        middle = y - 6 + high / 2
        if dim.label_at is None and anchor == "middle":
            middle -= high / 2 + 2
        return self.paper(x + half, middle)

    def _style(self, dim: Dimension) -> dict[str, Any]:
        """Return sizes of text and arrows as they print, and millimetres to a thousandth."""
        return {
            "dimtxt": 6.3 * self.point,
            "dimasz": 5 * self.point,
            "dimexo": 2 * self.point,
            "dimexe": 2 * self.point,
            "dimgap": 2 * self.point,
            "dimtad": 1,
            "dimtih": 1,
            "dimtoh": 1,
            "dimlfac": 1.0,
            "dimlunit": 2,
            "dimdec": 3,
            "dimzin": 8,
            "dimdsep": ord("."),
            "dimtxsty": STYLE,
            "dimtmove": 2,
        }

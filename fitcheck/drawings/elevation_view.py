"""At which scale and where on the paper does a front elevation stand?"""

from dataclasses import dataclass
from typing import Literal

from fitcheck.drawings.model import At, nm
from fitcheck.drawings.outline import Outline

STRIP = 11.0  # width of the hatched strip that stands for a wall seen on edge
BESIDE = (160.0, 190.0)  # pt: left edge and room, with words beside the walls
BELOW = (40.0, 430.0)  # pt: the same, with words below a wide opening
LEFTWARD = 136.0  # pt: left edge of a narrow opening, whose widths are told at its right
TOP, TALL = 56.0, 272.0
WIDE_FROM, NARROW_TO = 1.15, 165.0  # width over height; drawn width [pt]
Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class ElevationView:
    """Turns heights and distances of the opening into places of a drawing."""

    outline: Outline
    left: float
    scale: float
    times: int
    below: bool
    narrow: bool
    top: float = TOP

    @classmethod
    def of(cls, outline: Outline, *, true: bool = False, lower: float = 0.0) -> "ElevationView":
        """Choose one scale for both directions, `lower` than could be [pt], and how leans are enlarged."""
        below = outline.base_mm > WIDE_FROM * outline.top_mm
        left, room = BELOW if below else BESIDE
        scale = min(room / outline.base_mm, TALL / outline.top_mm) - lower / outline.top_mm
        drawn = outline.base_mm * scale
        narrow = not below and drawn < NARROW_TO and bool(outline.widths)
        x = LEFTWARD if narrow else left + (room - drawn) / 2
        return cls(outline, x, scale, 1 if true else outline.exaggeration(), below, narrow)

    @property
    def wide(self) -> float:
        """Return how wide the sill is drawn [pt]."""
        return self.outline.base_mm * self.scale

    @property
    def floor(self) -> float:
        """Return where the sill lies, downward on the paper [pt]."""
        return self.top + self.outline.top_mm * self.scale

    @property
    def base_nm(self) -> int:
        """Return the width at the sill [nm]."""
        return nm(self.outline.base_mm)

    def wall_at(self, side: str, height_mm: float) -> At:
        """Return a place on a wall at a height, its lean enlarged."""
        left, right = self.outline.offsets(height_mm)
        if side == "left":
            return At(nm(left * self.times), nm(height_mm))
        return At(self.base_nm - nm(right * self.times), nm(height_mm))

    def bulge(self, side: str) -> int:
        """Return the outermost that a wall is drawn [nm]."""
        places = [self.wall_at(side, h).x for h in self.outline.stations()]
        return min(0, *places) if side == "left" else max(self.base_nm, *places)

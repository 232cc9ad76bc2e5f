"""What does a sheet say of glass made to measure: gaps, height of its top, panels, holes, notches?

Widths come from the opening that was read; only what the maker settles stands here.
"""

from dataclasses import dataclass
from typing import Literal

from fitcheck.rules.length import Length
from fitcheck.rules.pane_outline import EdgeName

MadeSide = Literal["left", "right", "handle"]
MADE_SIDES: tuple[MadeSide, ...] = ("left", "right", "handle")


@dataclass(frozen=True, slots=True)
class MadeHole:
    """A hole by the distances of its centre from a side, or from the handle's, and from foot or head."""

    name: str
    side: MadeSide
    across: Length
    level: EdgeName
    up: Length
    diameter: Length


@dataclass(frozen=True, slots=True)
class MadeNotch:
    """A notch along an edge; `start` is from where the edge begins, going leftward round."""

    name: str
    edge: EdgeName
    start: Length
    length: Length
    depth: Length
    radius: Length


@dataclass(frozen=True, slots=True)
class MadePanel:
    """One panel; without a width it shares what the others leave."""

    name: str
    width: Length | None
    least: Length | None
    most: Length | None
    holes: tuple[MadeHole, ...]
    notches: tuple[MadeNotch, ...]
    hardware: str
    hardware_ug: int
    order: int
    handing: str
    handle: str
    page: str


@dataclass(frozen=True, slots=True)
class MadeGaps:
    """The gaps round and between panels, each by its name."""

    left: Length
    right: Length
    head: Length
    foot: Length
    between: Length


@dataclass(frozen=True, slots=True, eq=False)
class MadeGlass:
    """Panels from left to right; `top` is over the sill's left end, None when they follow the head.

    Where channels hide some of a taper the panels are cut square, else the panels are tapered.
    """

    thickness: Length
    gaps: MadeGaps
    top: Length | None
    channel_hides: Length | None
    panels: tuple[MadePanel, ...]
    page: str

    @property
    def height_nm(self) -> int | None:
        """Return how high the panels are between their gaps, None when they follow the head [nm]."""
        return self.top.nm - self.gaps.head.nm - self.gaps.foot.nm if self.top else None

    @property
    def by_the_shower_head(self) -> tuple[MadePanel, ...]:
        """Return the panels with holes that go by the side of the shower head."""
        return tuple(
            panel
            for panel in self.panels
            if panel.handle in ("shower_head", "opposite")
            and any(hole.side == "handle" for hole in panel.holes)
        )

"""What may a sheet say besides: brackets, rail, glazing, sliding clearances, sealant, which walls?

Every part is optional. What a sheet leaves out is not judged and never guessed.
"""

from dataclasses import dataclass
from decimal import Decimal

from fitcheck.rules.cure import CureRow
from fitcheck.rules.length import Length
from fitcheck.rules.pane_edition import EditionName
from fitcheck.rules.rail_beam import Section

BEARS = ("load", "rail", "hinge")
HANDLES = ("shower_head", "opposite", "left", "right", "none")
WALLS = ("left", "right")


@dataclass(frozen=True, slots=True, eq=False)
class HingeRule:
    """Which panel hangs on the hinges, how far apart they are, and how far off its edge."""

    panel: str
    centres: Length
    offset: Length


@dataclass(frozen=True, slots=True, eq=False)
class BracketRule:
    """How a bracket or hinge leaf sits on the wall, and what it bears.

    `setback` is how far the middle of its screws lies from the sill's outer edge.
    """

    reach: Length
    screw_height: Length
    top_row: int
    thickness: Length
    metal: str
    setback: Length | None
    bears: str
    hinge: HingeRule | None


@dataclass(frozen=True, slots=True, eq=False)
class RailRule:
    """The head rail: section, alloy, weight, and how the panels that hang on it roll.

    `hangs` names those panels; every panel of the size hangs there when it is empty.
    """

    section: Section
    alloy: str
    mass_ug: int
    roller_spacing: Length
    clear_below: Length | None
    hangs: tuple[str, ...]
    page: str


@dataclass(frozen=True, slots=True)
class GlazingRule:
    """What the panes belong to, and which edition their maker names."""

    product: str
    edition: EditionName
    page: str


@dataclass(frozen=True, slots=True)
class SlidingRule:
    """How far the two tracks are apart, and the least that shut panels overlap."""

    tracks_apart: Length
    overlap_least: Length | None
    page: str


@dataclass(frozen=True, slots=True)
class SealantProduct:
    """The sealant in the box or named by the sheet, and the air its cure is told for."""

    title: str
    edition: str
    cartridge_um3: int
    waste_percent: Decimal
    rows: tuple[CureRow, ...]
    celsius: Decimal
    humidity: Decimal
    page: str

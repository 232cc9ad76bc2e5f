"""What may a sheet say besides: brackets, anchors, rail, glazing, sliding clearances, sealant, walls?

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

    `setback` is how far the middle of its screws lies from the sill's outer edge, `spacing` how near two
    of its holes are to each other at least, `screw_width` how far its outer upright row of screws lies from
    the edge that the leaf turns about when the door pulls along the wall.
    """

    reach: Length
    screw_height: Length
    top_row: int
    thickness: Length
    metal: str
    setback: Length | None
    bears: str
    hinge: HingeRule | None
    spacing: Length | None = None
    screw_width: Length | None = None


@dataclass(frozen=True, slots=True, eq=False)
class ReportRule:
    """An anchor's evaluation report: its number, edition and page."""

    number: str
    edition: str
    page: str


@dataclass(frozen=True, slots=True, eq=False)
class AnchorRule:
    """What the evaluation report of one anchor allows in one kind of masonry, as the office copied it.

    `length` is the anchor's own; `embedment`, `edge`, `spacing` and `head_joint` are the least at which
    `tension_lbf` and `shear_lbf` are allowed, `stack_most` the most that may lie between bracket and masonry.
    """

    anchor: str
    report: ReportRule
    base: str
    grouted: bool
    holds_for: str
    diameter: Length
    bit: Length
    length: Length
    embedment: Length
    edge: Length
    spacing: Length
    head_joint: Length | None
    stack_most: Length
    tension_lbf: float
    shear_lbf: float
    together: str
    page: str


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

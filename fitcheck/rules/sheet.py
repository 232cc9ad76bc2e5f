"""What does a kit's own instruction sheet demand, rule by rule and page by page?

A sheet and its rules equal nothing but themselves: what is worded or worked out of one is kept by it.
"""

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from fitcheck.rules.length import Length
from fitcheck.rules.sheet_made import MadeGlass
from fitcheck.rules.sheet_more import (
    WALLS,
    AnchorRule,
    BracketRule,
    GlazingRule,
    RailRule,
    SealantProduct,
    SlidingRule,
)
from fitcheck.rules.sources import Source

AT_THE_SILL = Length(0, "0 in")


@dataclass(frozen=True, slots=True)
class SheetDocument:
    """The sheet itself: its title and edition, so that a finding can name it."""

    title: str
    edition: str
    language: str


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """The least and most width that a size fits, at one height."""

    height: Length
    least: Length
    most: Length


@dataclass(frozen=True, slots=True, eq=False)
class Size:
    """One size of the kit; `panels` is empty when every panel of the sheet belongs to it."""

    code: str
    windows: tuple[Window, ...]
    panels: tuple[str, ...]
    page: str


@dataclass(frozen=True, slots=True, eq=False)
class Most:
    """A greatest value allowed."""

    most: Length
    page: str


@dataclass(frozen=True, slots=True, eq=False)
class Least:
    """A smallest value allowed."""

    least: Length
    page: str


@dataclass(frozen=True, slots=True, eq=False)
class Between:
    """A smallest and a greatest value allowed."""

    least: Length
    most: Length
    page: str


@dataclass(frozen=True, slots=True, eq=False)
class LeanRule:
    """How far a wall may be out of plumb over a height."""

    most: Length
    over: Length
    page: str


@dataclass(frozen=True, slots=True, eq=False)
class CurbRule:
    """How deep and how flat the curb or deck must be."""

    depth_least: Length | None
    flat_least: Length | None
    page: str


@dataclass(frozen=True, slots=True, eq=False)
class BackingRule:
    """How far behind the sill's outer edge the stud or blocking must lie."""

    place: str
    sides: tuple[str, ...]
    height: Length
    setback_least: Length
    setback_most: Length | None
    page: str


@dataclass(frozen=True, slots=True)
class SubstrateRule:
    """Which build-ups may hold a fixing."""

    finishes: tuple[str, ...]
    structures: tuple[str, ...]
    fit: tuple[str, ...]
    page: str


@dataclass(frozen=True, slots=True, eq=False)
class CutRule:
    """How long a part is to be cut; `sizes` is empty when it holds for every size."""

    part: str
    measured: str
    height: Length
    deduct: Length
    stock: Length
    least: Length | None
    most: Length | None
    end: str
    count: int
    allowance: Length | None
    sizes: tuple[str, ...]
    page: str
    brackets_take: Length | None = None
    kerf: Length | None = None


@dataclass(frozen=True, slots=True)
class Screw:
    """A wood screw by its number and length."""

    size: str
    length: Length


@dataclass(frozen=True, slots=True, eq=False)
class FixingRule:
    """Where holes go, what they must reach and what the box holds for them; equals no other."""

    place: str
    surfaces: tuple[str, ...]
    heights: tuple[Length, ...]
    count: int
    must_reach: str
    load_n: Decimal | None
    screw: Screw | None
    through_membrane: bool
    page: str
    bracket: BracketRule | None = None

    @property
    def carries(self) -> bool:
        """Return whether it carries load, and so must reach wood."""
        return self.must_reach == "backing" or self.load_n is not None

    def carries_by(self, rules: int) -> bool:
        """Return whether it carries load by a version of the rules: from 5 on every bracket does."""
        return self.carries or (rules >= 5 and self.bracket is not None)


@dataclass(frozen=True, slots=True)
class PanelRule:
    """One pane: its size, thickness, hardware and place in the order of hanging."""

    name: str
    width: Length
    height: Length
    thickness: Length
    hardware_ug: int
    order: int
    handing: str
    sizes: tuple[str, ...]
    page: str
    handle: str = "none"


@dataclass(frozen=True, slots=True)
class SealantRule:
    """One run of sealant."""

    run: str
    along: str
    side: str
    bead: Length
    page: str


@dataclass(frozen=True, slots=True)
class Amount:
    """A whole number that the sheet names: hands, hours, days or years."""

    amount: int
    text: str
    page: str


@dataclass(frozen=True, slots=True)
class Step:
    """A line of the sheet about the order of work."""

    text: str
    page: str


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """A whole rule sheet; a sheet is itself and equals no other, so that answers are kept by it."""

    document: SheetDocument
    kind: str
    stands_on: tuple[str, ...]
    page: str
    unit: str
    sizes: tuple[Size, ...]
    rail_height: Length | None
    rail_height_page: str
    width_difference: Most | None
    lean: LeanRule | None
    level: Most | None
    sill_fall: Between | None
    ceiling_height: Least | None
    surround_height: Least | None
    curb: CurbRule | None
    backing: tuple[BackingRule, ...]
    substrates: SubstrateRule | None
    cuts: tuple[CutRule, ...]
    fixings: tuple[FixingRule, ...]
    panels: tuple[PanelRule, ...]
    sealant: tuple[SealantRule, ...]
    hands: Amount | None
    cure: Amount | None
    warranty: Amount | None
    claim: Amount | None
    steps: tuple[Step, ...]
    walls: tuple[str, ...] = WALLS
    rail: RailRule | None = None
    glazing: GlazingRule | None = None
    sliding: SlidingRule | None = None
    sealant_product: SealantProduct | None = None
    made_glass: MadeGlass | None = None
    anchors: tuple[AnchorRule, ...] = ()

    def source(self, page: str) -> Source:
        """Return the source of a rule on this page of the sheet."""
        return _page(self.document.title, self.document.edition, page)

    def size(self, code: str) -> Size | None:
        """Return the size with this code, if the sheet has it."""
        return next((size for size in self.sizes if size.code == code), None)

    def heights(self, size: Size | None) -> tuple[Length, ...]:
        """Return every height at which the sheet cares for a width, each once, from the sill up."""
        return _heights(self, size)


@lru_cache(maxsize=256)
def _heights(sheet: Sheet, size: Size | None) -> tuple[Length, ...]:
    chosen = (size,) if size else sheet.sizes
    named = [window.height for each in chosen for window in each.windows]
    named += [cut.height for cut in sheet.cuts if applies(cut.sizes, size)]
    named += [sheet.rail_height] if sheet.rail_height else []
    if sheet.made_glass:
        named += [AT_THE_SILL, *([sheet.made_glass.top] if sheet.made_glass.top else [])]
    by_nm = {height.nm: height for height in reversed(named)}
    return tuple(by_nm[nm] for nm in sorted(by_nm))


@lru_cache(maxsize=1024)
def _page(title: str, edition: str, page: str) -> Source:
    return Source(title, edition, "kit sheet", page=page)


def applies(sizes: tuple[str, ...], size: Size | None) -> bool:
    """Return whether a rule that names sizes, or none, holds for this size."""
    return not sizes or size is None or size.code in sizes

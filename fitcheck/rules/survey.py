"""What was read in the bathroom, by whom, with what, and what are the walls made of?"""

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Literal

from fitcheck.rules import RULES_VERSION, tables
from fitcheck.rules.length import Length, length_parse
from fitcheck.rules.strict import MOST_CHILDREN, MOST_ITEMS, Strict
from fitcheck.rules.tables_fixings import FACE_SHELL, WOOD_GRAVITY

Side = Literal["left", "right", "none"]
Surface = Literal["left_wall", "right_wall", "back_wall", "sill", "ceiling"]
StandsOn = Literal["curb", "tub_deck"]

ENCLOSURES = ("alcove", "corner", "angled", "fixed_screen")
STANDS_ON: tuple[StandsOn, ...] = ("curb", "tub_deck")
SHOWER_HEAD_SIDES = ("left", "right", "unknown")
SIDES: tuple[Side, ...] = ("left", "right", "none")
SURFACES: tuple[Surface, ...] = ("left_wall", "right_wall", "back_wall", "sill", "ceiling")
TOOLS = ("tape", "laser", "level", "square", "other")
ACCURACY_CLASSES = ("I", "II", "III", "h44", "none")
FINISHES = (
    "glazed_ceramic",
    "porcelain",
    "natural_stone",
    "glass_tile",
    "acrylic",
    "fibreglass",
    "solid_surface",
    "painted_board",
    "masonry",
    "bare",
    "unknown",
)
BACKINGS = ("cement_board", "glass_mat_board", "gypsum_board", "plywood", "none", "unknown")
FITS = ("solid", "hollow", "unknown")
STRUCTURES = (
    "wood_stud",
    "steel_stud",
    "blocking",
    "block",
    "brick",
    "concrete",
    "none",
    "unknown",
)
MEMBRANES = ("yes", "no", "unknown")
GROUTED = ("yes", "no", "unknown")
SPECIES = (*WOOD_GRAVITY.value, "unknown")
QUANTITIES = (
    "width",
    "lean",
    "sill_level",
    "sill_fall",
    "ceiling_height",
    "surround_height",
    "diagonal",
    "curb_depth",
    "curb_flat",
    "backing_centre",
    "between_brackets",
    "masonry_edge",
    "head_joint",
)
SIGNED = {"lean", "sill_level", "sill_fall"}
OF_MASONRY = {"masonry_edge", "head_joint"}
SIDED = {"lean", "ceiling_height", "surround_height", "diagonal", "backing_centre", *OF_MASONRY}
AT_A_HEIGHT = {"width", "backing_centre", "between_brackets", *OF_MASONRY}
LIFT_CONVENTIONS = ("iso_11228_1", "hse_l23")
MARKS = (16, 32)
PROTECTED_ZONE = length_parse(tables.PROTECTED_ZONE.value)


@dataclass(frozen=True, slots=True)
class Tool:
    """What a reading was taken with."""

    kind: str
    accuracy_class: str
    graduation: Length
    hook: bool


@dataclass(frozen=True, slots=True)
class Reading:
    """One quantity, at one place, by one tool and person, at one time."""

    id: str
    quantity: str
    side: str
    height: Length | None
    over: Length | None
    value: Length
    tool: Tool
    read_by: str
    taken_at: str


@dataclass(frozen=True, slots=True, eq=False)
class Zone:
    """A part of a wall or sill with one build-up; a zone equals nothing but itself."""

    id: str
    surface: str
    from_height: Length
    to_height: Length
    finish: str
    finish_thickness: Length | None
    backing: str
    backing_thickness: Length | None
    fit: str
    structure: str
    membrane: str
    species: str = "unknown"
    mils: str = ""
    grouted: str = "unknown"
    unit: Length | None = None

    @property
    def build_up(self) -> tuple[object, ...]:
        """Return what the zone is made of, wherever it is."""
        thicknesses = (self.finish_thickness, self.backing_thickness, self.unit)
        layers = (self.finish, self.backing, self.fit, self.structure, self.membrane)
        named = (self.species, self.mils, self.grouted)
        return (*layers, *named, *(each.nm if each else None for each in thicknesses))

    def covers(self, height: Length) -> bool:
        """Return whether the zone holds a point at this height on its surface."""
        return self.from_height.nm <= height.nm <= self.to_height.nm


@dataclass(frozen=True, slots=True)
class Opening:
    """The hole in the bathroom that will hold one enclosure."""

    enclosure: str
    stands_on: str
    shower_head_side: str
    year_built: int | None


@dataclass(frozen=True, slots=True, eq=False)
class House:
    """What the firm has settled for itself, and by which version of the rules it is answered.

    The same settings are read as the same house. A rule that a later version says otherwise asks
    `rules`, so that a kept verdict is worked out again as it was.
    """

    mark: int
    safe_reach: Length
    guard_factor: Decimal
    agreement_factor: Decimal
    lift_convention: str
    rules: int = int(RULES_VERSION)


@dataclass(frozen=True, slots=True)
class Survey:
    """Everything known about one opening."""

    opening: Opening
    readings: tuple[Reading, ...]
    zones: tuple[Zone, ...]


_OPENING = ("enclosure", "stands_on", "shower_head_side", "year_built")
_READING = (
    "id",
    "quantity",
    "side",
    "height",
    "over",
    "value",
    "tool",
    "read_by",
    "taken_at",
)
_TOOL = ("kind", "accuracy_class", "graduation", "hook")
_ZONE = (
    "id",
    "surface",
    "from_height",
    "to_height",
    "finish",
    "finish_thickness",
    "backing",
    "backing_thickness",
    "fit",
    "structure",
    "membrane",
    "species",
    "mils",
    "grouted",
    "unit",
)
_HOUSE = ("mark", "safe_reach", "guard_factor", "agreement_factor", "lift_convention")


def survey_read(inputs: Strict, read: Survey | None = None) -> Survey:
    """Read opening, readings and zones out of the inputs; mistakes are noted on `inputs`.

    Args:
        inputs: the opened inputs [-].
        read: rows of the inputs that were read before, to save reading them again [-].

    Returns:
        The survey; only to be used when no mistake was noted [-].
    """
    opening = _opening(inputs.child("opening", _OPENING))
    known = {one.id: one for one in read.readings} if read else {}
    areas = {one.id: one for one in read.zones} if read else {}
    readings = tuple(
        known.get(_id_of(row)) or _reading(inputs.row("readings", n, row, _READING))
        for n, row in enumerate(inputs.items("readings", most=MOST_ITEMS))
    )
    zones = tuple(
        areas.get(_id_of(row)) or _zone(inputs.row("zones", n, row, _ZONE))
        for n, row in enumerate(inputs.items("zones", most=MOST_CHILDREN))
    )
    _refuse_twins(inputs, "readings", [r.id for r in readings])
    _refuse_twins(inputs, "zones", [z.id for z in zones])
    return Survey(opening, readings, zones)


def _id_of(row: object) -> str:
    return str(row.get("id")) if isinstance(row, dict) else ""


def house_read(inputs: Strict) -> House:
    """Read the firm's settings, with their defaults, out of the inputs.

    Args:
        inputs: the opened inputs [-].

    Returns:
        The settings [-].
    """
    own = inputs.child("house", _HOUSE) if inputs.has("house") else Strict({})
    mark = own.integer("mark", 16, 32) if own.has("mark") else tables.MARK.value
    if mark not in MARKS:
        own.refuse("mark", "not_a_choice", "mark is 16 or 32.")
    reach = own.length("safe_reach") if own.has("safe_reach") else PROTECTED_ZONE
    return _house(
        mark,
        reach,
        str(own.number("guard_factor", "0", "5", tables.GUARD_FACTOR.value)),
        str(own.number("agreement_factor", "1", "5", tables.AGREEMENT_FACTOR.value)),
        own.choice("lift_convention", LIFT_CONVENTIONS, "iso_11228_1"),
    )


@lru_cache(maxsize=256)
def _house(
    mark: int, reach: Length, guard_factor: str, agreement_factor: str, convention: str
) -> House:
    return House(mark, reach, Decimal(guard_factor), Decimal(agreement_factor), convention)


def _refuse_twins(inputs: Strict, name: str, ids: list[str]) -> None:
    if len(set(ids)) == len(ids):
        return
    seen: set[str] = set()
    for index, one in enumerate(ids):
        if one and one in seen:
            inputs.refuse(f"{name}", "id_twice", f"{name}/{index}: the id {one} is used twice.")
        seen.add(one)


def _opening(own: Strict) -> Opening:
    year = own.integer("year_built", 1600, 2200) if own.has("year_built") else None
    return Opening(
        own.choice("enclosure", ENCLOSURES),
        own.choice("stands_on", STANDS_ON),
        own.choice("shower_head_side", SHOWER_HEAD_SIDES, "unknown"),
        year,
    )


def _reading(own: Strict) -> Reading:
    quantity = own.choice("quantity", QUANTITIES)
    side = own.choice("side", SIDES, "none")
    if quantity in SIDED and side == "none":
        own.refuse("side", "side_needed", f"{quantity} is read on the left or on the right.")
    if quantity in AT_A_HEIGHT and not own.has("height"):
        own.refuse("height", "height_needed", f"{quantity} is read at a height; say which.")
    if quantity == "lean" and not own.has("over"):
        own.refuse("over", "over_needed", "lean is read over a height; say over how much.")
    return Reading(
        own.text("id"),
        quantity,
        side,
        own.length_or_none("height", zero=True),
        own.length_or_none("over"),
        own.length("value", signed=quantity in SIGNED),
        _tool(own.child("tool", _TOOL)),
        own.text("read_by", "-"),
        own.text("taken_at", "-"),
    )


def _tool(own: Strict) -> Tool:
    return Tool(
        own.choice("kind", TOOLS),
        own.choice("accuracy_class", ACCURACY_CLASSES, "none"),
        own.length("graduation"),
        own.flag("hook", default=False),
    )


def _zone(own: Strict) -> Zone:
    zone = Zone(
        own.text("id"),
        own.choice("surface", SURFACES),
        own.length("from_height", zero=True),
        own.length("to_height", zero=True),
        own.choice("finish", FINISHES),
        own.length_or_none("finish_thickness", zero=True),
        own.choice("backing", BACKINGS, "unknown"),
        own.length_or_none("backing_thickness", zero=True),
        own.choice("fit", FITS, "unknown"),
        own.choice("structure", STRUCTURES, "unknown"),
        own.choice("membrane", MEMBRANES, "unknown"),
        own.choice("species", SPECIES, "unknown"),
        own.text("mils", "-") if own.has("mils") else "",
        own.choice("grouted", GROUTED, "unknown"),
        own.length_or_none("unit"),
    )
    if zone.unit and zone.unit.nm < min(FACE_SHELL.value):
        own.refuse("unit", "length_out_of_range", "No block is made this thin.")
    if zone.to_height.nm < zone.from_height.nm:
        own.refuse("to_height", "upside_down", "to_height is above from_height.")
    return zone

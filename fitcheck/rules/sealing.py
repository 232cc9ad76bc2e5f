"""How much sealant does a job take, does the joint bear its movement, and when is it dry?"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Literal
from zoneinfo import ZoneInfo

from fitcheck.rules.cure import (
    Conditions,
    CureRow,
    FirstShower,
    Window,
    first_shower,
    longest_window,
    product_hours,
)
from fitcheck.rules.finding import State
from fitcheck.rules.joints import (
    cartridges,
    class_limits,
    depth_suits,
    fillet_volume_um3,
    greatest_expansion,
    joint_depth,
    joint_width_nm,
    movement_nm,
    rectangular_volume_um3,
    volume_parse,
)
from fitcheck.rules.length import Direction, computed
from fitcheck.rules.site_time import moment_parse, zone_parse
from fitcheck.rules.sources import Source, Status
from fitcheck.rules.sources_site import site_source
from fitcheck.rules.strict import InputError, Strict
from fitcheck.rules.tables_sealing import (
    CARTRIDGE,
    EXPANSION_OF_FIR,
    EXPANSION_READ,
    EXPANSION_REMEMBERED,
    JOINT_CLASS_PERCENT,
    MOST_CURE_HOURS,
    MOST_DEPTH,
    UM3_PER_ML,
    WASTE_PERCENT,
)

Shape = Literal["fillet", "joint"]
_RUN = ("run", "shape", "length", "width", "depth")
_JOINT = ("width", "length", "kelvin", "material", "against", "class", "other", "tolerance")
_CURE = ("sheet", "product", "depth", "celsius", "humidity", "finished_at", "time_zone")
_PRODUCT = ("title", "edition", "page", "rows")
_ROW = ("least_celsius", "least_humidity", "mm_per_root_day", "hours", "up_to")
FILLET: tuple[str, Status, str] = ("fillet", "derived", "half of leg x leg x length")
JOINT: tuple[str, Status, str] = ("c1193", "published", "joint geometry")
NO_DEPTH = "Say how deep the deepest bead is: the product's data sheet goes by the depth."
MATERIALS = (*EXPANSION_READ.value, *EXPANSION_OF_FIR.value, *EXPANSION_REMEMBERED.value)


@dataclass(frozen=True, slots=True)
class Run:
    """One run of sealant: a fillet with two legs, or a joint with width and depth."""

    name: str
    shape: Shape
    length_nm: int
    width_nm: int
    depth_nm: int | None

    @property
    def volume_um3(self) -> int | None:
        """Return the volume with no waste, None for a joint too narrow to seal [um3]."""
        if self.depth_nm is None:
            return None
        fill = fillet_volume_um3 if self.shape == "fillet" else rectangular_volume_um3
        return fill(self.width_nm, self.depth_nm, self.length_nm)

    @property
    def state(self) -> State:
        """Return "fails" for a joint too narrow, or sealed too deep or too shallow [-]."""
        if self.shape == "fillet":
            return "fits"
        return "fits" if depth_suits(self.width_nm, self.depth_nm or 0) else "fails"

    def as_json(self) -> dict[str, object]:
        """Return the run as plain JSON."""
        volume = self.volume_um3
        named = FILLET if self.shape == "fillet" else JOINT
        return {
            "run": self.name,
            "shape": self.shape,
            "length": computed(self.length_nm, "up"),
            "width": computed(self.width_nm, "down"),
            "depth": None if self.depth_nm is None else depth_told(self.depth_nm),
            "volume": None if volume is None else millilitre_text(volume),
            "state": self.state,
            "do": self._do(),
            "source": site_source(*named).as_json(),
        }

    def _do(self) -> str:
        if self.state == "fits":
            return f"Run it along {self.name}."
        suits = joint_depth(self.width_nm)
        if suits is None:
            return "Widen it to 6 mm (1/4 in) or more, or seal it with a fillet."
        depth = depth_told(suits.least_nm)
        return (
            f"Make the sealant {depth['mm']} ({depth['inch']}) deep, half of its joint's width: put a "
            "backer behind it. Never under 6 mm or over 13 mm."
        )


@dataclass(frozen=True, slots=True)
class Joint:
    """A joint that moves: what it needs and what it is."""

    width_nm: int
    needed_nm: int
    moved_nm: int
    movement_class: str

    @property
    def state(self) -> State:
        """Return "fits" when the joint is as wide as its movement asks [-]."""
        return "fits" if self.width_nm >= self.needed_nm else "fails"

    def as_json(self) -> dict[str, object]:
        """Return the joint as plain JSON."""
        limits = class_limits(self.width_nm, self.movement_class)
        needed = computed(self.needed_nm, "up")
        way: Direction = "up" if self.state == "fits" else "down"
        return {
            "movement": computed(self.moved_nm, "up"),
            "width": computed(self.width_nm, way),
            "width_needed": needed,
            "may_close_to": computed(limits.least_nm, "up"),
            "may_open_to": computed(limits.most_nm, "down"),
            "state": self.state,
            "do": "Seal it: the joint bears its movement."
            if self.state == "fits"
            else f"Make the joint {needed['mm']} ({needed['inch']}) wide, or take a sealant of a "
            "higher class.",
            "source": site_source(
                "c1472", "published", "W = (100/S)(alpha L dT + M) + t"
            ).as_json(),
        }


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer how much sealant, whether the joint bears its movement, and when it is dry.

    Source: `cartridges`, `joint_width_nm`, `product_hours`, `first_shower`.

    Args:
        inputs: runs, cartridge, waste_percent, joint, cure [-].

    Returns:
        Runs with volumes, cartridges, the joint, the cure window and the first shower [-].

    Raises:
        InputErrors: the inputs are malformed; one entry per mistake.
    """
    errors: list[InputError] = []
    own = Strict.open(inputs, ("runs", "cartridge", "waste_percent", "joint", "cure"), "", errors)
    runs = [_run(one) for one in own.children("runs", _RUN)]
    cartridge = cartridge_read(own)
    waste = own.number("waste_percent", "0", "200", WASTE_PERCENT.value)
    joint = own.optional("joint", _JOINT, _joint)
    cure = own.optional("cure", _CURE, lambda one: _cure(one, _deepest(one, runs)))
    if not any(own.members.get(name) for name in ("runs", "joint", "cure")):
        own.refuse("runs", "missing", "Say what is sealed, which joint moves, or what cures.")
    own.finish()
    volume = _total(runs)
    return {
        "runs": [run.as_json() for run in runs],
        "volume": None if volume is None else millilitre_text(volume),
        "cartridges": None if volume is None else cartridges(volume, cartridge, waste),
        "waste_percent": f"{waste.normalize():f}",
        "joint": joint.as_json() if joint else None,
        "cure": cure,
        "cautions": [
            "The product's own data sheet and the kit's sheet outrank these figures; air the room "
            "while it cures and keep it off the skin.",
        ],
    }


def _total(runs: list[Run]) -> int | None:
    """Return what all runs take together, None while one of them has no volume [um3]."""
    volumes = [run.volume_um3 for run in runs]
    known = [volume for volume in volumes if volume is not None]
    return sum(known) if len(known) == len(volumes) else None


def depth_told(depth_nm: int) -> dict[str, str]:
    """Give out a depth of sealant, rounded so that it stays within its least and its most.

    Args:
        depth_nm: the depth [nm].

    Returns:
        The length in mm and in inches [-].
    """
    return computed(depth_nm, "down" if depth_nm >= MOST_DEPTH.value else "up")


def millilitre_text(volume_um3: int) -> str:
    """Print a volume in millilitres, rounded up to a tenth.

    Args:
        volume_um3: the volume [um3].

    Returns:
        A text such as "48.2 mL" [mL].
    """
    tenths = -(-volume_um3 * 10 // UM3_PER_ML.value)
    return f"{tenths // 10}.{tenths % 10} mL"


def _run(run: Strict) -> Run:
    shapes: tuple[Shape, ...] = ("fillet", "joint")
    shape = run.choice("shape", shapes, "fillet")
    width = run.length("width").nm
    depth = run.length_or_none("depth")
    depth_nm: int | None = depth.nm if depth else width
    if depth is None and shape == "joint":
        suits = joint_depth(width)
        depth_nm = suits.least_nm if suits else None
    return Run(run.text("run"), shape, run.length("length").nm, width, depth_nm)


def cartridge_read(own: Strict) -> int:
    """Read the content of a cartridge; the usual one when nothing is said.

    Args:
        own: the opened object [-].

    Returns:
        The content [um3].
    """
    try:
        return volume_parse(own.members.get("cartridge") or CARTRIDGE.value)
    except ValueError as error:
        own.refuse("cartridge", "volume_not_understood", str(error), 'write "300 mL"')
        return UM3_PER_ML.value


def _joint(joint: Strict) -> Joint:
    material = joint.choice("material", MATERIALS)
    against = joint.choice("against", MATERIALS) if joint.has("against") else None
    alpha = greatest_expansion(material, against)
    other = joint.length_or_none("other", zero=True)
    tolerance = joint.length_or_none("tolerance", zero=True)
    kelvin = Fraction(said(joint, "kelvin", "0", "200"))
    moved = movement_nm(alpha, joint.length("length").nm, kelvin)
    movement_class = joint.choice("class", tuple(JOINT_CLASS_PERCENT.value))
    needed = joint_width_nm(
        moved, movement_class, other.nm if other else 0, tolerance.nm if tolerance else 0
    )
    return Joint(joint.length("width").nm, needed, moved, movement_class)


def _deepest(cure: Strict, runs: list[Run]) -> int | None:
    """Return the deepest bead that is told, None where none is, or one of them has no depth [nm]."""
    told = cure.length_or_none("depth")
    depths = [run.depth_nm for run in runs]
    if told is not None:
        return max(told.nm, *(depth or 0 for depth in depths), 0)
    known = [depth for depth in depths if depth is not None]
    return max(known) if known and len(known) == len(depths) else None


def _cure(cure: Strict, depth_nm: int | None) -> dict[str, object]:
    windows = [*_sheet_window(cure), *_product_window(cure, depth_nm)]
    window = longest_window(windows)
    zone, finished, remark = _moment(cure)
    shower: FirstShower | None = None
    spoken = not cure.has("product") or any(each.because.startswith("product") for each in windows)
    if window and spoken and zone and finished:
        shower = first_shower(finished, window.hours, zone)
    known = window is not None and spoken
    return {
        "state": "fits" if known else "unknown",
        "window": window.as_json() if window else None,
        "first_shower": shower.as_json() if shower else None,
        "remarks": [remark] if remark else [],
        "do": shower.words
        if shower
        else "Tell the customer the window, counted from the last bead."
        if known
        else NO_DEPTH
        if depth_nm is None and cure.has("product")
        else "Ask the maker of the sealant: nothing at hand speaks of this depth in this air.",
    }


def _sheet_window(cure: Strict) -> list[Window]:
    sheet = cure.optional("sheet", ("title", "edition", "page", "hours"), lambda one: one)
    if sheet is None:
        return []
    hours = Decimal(sheet.integer("hours", 0, 1000))
    title, page = sheet.text("title"), sheet.text("page")
    source = Source(title, sheet.text("edition"), "kit sheet", page=page)
    return [Window(hours, "kit sheet", source)]


def _product_window(cure: Strict, depth_nm: int | None) -> list[Window]:
    product = cure.optional("product", _PRODUCT, lambda one: one)
    if product is None:
        return []
    air = Conditions(said(cure, "celsius", "-20", "50"), said(cure, "humidity", "0", "100"))
    rows = [cure_row_read(row) for row in product.children("rows", _ROW, least=1)]
    page = product.text("page") if product.has("page") else None
    source = Source(
        product.text("title"), product.text("edition"), "published", clause="cure", page=page
    )
    hours = None if depth_nm is None else product_hours(rows, depth_nm, air)
    if hours is None or hours > MOST_CURE_HOURS.value:
        return []
    return [Window(hours, "product data sheet", source)]


def said(own: Strict, name: str, least: str, most: str) -> Decimal:
    """Read a number that nobody may guess.

    Args:
        own: the opened object [-].
        name: its member [-].
        least: the least that makes sense [-].
        most: the most that makes sense [-].

    Returns:
        The number; the most after a mistake was noted [-].
    """
    if not own.has(name):
        own.refuse(name, "missing", f"{name} is a decimal text, {least} to {most}.")
        return Decimal(most)
    return own.number(name, least, most, most)


def cure_row_read(row: Strict) -> CureRow:
    """Read one row of a product's cure table; mistakes are noted on `row`.

    Args:
        row: the opened row [-].

    Returns:
        The row [-].
    """
    both = row.has("mm_per_root_day") == row.has("hours")
    if both:
        row.refuse("hours", "one_of_two", "A row has mm_per_root_day or hours, one of the two.")
    up_to = row.length_or_none("up_to")
    if row.has("hours") and up_to is None:
        row.refuse("up_to", "missing", "Hours hold up to a depth: say which.")
    root = row.number("mm_per_root_day", "0.1", "50", "3") if not row.has("hours") else None
    return CureRow(
        said(row, "least_celsius", "-20", "50"),
        said(row, "least_humidity", "0", "100"),
        root,
        row.number("hours", "0", "2000", "24") if row.has("hours") else None,
        up_to.nm if up_to else None,
    )


def _moment(cure: Strict) -> tuple[ZoneInfo | None, datetime | None, str | None]:
    if not cure.has("finished_at"):
        return None, None, None
    try:
        zone = zone_parse(cure.text("time_zone"))
    except ValueError as error:
        cure.refuse("time_zone", "time_zone_unknown", str(error))
        return None, None, None
    try:
        finished, remark = moment_parse(cure.text("finished_at"), zone)
    except ValueError as error:
        hint = 'write "2026-03-07T16:30"'
        cure.refuse("finished_at", "moment_not_understood", str(error), hint)
        return None, None, None
    return zone, finished, remark

"""What was predicted, what was read as fixed and by whom, before a saw mark is asked for?"""

from dataclasses import dataclass

from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import ACCURACY_CLASSES, TOOLS, Reading, Tool
from fitcheck.rules.tables_saw import KERF_WHEN_NOT_SAID, LEAST_PART, WIDEST_KERF

SAW = (
    "part",
    "predicted",
    "as_fixed",
    "deduct",
    "brackets_take",
    "allowance",
    "stock",
    "least",
    "most",
    "end",
    "kerf",
    "unit",
    "sawn",
)
_PREDICTED = ("distance", "uncertainty")
_READING = ("id", "value", "read_by", "taken_at", "tool")
_TOOL = ("kind", "accuracy_class", "graduation", "hook")
ENDS = ("either", "left", "right", "both")


@dataclass(frozen=True, slots=True)
class Predicted:
    """The distance that the survey foretells, and its standard uncertainty."""

    distance_nm: int
    u_nm: int


@dataclass(frozen=True, slots=True)
class MarkAsked:
    """A part to be sawn: prediction, readings as fixed, and what the kit's sheet says of it."""

    part: str
    predicted: Predicted | None
    fixed: tuple[Reading, ...]
    deduct_nm: int
    allowance_nm: int | None
    stock_nm: int
    least_nm: int | None
    most_nm: int | None
    end: str
    kerf_nm: int
    metric: bool
    sawn_nm: int | None


def mark_read(own: Strict) -> MarkAsked:
    """Read a question about a saw mark; mistakes are noted on `own`.

    Args:
        own: the opened question [-].

    Returns:
        What was asked; only to be used when no mistake was noted [-].
    """
    fixed = tuple(_reading(each) for each in own.children("as_fixed", _READING, most=20))
    taken = own.length("brackets_take", zero=True).nm if own.has("brackets_take") else 0
    deduct = own.length("deduct", zero=True)
    if any(0 < reading.value.nm < deduct.nm + LEAST_PART.value for reading in fixed):
        own.refuse("deduct", "length_out_of_range", "The deduction leaves no inch of the part.")
    allowance = own.length_or_none("allowance", zero=True)
    least, most, sawn = (own.length_or_none(name) for name in ("least", "most", "sawn"))
    if least and most and least.nm > most.nm:
        own.refuse("least", "length_out_of_range", "least is more than most: no part is both.")
    return MarkAsked(
        part=own.text("part"),
        predicted=_predicted(own, taken, deduct.nm),
        fixed=fixed,
        deduct_nm=deduct.nm,
        allowance_nm=allowance.nm if allowance else None,
        stock_nm=own.length("stock").nm,
        least_nm=least.nm if least else None,
        most_nm=most.nm if most else None,
        end=own.choice("end", ENDS, "either"),
        kerf_nm=_kerf(own),
        metric=own.choice("unit", ("inch", "metric"), "inch") == "metric",
        sawn_nm=sawn.nm if sawn else None,
    )


def _kerf(own: Strict) -> int:
    """Read the width of the blade, as common practice has it when it is left out [nm]."""
    if not own.has("kerf"):
        return KERF_WHEN_NOT_SAID.value
    kerf = own.length("kerf", zero=True).nm
    if kerf > WIDEST_KERF.value:
        own.refuse("kerf", "length_out_of_range", "No blade is wider than half an inch.")
    return kerf


def _predicted(outer: Strict, brackets_take_nm: int, deduct_nm: int) -> Predicted | None:
    """Read the survey's distance, less what the brackets take off a width from wall to wall."""
    if not outer.has("predicted"):
        return None
    own = outer.child("predicted", _PREDICTED)
    read_nm = own.length("distance").nm
    distance = read_nm - brackets_take_nm
    if read_nm > 0 and distance < deduct_nm + LEAST_PART.value:
        own.refuse("distance", "length_out_of_range", "The survey foretells no inch of the part.")
    return Predicted(distance, own.length("uncertainty", zero=True).nm)


def _reading(own: Strict) -> Reading:
    return Reading(
        id=own.text("id"),
        quantity="between_brackets",
        side="none",
        height=None,
        over=None,
        value=own.length("value"),
        tool=_tool(own.child("tool", _TOOL)),
        read_by=own.text("read_by"),
        taken_at=own.text("taken_at", "-"),
    )


def _tool(own: Strict) -> Tool:
    return Tool(
        own.choice("kind", TOOLS),
        own.choice("accuracy_class", ACCURACY_CLASSES, "none"),
        own.length("graduation"),
        own.flag("hook", default=False),
    )

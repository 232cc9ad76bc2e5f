"""Which work brings a reading back within its limit, and which tool could settle it first?"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fitcheck.rules import tables_shape
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.length import length_parse
from fitcheck.rules.survey import SIGNED, Reading, Tool
from fitcheck.rules.uncertainty import reading_uncertainty

Known = Mapping[str, Reading]


@dataclass(frozen=True, slots=True)
class Remedy:
    """One kind of work with its words, the amount left open, and what to mind."""

    kind: str
    words: str
    caution: str = ""


CHOOSE = Remedy("choose", "")
GRINDING = (
    " Grind finish only, as far as it is thick: wet or with its dust drawn off, and with the leave of "
    "the wall's owner. Structure is never cut, nor a membrane ground."
)
_BEFORE = {
    ("width.window", "most"): Remedy(
        "fur_out", "Fur the walls out by {amount}, both together, or choose a larger size"
    ),
    ("width.difference", "most"): Remedy(
        "shim", "Pack the wider end by {amount} more than the narrower end"
    ),
    ("wall.lean", "most"): Remedy("shim", "Pack the wall plumb by {amount} at its far end"),
    ("sill.level", "most"): Remedy("level", "Level the sill by {amount} over its run"),
    ("sill.fall", "least"): Remedy("level", "Give the sill {amount} more fall to the inside"),
    ("sill.fall", "most"): Remedy("level", "Take {amount} of the sill's fall away"),
    ("cut.most", "most"): Remedy("fur_out", "Fur the walls out by {amount} where the part sits"),
    ("cut.stock", "most"): Remedy("fur_out", "Fur the walls out by {amount} where the part sits"),
    ("backing.setback", "least"): Remedy("block", "Fit blocking {amount} farther in"),
    ("backing.setback", "most"): Remedy("block", "Fit blocking {amount} farther out"),
}
_NOW = {
    **_BEFORE,
    ("width.window", "least"): Remedy(
        "grind",
        "Take {amount} off the finish of the walls, both together, or choose a smaller size",
        GRINDING,
    ),
}
_PLUMB = "Pack the wall plumb by {{amount}} at its {end}: it leans {way} the opening"
_LEVEL = "Level the sill by {{amount}} over its run: raise its {end} end"


def remedy_of(finding: Finding, read: Known) -> Remedy:
    """Return the work that brings a finding's reading back within its limit, at the right end.

    A wall that leans into the opening is packed at its foot, one that leans out of it at its top; of a
    sill the lower end is raised.

    Source: common practice, no source.

    Args:
        finding: the finding [-].
        read: the readings by their ids, whose sign tells the end [-].

    Returns:
        The work; only a choice where no work is known [-].
    """
    signed = _signed(finding, read)
    if finding.rule == "wall.lean" and signed:
        end, way = ("foot", "into") if signed > 0 else ("top", "out of")
        return Remedy("shim", _PLUMB.format(end=end, way=way))
    if finding.rule == "sill.level" and signed:
        return Remedy("level", _LEVEL.format(end="left" if signed > 0 else "right"))
    return _NOW.get((finding.rule, finding.sense), CHOOSE)


def remedy_before(finding: Finding) -> Remedy:
    """Return the same as versions 2 to 4 said it, whichever way a reading went [-]."""
    return _BEFORE.get((finding.rule, finding.sense), CHOOSE)


def _signed(finding: Finding, read: Known) -> int:
    """Return the reading farthest from zero, with its sign; 0 when it is not at hand [nm]."""
    values = [read[one].value.nm for one in finding.readings if one in read]
    return max(values, key=abs, default=0)


def sure_to_mm(finding: Finding, margin: Measured, read: Known) -> float:
    """Return how sure a finding's margin could be at best, read by the best tool for it.

    Source: each tool's own, as in `uncertainty`; the best tools are house settings. The margin follows
    its readings as it does now: half as sure a reading, half as sure a margin.

    Args:
        finding: the finding [-].
        margin: its margin [nm, mm].
        read: the readings by their ids [-].

    Returns:
        The standard uncertainty; 0 when no reading is at hand [mm].
    """
    own = [read[one] for one in finding.readings if one in read]
    now = max(map(reading_uncertainty, own), default=0.0)
    best = max(map(_best_mm, own), default=0.0)
    return margin.u_mm * best / now if now else 0.0


def _best_mm(reading: Reading) -> float:
    """Return the least standard uncertainty that a reading can have, its own tool's among them [mm]."""
    spirit = length_parse(tables_shape.USUAL_LEVEL_GRADUATION.value)
    level = Tool("level", "none", spirit, hook=False)
    finest = length_parse(tables_shape.BEST_GRADUATION.value)
    tape = Tool("tape", tables_shape.BEST_TAPE_CLASS.value, finest, hook=False)
    best = replace(reading, tool=level if reading.quantity in SIGNED else tape)
    return min(reading_uncertainty(reading), reading_uncertainty(best))

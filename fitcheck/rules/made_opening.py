"""Which corners has the opening that glass is cut to, as far as its readings tell them?"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import isqrt
from typing import Any

from fitcheck.rules.finding import Need
from fitcheck.rules.length import inch_text, length_parse
from fitcheck.rules.pane_geometry import Point
from fitcheck.rules.pane_outline import Quad
from fitcheck.rules.shape_state import ShapeTold
from fitcheck.rules.sheet import AT_THE_SILL
from fitcheck.rules.sheet_made import MadeGlass
from fitcheck.rules.tables import EXTRAPOLATION

BOWED = (
    "The walls bow: have them straightened, or have a template made; no straight edge is cut to a "
    "bowed wall."
)
DOUBTED = "Settle first which reading of the opening is wrong; no glass is cut to it before."
_MICROMETRE_NM = 1000
_NEEDS = {
    "lean_left": Need("lean", "left"),
    "lean_right": Need("lean", "right"),
    "out_of_level": Need("sill_level"),
    "height_left": Need("ceiling_height", "left"),
    "height_right": Need("ceiling_height", "right"),
}
_CHECK = Need("diagonal", "left")


@dataclass(frozen=True, slots=True)
class Corners:
    """The opening's corners from its left foot, with the largest standard uncertainty among them."""

    quad: Quad
    u_nm: int


@dataclass(frozen=True, slots=True)
class NotTold:
    """Why the corners are not known: readings to take, or what else to do."""

    needs: tuple[Need, ...]
    do: str = ""


@dataclass(frozen=True, slots=True)
class _Shape:
    """The adjusted opening as numbers: widths by height, properties by name, each with its doubt."""

    over_nm: int
    widths: Mapping[int, tuple[int, int]]
    properties: Mapping[str, tuple[int, int]]


def corners_of(shape: ShapeTold, made: MadeGlass) -> Corners | NotTold:
    """Return the corners that all readings together give, from the sill to the ceiling.

    Glass is cut only where the readings check each other, and up to the highest station read; where
    it follows the head, the walls are drawn on straight for as little as a width may be. Each wall is
    put inward to a whole micrometre.

    Source: plane geometry over the adjusted opening, as in `shape_told`; gravity gives the axes.

    Args:
        shape: the adjusted opening [-].
        made: the glass made to measure [-].

    Returns:
        The corners [nm], or what is to be read or done first.
    """
    members: Mapping[str, Any] | None = shape.members
    heights = (AT_THE_SILL.nm, *([made.top.nm] if made.top else []))
    if members is None:
        return NotTold((*map(_width, heights), *_NEEDS.values()))
    if members["state"] not in ("agree", "unchecked"):
        return NotTold((), DOUBTED)
    if members["consistency"]["bow_fitted"]:
        return NotTold((), BOWED)
    found = _numbers(members)
    needs = _unread(found, heights, made)
    if not needs and members["state"] == "unchecked":
        needs = (_CHECK,)
    return NotTold(needs) if needs else Corners(_quad(found), _doubt(found, heights))


def _numbers(members: Mapping[str, Any]) -> _Shape:
    return _Shape(
        length_parse(members["over"]).nm,
        {
            length_parse(row["height"]).nm: _known(row["width"], row)
            for row in members["widths"]
            if row["width"] is not None
        },
        {
            row["name"]: _known(row["value"], row)
            for row in members["shape"]
            if row["value"] is not None
        },
    )


def _known(value: object, row: Mapping[str, Any]) -> tuple[int, int]:
    return length_parse(value).nm, length_parse(row["uncertainty"]).nm


def _unread(found: _Shape, heights: tuple[int, ...], made: MadeGlass) -> tuple[Need, ...]:
    """Return the readings without which no glass can be cut."""
    needs = [need for name, need in _NEEDS.items() if name not in found.properties]
    reach = list(heights)
    if made.top is None and not needs:
        heads = [found.properties[name][0] for name in ("height_left", "height_right")]
        reach += [min(heads)] if max(heads) > found.over_nm + EXTRAPOLATION.value else []
    widths = [nm for nm in reach if nm > found.over_nm or nm not in found.widths]
    return (*map(_width, widths), *needs)


def _width(nm: int) -> Need:
    return Need("width", "none", inch_text(nm, 64), nm)


def _doubt(found: _Shape, heights: tuple[int, ...]) -> int:
    sides = [found.properties[name][1] for name in ("lean_left", "lean_right")]
    return max(*sides, *(found.widths[nm][1] for nm in heights))


def _quad(found: _Shape) -> Quad:
    value = {name: one[0] for name, one in found.properties.items()}
    level, width = value["out_of_level"], found.widths[AT_THE_SILL.nm][0]
    across = isqrt(width * width - level * level) // _MICROMETRE_NM * _MICROMETRE_NM
    left, right = value["height_left"], value["height_right"]
    return Quad(
        Point(0, 0),
        Point(across, level),
        Point(across - _run(value["lean_right"], right, found.over_nm), level + right),
        Point(_run(value["lean_left"], left, found.over_nm), left),
    )


def _run(lean_nm: int, high_nm: int, over_nm: int) -> int:
    """Return how far in a wall stands at a height, rounded inward to a micrometre."""
    return -(-lean_nm * high_nm // (over_nm * _MICROMETRE_NM)) * _MICROMETRE_NM

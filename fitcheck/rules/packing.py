"""How little must the walls be packed out, sill to rail, so that the widths fit a size?"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from fitcheck.rules.length import NM_PER_INCH

# a packing p0 at the sill and p1 at the top is bounded by a*p0 + b*p1 <= c
Bound = tuple[Fraction, Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Spot:
    """A width at a height, doubt taken off, and the window it has to come into."""

    height_nm: int
    low_nm: int
    high_nm: int
    least_nm: int
    most_nm: int


@dataclass(frozen=True, slots=True)
class Packing:
    """How much narrower the opening is to be made at the sill and at the top, both walls together."""

    at_sill_nm: int
    at_top_nm: int
    top_nm: int

    def at(self, height_nm: int) -> int:
        """Return how much is packed at a height, rounded to a nanometre [nm]."""
        return round(_along(height_nm, self.top_nm, self.at_sill_nm, self.at_top_nm))


def least_packing(
    spots: Sequence[Spot], top_nm: int, difference_nm: int | None, mark: int
) -> Packing | None:
    """Return the least tapered packing that brings every width into its window.

    The packing is straight from sill to top and never takes anything off a wall. It is rounded up
    to the mark when that still fits; otherwise it is told exactly, rounded up to a nanometre.

    Source: derived: the corner of the allowed region with the least p0 + p1, found exactly.

    Args:
        spots: the widths with their windows [nm].
        top_nm: height at which the upper packing is told, more than zero [nm].
        difference_nm: the most that two widths may differ, if the sheet says so [nm].
        mark: parts of an inch that the packing is cut to [-].

    Returns:
        The packing, nothing when no packing helps (a width is already too small) [nm].

    Raises:
        ValueError: the top is not above the sill.
    """
    if top_nm <= 0:
        raise ValueError("the top lies above the sill")
    bounds = [*_windows(spots, top_nm), *_differences(spots, top_nm, difference_nm)]
    corners = [corner for corner in _corners(bounds) if _keeps(bounds, *corner)]
    if not corners:
        return None
    sill, top = min(corners, key=lambda corner: (sum(corner), max(corner)))
    unit = NM_PER_INCH // mark
    rounded = Fraction(-(-sill // unit) * unit), Fraction(-(-top // unit) * unit)
    sill, top = rounded if _keeps(bounds, *rounded) else (sill, top)
    return Packing(-int(-sill // 1), -int(-top // 1), top_nm)


def _along(height: int, top: int, at_sill: int | Fraction, at_top: int | Fraction) -> Fraction:
    share = Fraction(height, top)
    return (1 - share) * at_sill + share * at_top


def _windows(spots: Sequence[Spot], top_nm: int) -> Iterator[Bound]:
    yield Fraction(-1), Fraction(0), Fraction(0)
    yield Fraction(0), Fraction(-1), Fraction(0)
    for spot in spots:
        share = Fraction(spot.height_nm, top_nm)
        yield 1 - share, share, Fraction(spot.low_nm - spot.least_nm)
        yield share - 1, -share, Fraction(spot.most_nm - spot.high_nm)


def _differences(spots: Sequence[Spot], top_nm: int, most_nm: int | None) -> Iterator[Bound]:
    """Width i less width j, each less its packing, is not more than the sheet allows."""
    if most_nm is None:
        return
    for one in spots:
        for other in spots:
            apart = Fraction(one.height_nm - other.height_nm, top_nm)
            if apart:
                yield apart, -apart, Fraction(most_nm - (one.high_nm - other.low_nm))


def _corners(bounds: Sequence[Bound]) -> Iterator[tuple[Fraction, Fraction]]:
    for (a, b, c), (d, e, f) in combinations(bounds, 2):
        turn = a * e - b * d
        if turn:
            yield (c * e - b * f) / turn, (a * f - c * d) / turn


def _keeps(bounds: Sequence[Bound], sill: Fraction, top: Fraction) -> bool:
    return all(a * sill + b * top <= c for a, b, c in bounds)

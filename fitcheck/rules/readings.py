"""Which readings answer for a quantity at a place, and do they agree with each other?"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from fitcheck.rules import tables
from fitcheck.rules.finding import Measured, Need
from fitcheck.rules.length import NM_PER_MM, Length, inch_text
from fitcheck.rules.survey import SIDED, House, Reading, Survey
from fitcheck.rules.uncertainty import reading_uncertainty
from fitcheck.rules.verdict import Disagreement

_WORDS = {
    "width": "the width",
    "lean": "the lean of the {side} wall",
    "sill_level": "the level of the sill over its run",
    "sill_fall": "the fall of the sill across its depth",
    "ceiling_height": "the height to the ceiling on the {side}",
    "surround_height": "the height of the surround on the {side}",
    "diagonal": "the diagonal from the {side} foot",
    "curb_depth": "the depth of the curb or deck",
    "curb_flat": "the flat width of the curb or deck",
    "backing_centre": "the centre of the backing on the {side}, from the sill's outer edge",
    "between_brackets": "the distance between the fixed brackets",
    "masonry_edge": "the distance from the holes to the nearest free edge of the masonry on the {side}",
    "head_joint": "the distance from the holes to the nearest upright joint of the block on the {side}",
}


@dataclass(frozen=True, slots=True)
class Absent:
    """A quantity that cannot be answered for: never read, or read twice with two answers."""

    needs: tuple[Need, ...]
    readings: tuple[str, ...] = ()
    apart_nm: int | None = None
    why: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """All readings of one quantity at one place, taken together."""

    height_nm: int
    over_nm: int
    value: Measured | Absent


def need_text(need: Need) -> str:
    """Return a needed reading in words.

    Args:
        need: the reading [-].

    Returns:
        A text such as "the width at 72 in above the sill" [-].
    """
    words = _WORDS[need.quantity].format(side=need.side)
    if need.quantity == "width" and need.height is None:
        return f"{words} at a second height"
    return f"{words} at {need.height} above the sill" if need.height else words


def worst_of(values: list[Measured | Absent], need: Need) -> Measured | Absent:
    """Take the values of one quantity, read at several places, at their worst.

    Args:
        values: the values; one that is not known leaves all unknown [nm].
        need: what to read when there is no value [-].

    Returns:
        From the least to the most of them, or why there is none [nm].
    """
    if len(values) == 1:
        return values[0]
    absent = next((value for value in values if isinstance(value, Absent)), None)
    measured = [value for value in values if isinstance(value, Measured)]
    if absent or not measured:
        return absent or Absent((need,))
    return Measured(
        min(value.low_nm for value in measured),
        max(value.high_nm for value in measured),
        max(value.u_mm for value in measured),
        tuple(dict.fromkeys(one for value in measured for one in value.readings)),
    )


class Readings:
    """The readings of a survey, grouped by what and where they were read."""

    def __init__(self, survey: Survey, house: House) -> None:
        self._agreement = float(house.agreement_factor)
        self._mark = house.mark
        self.disagreements: list[Disagreement] = []
        self._groups: dict[tuple[str, str], list[Group]] = {}
        self._found: dict[tuple[str, int, str], Measured | Absent] = {}
        for key, together in _gathered(survey.readings).items():
            quantity, side, height_nm, over_nm = key
            group = Group(height_nm, over_nm, self._combined(quantity, side, together))
            self._groups.setdefault((quantity, side), []).append(group)
        for groups in self._groups.values():
            if len(groups) > 1:
                groups.sort(key=lambda group: group.height_nm)

    def groups(self, quantity: str, side: str = "none") -> list[Group]:
        """Return every group of a quantity on a side, from the sill up."""
        return self._groups.get((quantity, side), [])

    def single(self, quantity: str, side: str = "none") -> Measured | Absent:
        """Return the one value of a quantity that has no height; several places are worst-cased."""
        return worst_of(
            [group.value for group in self.groups(quantity, side)], Need(quantity, side)
        )

    def widest(self) -> Measured | None:
        """Return the widest width read anywhere; None when no width stands."""
        widths = [group.value for group in self.groups("width")]
        known = [width for width in widths if isinstance(width, Measured)]
        return max(known, key=lambda width: width.high_nm, default=None)

    def narrowest(self) -> Measured | None:
        """Return the narrowest width read anywhere; None when no width stands."""
        widths = [group.value for group in self.groups("width")]
        known = [width for width in widths if isinstance(width, Measured)]
        return min(known, key=lambda width: width.low_nm, default=None)

    def near(self, quantity: str, side: str, height: Length) -> Measured | Absent:
        """Return the value read nearest to a height, if it was read near enough."""
        groups = self.groups(quantity, side)
        nearest = groups[0] if groups else None
        if len(groups) > 1:
            nearest = min(groups, key=lambda g: abs(g.height_nm - height.nm))
        if nearest is None or abs(nearest.height_nm - height.nm) > tables.SAME_HEIGHT.value:
            return Absent((_need_at(quantity, side, height),))
        return nearest.value

    def at(self, quantity: str, height: Length) -> Measured | Absent:
        """Return a value at a height, between the two nearest readings around it.

        Beyond the outermost reading the line is followed for a little only, with more doubt.
        """
        place = quantity, height.nm, height.entered
        found = self._found.get(place)
        if found is None:
            found = self._found[place] = self._between(quantity, height)
        return found

    def _between(self, quantity: str, height: Length) -> Measured | Absent:
        groups = self.groups(quantity)
        if len(groups) < 2:
            return self.near(quantity, "none", height)
        lower, upper = _around(groups, height.nm)
        beyond = max(groups[0].height_nm - height.nm, height.nm - groups[-1].height_nm, 0)
        if beyond > tables.EXTRAPOLATION.value:
            return Absent((_need_at(quantity, "none", height),))
        for group in (lower, upper):
            if group.height_nm == height.nm:
                return group.value
        below, above = lower.value, upper.value
        if isinstance(below, Absent):
            return below
        if isinstance(above, Absent):
            return above
        weights = upper.height_nm - height.nm, height.nm - lower.height_nm
        return _on_the_line(below, above, *weights, beyond)

    def _combined(self, quantity: str, side: str, together: list[Reading]) -> Measured | Absent:
        if len(together) == 1:
            only = together[0]
            nm = only.value.nm
            return Measured(nm, nm, reading_uncertainty(only), (only.id,))
        ids = tuple(reading.id for reading in together)
        doubts = [reading_uncertainty(reading) for reading in together]
        values = [reading.value.nm for reading in together]
        total, count = sum(values), len(values)
        if self._agree(values, doubts):
            return Measured(total // count, -(-total // count), max(doubts), ids)
        apart = max(values) - min(values)
        height = together[0].height
        within = self._agreement * math.sqrt(2) * max(doubts) * NM_PER_MM
        text = height.entered if height else None
        self.disagreements.append(
            Disagreement(quantity, side, text, apart, math.floor(within), ids, self._mark)
        )
        need = Need(quantity, side, text, height.nm if height else None)
        return Absent((need,), ids, apart)

    def _agree(self, values: list[int], doubts: list[float]) -> bool:
        sure = list(zip(values, doubts, strict=True))
        return all(
            abs(a - b) <= self._agreement * math.hypot(u_a, u_b) * NM_PER_MM
            for index, (a, u_a) in enumerate(sure)
            for b, u_b in sure[index + 1 :]
        )


def _gathered(readings: Iterable[Reading]) -> dict[tuple[str, str, int, int], list[Reading]]:
    gathered: dict[tuple[str, str, int, int], list[Reading]] = {}
    for reading in readings:
        side = reading.side if reading.quantity in SIDED else "none"
        height = reading.height.nm if reading.height else 0
        over = reading.over.nm if reading.over else 0
        gathered.setdefault((reading.quantity, side, height, over), []).append(reading)
    return gathered


def _need_at(quantity: str, side: str, height: Length) -> Need:
    return Need(quantity, side, height.entered or inch_text(height.nm, 64), height.nm)


def _around(groups: list[Group], height_nm: int) -> tuple[Group, Group]:
    for lower, upper in pairwise(groups):
        if height_nm <= upper.height_nm:
            return lower, upper
    return groups[-2], groups[-1]


def _on_the_line(
    below: Measured, above: Measured, weight_below: int, weight_above: int, beyond_nm: int
) -> Measured:
    """Follow the straight line through two values; doubt is added up, not in quadrature.

    Both were mostly read with the same tape, so that their errors may go the same way. A weight
    is the distance to the other reading; it is negative beyond the outermost one.
    """
    span = weight_below + weight_above
    low = weight_below * (below.low_nm if weight_below >= 0 else below.high_nm)
    low += weight_above * (above.low_nm if weight_above >= 0 else above.high_nm)
    high = weight_below * (below.high_nm if weight_below >= 0 else below.low_nm)
    high += weight_above * (above.high_nm if weight_above >= 0 else above.low_nm)
    u_line = (abs(weight_below) * below.u_mm + abs(weight_above) * above.u_mm) / span
    growth = tables.EXTRAPOLATION_GROWTH.value * beyond_nm / NM_PER_MM
    return Measured(
        low // span, -(-high // span), math.hypot(u_line, growth), below.readings + above.readings
    )

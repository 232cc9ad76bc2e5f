"""Which standard rules over a pane, in one edition: holes, sizes, squareness, bow?

A pane is judged by one edition from end to end; the two are never mixed.
"""

from dataclasses import dataclass
from typing import Literal

from fitcheck.rules import RULES_VERSION, tables
from fitcheck.rules.glass import (
    GlassHole,
    glass_hole_c1048,
    glass_hole_en12150,
    thickness_for_mass,
)
from fitcheck.rules.length import length_parse
from fitcheck.rules.sources import Source
from fitcheck.rules.tables_pane import (
    C1036_MOST_THICKNESS,
    C1048_BOW_10,
    C1048_LOCATION,
    C1048_MOST_DIAMETER,
    C1048_NOTCH_RADIUS,
    C1048_SIZE,
    C1048_SQUARE,
    EN572_THICKNESS,
    EN12150_BOW,
    EN12150_LOCATION,
    EN12150_SIZE,
    EN12150_SQUARE,
    EN12150_THIN,
)

EditionName = Literal["c1048", "en12150"]
EDITIONS: tuple[EditionName, ...] = ("c1048", "en12150")
_LABELS = {
    length_parse(nominal).nm: (length_parse(label).nm, length_parse(least).nm)
    for label, (nominal, least) in tables.GLASS_THICKNESS.value.items()
}


@dataclass(frozen=True, slots=True)
class Edition:
    """What one edition asks of a pane of one thickness; None where it, or we, say nothing."""

    name: EditionName
    thickness_nm: int
    hole: GlassHole
    hole_source: Source
    size_source: Source

    def most_diameter_nm(self, narrow_nm: int) -> int | None:
        """Return the largest hole: a third of the narrow side (C1048 only) [nm]."""
        if self.name == "en12150":
            return None
        over, under = C1048_MOST_DIAMETER.value
        return narrow_nm * over // under

    def notch_radius_nm(self) -> int | None:
        """Return the least radius inside a notch: the thickness; of EN no figure is known [nm]."""
        return C1048_NOTCH_RADIUS.value * self.thickness_nm if self.name == "c1048" else None

    def size_nm(self, side_nm: int) -> int | None:
        """Return how far a side may be off its size, either way [nm]."""
        if self.name == "en12150":
            return _by_side(EN12150_SIZE.value, side_nm, self.thickness_nm)
        return _up_to(C1048_SIZE.value, self._nominal_nm())

    def square_nm(self, side_nm: int) -> int | None:
        """Return how far the two diagonals may differ [nm]."""
        if self.name == "en12150":
            return _by_side(EN12150_SQUARE.value, side_nm, self.thickness_nm)
        up_to, most = C1048_SQUARE.value
        return most if self._nominal_nm() <= up_to else None

    def bow_nm(self, side_nm: int) -> int | None:
        """Return how far a side may be bowed out of its plane, rounded up [nm]."""
        if self.name == "en12150":
            over, under = EN12150_BOW.value
            return -(-side_nm * over // under)
        ten = self._nominal_nm() == length_parse("10 mm").nm
        return _up_to(C1048_BOW_10.value, side_nm) if ten else None

    def location_nm(self, diameter_nm: int) -> int | None:
        """Return how far a hole may be off its place, or (EN) off its diameter [nm]."""
        if self.name == "c1048":
            return C1048_LOCATION.value
        return _up_to(EN12150_LOCATION.value, diameter_nm)

    def thickness_window_nm(self) -> tuple[int, int | None] | None:
        """Return the least and most measured thickness that bears this name [nm]."""
        if self.name == "en12150":
            within = _up_to(EN572_THICKNESS.value, self.thickness_nm)
            if within is None:
                return None
            return self.thickness_nm - within, self.thickness_nm + within
        nominal = self._nominal_nm()
        if nominal not in _LABELS:
            return None
        return _LABELS[nominal][1], C1036_MOST_THICKNESS.value.get(nominal)

    def _nominal_nm(self) -> int:
        return metric_nm(self.thickness_nm)


def metric_nm(thickness_nm: int) -> int:
    """Return the metric name of a thickness: 3/8 in is 10 mm glass.

    Source: ASTM C1036 labels.

    Args:
        thickness_nm: nominal thickness, in inches or millimetres [nm].

    Returns:
        The nominal thickness in millimetres; the same where it has no other name [nm].
    """
    names = (nominal for nominal, (label, _) in _LABELS.items() if label == thickness_nm)
    return next(names, thickness_nm)


def edition_of(name: EditionName, thickness_nm: int, rules: int = int(RULES_VERSION)) -> Edition:
    """Return what one edition asks of glass of this nominal thickness.

    The European edition knows glass by its metric name alone; the rules before version 5 took the
    inches themselves for its thickness.

    Source: ASTM C1048 and C1036 as restated, or EN 12150-1:2015 (from memory).

    Args:
        name: "c1048" or "en12150" [-].
        thickness_nm: nominal thickness [nm].
        rules: the version of the rules that answers [-].

    Returns:
        The edition's rules [-].

    Raises:
        ValueError: no thickness.
    """
    if thickness_nm <= 0:
        raise ValueError("glass has a thickness")
    if name == "en12150" and rules >= 5:
        thickness_nm = metric_nm(thickness_nm)
    if name == "c1048":
        hole = glass_hole_c1048(thickness_nm)
        source, size = tables.C1048_THICKNESSES.source, C1048_SIZE.source
    else:
        hole = glass_hole_en12150(thickness_nm)
        source, size = tables.EN12150_HOLE.source, EN12150_SIZE.source
    return Edition(name, thickness_nm, hole, source, size)


def thickness_names() -> frozenset[int]:
    """Return every thickness that flat glass is sold by, in inches and in millimetres [nm]."""
    return frozenset(_LABELS) | {label for label, _ in _LABELS.values()}


def thickest_nm(edition: Edition) -> int:
    """Return the thickness to reckon clearances with: the most allowed, or the heavier name.

    Args:
        edition: the edition with its nominal thickness [-].

    Returns:
        The thickness [nm].
    """
    window = edition.thickness_window_nm()
    named = thickness_for_mass(edition.thickness_nm)
    return max(named, window[1]) if window and window[1] else named


def _up_to(rows: tuple[tuple[int, int], ...], value: int) -> int | None:
    return next((answer for up_to, answer in rows if value <= up_to), None)


def _by_side(rows: tuple[tuple[int, int, int], ...], side_nm: int, thickness_nm: int) -> int | None:
    thin = thickness_nm <= EN12150_THIN.value
    return _up_to(tuple((up_to, a if thin else b) for up_to, a, b in rows), side_nm)

"""What does a panel weigh, what may its glass be called, and where may holes be in it?"""

from dataclasses import dataclass
from typing import Literal

from fitcheck.rules import tables
from fitcheck.rules.length import length_parse

NM3_PER_M3 = 10**27
UG_PER_KG = 10**9
Category = Literal["I", "II"]
TUB_AND_SHOWER = ("shower door", "shower enclosure", "bathtub door", "bathtub enclosure")
ALWAYS_CATEGORY_II = (*TUB_AND_SHOWER, "sliding patio door")

_LABELS = {
    length_parse(label).nm: (label, length_parse(nominal).nm, length_parse(least).nm)
    for label, (nominal, least) in tables.GLASS_THICKNESS.value.items()
}
_HEAVIER = {
    nm: max(label_nm, nominal_nm)
    for label_nm, (_, nominal_nm, _) in _LABELS.items()
    for nm in (label_nm, nominal_nm)
}


@dataclass(frozen=True, slots=True)
class GlassHole:
    """The least a hole in tempered glass may be, in one edition; distances are to the rim."""

    diameter_nm: int
    to_edge_nm: int
    between_nm: int
    to_corner_nm: int


def glass_mass_ug(width_nm: int, height_nm: int, thickness_nm: int) -> int:
    """Return the mass of a pane, rounded up; holes are not taken off.

    Source: EN 572-1, 2500 kg/m3.

    Args:
        width_nm: width [nm].
        height_nm: height [nm].
        thickness_nm: thickness [nm].

    Returns:
        The mass [ug].

    Valid for: soda-lime glass, tempered or not.
    """
    density = tables.GLASS_DENSITY.value * UG_PER_KG
    return -(-width_nm * height_nm * thickness_nm * density // NM3_PER_M3)


def thickness_for_mass(thickness_nm: int) -> int:
    """Return the heavier of the two thicknesses that one product name stands for.

    "3/8 in" and "10 mm" name the same glass, but differ by 5 % in computed mass.

    Source: ASTM C1036 labels.

    Args:
        thickness_nm: thickness as named [nm].

    Returns:
        The thickness to reckon the mass with [nm].
    """
    return _HEAVIER.get(thickness_nm, thickness_nm)


def thickness_label(measured_nm: int) -> str | None:
    """Return the thickest label that a measured thickness is enough for.

    Source: ASTM C1036, minimum thickness, as restated by a window-film association.

    Args:
        measured_nm: measured thickness [nm].

    Returns:
        A label such as "1/4 in", or None when it is thinner than all [-].
    """
    enough = [nm for nm, (_, _, least) in _LABELS.items() if measured_nm >= least]
    return _LABELS[max(enough)][0] if enough else None


def glass_hole_c1048(thickness_nm: int) -> GlassHole:
    """Return what a hole in tempered glass needs by the American edition.

    Source: ASTM C1048, holes and notches; two restatements agree.

    Args:
        thickness_nm: nominal thickness [nm].

    Returns:
        Least diameter and distances [nm].
    """
    times = {
        name: -(-over * thickness_nm // under)
        for name, (over, under) in tables.C1048_THICKNESSES.value.items()
    }
    wider = thickness_nm + tables.C1048_DIAMETER_OVER_THICKNESS.value
    return GlassHole(
        diameter_nm=max(wider, tables.C1048_LEAST_DIAMETER.value),
        to_edge_nm=max(times["edge"], tables.C1048_LEAST_TO_EDGE.value),
        between_nm=max(times["between"], tables.C1048_LEAST_BETWEEN.value),
        to_corner_nm=times["corner"],
    )


def glass_hole_en12150(thickness_nm: int) -> GlassHole:
    """Return what a hole in toughened glass needs by the European edition.

    Source: EN 12150-1:2015, 7.4 (from memory).

    Args:
        thickness_nm: nominal thickness [nm].

    Returns:
        Least diameter and distances [nm].
    """
    rule = tables.EN12150_HOLE.value
    edge = rule["thicknesses to edge"] * thickness_nm
    return GlassHole(
        diameter_nm=rule["thicknesses of diameter"] * thickness_nm,
        to_edge_nm=edge,
        between_nm=edge,
        to_corner_nm=rule["thicknesses to corner"] * thickness_nm,
    )


def safety_category(product: str, area_sq_ft: float) -> Category:
    """Return the impact category of a glazed product.

    Source: 16 CFR 1201.2(a)(3)-(4): tub and shower glass is Category II at any size.

    Args:
        product: what the pane belongs to, such as "shower door" [-].
        area_sq_ft: area of the largest pane, one side [ft2].

    Returns:
        "I" or "II" [-].
    """
    if product in ALWAYS_CATEGORY_II:
        return "II"
    return "II" if area_sq_ft > tables.CPSC_CATEGORY_AREA_SQ_FT.value else "I"

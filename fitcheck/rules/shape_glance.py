"""Do the readings of an opening agree at a glance, and how wide is it then where it matters?

The same adjustment as `adjustment`, for the one case that nearly every survey is: nothing contradicts
anything. Plain arithmetic on five unknowns takes a fraction of a millisecond; as soon as a reading is
suspected, a bow shows or an unknown is barely told, it says so and the whole adjustment is asked.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from fitcheck.rules import RULES_VERSION, tables_shape
from fitcheck.rules.chi_square import chi_square_tail, critical
from fitcheck.rules.glance_ceiling import Ceiling, ceiling_of
from fitcheck.rules.glance_fit import GlanceFit, Told
from fitcheck.rules.glance_rows import seen_of
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.survey import Reading

SHAPING = ("width", "lean", "sill_level", "diagonal")


@dataclass(frozen=True, slots=True)
class Glance:
    """An opening whose readings agree; widths and properties that no reading tells are None."""

    top: float
    chi_square: float
    freedom: int
    widths: tuple[Told | None, ...]
    properties: dict[str, Told | None]


def shape_glance(
    readings: Sequence[Reading], heights_nm: Sequence[int], rules: int = int(RULES_VERSION)
) -> Glance | None:
    """Adjust an opening whose readings agree; None when a closer look is needed.

    Source: adjustment by observation equations with Gauss-Newton steps; the limits of `adjustment`.

    Args:
        readings: the readings; those that shape nothing are left aside [-].
        heights_nm: the heights whose widths matter [nm].
        rules: the version of the rules [-].

    Returns:
        The adjusted opening, None when anything is suspected or nothing shapes it [mm].
    """
    top = max((r.height.nm for r in readings if r.quantity == "width" and r.height), default=0)
    if not top:
        return None
    seen = [seen_of(each, top / NM_PER_MM) for each in readings if each.quantity in SHAPING]
    found = GlanceFit(seen, top / NM_PER_MM)
    ceilings = {side: ceiling_of(readings, side) for side in ("left", "right")}
    told = [one for one in ceilings.values() if one]
    chi = found.chi_square + sum(one.chi_square for one in told)
    freedom = found.freedom + sum(one.freedom for one in told)
    if rules >= 5 and not found.settled:
        return None
    if found.suspicious() or any(one.worst > critical() for one in told):
        return None
    if freedom and chi_square_tail(chi, freedom) < tables_shape.CONSISTENCY_ALPHA.value:
        return None
    widths = tuple(found.width(nm) for nm in heights_nm)
    properties = {**found.properties(), **_heights(ceilings)}
    if found.barely:
        return None
    return Glance(top / NM_PER_MM, chi, freedom, widths, properties)


def _heights(ceilings: dict[str, Ceiling | None]) -> dict[str, Told | None]:
    return {f"height_{side}": one.told if one else None for side, one in ceilings.items()}

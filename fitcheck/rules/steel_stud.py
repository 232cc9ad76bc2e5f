"""How much does one screw hold in a steel stud, and is the stud thick enough to be asked?"""

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.tables_fixings import (
    STEEL_DESIGN_THICKNESS,
    STEEL_INTERACTION,
    STEEL_LEAST_MILS,
    STEEL_OFF_CENTRE,
    STEEL_OMEGA,
    STEEL_POINT,
    STEEL_PULL_OUT,
    STEEL_PULL_OVER,
    STEEL_SCREW_STRENGTH,
    STEEL_SHEAR,
    STEEL_SHEAR_RATIO,
    STEEL_SPACING,
    STEEL_STRENGTH_WHEN_UNKNOWN,
    STEEL_THREADS_PER_INCH,
    STEEL_WASHER_MOST,
)

_MILS = re.compile(r"([0-9]{1,3}) ?mils?")


class GaugeError(ValueError):
    """A stud thickness that was not given in mils, or is no structural thickness."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """Two sheets with a screw through both: 1 at the head, 2 at the tip."""

    head_in: float
    tip_in: float
    head_psi: float
    tip_psi: float
    diameter_in: float
    washer_in: float


@dataclass(frozen=True, slots=True)
class SteelCapacity:
    """What one screw holds in steel [lbf], allowable level, and the caps of the screw itself."""

    shear_lbf: float
    pull_out_lbf: float
    pull_over_lbf: float
    screw_shear_lbf: float
    screw_tension_lbf: float

    @property
    def shear(self) -> float:
        """Return the shear that may be used, never more than the screw's own [lbf]."""
        return min(self.shear_lbf, self.screw_shear_lbf)

    @property
    def tension(self) -> float:
        """Return the pull that may be used, never more than the screw's own [lbf]."""
        return min(self.pull_out_lbf, self.pull_over_lbf, self.screw_tension_lbf)


def mils_parse(text: str) -> int:
    """Read the thickness of a steel stud; gauge is refused, for one gauge means many sheets.

    Source: practice notes of framing trades: "20 gauge" on the market runs from 17 to 33 mil.

    Args:
        text: a thickness such as "33 mil" [-].

    Returns:
        The thickness [mil].

    Raises:
        GaugeError: given as a gauge, not in the table, or below the house's least of 30 mil.
    """
    match = _MILS.fullmatch(text.strip())
    if match is None:
        raise GaugeError('write the thickness in mils as printed on the stud: "33 mil", not gauge')
    mils = int(match[1])
    if mils < STEEL_LEAST_MILS.value:
        raise GaugeError(
            f"{mils} mil is too thin to hold a door ({STEEL_LEAST_MILS.value} mil at least): "
            "fit wood blocking"
        )
    if mils not in STEEL_DESIGN_THICKNESS.value:
        known = ", ".join(str(each) for each in STEEL_DESIGN_THICKNESS.value)
        raise GaugeError(f"{mils} mil is not a thickness that studs are made in: {known}")
    return mils


def steel_strength(mils: int) -> int:
    """Return the ultimate strength to use when the steel's grade is not known.

    Source: house setting: the weaker grade of each thickness.

    Args:
        mils: the thickness, 30 or more [mil].

    Returns:
        Fu [psi].

    Raises:
        ValueError: thinner than the house's least.
    """
    table = STEEL_STRENGTH_WHEN_UNKNOWN.value
    reached = [least for least in table if mils >= least]
    if not reached:
        raise ValueError("no strength is taken for a sheet this thin")
    return table[max(reached)]


def steel_shear(sheets: Sheets) -> float:
    """Return the nominal shear of a screw by tilting and bearing.

    Source: AISI S100-16, J4.3.1; linear between the two thickness ratios.

    Args:
        sheets: the two sheets and the screw [in, psi].

    Returns:
        Pns [lbf].
    """
    tilt, bear = STEEL_SHEAR.value["tilting"], STEEL_SHEAR.value["bearing"]
    d = sheets.diameter_in
    bearing = min(
        bear * sheets.head_in * d * sheets.head_psi, bear * sheets.tip_in * d * sheets.tip_psi
    )
    tilting: float = tilt * (sheets.tip_in**3 * d) ** 0.5 * sheets.tip_psi
    low, high = STEEL_SHEAR_RATIO.value
    towards_bearing = min(max((sheets.tip_in / sheets.head_in - low) / (high - low), 0.0), 1.0)
    tilted = min(tilting, bearing)
    return tilted + (bearing - tilted) * towards_bearing


def steel_pull_out(sheets: Sheets) -> float:
    """Return the nominal pull-out of a screw from the sheet at its tip.

    Source: AISI S100-16, J4.4.1: 0.85 tc d Fu2, the point being through the sheet.

    Args:
        sheets: the two sheets and the screw [in, psi].

    Returns:
        Pnot [lbf].
    """
    value: float = STEEL_PULL_OUT.value * sheets.tip_in * sheets.diameter_in * sheets.tip_psi
    return value


def steel_pull_over(sheets: Sheets, *, off_centre: bool = False) -> float:
    """Return the nominal pull-over of the sheet at the head.

    Source: AISI S100-16, J4.4.2: 1.5 t1 dw Fu1, half of it when the pull is off centre.

    Args:
        sheets: the two sheets and the screw [in, psi].
        off_centre: whether the sheet is pulled on one side of the screw only [-].

    Returns:
        Pnov [lbf].
    """
    washer = min(sheets.washer_in, STEEL_WASHER_MOST.value)
    value: float = STEEL_PULL_OVER.value * sheets.head_in * washer * sheets.head_psi
    return value * (STEEL_OFF_CENTRE.value if off_centre else 1.0)


def steel_holds(sheets: Sheets, number: int, *, off_centre: bool = False) -> SteelCapacity:
    """Return what one screw may carry, with the screw's own strength as a cap.

    Source: AISI S100-16, J4, Omega 3.0; screw strengths as quoted from CFSEI F701-12.

    Args:
        sheets: the two sheets and the screw [in, psi].
        number: the screw's number, 14 for 1/4 in [-].
        off_centre: whether the sheet is pulled on one side of the screw only [-].

    Returns:
        The allowable values [lbf].

    Raises:
        KeyError: the screw's own strength is not known.
        ValueError: a thickness, strength or diameter is not more than zero.

    Valid for: sheets in contact, three threads showing beyond the last, 3 d apart, 1.5 d to an edge.
    """
    sizes = (
        sheets.head_in,
        sheets.tip_in,
        sheets.head_psi,
        sheets.tip_psi,
        sheets.diameter_in,
        sheets.washer_in,
    )
    if not all(size > 0 for size in sizes):
        raise ValueError("every thickness, strength and diameter is more than zero")
    omega = STEEL_OMEGA.value
    shear, tension = STEEL_SCREW_STRENGTH.value[number]
    return SteelCapacity(
        shear_lbf=steel_shear(sheets) / omega,
        pull_out_lbf=steel_pull_out(sheets) / omega,
        pull_over_lbf=steel_pull_over(sheets, off_centre=off_centre) / omega,
        screw_shear_lbf=shear / omega,
        screw_tension_lbf=tension / omega,
    )


def steel_used(capacity: SteelCapacity, tension_lbf: float, shear_lbf: float) -> float:
    """Return the greatest share used: alone, with pull-over, with pull-out.

    Source: AISI S100-16, J4.5 (from memory): Q/Pns + 0.71 T/Pnov <= 1.10/2.35 and
    Q/Pns + T/Pnot <= 1.15/2.55 on nominal values.

    Args:
        capacity: allowable values [lbf].
        tension_lbf: pull on the screw [lbf].
        shear_lbf: shear on the screw [lbf].

    Returns:
        The share; one or less holds [-].
    """
    omega = STEEL_OMEGA.value
    shares = [shear_lbf / capacity.shear, tension_lbf / capacity.tension]
    against = {"over": capacity.pull_over_lbf, "out": capacity.pull_out_lbf}
    for name, (factor, limit, divisor) in STEEL_INTERACTION.value.items():
        nominal = shear_lbf / capacity.shear_lbf + factor * tension_lbf / against[name]
        shares.append(nominal / omega * divisor / limit)
    return max(shares)


def steel_screw_least_nm(number: int, mils: int, grip_nm: int) -> int:
    """Return how long a self-drilling screw is at least to hold in a steel stud.

    Source: AISI S100-16, J4: three threads show beyond the last sheet; threads to the inch and the
    length of the point are common practice, no source.

    Args:
        number: the screw's number [-].
        mils: the stud's thickness, as printed on it [mil].
        grip_nm: bracket and stack in front of the stud [nm].

    Returns:
        Grip, stud, three threads and the point together [nm].

    Raises:
        KeyError: no thread is known for the number, or no stud is made so thick.
    """
    threads = Fraction(int(STEEL_SPACING.value["threads"]), STEEL_THREADS_PER_INCH.value[number])
    stud_in = STEEL_DESIGN_THICKNESS.value[mils]
    return grip_nm + math.ceil((threads + Fraction(str(stud_in))) * NM_PER_INCH) + STEEL_POINT.value


def steel_spacing_nm(diameter_nm: int) -> tuple[int, int]:
    """Return how far apart, and how far from an edge, screws in steel stand at least.

    Source: AISI S100-16, J4.1 and J4.2: 3 d and 1.5 d.

    Args:
        diameter_nm: nominal diameter [nm].

    Returns:
        Spacing and edge distance [nm].
    """
    spacing, edge = STEEL_SPACING.value["spacing"], STEEL_SPACING.value["edge"]
    return int(spacing * diameter_nm), -(-int(2 * edge) * diameter_nm // 2)

"""How much sideways load does one screw or lag hold in wood, with the members in contact?"""

import math
from dataclasses import dataclass

from fitcheck.rules.tables_fixings import (
    BENDING_YIELD_WOOD_SCREW,
    DOWEL_BEARING_PARALLEL,
    DOWEL_BEARING_PERPENDICULAR,
    DOWEL_BEARING_SMALL,
    KD_SMALL,
    PENETRATION_DIAMETERS,
    RD_LARGE,
)

MODES = ("Im", "Is", "II", "IIIm", "IIIs", "IV")
_FAMILY = {"Im": "I", "Is": "I", "II": "II", "IIIm": "III", "IIIs": "III", "IV": "IV"}
DOUBLED = ("Is", "IIIs", "IV")


@dataclass(frozen=True, slots=True)
class Dowel:
    """A screw between a side member (the bracket) and a main member (the stud)."""

    diameter_in: float
    main_in: float
    side_in: float
    main_psi: float
    side_psi: float
    yield_psi: float
    reduction: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Yield:
    """What each yield mode allows [lbf], and the least of them."""

    modes: tuple[tuple[str, float], ...]

    @property
    def governing(self) -> str:
        """Return the mode that gives the least [-]."""
        return min(self.modes, key=lambda mode: mode[1])[0]

    @property
    def lbf(self) -> float:
        """Return the reference lateral value [lbf]."""
        return min(value for _, value in self.modes)

    def as_json(self) -> dict[str, object]:
        """Return the modes as plain JSON, each rounded down to a tenth of a pound."""
        modes = {name: f"{math.floor(value * 10) / 10:.1f} lbf" for name, value in self.modes}
        return {"governing": self.governing, "modes": modes}


def single_shear(dowel: Dowel) -> Yield:
    """Return the six yield modes of a screw in single shear.

    Source: NDS 2018, table 12.3.1A.

    Args:
        dowel: diameter, bearing lengths and strengths, reduction per mode family [in, psi, -].

    Returns:
        The modes, unadjusted allowable level [lbf].

    Raises:
        ValueError: a length, a strength or a reduction is not more than zero.

    Valid for: members in contact; anything between bracket and stud is a gap, see `lateral_gap`.
    """
    _refuse_nothing(dowel)
    d, fem = dowel.diameter_in, dowel.main_psi
    re, side = fem / dowel.side_psi, dowel.side_in * dowel.side_psi
    k1, k2, k3 = _coefficients(dowel)
    raw = {
        "Im": d * dowel.main_in * fem,
        "Is": d * side,
        "II": k1 * d * side,
        "IIIm": k2 * d * dowel.main_in * fem / (1 + 2 * re),
        "IIIs": k3 * d * dowel.side_in * fem / (2 + re),
        "IV": d * d * math.sqrt(2 * fem * dowel.yield_psi / (3 * (1 + re))),
    }
    return Yield(tuple((mode, raw[mode] / reduction_of(dowel, mode)) for mode in MODES))


def double_shear(dowel: Dowel) -> Yield:
    """Return the yield modes of a screw through two equal side members.

    Source: NDS 2018, table 12.3.1A: II and IIIm fall away, Is, IIIs and IV count twice.

    Args:
        dowel: as in single shear; the side length is of one side member [in, psi, -].

    Returns:
        The modes, unadjusted allowable level [lbf].

    Raises:
        ValueError: a length, a strength or a reduction is not more than zero.
    """
    single = dict(single_shear(dowel).modes)
    kept = [("Im", single["Im"])] + [(mode, 2 * single[mode]) for mode in DOUBLED]
    return Yield(tuple(kept))


def reduction_of(dowel: Dowel, mode: str) -> float:
    """Return the reduction term of one mode.

    Args:
        dowel: the screw with its four reductions [-].
        mode: one of `MODES` [-].

    Returns:
        Rd [-].
    """
    return dowel.reduction[("I", "II", "III", "IV").index(_FAMILY[mode])]


def reductions(
    diameter_in: float, degrees: float = 0.0, *, lag: bool = False
) -> tuple[float, float, float, float]:
    """Return the reduction terms of modes I, II, III and IV.

    Source: NDS 2018, table 12.3.1B; a lag whose root is under 1/4 in takes KD from its root,
    times K-theta, as table 12K shows.

    Args:
        diameter_in: the root diameter, which the yield equations use too [in].
        degrees: angle of the load to the grain, 0 to 90 [deg].
        lag: whether the nominal diameter is 1/4 in or more [-].

    Returns:
        Rd for I, II, III and IV [-].

    Raises:
        ValueError: the angle is not between 0 and 90.
    """
    if not 0 <= degrees <= 90:
        raise ValueError("the angle to the grain is from 0 to 90 degrees")
    theta = 1 + 0.25 * degrees / 90
    rule = KD_SMALL.value
    if diameter_in >= rule["below"]:
        large = RD_LARGE.value
        return (large["I"] * theta, large["II"] * theta, large["III"] * theta, large["IV"] * theta)
    kd = kd_small(diameter_in) * (theta if lag else 1.0)
    return kd, kd, kd, kd


def kd_small(diameter_in: float) -> float:
    """Return the reduction term of a screw thinner than 1/4 in.

    Source: NDS 2018, table 12.3.1B: 2.2 to 0.17 in, then 10 D + 0.5.

    Args:
        diameter_in: the root diameter [in].

    Returns:
        KD [-].
    """
    rule = KD_SMALL.value
    if diameter_in <= rule["up_to"]:
        return rule["least"]
    return rule["slope"] * diameter_in + rule["plus"]


def bearing_small(gravity: float, *, rounded: bool = True) -> float:
    """Return the dowel bearing strength of wood for screws thinner than 1/4 in.

    Source: NDS 2018, table 12.3.3: 16600 G^1.84, printed to 50 psi.

    Args:
        gravity: oven-dry specific gravity [-].
        rounded: to the nearest 50 psi, as the table prints (from memory) [-].

    Returns:
        Fe [psi].
    """
    rule = DOWEL_BEARING_SMALL.value
    exact: float = rule["factor"] * gravity ** rule["power"]
    return _to_50(exact) if rounded else exact


def bearing_large(gravity: float, nominal_in: float, degrees: float = 0.0) -> float:
    """Return the dowel bearing strength of wood for lags of 1/4 in and more.

    Source: NDS 2018, table 12.3.3 along and across the grain; 12.3.4 (Hankinson) between.

    Args:
        gravity: oven-dry specific gravity [-].
        nominal_in: nominal diameter [in].
        degrees: angle of the load to the grain [deg].

    Returns:
        Fe [psi].
    """
    rule = DOWEL_BEARING_PERPENDICULAR.value
    along = _to_50(DOWEL_BEARING_PARALLEL.value * gravity)
    across = _to_50(rule["factor"] * gravity ** rule["power"] / math.sqrt(nominal_in))
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    return along * across / (along * sine * sine + across * cosine * cosine)


def bending_yield(nominal_in: float) -> int:
    """Return the bending yield strength of a wood screw.

    Source: NDS 2018, table I1 (from memory; the value of a #10 was read).

    Args:
        nominal_in: nominal diameter [in].

    Returns:
        Fyb [psi].

    Raises:
        ValueError: no strength is known for so thick a screw.
    """
    for up_to, psi in BENDING_YIELD_WOOD_SCREW.value:
        if nominal_in <= up_to:
            return psi
    raise ValueError("no bending yield strength is known for a wood screw this thick")


def bearing_length(penetration_in: float, nominal_in: float, *, lag: bool = False) -> float:
    """Return the length of the main member that bears; a short screw loses half its tip.

    Source: NDS 2018, 12.1.4 and 12.1.5 (from memory): at least 6 D (lags 4 D), tip included; the
    full value from 10 D (lags 8 D); between, the penetration less half the tip of 2 D.

    Args:
        penetration_in: into the main member, tip included [in].
        nominal_in: nominal diameter [in].
        lag: whether it is a lag [-].

    Returns:
        lm [in].

    Raises:
        ValueError: the screw does not go in far enough to count.
    """
    rule = PENETRATION_DIAMETERS.value
    least, full = (rule["lag"], rule["lag_full"]) if lag else (rule["wood_screw"], rule["full"])
    if penetration_in < least * nominal_in - 1e-9:
        raise ValueError(f"the screw goes in less than {least} diameters: it counts for nothing")
    if penetration_in >= full * nominal_in - 1e-9:
        return penetration_in
    return penetration_in - rule["tip"] * nominal_in / 2


def _to_50(psi: float) -> float:
    """Round to the nearest 50 psi, as table 12.3.3 prints (from memory)."""
    step = DOWEL_BEARING_SMALL.value["rounded_to"]
    return math.floor(psi / step + 0.5) * step


def _coefficients(dowel: Dowel) -> tuple[float, float, float]:
    re, rt = dowel.main_psi / dowel.side_psi, dowel.main_in / dowel.side_in
    slender = 2 * dowel.yield_psi * dowel.diameter_in**2 / (3 * dowel.main_psi)
    root = re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3
    k1 = (math.sqrt(root) - re * (1 + rt)) / (1 + re)
    k2 = -1 + math.sqrt(2 * (1 + re) + slender * (1 + 2 * re) / dowel.main_in**2)
    k3 = -1 + math.sqrt(2 * (1 + re) / re + slender * (2 + re) / dowel.side_in**2)
    return k1, k2, k3


def _refuse_nothing(dowel: Dowel) -> None:
    sizes = (
        dowel.diameter_in,
        dowel.main_in,
        dowel.side_in,
        dowel.main_psi,
        dowel.side_psi,
        dowel.yield_psi,
        *dowel.reduction,
    )
    if not all(math.isfinite(size) and size > 0 for size in sizes):
        raise ValueError("every length, strength and reduction is more than zero")

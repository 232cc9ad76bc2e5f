"""How much does one screw hold in a wood stud: out, down, and both at once?"""

import math
from dataclasses import dataclass

from fitcheck.rules import tables
from fitcheck.rules.lateral import (
    Dowel,
    Yield,
    bearing_large,
    bearing_length,
    bearing_small,
    bending_yield,
    reductions,
)
from fitcheck.rules.lateral_gap import single_shear_gap
from fitcheck.rules.length import NM_PER_INCH, length_parse
from fitcheck.rules.screws import (
    screw_major_nm,
    screw_number,
    withdrawal_lag_screw,
    withdrawal_wood_screw,
)
from fitcheck.rules.tables_fixings import (
    END_GRAIN_LAG,
    END_GRAIN_LATERAL,
    GRAVITY_WHEN_UNKNOWN,
    LAG_SCREWS,
    LAG_THREAD_BEYOND_HALF,
    LAG_TIP,
    ROOT_TENSION_SHARE,
    THREAD_LEAST_DIAMETERS,
    THREAD_SHARE_OF_LENGTH,
    WET_SERVICE,
    WOOD_GRAVITY,
)


@dataclass(frozen=True, slots=True)
class WoodJoint:
    """A screw through a bracket and a stack into wood."""

    size: str
    length_nm: int
    bracket_nm: int
    bracket_psi: float
    stack_nm: int
    gravity: float
    duration: float
    wet: bool = False
    degrees: float = 0.0
    end_grain: bool = False


@dataclass(frozen=True, slots=True)
class WoodCapacity:
    """What one screw holds [lbf], adjusted for duration and moisture."""

    penetration_nm: int
    out_lbf: float
    lateral: Yield
    lateral_lbf: float
    root_lbf: float

    def at(self, tension_lbf: float, shear_lbf: float) -> float:
        """Return what the screw holds in the direction of this load [lbf]."""
        angle = math.atan2(tension_lbf, shear_lbf)
        return combined_value(self.out_lbf, self.lateral_lbf, math.degrees(angle))


def gravity_of(species: str) -> float:
    """Return the specific gravity of a species; an unknown one is taken as weak.

    Source: NDS 2018, table 12.3.3A; for an unknown species the house setting of 0.36.

    Args:
        species: a name of the table, or "unknown" [-].

    Returns:
        Oven-dry specific gravity [-].

    Raises:
        KeyError: the species is not in the table.
    """
    return GRAVITY_WHEN_UNKNOWN.value if species == "unknown" else WOOD_GRAVITY.value[species]


def combined_value(out_lbf: float, lateral_lbf: float, degrees: float) -> float:
    """Return what a screw holds against a pull and a shear at once.

    Source: NDS 2018, 12.4.1 (from memory).

    Args:
        out_lbf: adjusted withdrawal value over the whole thread [lbf].
        lateral_lbf: adjusted lateral value [lbf].
        degrees: angle of the resultant to the wood's face, 0 to 90 [deg].

    Returns:
        The allowable resultant [lbf].

    Raises:
        ValueError: the angle is not between 0 and 90.
    """
    if not 0 <= degrees <= 90:
        raise ValueError("the angle to the wood's face is from 0 to 90 degrees")
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    return out_lbf * lateral_lbf / (out_lbf * cosine * cosine + lateral_lbf * sine * sine)


def thread_in_wood_nm(size: str, length_nm: int, penetration_nm: int) -> int:
    """Return the length of thread that holds in the wood.

    Source: NDS 2018: a wood screw is threaded for 2/3 of its length or 4 D, the more; a lag for
    half its length and 1/2 in, and its tip does not count (12.2.1; lengths from memory).

    Args:
        size: "#10", or a lag such as "5/16 in" [-].
        length_nm: length of the screw [nm].
        penetration_nm: how far it goes into the wood, tip included [nm].

    Returns:
        The thread in the wood [nm].
    """
    if size in LAG_SCREWS.value:
        thread = min(length_nm // 2 + LAG_THREAD_BEYOND_HALF.value, length_nm)
        return min(penetration_nm, thread) - LAG_TIP.value[size]
    over, under = THREAD_SHARE_OF_LENGTH.value
    least = THREAD_LEAST_DIAMETERS.value * nominal_nm(size)
    return min(penetration_nm, max(length_nm * over // under, least))


def nominal_nm(size: str) -> int:
    """Return the nominal diameter of a wood screw or lag.

    Args:
        size: "#10", or a lag such as "5/16 in" [-].

    Returns:
        The diameter [nm].

    Raises:
        ValueError: neither a number nor a lag that is known.
    """
    if size in LAG_SCREWS.value:
        return length_parse(size).nm
    number = screw_number(size)
    if number not in tables.SCREW_ROOT.value:
        raise ValueError(f"no root diameter is known for {size}")
    return screw_major_nm(number)


def root_in(size: str) -> float:
    """Return the root diameter of a wood screw or lag.

    Source: NDS 2018, appendix L3 (from memory; #10 was read); lags by table 12K.

    Args:
        size: "#10", or a lag such as "5/16 in" [-].

    Returns:
        The root diameter [in].

    Raises:
        ValueError: neither a number nor a lag that is known.
    """
    nominal_nm(size)
    if size in LAG_SCREWS.value:
        return LAG_SCREWS.value[size][0]
    return length_parse(tables.SCREW_ROOT.value[screw_number(size)]).nm / NM_PER_INCH


def yield_psi(size: str) -> int:
    """Return the bending yield strength of a wood screw or lag.

    Source: NDS 2018, table I1 (from memory); lags by table 12K.

    Args:
        size: "#10", or a lag such as "5/16 in" [-].

    Returns:
        Fyb [psi].
    """
    if size in LAG_SCREWS.value:
        return LAG_SCREWS.value[size][1]
    return bending_yield(nominal_nm(size) / NM_PER_INCH)


def wood_holds(joint: WoodJoint) -> WoodCapacity:
    """Return what one screw holds in a wood stud through a stack of tile, mortar and board.

    Source: NDS 2018, chapter 12; TR12 for the stack, which is a gap and not a member.

    Args:
        joint: screw, bracket, stack, wood, duration [nm, psi, -].

    Returns:
        Withdrawal, lateral with its modes, and the screw's own tension [lbf].

    Raises:
        ValueError: an impossible stack, or a screw that does not reach far enough to count.

    Valid for: one screw, edge and end distances kept; a lag in end grain, no wood screw there.
    """
    if joint.stack_nm < 0 or joint.bracket_nm <= 0:
        raise ValueError("a bracket has a thickness, and a stack is zero or more")
    penetration = joint.length_nm - joint.bracket_nm - joint.stack_nm
    nominal, lag = nominal_nm(joint.size) / NM_PER_INCH, joint.size in LAG_SCREWS.value
    root, factor = root_in(joint.size), joint.duration * (WET_SERVICE.value if joint.wet else 1)
    dowel = Dowel(
        diameter_in=root,
        main_in=bearing_length(penetration / NM_PER_INCH, nominal, lag=lag),
        side_in=joint.bracket_nm / NM_PER_INCH,
        main_psi=_bearing(joint, nominal, lag=lag),
        side_psi=joint.bracket_psi,
        yield_psi=yield_psi(joint.size),
        reduction=reductions(root, joint.degrees, lag=lag),
    )
    lateral = single_shear_gap(dowel, joint.stack_nm / NM_PER_INCH)
    out, aside = end_grain(joint) if joint.end_grain else (1.0, 1.0)
    thread = thread_in_wood_nm(joint.size, joint.length_nm, penetration) / NM_PER_INCH
    per_inch = (withdrawal_lag_screw if lag else withdrawal_wood_screw)(joint.gravity, nominal)
    return WoodCapacity(
        penetration_nm=penetration,
        out_lbf=per_inch * thread * factor * out,
        lateral=lateral,
        lateral_lbf=lateral.lbf * factor * aside,
        root_lbf=root_tension(joint.size),
    )


def end_grain(joint: WoodJoint) -> tuple[float, float]:
    """Return what is left in end grain of a screw's values for a pull and for a shear.

    Source: NDS 2018, 12.2.1 and 12.2.2: 0.75 of a lag's withdrawal, none of a wood screw's; 0.67 of
    the lateral value (from memory).

    Args:
        joint: the joint [-].

    Returns:
        Both shares of the values in side grain [-].

    Raises:
        ValueError: a wood screw, which end grain lets go.
    """
    if joint.size not in LAG_SCREWS.value:
        raise ValueError("a wood screw is not pulled from end grain")
    return END_GRAIN_LAG.value["out"], END_GRAIN_LATERAL.value


def root_tension(size: str) -> float:
    """Return the tension that the screw's own root may take.

    Source: house setting: a third of the bending yield strength, on the root area.

    Args:
        size: "#10", or a lag such as "5/16 in" [-].

    Returns:
        The allowable tension [lbf].
    """
    return ROOT_TENSION_SHARE.value * yield_psi(size) * math.pi * root_in(size) ** 2 / 4


def _bearing(joint: WoodJoint, nominal_in: float, *, lag: bool) -> float:
    if lag:
        return bearing_large(joint.gravity, nominal_in, joint.degrees)
    return bearing_small(joint.gravity)

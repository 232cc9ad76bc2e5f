"""How thick is a wood screw, how deep must it go, what lead hole does it want, what holds it?"""

from fitcheck.rules import tables
from fitcheck.rules.length import length_parse

THOUSANDTH_NM = 25_400


def screw_number(size: str) -> int:
    """Return the number of a screw from its size.

    Args:
        size: a size such as "#10" [-].

    Returns:
        The number [-].

    Raises:
        ValueError: the size is not a number sign and digits.
    """
    if not size.startswith("#") or not size[1:].isdigit():
        raise ValueError(f"size is {size}; write #10")
    return int(size[1:])


def screw_major_nm(number: int) -> int:
    """Return the nominal diameter of a wood screw, 0.060 in + 0.013 in per number.

    Source: ASME B18.6.1.

    Args:
        number: the screw's number [-].

    Returns:
        The diameter, exact [nm].
    """
    base, step = tables.SCREW_BASE_AND_STEP.value
    return (base + step * number) * THOUSANDTH_NM


def clearance_hole_nm(number: int) -> int:
    """Return the hole that a screw passes without touching, up to the next 1/64 in bit.

    Source: common practice, no source: the screw's diameter and 1/16 in.

    Args:
        number: the screw's number [-].

    Returns:
        The diameter of the bit; a needed clearance never rounds down [nm].
    """
    step = tables.BIT_STEP.value
    wanted = screw_major_nm(number) + tables.CLEARANCE_OVER_MAJOR.value
    return -(-wanted // step) * step


def lead_hole_nm(number: int, *, dense: bool = False) -> int:
    """Return the lead hole for withdrawal, to the nearest 1/64 in bit.

    Source: NDS 2018, 12.1.5: 70 % of the root diameter, 90 % in dense wood; root diameters from
    memory of appendix L3.

    Args:
        number: the screw's number [-].
        dense: specific gravity above 0.60 [-].

    Returns:
        The diameter of the bit [nm].

    Raises:
        KeyError: no root diameter is known for the number.
    """
    percent = tables.LEAD_HOLE_PERCENT.value["dense" if dense else "light"]
    step = tables.BIT_STEP.value
    wanted = length_parse(tables.SCREW_ROOT.value[number]).nm * percent
    return (wanted + 50 * step) // (100 * step) * step


def least_penetration_nm(number: int) -> int:
    """Return how far a wood screw must go into the wood, tip included.

    Source: NDS 2018, 12.1.5: six diameters.

    Args:
        number: the screw's number [-].

    Returns:
        The least penetration [nm].
    """
    return tables.LEAST_PENETRATION_DIAMETERS.value * screw_major_nm(number)


def stock_length(least_nm: int) -> str | None:
    """Return the shortest stock length that is long enough.

    Source: house setting.

    Args:
        least_nm: what is needed, stack and penetration together [nm].

    Returns:
        A length such as "2 1/2 in", None when no stock length will do [-].
    """
    lengths = tables.SCREW_STOCK_LENGTHS.value
    return next((text for text in lengths if length_parse(text).nm >= least_nm), None)


def withdrawal_wood_screw(gravity: float, diameter_in: float) -> float:
    """Return the reference withdrawal value of a wood screw in side grain.

    Source: NDS 2018, 12.2.2: W = 2850 G^2 D.

    Args:
        gravity: oven-dry specific gravity [-].
        diameter_in: nominal diameter [in].

    Returns:
        The value per inch of thread in the wood, allowable level, unadjusted [lb/in].

    Valid for: side grain only; a wood screw is not loaded in withdrawal from end grain.
    """
    return tables.WITHDRAWAL_WOOD_SCREW.value * gravity**2 * diameter_in


def withdrawal_lag_screw(gravity: float, diameter_in: float) -> float:
    """Return the reference withdrawal value of a lag screw in side grain.

    Source: NDS 2018, 12.2.1: W = 1800 G^(3/2) D^(3/4).

    Args:
        gravity: oven-dry specific gravity [-].
        diameter_in: nominal diameter [in].

    Returns:
        The value per inch of thread without the tapered tip, unadjusted [lb/in].
    """
    value: float = tables.WITHDRAWAL_LAG.value * gravity**1.5 * diameter_in**0.75
    return value

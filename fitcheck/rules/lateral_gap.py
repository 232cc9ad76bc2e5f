"""How much sideways load does a screw hold when tile, mortar and board lie in between?"""

import math

from fitcheck.rules.lateral import MODES, Dowel, Yield, reduction_of, single_shear


def single_shear_gap(dowel: Dowel, gap_in: float) -> Yield:
    """Return the yield modes of a screw that crosses a gap before it reaches the main member.

    Tile, mortar and board are no side member in contact: they are a gap, and the screw bends in it.

    Source: AWC TR12, general dowel equations (from memory); without a gap they give the same
    numbers as NDS 2018, table 12.3.1A.

    Args:
        dowel: diameter, bearing lengths and strengths, reduction per mode family [in, psi, -].
        gap_in: everything between the bracket and the wood [in].

    Returns:
        The modes, unadjusted allowable level [lbf].

    Raises:
        ValueError: a negative gap, or a length, strength or reduction not more than zero.
    """
    if not (math.isfinite(gap_in) and gap_in >= 0):
        raise ValueError("a gap is zero or more")
    single_shear(dowel)
    main, side = dowel.main_psi * dowel.diameter_in, dowel.side_psi * dowel.diameter_in
    lm, ls = dowel.main_in, dowel.side_in
    moment = dowel.yield_psi * dowel.diameter_in**3 / 6
    main_end, side_end = main * lm * lm / 4, side * ls * ls / 4
    raw = {
        "Im": main * lm,
        "Is": side * ls,
        "II": _root(1 / (4 * side) + 1 / (4 * main), ls / 2 + gap_in + lm / 2, side_end + main_end),
        "IIIm": _root(1 / (2 * side) + 1 / (4 * main), gap_in + lm / 2, moment + main_end),
        "IIIs": _root(1 / (4 * side) + 1 / (2 * main), ls / 2 + gap_in, side_end + moment),
        "IV": _root(1 / (2 * side) + 1 / (2 * main), gap_in, 2 * moment),
    }
    return Yield(tuple((mode, raw[mode] / reduction_of(dowel, mode)) for mode in MODES))


def _root(a: float, b: float, minus_c: float) -> float:
    """Return the positive root of a P^2 + b P - minus_c, written so that nothing cancels."""
    return 2 * minus_c / (b + math.sqrt(b * b + 4 * a * minus_c))

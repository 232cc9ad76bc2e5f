"""Does a reading stray as chance may have it, or as a mistake that matters would make it?"""

import math
from collections.abc import Iterable

import numpy as np

from fitcheck.rules import tables_shape
from fitcheck.rules.least_squares import Fit, checkable, gain, information, left_over, shown
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.mistakes import Mistake
from fitcheck.rules.suspicion import error_vector, same_error


def mistake_log_odds(
    adjusted: Fit,
    ids: tuple[str, ...],
    slips: Iterable[Mistake],
    stations: Iterable[tuple[str, ...]] = (),
) -> float:
    """Hold a mistake that matters against none, by what each would leave behind.

    Every reading that the others check, and all readings of one place together, may be off, either
    way, by the least mistake that must not go unnoticed or by as much more as explains it best; and
    every pair of sides may have been swapped. All of these weigh the same.

    Source: likelihood ratios; with r the redundancy, a mistake e in one reading moves its w by
    e sqrt(r) / sigma (Baarda 1968 as restated). Least mistake and odds are house settings.

    Args:
        adjusted: the adjustment with every reading in it [-].
        ids: the readings, in the order of the adjustment [-].
        slips: the slips; those of one reading are covered by what that reading may be off [nm].
        stations: the places read more than once, each by the ids of its readings [-].

    Returns:
        Natural logarithm of the odds; minus infinity where no reading checks another [-].
    """
    seen = checkable(adjusted)
    errors = [*np.eye(len(ids))[np.flatnonzero(seen)]]
    errors += [same_error(ids, one) for one in stations if set(one) <= set(ids)]
    told = np.array([one for one in errors if shown(adjusted, one)]).reshape(-1, len(ids))
    sizes = np.sqrt([gain(adjusted, one) for one in told])
    spreads = np.sqrt([information(adjusted, one) for one in told])
    shifts = np.maximum(tables_shape.LEAST_MISTAKE.value / NM_PER_MM * spreads, sizes)
    either = np.logaddexp(shifts * sizes, -shifts * sizes) - math.log(2)
    swaps = [s for s in slips if len(s.errors_nm) > 1 and set(s.errors_nm) <= set(ids)]
    logs = [*(either - shifts**2 / 2), *(_fall(adjusted, ids, one) / 2 for one in swaps)]
    return float(np.logaddexp.reduce(logs)) - math.log(len(logs)) if logs else -math.inf


def _fall(adjusted: Fit, ids: tuple[str, ...], slip: Mistake) -> float:
    return left_over(adjusted) - left_over(adjusted, error_vector(ids, slip))

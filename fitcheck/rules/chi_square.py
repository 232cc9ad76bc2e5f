"""How large may a sum of squares be when nothing is wrong, and when is one residual too large?"""

import math
from functools import cache, lru_cache
from statistics import NormalDist

from fitcheck.rules import tables_shape

NORMAL = NormalDist()


@cache
def critical() -> float:
    """Return the standardised residual above which a reading is suspected.

    Source: Baarda 1968 as restated; alpha 0.001 two-sided gives 3.2905.

    Returns:
        The critical value [-].
    """
    return NORMAL.inv_cdf(1 - tables_shape.SNOOPING_ALPHA.value / 2)


@lru_cache(maxsize=1024)
def chi_square_tail(value: float, freedom: int) -> float:
    """Return the chance that a sum of squares is at least this large when nothing is wrong.

    Source: closed form for whole degrees of freedom.

    Args:
        value: the weighted sum of squares, zero or more [-].
        freedom: degrees of freedom, zero or more [-].

    Returns:
        The chance; 1 when there is no freedom, for nothing can then disagree [-].

    Raises:
        ValueError: the value or the degrees of freedom are less than zero.
    """
    if value < 0 or freedom < 0:
        raise ValueError("neither a sum of squares nor its freedom is less than zero")
    if freedom == 0:
        return 1.0
    half = value / 2
    if freedom % 2 == 0:
        terms = (math.pow(half, k) / math.factorial(k) for k in range(freedom // 2))
        return math.exp(-half) * sum(terms)
    tail = math.erfc(math.sqrt(half))
    steps = range(1, (freedom - 1) // 2 + 1)
    return tail + math.exp(-half) * sum(
        math.pow(half, k - 0.5) / math.gamma(k + 0.5) for k in steps
    )


@cache
def chi_square_limit(alpha: float, freedom: int) -> float:
    """Return the sum of squares that is exceeded with chance alpha when nothing is wrong.

    Source: the closed form of the tail, halved down to the last digit.

    Args:
        alpha: chance of a false alarm, more than zero and less than one [-].
        freedom: degrees of freedom, one or more [-].

    Returns:
        The limit [-].

    Raises:
        ValueError: alpha or the degrees of freedom are out of range.
    """
    if not 0 < alpha < 1 or freedom < 1:
        raise ValueError("a limit needs an alpha between 0 and 1 and a degree of freedom")
    low, high = 0.0, 1.0
    while chi_square_tail(high, freedom) > alpha:
        high *= 2
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if chi_square_tail(middle, freedom) > alpha else (low, middle)
    return high

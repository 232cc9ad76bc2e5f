"""Which values agree best with readings that over-determine them, and which reading does not?"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fitcheck.rules import tables_shape
from fitcheck.rules.chi_square import NORMAL, critical

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fit:
    """An adjustment by observation equations, with everything that judges its readings."""

    solution: Array
    covariance: Array
    gains: Array
    seen: Array
    residuals: Array
    residual_cofactors: Array
    sigmas: Array
    rank: int
    assumed: int = 0

    @property
    def freedom(self) -> int:
        """Return how many readings are more than was needed."""
        return len(self.residuals) - self.rank


def fit(design: Array, readings: Array, sigmas: Array, assumed: int = 0) -> Fit:
    """Adjust readings l to the model A x: v = A x - l with the least sum of (v/sigma)^2.

    Source: adjustment by observation equations, Q_vv = C_l - A (A^T P A)^-1 A^T. Directions of x
    that no reading determines are left at zero and are told by `seen`.

    Args:
        design: A, one row per reading, one column per unknown [-].
        readings: l [mm].
        sigmas: standard uncertainty of each reading, more than zero [mm].
        assumed: how many of the last rows are no readings but assumptions; none is ever blamed [-].

    Returns:
        The adjustment [mm].

    Raises:
        ValueError: there is no reading, or a sigma is not more than zero.
    """
    if not len(readings) or not np.all(sigmas > 0):
        raise ValueError("an adjustment needs readings, each with an uncertainty above zero")
    left, strength, right = np.linalg.svd(design / sigmas[:, None], full_matrices=False)
    kept = strength > tables_shape.RANK_TOLERANCE.value * strength.max(initial=0.0)
    left, strength, right = left[:, kept], strength[kept], right[kept]
    gains = (right.T / strength) @ left.T / sigmas
    solution = gains @ readings
    shown = np.eye(len(readings)) - left @ left.T
    return Fit(
        solution,
        (right.T / strength**2) @ right,
        gains,
        right.T @ right,
        design @ solution - readings,
        shown * np.outer(sigmas, sigmas),
        sigmas,
        int(kept.sum()),
        assumed,
    )


def redundancies(adjusted: Fit) -> Array:
    """Return the share of a mistake in each reading that would show in its own residual.

    Source: Baarda 1968 as restated, r_i = (Q_vv P)_ii; they add up to the degrees of freedom.

    Args:
        adjusted: the adjustment [-].

    Returns:
        The redundancy numbers, 0 (not checkable) to 1 [-].
    """
    shares: Array = np.clip(np.diag(adjusted.residual_cofactors) / adjusted.sigmas**2, 0.0, 1.0)
    return shares


def checkable(adjusted: Fit) -> NDArray[np.bool_]:
    """Return which readings the others can check at all.

    Args:
        adjusted: the adjustment [-].

    Returns:
        True where the redundancy is above the firm's least [-].
    """
    read = np.arange(len(adjusted.sigmas)) < len(adjusted.sigmas) - adjusted.assumed
    return read & (redundancies(adjusted) > tables_shape.LEAST_REDUNDANCY.value)


def standardised(adjusted: Fit) -> Array:
    """Return each residual over its own standard deviation; zero where nothing checks a reading.

    Source: Baarda 1968 as restated, w_i = v_i / (sigma_i sqrt(r_i)).

    Args:
        adjusted: the adjustment [-].

    Returns:
        The standardised residuals [-].
    """
    spread = adjusted.sigmas * np.sqrt(redundancies(adjusted))
    seen = checkable(adjusted)
    return np.where(seen, adjusted.residuals / np.where(seen, spread, 1.0), 0.0)


def mistakes_estimated(adjusted: Fit) -> Array:
    """Return how far each reading would be off if it alone were mistaken: -v_i / r_i.

    Source: derived from the adjustment by observation equations.

    Args:
        adjusted: the adjustment [-].

    Returns:
        Reading less truth; zero where nothing checks a reading [mm].
    """
    seen = checkable(adjusted)
    shares = np.where(seen, redundancies(adjusted), 1.0)
    return np.where(seen, -adjusted.residuals / shares, 0.0)


def detectable(adjusted: Fit) -> Array:
    """Return the smallest mistake in each reading that snooping finds four times in five.

    Source: Baarda 1968 as restated, MDB = delta_0 sigma / sqrt(r), delta_0 = 4.132.

    Args:
        adjusted: the adjustment [-].

    Returns:
        The least detectable mistakes; infinite where nothing checks a reading [mm].
    """
    seen = checkable(adjusted)
    shares = np.where(seen, redundancies(adjusted), 1.0)
    return np.where(seen, noncentrality() * adjusted.sigmas / np.sqrt(shares), np.inf)


def correlation(adjusted: Fit, one: int, other: int) -> float:
    """Return how alike the residuals answer to mistakes in two readings; 1 cannot be told apart.

    Source: derived, rho_ij = q_ij / sqrt(q_ii q_jj) of Q_vv.

    Args:
        adjusted: the adjustment [-].
        one: index of a reading [-].
        other: index of another reading [-].

    Returns:
        The correlation, -1 to 1; zero when one of them is not checkable [-].
    """
    if not checkable(adjusted)[[one, other]].all():
        return 0.0
    q = adjusted.residual_cofactors
    return float(q[one, other] / math.sqrt(q[one, one] * q[other, other]))


def left_over(adjusted: Fit, mistake: Array | None = None) -> float:
    """Return the sum of (v/sigma)^2 that is left when a supposed mistake is taken off.

    Source: derived, v + M e with M = Q_vv P, so that only e is needed and no second adjustment.

    Args:
        adjusted: the adjustment [-].
        mistake: what is taken off each reading; nothing when left out [mm].

    Returns:
        The weighted sum of squares [-].
    """
    weights = 1.0 / adjusted.sigmas**2
    residuals = adjusted.residuals
    if mistake is not None:
        residuals = residuals + adjusted.residual_cofactors @ (weights * mistake)
    return float(np.sum(weights * residuals**2))


def information(adjusted: Fit, error: Array) -> float:
    """Return how much the residuals tell of the size of a supposed mistake, e P Q_vv P e.

    Source: derived; for one reading alone it is its redundancy over the square of its sigma.

    Args:
        adjusted: the adjustment [-].
        error: what a mistake of size one adds to each reading [mm].

    Returns:
        One over the variance of the size [1/mm2, or as the size is counted].
    """
    weighed = error / adjusted.sigmas**2
    return max(0.0, float(weighed @ adjusted.residual_cofactors @ weighed))


def shown(adjusted: Fit, error: Array) -> bool:
    """Return whether enough of a supposed mistake shows in the residuals for it to be told.

    Source: derived, as the redundancy of one reading; the least share is a house setting.

    Args:
        adjusted: the adjustment [-].
        error: what a mistake of size one adds to each reading [mm].

    Returns:
        True where the share that shows is above the firm's least [-].
    """
    most = float(np.sum((error / adjusted.sigmas) ** 2))
    return information(adjusted, error) > tables_shape.LEAST_REDUNDANCY.value * most


def gain(adjusted: Fit, error: Array) -> float:
    """Return by how much the sum of squares falls when a supposed mistake takes its best size.

    Source: derived, (e P v)^2 / (e P Q_vv P e); for one reading alone it is w^2.

    Args:
        adjusted: the adjustment [-].
        error: what a mistake of size one adds to each reading [mm].

    Returns:
        The fall; zero where the mistake does not show [-].
    """
    if not shown(adjusted, error):
        return 0.0
    along = float(error @ (adjusted.residuals / adjusted.sigmas**2))
    return along * along / information(adjusted, error)


def likeness(adjusted: Fit, one: Array, other: Array) -> float:
    """Return how alike the residuals answer to two supposed mistakes; 1 cannot be told apart.

    Source: derived, as `correlation` for single readings.

    Args:
        adjusted: the adjustment [-].
        one: what the one adds to each reading [mm].
        other: what the other adds to each reading [mm].

    Returns:
        The likeness, -1 to 1; zero where one of them does not show [-].
    """
    if not (shown(adjusted, one) and shown(adjusted, other)):
        return 0.0
    weights = 1.0 / adjusted.sigmas**2
    both = float((weights * one) @ adjusted.residual_cofactors @ (weights * other))
    return both / math.sqrt(information(adjusted, one) * information(adjusted, other))


def noncentrality() -> float:
    """Return delta_0, the shift that is found with the chosen alpha and power.

    Source: Baarda 1968 as restated; alpha 0.001 and power 0.80 give 4.132.

    Returns:
        The shift in standard deviations [-].
    """
    return critical() + NORMAL.inv_cdf(tables_shape.SNOOPING_POWER.value)


def worst_reading(adjusted: Fit) -> int | None:
    """Return the one reading that snooping rejects, if there is one: the largest |w| only.

    Source: Baarda 1968 as restated: one at a time, then adjust again.

    Args:
        adjusted: the adjustment [-].

    Returns:
        The index of the reading, or None when no |w| exceeds the critical value [-].
    """
    sizes = np.abs(standardised(adjusted))
    worst = int(np.argmax(sizes))
    return worst if sizes[worst] > critical() else None


def rivals(adjusted: Fit, suspect: int) -> tuple[int, ...]:
    """Return the readings that explain the disagreement nearly as well as the suspect does.

    Source: derived: taking reading i off lowers the sum of squares by w_i^2, so that the odds of
    i against j are exp((w_i^2 - w_j^2) / 2); the least odds are a house setting.

    Args:
        adjusted: the adjustment [-].
        suspect: index of the reading with the largest |w| [-].

    Returns:
        Indices of the others; none when the suspect stands alone [-].
    """
    gains = standardised(adjusted) ** 2
    near = 2 * math.log(tables_shape.TELL_APART_ODDS.value)
    close = (gains[suspect] - gains < near) & checkable(adjusted)
    return tuple(int(one) for one in np.flatnonzero(close) if one != suspect)

"""How much does each mistake weigh among everything that may be wrong?"""

import math
from dataclasses import dataclass

import numpy as np

from fitcheck.rules import tables_shape
from fitcheck.rules.least_squares import (
    Array,
    Fit,
    checkable,
    gain,
    information,
    left_over,
    redundancies,
    shown,
    standardised,
)
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.mistakes import LEFT_FOR_RIGHT, Mistake


@dataclass(frozen=True, slots=True)
class Suspicion:
    """What may be wrong, and how much it weighs among everything that may be wrong."""

    readings: tuple[str, ...]
    share: float
    mistake: Mistake | None


def suspicions(
    adjusted: Fit,
    ids: tuple[str, ...],
    slips: list[Mistake],
    stations: tuple[tuple[str, ...], ...] = (),
) -> list[Suspicion]:
    """Weigh everything that may be wrong by how well it explains the residuals.

    A slip of a known size competes with a mistake of any size in each reading, and in all readings
    of one place. The weights say which to look at first; they never take a reading out.

    Source: Bayes' rule over the left-over sum of squares; the prior weights are a house setting.

    Args:
        adjusted: the adjustment with every reading in it [-].
        ids: the readings, in the order of the adjustment [-].
        slips: the slips to be weighed [nm].
        stations: the places read more than once, each by the ids of its readings [-].

    Returns:
        The suspicions, the heaviest first; their shares add up to 1 [-].
    """
    weighed: list[tuple[float, tuple[str, ...], Mistake | None]] = [
        (_log_weight_of_slip(adjusted, ids, slip), tuple(slip.errors_nm), slip)
        for slip in slips
        if set(slip.errors_nm) <= set(ids)
    ] + [(weight, (one,), None) for one, weight in _of_any_size(adjusted, ids)]
    weighed += [(weight, one, None) for one, weight in _alike(adjusted, ids, stations)]
    if not weighed:
        return []
    heaviest = max(weight for weight, _, _ in weighed)
    total = sum(math.exp(weight - heaviest) for weight, _, _ in weighed)
    found = [
        Suspicion(readings, math.exp(weight - heaviest) / total, slip)
        for weight, readings, slip in weighed
    ]
    return sorted(found, key=lambda one: -one.share)


def _log_weight_of_slip(adjusted: Fit, ids: tuple[str, ...], slip: Mistake) -> float:
    prior = math.log(tables_shape.MISTAKE_WEIGHTS.value[slip.kind])
    if len(slip.errors_nm) > 1 and slip.kind != LEFT_FOR_RIGHT:
        prior += math.log(tables_shape.REPEATED_MISTAKE.value)
    return prior - left_over(adjusted, error_vector(ids, slip)) / 2


def error_vector(ids: tuple[str, ...], slip: Mistake) -> Array:
    """Return a slip as what it adds to each reading.

    Args:
        ids: the readings, in the order of the adjustment [-].
        slip: the slip [nm].

    Returns:
        One error per reading [mm].
    """
    return np.array([slip.errors_nm.get(one, 0) / NM_PER_MM for one in ids])


def _of_any_size(adjusted: Fit, ids: tuple[str, ...]) -> list[tuple[str, float]]:
    total, shares = left_over(adjusted), redundancies(adjusted)
    sizes, seen = standardised(adjusted), checkable(adjusted)
    reach = 2 * tables_shape.UNKNOWN_MISTAKE_REACH.value
    prior = math.log(tables_shape.UNKNOWN_MISTAKE_WEIGHT.value)
    found = []
    for n in np.flatnonzero(seen):
        spread = math.sqrt(2 * math.pi / shares[n]) * adjusted.sigmas[n]
        weight = prior + math.log(spread / reach) - (total - sizes[n] ** 2) / 2
        found.append((ids[n], float(weight)))
    return found


def _alike(
    adjusted: Fit, ids: tuple[str, ...], stations: tuple[tuple[str, ...], ...]
) -> list[tuple[tuple[str, ...], float]]:
    """Weigh one mistake of any size in all readings of a place."""
    total = left_over(adjusted)
    prior = tables_shape.UNKNOWN_MISTAKE_WEIGHT.value * tables_shape.REPEATED_MISTAKE.value
    reach = 2 * tables_shape.UNKNOWN_MISTAKE_REACH.value
    found = []
    for station in stations:
        error = same_error(ids, station)
        if set(station) <= set(ids) and shown(adjusted, error):
            spread = math.sqrt(2 * math.pi / information(adjusted, error))
            weight = math.log(prior * spread / reach) - (total - gain(adjusted, error)) / 2
            found.append((station, weight))
    return found


def same_error(ids: tuple[str, ...], wrong: tuple[str, ...]) -> Array:
    """Return one millimetre in each of some readings, nothing in the others.

    Args:
        ids: the readings, in the order of the adjustment [-].
        wrong: those that are off alike [-].

    Returns:
        One error per reading [mm].
    """
    return np.array([1.0 if one in wrong else 0.0 for one in ids])


def explanation(slips: list[Mistake], one: str, off_mm: float, u_mm: float) -> Mistake | None:
    """Name the slip that explains by how much one reading is off, if a slip does.

    Source: the slip lies within the firm's number of standard uncertainties of what is off; of
    several the likeliest, by the prior weights of the house.

    Args:
        slips: the slips known [nm].
        one: the reading [-].
        off_mm: the reading less what the others make of it [mm].
        u_mm: standard uncertainty of that difference, more than zero [mm].

    Returns:
        The likeliest slip, or None when no slip is near enough [-].
    """

    def apart(slip: Mistake) -> float:
        return (slip.errors_nm[one] / NM_PER_MM - off_mm) / u_mm

    def weight(slip: Mistake) -> float:
        return math.log(tables_shape.MISTAKE_WEIGHTS.value[slip.kind]) - apart(slip) ** 2 / 2

    own = [slip for slip in slips if tuple(slip.errors_nm) == (one,)]
    close = [slip for slip in own if abs(apart(slip)) <= tables_shape.MISTAKE_EXPLAINS.value]
    return max(close, key=weight, default=None)

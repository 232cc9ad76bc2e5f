"""Which readings may be the wrong ones, and can it be told which of them?"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from fitcheck.rules import tables_shape
from fitcheck.rules.least_squares import (
    Array,
    Fit,
    checkable,
    gain,
    left_over,
    likeness,
    shown,
    standardised,
)
from fitcheck.rules.mistakes import Mistake, agreeing, places_of, repeats_of, slips_of, swaps_of
from fitcheck.rules.survey import Reading
from fitcheck.rules.suspicion import Suspicion, error_vector, same_error, suspicions


@dataclass(frozen=True, slots=True)
class Suspects:
    """What may have gone wrong: slips of one reading, swapped sides, one mistake at one place."""

    rules: int
    slips: list[Mistake]
    stations: tuple[tuple[str, ...], ...] = ()
    places: tuple[tuple[str, ...], ...] = ()

    def beside(self, station: tuple[str, ...]) -> tuple[str, ...]:
        """Return the other readings of the same place, which do not agree with these."""
        same = next((one for one in self.places if set(station) <= set(one)), ())
        return tuple(one for one in same if station and one not in station)


def suspects_of(readings: tuple[Reading, ...], rules: int) -> Suspects:
    """List what may have gone wrong with some readings.

    Source: common practice, no source, as in `mistakes`.

    Args:
        readings: the readings of one survey [-].
        rules: the version of the rules; before 5 a place read twice was two readings [-].

    Returns:
        The slips, and the places read more than once [nm].
    """
    slips = [*(s for each in readings for s in slips_of(each, rules)), *swaps_of(readings)]
    if rules < 5:
        return Suspects(rules, slips)
    places = places_of(readings)
    return Suspects(
        rules,
        slips,
        tuple(ids for one in places for ids in agreeing(one)),
        tuple(tuple(each.id for each in one) for one in places),
    )


def tell_apart() -> float:
    """Return by how much one explanation must lower the sum of squares more than another.

    Source: derived, twice the logarithm of the odds, which are a house setting.

    Returns:
        The difference [-].
    """
    return 2 * math.log(tables_shape.TELL_APART_ODDS.value)


def as_good(
    adjusted: Fit, ids: tuple[str, ...], suspects: Suspects, least: float, outvoted: str = ""
) -> tuple[str, ...]:
    """Return the readings of each swap, and of each place, that explains as much as is said.

    Readings that agree are no rivals of the one at their own place that they outvote.

    Source: derived, as `rivals` for single readings.

    Args:
        adjusted: the adjustment [-].
        ids: the readings, in the order of the adjustment [-].
        suspects: what may have gone wrong [-].
        least: by how much the sum of squares must fall, more than this [-].
        outvoted: a reading that is suspected itself [-].

    Returns:
        The readings, none when nothing explains as much [-].
    """
    total, known = left_over(adjusted), set(ids)
    pairs = [s for s in suspects.slips if len(s.errors_nm) == 2 and set(s.errors_nm) <= known]
    most = total - least
    near = [tuple(s.errors_nm) for s in pairs if left_over(adjusted, error_vector(ids, s)) < most]
    near += [
        one
        for one in _stations_as_good(adjusted, ids, suspects, least)
        if outvoted not in suspects.beside(one)
    ]
    return tuple(reading for one in near for reading in one)


def station_alone(adjusted: Fit, ids: tuple[str, ...], suspects: Suspects) -> tuple[str, ...]:
    """Return the agreeing readings of a place that stand alone as wrong, where a third one there says so.

    Without another reading of the same place that differs from them they are only suspected: readings
    that agree are not outvoted from elsewhere.

    Source: derived, as `rivals`; the least odds are a house setting.

    Args:
        adjusted: the adjustment [-].
        ids: the readings, in the order of the adjustment [-].
        suspects: what may have gone wrong [-].

    Returns:
        The readings, none where nothing is told so clearly [-].
    """
    known = [one for one in suspects.stations if set(one) <= set(ids)]
    falls = {one: gain(adjusted, same_error(ids, one)) for one in known}
    best = max(falls, key=falls.__getitem__, default=())
    if not set(suspects.beside(best)) & set(ids):
        return ()
    least = falls[best] - tell_apart()
    single = float(np.max(standardised(adjusted) ** 2))
    others = [one for one in as_good(adjusted, ids, suspects, least) if one not in best]
    return () if others or single > least else best


def _stations_as_good(
    adjusted: Fit, ids: tuple[str, ...], suspects: Suspects, least: float
) -> list[tuple[str, ...]]:
    known = set(ids)
    return [
        one
        for one in suspects.stations
        if set(one) <= known and gain(adjusted, same_error(ids, one)) > max(0.0, least)
    ]


def pairs_as_good(
    adjusted: Fit, ids: tuple[str, ...], blamed: tuple[str, ...], suspects: Suspects
) -> tuple[str, ...]:
    """Return the readings of whatever explains nearly as much as two blamed readings do.

    Source: derived: a pair lowers the sum of squares by b N^-1 b, with b = P v and N = P Q_vv P.

    Args:
        adjusted: the adjustment with every reading in it [-].
        ids: the readings, in the order of the adjustment [-].
        blamed: the two [-].
        suspects: what else may have gone wrong [-].

    Returns:
        The readings; none when the two stand alone [-].
    """
    weights = 1.0 / adjusted.sigmas**2
    normal = weights[:, None] * adjusted.residual_cofactors * weights
    along = weights * adjusted.residuals
    seen = [int(n) for n in np.flatnonzero(checkable(adjusted))]
    fell = {
        (ids[a], ids[b]): _fall(normal[np.ix_([a, b], [a, b])], along[[a, b]])
        for a, b in combinations(seen, 2)
    }
    own = max((fall for pair, fall in fell.items() if set(pair) == set(blamed)), default=0.0)
    least = own - tell_apart()
    near = [pair for pair, fall in fell.items() if fall > least and set(pair) != set(blamed)]
    return (*(one for pair in near for one in pair), *as_good(adjusted, ids, suspects, least))


def _fall(normal: Array, along: Array) -> float:
    """Return by how much two mistakes of their best sizes lower the sum of squares."""
    (a, c), (_, b) = normal
    alone = max(along[0] ** 2 / a, along[1] ** 2 / b)
    apart = a * b - c * c
    if apart <= tables_shape.LEAST_REDUNDANCY.value * a * b:
        return float(alone)
    both = (b * along[0] ** 2 - 2 * c * along[0] * along[1] + a * along[1] ** 2) / apart
    return float(both)


def among(
    adjusted: Fit, ids: tuple[str, ...], suspects: Suspects, around: Iterable[str]
) -> tuple[Suspicion, ...]:
    """Weigh only the readings that the disagreement points to; tell each once, at its heaviest.

    Source: as in `suspicions`.

    Args:
        adjusted: the adjustment [-].
        ids: the readings, in the order of the adjustment [-].
        suspects: what may have gone wrong [-].
        around: the readings pointed to [-].

    Returns:
        The suspicions, the heaviest first [-].
    """
    told: dict[tuple[str, ...], Suspicion] = {}
    near, best = set(around), float(np.max(standardised(adjusted) ** 2))
    stations = tuple(_stations_as_good(adjusted, ids, suspects, best - tell_apart()))
    repeated = [slip for one in stations for slip in repeats_of(suspects.slips, one)]
    for one in suspicions(adjusted, ids, [*suspects.slips, *repeated], stations):
        if not set(one.readings) <= near:
            continue
        before = told.get(one.readings)
        slip = one.mistake if one.mistake and _fits(adjusted, ids, one) else None
        told[one.readings] = (
            replace(before, share=before.share + one.share, mistake=before.mistake or slip)
            if before
            else replace(one, mistake=slip)
        )
    return tuple(sorted(told.values(), key=lambda one: -one.share))


def _fits(adjusted: Fit, ids: tuple[str, ...], one: Suspicion) -> bool:
    """Does a named slip explain nearly as much as a mistake of the best size in the same readings?"""
    if one.mistake is None or _opposed(one.mistake):
        return one.mistake is not None
    if len(one.readings) == 1:
        size = float(standardised(adjusted)[ids.index(one.readings[0])])
        best = left_over(adjusted) - size * size
    else:
        best = left_over(adjusted) - gain(adjusted, same_error(ids, one.readings))
    near = math.pow(tables_shape.MISTAKE_EXPLAINS.value, 2)
    return left_over(adjusted, error_vector(ids, one.mistake)) - best <= near


def _opposed(slip: Mistake) -> bool:
    return len(slip.errors_nm) > 1 and len(set(slip.errors_nm.values())) > 1


def hardest_apart(
    adjusted: Fit, ids: tuple[str, ...], suspected: Iterable[Suspicion]
) -> float | None:
    """Return by how much the two suspicions hardest to tell apart differ in what they leave over.

    Source: derived: w^2 (1 - rho^2) of one in the presence of the other.

    Args:
        adjusted: the adjustment [-].
        ids: the readings, in the order of the adjustment [-].
        suspected: the suspicions [-].

    Returns:
        The least difference, None where fewer than two show [-].
    """
    errors = [_direction(ids, one) for one in suspected if set(one.readings) <= set(ids)]
    kept = [error for error in errors if shown(adjusted, error)]
    return min(
        (
            gain(adjusted, one) * (1 - likeness(adjusted, one, other) ** 2)
            for one in kept
            for other in kept
            if one is not other
        ),
        default=None,
    )


def _direction(ids: tuple[str, ...], one: Suspicion) -> Array:
    if one.mistake and _opposed(one.mistake):
        return error_vector(ids, one.mistake)
    return same_error(ids, one.readings)

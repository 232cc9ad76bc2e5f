"""Which shape agrees best with some readings of an opening?"""

import math
from dataclasses import dataclass

import numpy as np

from fitcheck.rules import tables_shape
from fitcheck.rules.chi_square import chi_square_limit
from fitcheck.rules.least_squares import Array, Fit, fit, left_over, standardised, worst_reading
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.quadrilateral import (
    ADJUSTED,
    BOW,
    UNKNOWNS,
    WIDTH,
    Frame,
    Observation,
    expected,
)
from fitcheck.rules.suspects import tell_apart

_STRAIGHT = Observation(
    "straight walls", "straight", "none", None, None, 0.0, tables_shape.BOW_USUAL.value, 0.0, None
)
_START_WIDTH_MM = 1000.0


@dataclass(frozen=True, slots=True)
class Solved:
    """A shape that agrees best with some readings."""

    seen: tuple[Observation, ...]
    frame: Frame
    shape: Array
    design: Array
    fit: Fit
    bowed: bool
    settled: bool = True

    @property
    def ids(self) -> tuple[str, ...]:
        """Return the ids of what was read and assumed, in the order of the adjustment."""
        return tuple(each.id for each in self.seen)

    @property
    def read(self) -> tuple[Observation, ...]:
        """Return what was read, without what was assumed."""
        return tuple(each for each in self.seen if each.quantity in ADJUSTED)

    def along(self, row: Array) -> tuple[float, float] | None:
        """Return the value and standard uncertainty of a combination of the unknowns [mm].

        None when no reading determines it.
        """
        if np.linalg.norm(row - self.fit.seen @ row) > 1e-6 * np.linalg.norm(row):
            return None
        return float(row @ self.shape), self.doubt(row)

    def doubt(self, row: Array) -> float:
        """Return the standard uncertainty of a combination; one tool errs one way throughout [mm]."""
        answers = row @ self.fit.gains
        square = float(np.sum((answers * self.fit.sigmas) ** 2))
        shared: dict[object, list[float]] = {}
        for answer, each in zip(answers, self.seen, strict=True):
            shared.setdefault(each.tool, []).append(float(answer) * each.shared)
        square += sum(
            sum(parts) ** 2 - sum(one * one for one in parts) for parts in shared.values()
        )
        return math.sqrt(max(0.0, square))


def modelled(seen: tuple[Observation, ...], frame: Frame) -> Solved:
    """Adjust with walls that bow as little as walls do, or freely where the widths show a bow.

    Without a bow shown, one of the usual size about none is assumed; so no width is told more
    surely than walls allow, and a perfect survey of straight walls is left as it is.

    Source: likelihood ratio: a bow lowers the sum of squares by more than chi-square allows, by
    nearly as much as the likeliest mistake would, and is no larger than the firm thinks plausible.

    Args:
        seen: the observations [mm].
        frame: the height over which leans and bow are counted [mm].

    Returns:
        The shape [mm].

    Raises:
        ValueError: there is no observation.
    """
    straight = solve(seen, frame, bow=False)
    if len(_width_heights(seen)) < 3:
        return straight
    bowed = solve(seen, frame, bow=True)
    if bowed.fit.rank < straight.fit.rank:
        return straight
    gain = left_over(straight.fit) - left_over(bowed.fit)
    plausible = abs(bowed.shape[BOW]) * NM_PER_MM <= tables_shape.BOW_PLAUSIBLE.value
    worst = worst_reading(straight.fit)
    mistake = 0.0 if worst is None else standardised(straight.fit)[worst] ** 2
    shown = gain > chi_square_limit(tables_shape.BOW_ALPHA.value, 1)
    return bowed if shown and plausible and gain > mistake - tell_apart() else straight


def solve(seen: tuple[Observation, ...], frame: Frame, *, bow: bool) -> Solved:
    """Adjust the unknowns by repeated linear steps until nothing moves any more.

    Source: Gauss-Newton steps over adjustment by observation equations.

    Args:
        seen: the observations [mm].
        frame: the height over which leans and bow are counted [mm].
        bow: whether the walls may bow freely, not only as little as walls do [-].

    Returns:
        The shape; an unknown that nothing determines stays where it started [mm].

    Raises:
        ValueError: there is no observation.
    """
    shape = _start(seen, frame)
    seen = seen if bow else (*seen, _STRAIGHT)
    values = np.array([each.value for each in seen])
    sigmas = np.array([each.sigma for each in seen])
    settled = False
    for _ in range(tables_shape.MOST_STEPS.value):
        rows = [expected(each, shape, frame) for each in seen]
        design = np.array([row for _, row in rows])
        short = values - np.array([value for value, _ in rows])
        step = fit(design, short, sigmas, assumed=0 if bow else 1)
        shape = shape + step.solution
        if np.max(np.abs(step.solution)) < tables_shape.CONVERGED.value:
            settled = True
            break
    return Solved(seen, frame, shape, design, step, bow, settled)


def _start(seen: tuple[Observation, ...], frame: Frame) -> Array:
    widths = sorted(each.value for each in seen if each.quantity == "width")
    shape = np.zeros(len(UNKNOWNS))
    shape[WIDTH] = widths[len(widths) // 2] if widths else _START_WIDTH_MM
    shape[-2:] = frame.top
    return shape


def _width_heights(seen: tuple[Observation, ...]) -> set[float]:
    return {each.height for each in seen if each.quantity == "width" and each.height is not None}

"""Which shape agrees best with some readings of an opening?"""

import numpy as np

from fitcheck.rules import tables_shape
from fitcheck.rules.chi_square import chi_square_limit
from fitcheck.rules.least_squares import Array, fit, left_over, standardised, worst_reading
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.quadrilateral import (
    BOW,
    UNKNOWNS,
    WIDTH,
    Frame,
    Observation,
    expected,
)
from fitcheck.rules.solved import Solved
from fitcheck.rules.suspects import tell_apart

_STRAIGHT = Observation(
    "straight walls", "straight", "none", None, None, 0.0, tables_shape.BOW_USUAL.value, 0.0, None
)
_START_WIDTH_MM = 1000.0


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
    heights = {one.height for one in seen if one.quantity == "width" and one.height is not None}
    if len(heights) < 3:
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

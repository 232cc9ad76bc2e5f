"""What pull and what shear does each screw of a bracket or hinge get?"""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Hinges:
    """A hinged door: weight, size and how it hangs."""

    weight_lbf: float
    width_in: float
    offset_in: float
    centres_in: float


def heel_tension(down_lbf: float, lever_in: float, height_in: float) -> float:
    """Return the pull in the upper screws of a bracket that pivots on its heel.

    Source: equilibrium about the heel: T = P e / h.

    Args:
        down_lbf: load on the bracket [lbf].
        lever_in: how far off the structure the load hangs, stack included [in].
        height_in: screw row above the heel [in].

    Returns:
        The pull in the whole row; divide it by the screws of that row only [lbf].

    Raises:
        ValueError: no height, or a lever below zero.
    """
    if height_in <= 0 or lever_in < 0:
        raise ValueError("the screws are above the heel, and a lever is zero or more")
    return down_lbf * lever_in / height_in


def stack_lever(bracket_in: float, stack_in: float) -> float:
    """Return the whole lever of a load: tile and board hold no moment, the structure does.

    Source: equilibrium; a soft or open stack pries, so its thickness is added.

    Args:
        bracket_in: load off the face of the finish [in].
        stack_in: finish, mortar and board over the structure [in].

    Returns:
        The lever [in].
    """
    return bracket_in + stack_in


def row_tensions(moment: float, rows: tuple[tuple[int, float], ...]) -> tuple[float, ...]:
    """Return the pull per screw in each row of a rigid plate that pivots on its lower edge.

    Source: equilibrium with pulls in proportion to height: T = M y / sum(n y^2).

    Args:
        moment: moment on the plate [lbf in].
        rows: screws in the row and its height above the edge [-, in].

    Returns:
        The pull per screw, in the order of the rows [lbf].

    Raises:
        ValueError: no row, or a row that is not above the edge.
    """
    if not rows or any(count <= 0 or height <= 0 for count, height in rows):
        raise ValueError("every row has screws and is above the lower edge")
    stiffness = sum(count * height * height for count, height in rows)
    return tuple(moment * height / stiffness for _, height in rows)


def hinge_couple(hinges: Hinges) -> float:
    """Return the pull at the top hinge, which is also the push at the bottom one.

    Source: equilibrium: H = W (w/2 + s) / h. A third hinge does not share it: the top pulls.

    Args:
        hinges: weight, width, offset of the hinge line to the glass, hinge centres [lbf, in].

    Returns:
        The couple's force [lbf].

    Raises:
        ValueError: no distance between the hinges.
    """
    if hinges.centres_in <= 0:
        raise ValueError("the hinges are apart")
    return hinges.weight_lbf * (hinges.width_in / 2 + hinges.offset_in) / hinges.centres_in


def group_shears(
    load: tuple[float, float], at: tuple[float, float], screws: tuple[tuple[float, float], ...]
) -> tuple[float, ...]:
    """Return the shear of each screw of a group that is loaded off its centre, in its own plane.

    Source: elastic vector method: P/n and M r / J.

    Args:
        load: rightward and upward parts of the load [lbf].
        at: where it acts [in].
        screws: where the screws are [in].

    Returns:
        The resultant per screw, in the order given [lbf].

    Raises:
        ValueError: no screw; or one point only, which cannot hold a twist.
    """
    count = len(screws)
    if not count:
        raise ValueError("a group has at least one screw")
    middle = (sum(x for x, _ in screws) / count, sum(y for _, y in screws) / count)
    twist = (at[0] - middle[0]) * load[1] - (at[1] - middle[1]) * load[0]
    polar = sum((x - middle[0]) ** 2 + (y - middle[1]) ** 2 for x, y in screws)
    if polar == 0:
        if abs(twist) > 1e-9:
            raise ValueError("screws at one point cannot hold a load off their centre")
        return (math.hypot(*load) / count,) * count
    return tuple(
        math.hypot(
            load[0] / count - twist * (y - middle[1]) / polar,
            load[1] / count + twist * (x - middle[0]) / polar,
        )
        for x, y in screws
    )

"""Does an anchor fit in block, brick or concrete, and what must its own report say?"""

from dataclasses import dataclass

from fitcheck.rules.tables_fixings import (
    ANCHOR_HOLE_BEYOND,
    ANCHOR_THUMB,
    FACE_SHELL,
    HEAD_JOINT_CLEAR,
)


@dataclass(frozen=True, slots=True)
class Report:
    """What the anchor's own evaluation report gives for this base and these distances.

    `embedment_nm` is the least at which its loads are allowed, None when nobody said; `stack_most_nm` the
    most that may lie between bracket and masonry, nothing unless the report says so.
    """

    number: str
    tension_lbf: float
    shear_lbf: float
    edge_nm: int
    spacing_nm: int
    embedment_nm: int | None = None
    stack_most_nm: int = 0


@dataclass(frozen=True, slots=True)
class Anchor:
    """An anchor in masonry as planned; lengths that are not known are None."""

    base: str
    diameter_nm: int
    embedment_nm: int
    stack_nm: int
    edge_nm: int | None
    spacing_nm: int | None
    head_joint_nm: int | None
    unit_nm: int | None
    grouted: str
    report: Report | None


@dataclass(frozen=True, slots=True)
class Room:
    """The least distances of an anchor, and whose they are."""

    spacing_nm: int
    edge_nm: int
    by_report: bool


def anchor_room(anchor: Anchor) -> Room:
    """Return the least spacing and edge distance: the report's, or a rule of thumb to screen by.

    Source: the anchor's evaluation report; without it 10 d and 5 d, common practice, no source.

    Args:
        anchor: the anchor [-].

    Returns:
        The distances [nm].
    """
    if anchor.report:
        return Room(anchor.report.spacing_nm, anchor.report.edge_nm, True)
    thumb = ANCHOR_THUMB.value
    return Room(thumb["spacing"] * anchor.diameter_nm, thumb["edge"] * anchor.diameter_nm, False)


def hole_depth_nm(embedment_nm: int) -> int:
    """Return the depth of the hole in the masonry itself.

    Source: common practice, no source: embedment and 1/2 in for the dust.

    Args:
        embedment_nm: embedment in the masonry [nm].

    Returns:
        The depth [nm].
    """
    return embedment_nm + ANCHOR_HOLE_BEYOND.value


def bit_depth_nm(stack_nm: int, embedment_nm: int) -> int:
    """Return how deep the bit goes from the face of the tile.

    Source: common practice, no source.

    Args:
        stack_nm: finish and mortar over the masonry [nm].
        embedment_nm: embedment in the masonry [nm].

    Returns:
        The depth [nm].
    """
    return stack_nm + hole_depth_nm(embedment_nm)


def face_shell_nm(unit_nm: int) -> int:
    """Return the least thickness of a hollow block's face.

    Source: ASTM C90 (from memory).

    Args:
        unit_nm: nominal width of the block [nm].

    Returns:
        The face shell of the next thinner unit in the table, never of a thicker one [nm].

    Raises:
        ValueError: the block is thinner than every unit of the table.
    """
    reached = [width for width in FACE_SHELL.value if unit_nm >= width]
    if not reached:
        raise ValueError("no block is made this thin")
    return FACE_SHELL.value[max(reached)]


def hollow_face_nm(anchor: Anchor) -> int | None:
    """Return the thickness that an anchor may use in a block, None where it is solid.

    A block whose width is not known counts as the thinnest of the table.

    Args:
        anchor: the anchor [-].

    Returns:
        The face shell [nm], or None in concrete, brick and grouted cells.
    """
    if anchor.base != "block" or anchor.grouted == "yes":
        return None
    return face_shell_nm(anchor.unit_nm or min(FACE_SHELL.value))


def head_joint_nm() -> int:
    """Return how far an anchor stays off the upright joint of hollow block.

    Source: common practice, no source.

    Returns:
        The distance [nm].
    """
    return HEAD_JOINT_CLEAR.value


def report_used(report: Report, tension_lbf: float, shear_lbf: float) -> float:
    """Return the share of the report's allowable loads that is used, pull and shear added up.

    Source: the evaluation report; straight-line addition is the cautious reading of every report.

    Args:
        report: allowable tension and shear of one anchor [lbf].
        tension_lbf: pull on the anchor [lbf].
        shear_lbf: shear on the anchor [lbf].

    Returns:
        The share; one or less holds [-].

    Raises:
        ValueError: the report gives no load.
    """
    if report.tension_lbf <= 0 or report.shear_lbf <= 0:
        raise ValueError("a report gives a tension and a shear of more than zero")
    return tension_lbf / report.tension_lbf + shear_lbf / report.shear_lbf

"""Which outline does each panel get in an opening that is not square, with gaps that are named?"""

from dataclasses import dataclass
from math import hypot
from typing import Literal

from fitcheck.rules.glass import UG_PER_KG, thickness_for_mass
from fitcheck.rules.pane_geometry import (
    Line,
    Point,
    along_edge,
    apart_nm,
    centroid,
    disc_area_low,
    edge_line,
    meeting,
    twice_area,
)
from fitcheck.rules.tables import GLASS_DENSITY

NM3_PER_M3 = 10**27
EdgeName = Literal["foot", "right", "head", "left"]
EDGES: tuple[EdgeName, ...] = ("foot", "right", "head", "left")


@dataclass(frozen=True, slots=True)
class Quad:
    """Four corners, running leftward round from the left foot."""

    left_foot: Point
    right_foot: Point
    right_head: Point
    left_head: Point

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Return the four corners [nm]."""
        return self.left_foot, self.right_foot, self.right_head, self.left_head

    def edge(self, name: EdgeName) -> tuple[Point, Point]:
        """Return an edge from its beginning to its end; the inside is on the left [nm]."""
        index = EDGES.index(name)
        return self.corners[index], self.corners[(index + 1) % 4]


@dataclass(frozen=True, slots=True)
class Gaps:
    """The gaps round and between panels, each by its name [nm]."""

    left: int
    right: int
    head: int
    foot: int
    between: int


@dataclass(frozen=True, slots=True)
class Hole:
    """A round hole by its centre."""

    name: str
    centre: Point
    diameter_nm: int

    @property
    def half_nm(self) -> int:
        """Return its radius, rounded up [nm]."""
        return -(-self.diameter_nm // 2)


@dataclass(frozen=True, slots=True)
class Notch:
    """A piece taken out of an edge, with the radius of its inner corners."""

    name: str
    corners: tuple[Point, Point, Point, Point]
    depth_nm: int
    length_nm: int
    radius_nm: int
    edge: EdgeName


@dataclass(frozen=True, slots=True)
class Pane:
    """One panel: outline, thickness, holes and notches."""

    name: str
    outline: Quad
    thickness_nm: int
    holes: tuple[Hole, ...] = ()
    notches: tuple[Notch, ...] = ()
    hardware_ug: int = 0

    def net_area(self) -> int:
        """Return the area that is left, rounded up [nm2]."""
        taken = sum(disc_area_low(hole.diameter_nm) for hole in self.holes)
        taken += sum(abs(twice_area(notch.corners)) // 2 for notch in self.notches)
        return -(-twice_area(self.outline.corners) // 2) - taken

    def glass_ug(self) -> int:
        """Return the mass of the glass, rounded up, by the heavier of its two names [ug]."""
        volume = self.net_area() * thickness_for_mass(self.thickness_nm)
        return -(-volume * GLASS_DENSITY.value * UG_PER_KG // NM3_PER_M3)

    def mass_ug(self) -> int:
        """Return the mass with its hardware [ug]."""
        return self.glass_ug() + self.hardware_ug

    def centre(self) -> Point:
        """Return the middle of the glass that is left; hardware is not weighed in [nm]."""
        whole = twice_area(self.outline.corners)
        middle = centroid(self.outline.corners)
        x, y, left = middle.x * whole, middle.y * whole, whole
        for hole in self.holes:
            area = 2 * disc_area_low(hole.diameter_nm)
            x, y, left = x - hole.centre.x * area, y - hole.centre.y * area, left - area
        for notch in self.notches:
            area, at = twice_area(notch.corners), centroid(notch.corners)
            x, y, left = x - at.x * area, y - at.y * area, left - area
        return Point(x // left, y // left)

    def narrow_nm(self) -> int:
        """Return the shortest side, rounded down [nm]."""
        return min(apart_nm(*self.outline.edge(name)) for name in EDGES)

    def longest_nm(self) -> int:
        """Return the longest side, rounded down [nm]."""
        return max(apart_nm(*self.outline.edge(name)) for name in EDGES)


def outlines(
    opening: Quad, gaps: Gaps, dividers: tuple[int, ...], top_nm: int | None, *, square: bool
) -> tuple[Quad, ...]:
    """Return one outline per panel, from left to right; every corner is rounded inward.

    Walls and sill are followed at their gap; joints between panels are plumb, half the gap on
    each side; the head is level at `top_nm`, or follows the opening's head at its gap.

    Source: geometry; the gaps are the order's own.

    Args:
        opening: the adjusted opening [nm].
        gaps: the gaps [nm].
        dividers: rightward place of each plumb joint between panels, rising [nm].
        top_nm: upward place of a level head, None when it follows the opening [nm].
        square: cut each panel square and let channels hide the taper [-].

    Returns:
        The outlines [nm].

    Raises:
        ValueError: the opening is no four-cornered hole, or nothing is left of a panel.
    """
    _refuse_twisted(opening)
    foot = edge_line(*opening.edge("foot"), gaps.foot)
    head = edge_line(*opening.edge("head"), gaps.head) if top_nm is None else Line(0, -1, -top_nm)
    walls = (
        edge_line(*opening.edge("left"), gaps.left),
        edge_line(*opening.edge("right"), gaps.right),
    )
    lefts = [walls[0]] + [Line(1, 0, x + -(-gaps.between // 2)) for x in dividers]
    rights = [Line(-1, 0, -(x - -(-gaps.between // 2))) for x in dividers] + [walls[1]]
    found = tuple(
        _outline(left, right, foot, head) for left, right in zip(lefts, rights, strict=True)
    )
    found = tuple(_squared(quad) for quad in found) if square else found
    for quad in found:
        _refuse_twisted(quad)
    return found


def tapers_nm(outline: Quad) -> dict[EdgeName, int]:
    """Return how far each edge is off plumb or level from end to end, signed.

    Args:
        outline: the outline [nm].

    Returns:
        Rightward run of the sides from foot to head, upward run of foot and head from left to
        right [nm].
    """
    return {
        "foot": outline.right_foot.y - outline.left_foot.y,
        "right": outline.right_head.x - outline.right_foot.x,
        "head": outline.right_head.y - outline.left_head.y,
        "left": outline.left_head.x - outline.left_foot.x,
    }


def hole_in(outline: Quad, side: EdgeName, across_nm: int, level: EdgeName, up_nm: int) -> Point:
    """Return the centre of a hole by its distances from two edges of the panel.

    Args:
        outline: the panel's outline [nm].
        side: "left" or "right" [-].
        across_nm: square to that side [nm].
        level: "foot" or "head" [-].
        up_nm: square to that edge [nm].

    Returns:
        The centre, rounded away from the two edges [nm].
    """
    across, along = (
        edge_line(*outline.edge(side), across_nm),
        edge_line(*outline.edge(level), up_nm),
    )
    return meeting(across, along, right=side == "left", up=level == "foot")


def notch_in(
    outline: Quad, edge: EdgeName, start_nm: int, length_nm: int, depth_nm: int
) -> tuple[Point, Point, Point, Point]:
    """Return the corners of a notch: along an edge from its beginning, and so deep.

    The foot begins at the left, the right side at the foot, the head at the right, the left side
    at the head.

    Args:
        outline: the panel's outline [nm].
        edge: the edge that it is taken out of [-].
        start_nm: from the edge's beginning [nm].
        length_nm: along the edge [nm].
        depth_nm: into the panel [nm].

    Returns:
        Its corners, leftward round [nm].
    """
    start, end = outline.edge(edge)
    return (
        along_edge(start, end, start_nm, 0),
        along_edge(start, end, start_nm + length_nm, 0),
        along_edge(start, end, start_nm + length_nm, depth_nm),
        along_edge(start, end, start_nm, depth_nm),
    )


def _outline(left: Line, right: Line, foot: Line, head: Line) -> Quad:
    return Quad(
        meeting(left, foot, right=True, up=True),
        meeting(right, foot, right=False, up=True),
        meeting(right, head, right=False, up=False),
        meeting(left, head, right=True, up=False),
    )


def _squared(quad: Quad) -> Quad:
    """Return the largest upright rectangle between the corners."""
    left = max(quad.left_foot.x, quad.left_head.x)
    right = min(quad.right_foot.x, quad.right_head.x)
    foot = max(quad.left_foot.y, quad.right_foot.y)
    head = min(quad.left_head.y, quad.right_head.y)
    return Quad(Point(left, foot), Point(right, foot), Point(right, head), Point(left, head))


def _refuse_twisted(quad: Quad) -> None:
    """Refuse four corners that do not run leftward round a hollow-free shape."""
    a, b, c, d = quad.corners
    upright = a.x < b.x and d.x < c.x and a.y < d.y and b.y < c.y
    bulging = all(twice_area(three) > 0 for three in ((a, b, c), (b, c, d), (c, d, a), (d, a, b)))
    if not (upright and bulging):
        raise ValueError("nothing is left between these edges: the corners cross")


def mass_doubt_ug(pane: Pane, u_side_nm: float, u_thickness_nm: float) -> float:
    """Return the standard uncertainty of a pane's mass from its sides and its thickness.

    Source: JCGM 100:2008, 5.1.2, for the product of width, height and thickness.

    Args:
        pane: the pane [-].
        u_side_nm: standard uncertainty of each side [nm].
        u_thickness_nm: standard uncertainty of the thickness [nm].

    Returns:
        The standard uncertainty [ug].
    """
    width, height = (apart_nm(*pane.outline.edge(name)) for name in ("foot", "left"))
    parts = (u_side_nm / width, u_side_nm / height, u_thickness_nm / pane.thickness_nm)
    return pane.glass_ug() * hypot(*parts)

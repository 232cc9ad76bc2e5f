"""Where do straight edges meet, how far is a point from them, and what lies between them?

Everything is whole nanometres: what cannot be exact is rounded the cautious way.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import acos, degrees, hypot, isqrt

_PI_LOW = (3_141_592, 1_000_000)


@dataclass(frozen=True, slots=True)
class Point:
    """A point, rightward and upward [nm]."""

    x: int
    y: int


@dataclass(frozen=True, slots=True)
class Line:
    """The half plane a x + b y >= c; its edge is the line."""

    a: int
    b: int
    c: int


def edge_line(start: Point, end: Point, inward_nm: int = 0) -> Line:
    """Return the half plane to the left of an edge, moved inward and rounded inward.

    Args:
        start: where the edge begins [nm].
        end: where it ends; the inside is on the left [nm].
        inward_nm: how far the line moves inward, zero or more [nm].

    Returns:
        The half plane [-].

    Raises:
        ValueError: the edge has no length, or moves outward.
    """
    if start == end or inward_nm < 0:
        raise ValueError("an edge has a length, and a gap is zero or more")
    a, b = start.y - end.y, end.x - start.x
    return Line(a, b, a * start.x + b * start.y + _root_up(inward_nm**2 * (a * a + b * b)))


def meeting(one: Line, other: Line, *, right: bool, up: bool) -> Point:
    """Return where two lines meet, rounded to a whole nanometre the ways that are said.

    Args:
        one: a line [-].
        other: another line [-].
        right: round rightward, else leftward [-].
        up: round upward, else downward [-].

    Returns:
        The point [nm].

    Raises:
        ValueError: the lines are parallel.
    """
    under = one.a * other.b - other.a * one.b
    if under == 0:
        raise ValueError("parallel edges do not meet")
    x = one.c * other.b - other.c * one.b
    y = one.a * other.c - other.a * one.c
    return Point(_divided(x, under, up=right), _divided(y, under, up=up))


def inside_nm(start: Point, end: Point, point: Point) -> int:
    """Return how far a point lies inside an edge, negative outside, rounded down.

    Args:
        start: where the edge begins [nm].
        end: where it ends; the inside is on the left [nm].
        point: the point [nm].

    Returns:
        The distance to the edge's line [nm].
    """
    dx, dy = end.x - start.x, end.y - start.y
    cross = dx * (point.y - start.y) - dy * (point.x - start.x)
    square = dx * dx + dy * dy
    if cross >= 0:
        return isqrt(cross * cross // square)
    return -_root_up(-(-cross * cross // square))


def apart_nm(one: Point, other: Point) -> int:
    """Return the distance between two points, rounded down [nm]."""
    return isqrt((one.x - other.x) ** 2 + (one.y - other.y) ** 2)


def segment_nm(start: Point, end: Point, point: Point) -> int:
    """Return the distance of a point to a straight piece between two points, rounded down [nm]."""
    dx, dy = end.x - start.x, end.y - start.y
    along = dx * (point.x - start.x) + dy * (point.y - start.y)
    if along <= 0:
        return apart_nm(start, point)
    if along >= dx * dx + dy * dy:
        return apart_nm(end, point)
    cross = dx * (point.y - start.y) - dy * (point.x - start.x)
    return isqrt(cross * cross // (dx * dx + dy * dy))


def between_nm(one: tuple[Point, ...], other: tuple[Point, ...]) -> int:
    """Return how far two shapes without hollows are apart, zero where they overlap.

    Source: plane geometry: what is apart has a side of one with all of the other beyond it, and is
    nearest at a corner.

    Args:
        one: corners of a shape, running leftward round [nm].
        other: corners of another, likewise [nm].

    Returns:
        The distance, rounded down [nm].
    """
    if not (_beyond_a_side(one, other) or _beyond_a_side(other, one)):
        return 0
    pairs = ((one, other), (other, one))
    return min(
        segment_nm(start, end, corner)
        for sides, corners in pairs
        for start, end in pairwise([*sides, sides[0]])
        for corner in corners
    )


def _beyond_a_side(sides: tuple[Point, ...], corners: tuple[Point, ...]) -> bool:
    ring = pairwise([*sides, sides[0]])
    return any(all(twice_area((a, b, corner)) <= 0 for corner in corners) for a, b in ring)


def twice_area(corners: tuple[Point, ...]) -> int:
    """Return twice the area of a polygon, positive when its corners run leftward round [nm2]."""
    ring = [*corners, corners[0]]
    return sum(p.x * q.y - q.x * p.y for p, q in pairwise(ring))


def disc_area_low(diameter_nm: int) -> int:
    """Return the area of a hole, rounded down so that the mass left rounds up [nm2]."""
    over, under = _PI_LOW
    return diameter_nm * diameter_nm * over // (4 * under)


def centroid(corners: tuple[Point, ...]) -> Point:
    """Return the middle of a polygon's area, to the nearest nanometre.

    Args:
        corners: at least three corners, running leftward round [nm].

    Returns:
        The centroid [nm].
    """
    ring = [*corners, corners[0]]
    twice = twice_area(corners)
    x = sum((p.x + q.x) * (p.x * q.y - q.x * p.y) for p, q in pairwise(ring))
    y = sum((p.y + q.y) * (p.x * q.y - q.x * p.y) for p, q in pairwise(ring))
    return Point(_nearest(x, 3 * twice), _nearest(y, 3 * twice))


def corner_degrees(before: Point, at: Point, after: Point) -> float:
    """Return the angle inside a corner [deg]."""
    u, v = (before.x - at.x, before.y - at.y), (after.x - at.x, after.y - at.y)
    cosine = (u[0] * v[0] + u[1] * v[1]) / (hypot(*u) * hypot(*v))
    return degrees(acos(max(-1.0, min(1.0, cosine))))


def along_edge(start: Point, end: Point, along_nm: int, inward_nm: int) -> Point:
    """Return the point so far along an edge and so far inside it, to the nearest nanometre.

    Args:
        start: where the edge begins [nm].
        end: where it ends; the inside is on the left [nm].
        along_nm: from its beginning [nm].
        inward_nm: square to it [nm].

    Returns:
        The point [nm].
    """
    dx, dy = end.x - start.x, end.y - start.y
    length = isqrt((dx * dx + dy * dy) * 10**12)
    return Point(
        start.x + _nearest((dx * along_nm - dy * inward_nm) * 10**6, length),
        start.y + _nearest((dy * along_nm + dx * inward_nm) * 10**6, length),
    )


def _root_up(value: int) -> int:
    root = isqrt(value)
    return root if root * root == value else root + 1


def _divided(over: int, under: int, *, up: bool) -> int:
    return -(-over // under) if up else over // under


def _nearest(over: int, under: int) -> int:
    return (2 * over + under) // (2 * under)

"""Straight edges in whole nanometres; what cannot be exact is rounded the cautious way."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.pane_geometry import (
    Line,
    Point,
    along_edge,
    apart_nm,
    centroid,
    corner_degrees,
    disc_area_low,
    edge_line,
    inside_nm,
    meeting,
    segment_nm,
    twice_area,
)

SQUARE = (Point(0, 0), Point(100, 0), Point(100, 100), Point(0, 100))


def test_an_edge_moved_inward_by_a_whole_distance() -> None:
    assert edge_line(Point(0, 0), Point(100, 0), 7) == Line(0, 100, 700)
    assert edge_line(Point(0, 0), Point(3, 4), 5) == Line(-4, 3, 25)


def test_a_distance_that_is_no_whole_number_is_rounded_inward() -> None:
    line = edge_line(Point(0, 0), Point(1, 1), 1)

    assert line == Line(-1, 1, 2)


@pytest.mark.parametrize(("end", "gap"), [(Point(0, 0), 1), (Point(1, 0), -1)])
def test_an_edge_without_length_or_a_gap_outward_is_refused(end: Point, gap: int) -> None:
    with pytest.raises(ValueError, match="edge"):
        edge_line(Point(0, 0), end, gap)


def test_lines_meet_and_are_rounded_the_way_that_is_said() -> None:
    third = Line(3, 0, 10)
    level = Line(0, 3, 20)

    assert meeting(third, level, right=True, up=True) == Point(4, 7)
    assert meeting(third, level, right=False, up=False) == Point(3, 6)
    assert meeting(level, third, right=True, up=False) == Point(4, 6)


def test_parallel_lines_do_not_meet() -> None:
    with pytest.raises(ValueError, match="parallel"):
        meeting(Line(1, 0, 0), Line(2, 0, 5), right=True, up=True)


def test_distances_are_rounded_down_and_are_negative_outside() -> None:
    assert inside_nm(Point(0, 0), Point(100, 0), Point(50, 7)) == 7
    assert inside_nm(Point(0, 0), Point(100, 0), Point(50, -7)) == -7
    assert inside_nm(Point(0, 0), Point(1, 1), Point(0, 10)) == 7
    assert inside_nm(Point(0, 0), Point(1, 1), Point(10, 0)) == -8
    assert apart_nm(Point(0, 0), Point(3, 4)) == 5
    assert apart_nm(Point(0, 0), Point(1, 1)) == 1


def test_distance_to_a_piece_is_to_its_ends_beyond_them() -> None:
    a, b = Point(0, 0), Point(10, 0)

    assert segment_nm(a, b, Point(5, -3)) == 3
    assert segment_nm(a, b, Point(-3, 4)) == 5
    assert segment_nm(a, b, Point(13, 4)) == 5
    assert segment_nm(a, b, Point(10, 4)) == 4
    assert segment_nm(Point(7, 5), Point(307, 405), Point(7 + 150 - 80, 5 + 200 + 60)) == 100


def test_area_and_middle_of_a_square_and_a_triangle() -> None:
    assert twice_area(SQUARE) == 20_000
    assert twice_area(SQUARE[::-1]) == -20_000
    assert centroid(SQUARE) == Point(50, 50)
    assert centroid((Point(0, 0), Point(30, 0), Point(0, 60))) == Point(10, 20)
    assert centroid((Point(0, 60), Point(30, 0), Point(0, 0))) == Point(10, 20)


def test_a_discs_area_is_a_hair_low() -> None:
    exact = math.pi * 10**14 / 4

    assert exact * (1 - 1e-6) < disc_area_low(10**7) < exact


def test_corners_in_degrees() -> None:
    assert corner_degrees(SQUARE[3], SQUARE[0], SQUARE[1]) == pytest.approx(90)
    assert corner_degrees(Point(0, 1), Point(0, 0), Point(1, 1)) == pytest.approx(45)


def test_a_parallelogram_of_2495_has_the_corner_of_the_law_of_cosines() -> None:
    """Sides 1500 and 2000 with a diagonal of 2495: 89.7615 degrees, worked out separately."""
    cosine = (1500**2 + 2000**2 - 2495**2) / (2 * 1500 * 2000)
    angle = math.acos(cosine)
    far = Point(round(2e9 * math.cos(angle)), round(2e9 * math.sin(angle)))

    assert corner_degrees(Point(1_500_000_000, 0), Point(0, 0), far) == pytest.approx(
        89.7615, abs=5e-5
    )


def test_a_point_along_an_edge_and_inside_it() -> None:
    assert along_edge(Point(0, 0), Point(100, 0), 30, 7) == Point(30, 7)
    assert along_edge(Point(100, 0), Point(100, 100), 30, 7) == Point(93, 30)
    assert along_edge(Point(0, 0), Point(30, 40), 10, 5) == Point(2, 11)
    assert along_edge(Point(-7, 5), Point(23, 45), 10, 5) == Point(-5, 16)


points = st.builds(Point, st.integers(-(10**9), 10**9), st.integers(-(10**9), 10**9))


@given(points, points, points)
def test_distances_are_never_said_too_large(a: Point, b: Point, p: Point) -> None:
    if a == b:
        return
    exact = ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / math.hypot(
        b.x - a.x, b.y - a.y
    )

    assert inside_nm(a, b, p) <= exact + 1e-3
    assert inside_nm(a, b, p) >= exact - 1.001
    assert segment_nm(a, b, p) <= min(math.dist((a.x, a.y), (p.x, p.y)) + 1e-3, 4e9)


@given(points, points, st.integers(0, 10**8))
def test_a_moved_edge_is_at_least_its_gap_away(a: Point, b: Point, gap: int) -> None:
    if a == b:
        return
    line = edge_line(a, b, gap)
    normal = math.hypot(line.a, line.b)

    away = (line.c - line.a * a.x - line.b * a.y) / normal

    assert away >= gap * (1 - 1e-9)
    assert away <= gap * (1 + 1e-9) + 1

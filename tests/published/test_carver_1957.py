"""W. B. Carver 1957: when a rectangle lies in another (the condition is from memory).

Checked against a search over angles: p cos x + q sin x <= a and p sin x + q cos x <= b.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.way_in_shapes import longest_in, rectangle_fits

SIDES = st.floats(10, 3000)


def by_search(p: float, q: float, a: float, b: float) -> float:
    """Return by how much the best of many angles still sticks out, in the worse direction."""
    long, short, wide, narrow = max(p, q), min(p, q), max(a, b), min(a, b)
    angles = [math.radians(90 * step / 20_000) for step in range(20_001)]
    return min(
        max(
            long * math.cos(x) + short * math.sin(x) - wide,
            long * math.sin(x) + short * math.cos(x) - narrow,
        )
        for x in angles
    )


@given(SIDES, SIDES, SIDES, SIDES)
def test_the_condition_agrees_with_a_search_over_angles(
    p: float, q: float, a: float, b: float
) -> None:
    out = by_search(p, q, a, b)

    if abs(out) > 0.5:
        assert rectangle_fits(p, q, a, b) is (out < 0)


@pytest.mark.parametrize(
    ("p", "q", "fits"),
    [
        (2000, 700, True),
        (700, 2000, True),
        (2000, 701, False),
        (2100, 50, False),
        (2100, 20, True),
        (2118, 1, True),
    ],
)
def test_a_door_of_2000_by_700(p: float, q: float, fits: bool) -> None:
    """Its diagonal is 2118.96: a line of 2118 goes across, a full width does not grow."""
    assert rectangle_fits(p, q, 2000, 700) is fits


def test_nothing_lies_in_a_room_without_width() -> None:
    assert not rectangle_fits(1, 1, 100, 0)
    assert not rectangle_fits(1, 1, 100, -5)


def test_the_longest_in_a_room_is_found_and_a_hair_more_does_not_fit() -> None:
    longest = longest_in(1400, 1100, 40)

    assert rectangle_fits(longest, 40, 1400, 1100)
    assert not rectangle_fits(longest + 0.001, 40, 1400, 1100)
    assert 1400 < longest < math.hypot(1400, 1100)


def test_a_line_as_long_as_the_diagonal_lies_in_the_room() -> None:
    assert longest_in(300, 400, 1e-9) == pytest.approx(500)


def test_what_is_thicker_than_the_room_has_no_length() -> None:
    assert longest_in(1400, 39, 40) == 0
    assert longest_in(1400, 40, 40) == pytest.approx(1400)

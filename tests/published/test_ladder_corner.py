"""The ladder round a corner, a classic of calculus: an outside check of corridors.

Closed forms: (a^2/3 + b^2/3)^3/2 for a line; 2 sqrt(2) a - 2 t for a thickness t in corridors of
one width; and a brute search over angles.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.way_in_shapes import longest_round_corner

WIDTHS = st.floats(500, 3000)


@given(WIDTHS, WIDTHS)
def test_a_line_goes_round_by_the_closed_form(a: float, b: float) -> None:
    closed = (a ** (2 / 3) + b ** (2 / 3)) ** 1.5

    assert longest_round_corner(a, b, 0.0) == pytest.approx(closed, rel=1e-6)


def test_the_textbook_corridors_of_27_and_64_give_125() -> None:
    assert longest_round_corner(27, 64, 0.0) == pytest.approx(125)


@given(WIDTHS, st.floats(0, 0.85))
def test_equal_corridors_with_a_thickness(a: float, share: float) -> None:
    thick = a * share

    assert longest_round_corner(a, a, thick) == pytest.approx(2 * (math.sqrt(2) * a - thick))


@given(WIDTHS, WIDTHS, st.floats(0, 0.6))
def test_no_angle_is_tighter_than_the_answer(a: float, b: float, share: float) -> None:
    thick = share * min(a, b)
    longest = longest_round_corner(a, b, thick)
    angles = [math.radians(0.25 * step) for step in range(1, 360)]
    spans = [
        (a * math.sin(x) + b * math.cos(x) - thick) / (math.sin(x) * math.cos(x)) for x in angles
    ]

    assert longest <= min(spans) * (1 + 1e-9) or longest == max(a, b)
    assert longest >= min(spans) * 0.999


def test_a_piece_no_longer_than_a_corridor_is_wide_goes_round_without_turning() -> None:
    """2 sqrt(2) 1000 - 2 x 990 = 848 is shorter than the corridor is wide."""
    assert longest_round_corner(1000, 1000, 990) == 1000


@pytest.mark.parametrize("thick", [900, 901])
def test_what_is_as_thick_as_the_narrow_corridor_goes_nowhere(thick: float) -> None:
    assert longest_round_corner(900, 1200, thick) == 0


@given(WIDTHS, WIDTHS, st.floats(0, 400), st.floats(1, 500))
def test_a_wider_corridor_never_takes_less(a: float, b: float, t: float, more: float) -> None:
    assert longest_round_corner(a + more, b, t) >= longest_round_corner(a, b, t) - 1e-6

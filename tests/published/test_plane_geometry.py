"""Plane geometry of openings; every value was worked out independently, none is from a standard."""

import math

import numpy as np
import pytest

from fitcheck.rules.corners import (
    angle_degrees,
    angle_uncertainty,
    corner_degrees,
    parallelogram_gap,
    slope_per_metre,
)
from fitcheck.rules.quadrilateral import UNKNOWNS, Frame, Observation, expected


def diagonal(side: str, height: float, **shape: float) -> float:
    unknowns = np.array([shape.get(name, 0.0) for name in UNKNOWNS])
    seen = Observation("d", "diagonal", side, height, None, 1.0, 1.0, 0.0, None)
    return expected(seen, unknowns, Frame(height))[0]


def test_1500_by_2000_has_diagonals_of_2500() -> None:
    assert diagonal("left", 2000, width=1500) == 2500
    assert diagonal("right", 2000, width=1500) == 2500


@pytest.mark.parametrize(("shear", "apart"), [(3, 3.600), (6, 7.200), (10, 12.000)])
def test_a_shear_parts_the_diagonals(shear: float, apart: float) -> None:
    sheared = {"width": 1500.0, "lean_left": shear, "lean_right": -shear}

    left, right = (diagonal(side, 2000, **sheared) for side in ("left", "right"))

    assert left - right == pytest.approx(apart, abs=5e-4)


@pytest.mark.parametrize(("shear", "angle"), [(3, 0.0859), (6, 0.1719), (10, 0.2865)])
def test_the_angle_of_a_shear_over_2000(shear: float, angle: float) -> None:
    assert angle_degrees(shear, 2000) == pytest.approx(angle, abs=5e-5)


def test_a_diagonal_of_2495_tells_a_corner_of_89_7615() -> None:
    assert corner_degrees(1500, 2000, 2495) == pytest.approx(89.7615, abs=5e-5)
    assert corner_degrees(1500, 2000, 2500) == pytest.approx(90)


@pytest.mark.parametrize("lengths", [(1500, 2000, 3500), (0, 2000, 2000), (1500, 400, 1000)])
def test_three_lengths_that_close_no_triangle_are_refused(lengths: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="close no triangle"):
        corner_degrees(*lengths)


def test_the_parallelogram_law_holds_for_a_shear_and_breaks_for_a_misread_diagonal() -> None:
    left, right = (1510**2 + 2000**2) ** 0.5, (1490**2 + 2000**2) ** 0.5
    slanted = (10**2 + 2000**2) ** 0.5

    assert parallelogram_gap(1500, slanted, (left, right)) == pytest.approx(0, abs=1e-9)
    assert parallelogram_gap(1500, slanted, (left + 10, right)) == pytest.approx(
        (20 * left + 100) / (left + 10 + right)
    )


def test_a_tapered_opening_left_plumb() -> None:
    tapered = {"width": 1497.0, "lean_right": -8.0}

    assert diagonal("left", 1900, **tapered) == pytest.approx(2423.845, abs=5e-4)
    assert diagonal("right", 1900, **tapered) == pytest.approx(2418.886, abs=5e-4)
    assert pytest.approx(1900.0168, abs=5e-5) == (8**2 + 1900**2) ** 0.5


def test_out_of_plumb_as_slope_and_angle() -> None:
    assert slope_per_metre(8, 1900) == pytest.approx(4.21, abs=5e-3)
    assert angle_degrees(8, 1900) == pytest.approx(0.2412, abs=5e-5)
    assert slope_per_metre(6.35, 8 * 304.8) == pytest.approx(2.604, abs=5e-4)
    assert slope_per_metre(0.25, 12) == pytest.approx(20.833, abs=5e-4)
    assert angle_degrees(0.25, 12) == pytest.approx(1.1935, abs=5e-5)


def test_the_uncertainty_of_an_angle() -> None:
    assert angle_degrees(6, 2000) == pytest.approx(0.1719, abs=5e-5)
    assert angle_uncertainty(6, 0.5, 2000, 1) == pytest.approx(0.0143, abs=5e-5)
    assert angle_uncertainty(6, 0, 2000, 100) == pytest.approx(0.0086, abs=5e-5)
    assert angle_uncertainty(1000, 3, 1000, 4) == pytest.approx(math.degrees(0.0025))


@pytest.mark.parametrize("told", [angle_degrees, slope_per_metre])
def test_nothing_is_out_of_true_over_no_length(told: object) -> None:
    with pytest.raises(ValueError, match="above zero"):
        told(1.0, 0.0)  # type: ignore[operator]

"""ASTM C1472, width of a moving joint: W = (100/S)(alpha L dT + M) + t.

Read as a university course of 2002 states it; the least joint of 6 mm is C1193's, restated.
"""

from fractions import Fraction

import pytest

from fitcheck.rules.joints import greatest_expansion, joint_width_nm, movement_nm

MM = 10**6
THREE_METRES_60_K = movement_nm(Fraction(24), 3000 * MM, Fraction(60))


def test_three_metres_of_aluminium_over_60_kelvin_move_4_32_mm() -> None:
    assert THREE_METRES_60_K == 4_320_000


@pytest.mark.parametrize(
    ("movement_class", "mm"), [("25", 17.28), ("50", 8.64), ("12.5", 34.56), ("100/50", 8.64)]
)
def test_the_joint_by_class(movement_class: str, mm: float) -> None:
    assert joint_width_nm(THREE_METRES_60_K, movement_class) == round(mm * MM)


def test_other_movement_is_magnified_and_tolerance_is_not() -> None:
    assert joint_width_nm(2 * MM, "25", other_nm=MM, tolerance_nm=MM) == 13 * MM


def test_aluminium_against_glass_asks_4_8_mm_and_the_least_joint_governs() -> None:
    """2 m over 40 K: 1.20 mm between the two; 4.8 mm by the formula, 6 mm by the least joint."""
    moved = movement_nm(greatest_expansion("aluminium", "glass"), 2000 * MM, Fraction(40))

    assert moved == 1_200_000
    assert 100 * moved // 25 == 4_800_000
    assert joint_width_nm(moved, "25") == 6 * MM


def test_a_width_is_never_rounded_narrow() -> None:
    assert joint_width_nm(10 * MM + 1, "35") == 28_571_432

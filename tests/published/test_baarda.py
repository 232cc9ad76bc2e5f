"""Data snooping (Baarda 1968) as a public survey program's guide restates it: the formulas were read
there. The worked example was worked out with an independent numerical library, not published.
"""

import numpy as np
import pytest

from fitcheck.rules.chi_square import chi_square_limit, chi_square_tail, critical
from fitcheck.rules.least_squares import (
    Fit,
    detectable,
    fit,
    left_over,
    noncentrality,
    redundancies,
    standardised,
    worst_reading,
)

TO_THE_LAST_DIGIT = 0.001
DESIGN = np.array([[1, 0, 0], [0, 1, 0], [0, 0, 1], [1, 1, 0], [0, 1, 1], [1, 1, 1]], dtype=float)
READ = np.array([610.4, 759.7, 330.2, 1369.8, 1090.3, 1700.1])
SIGMA = 0.8


def adjusted(read: np.ndarray, kept: list[int] | None = None) -> Fit:
    rows = list(range(len(read))) if kept is None else kept
    return fit(DESIGN[rows], read[rows], np.full(len(rows), SIGMA))


def mistaken() -> np.ndarray:
    read = READ.copy()
    read[3] += 10
    return read


def test_the_critical_value_for_alpha_0_001_is_3_2905_and_delta_0_is_4_132() -> None:
    assert critical() == pytest.approx(3.2905, abs=5e-5)
    assert noncentrality() == pytest.approx(4.132, abs=5e-4)


def test_three_unknowns_from_six_distances() -> None:
    found = adjusted(READ)

    assert found.solution == pytest.approx([610.175, 759.725, 330.325], abs=TO_THE_LAST_DIGIT)
    assert redundancies(found) == pytest.approx([0.5] * 6, abs=TO_THE_LAST_DIGIT)
    assert max(abs(standardised(found))) == pytest.approx(0.442, abs=TO_THE_LAST_DIGIT)
    assert left_over(found) == pytest.approx(0.2422, abs=TO_THE_LAST_DIGIT)
    assert np.sqrt(np.diag(found.covariance)) == pytest.approx([0.566] * 3, abs=TO_THE_LAST_DIGIT)
    assert found.freedom == 3
    assert worst_reading(found) is None


def test_ten_on_the_fourth_is_seen_in_all_and_blamed_on_the_largest_only() -> None:
    found = adjusted(mistaken())

    assert found.solution == pytest.approx([612.675, 762.225, 327.825], abs=TO_THE_LAST_DIGIT)
    assert standardised(found) == pytest.approx(
        [4.022, 4.464, -4.198, -8.662, -0.442, 4.640], abs=TO_THE_LAST_DIGIT
    )
    assert worst_reading(found) == 3


def test_without_the_fourth_the_rest_agree() -> None:
    found = adjusted(mistaken(), [0, 1, 2, 4, 5])

    assert found.solution == pytest.approx([610.225, 759.775, 330.275], abs=TO_THE_LAST_DIGIT)
    assert max(abs(standardised(found))) == pytest.approx(0.442, abs=TO_THE_LAST_DIGIT)
    assert worst_reading(found) is None


def test_the_least_detectable_mistake_is_delta_0_sigma_over_root_r() -> None:
    found = detectable(adjusted(READ))

    assert found == pytest.approx([4.132 * SIGMA / np.sqrt(0.5)] * 6, abs=TO_THE_LAST_DIGIT)


def test_chi_square_for_three_degrees_is_exceeded_at_7_815_by_one_in_twenty() -> None:
    assert chi_square_limit(0.05, 3) == pytest.approx(7.815, abs=5e-4)
    assert chi_square_tail(7.815, 3) == pytest.approx(0.05, abs=1e-4)


@pytest.mark.parametrize(
    ("freedom", "limit"),
    [(1, 3.841), (2, 5.991), (4, 9.488), (5, 11.070), (6, 12.592), (10, 18.307)],
)
def test_chi_square_for_other_degrees_from_memory(freedom: int, limit: float) -> None:
    assert chi_square_limit(0.05, freedom) == pytest.approx(limit, abs=5e-4)

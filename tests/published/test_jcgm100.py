"""JCGM 100:2008 (the GUM). Example H.1 was read in a public program's documentation; the readings of
H.3 are from memory, its result was worked out with an independent uncertainty calculator, and so
were the glazing values below.
"""

import numpy as np
import pytest

from fitcheck.rules.adjustment import Solved
from fitcheck.rules.finding import uncertainty_text
from fitcheck.rules.glass import UG_PER_KG, glass_mass_ug
from fitcheck.rules.least_squares import fit, left_over
from fitcheck.rules.length import length_parse
from fitcheck.rules.quadrilateral import LEVEL, UNKNOWNS, WIDTH, Frame, Observation, expected
from fitcheck.rules.uncertainty import (
    combined,
    guard_band_nm,
    rectangular,
    resolution,
    tape_error_mi008,
)

TO_THE_LAST_DIGIT = 0.0005
HUNDREDTH_UP_NM = 10_000
H3_CELSIUS = (
    21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511
)  # fmt: skip
H3_CORRECTION = (
    -0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160
)  # fmt: skip


def test_example_h1_end_gauge_combines_to_32_nm() -> None:
    assert round(combined(25, 16.6, 6.7, 5.8, 3.9, 2.9)) == 32


def test_example_h1_7_two_terms_of_second_order_make_it_34_nm() -> None:
    """0.05 m times u of expansion and of temperature, by turns; these two inputs are from memory."""
    length = 50_000_000
    second = (length * 0.58e-6 * 0.41, length * 1.2e-6 * 0.029)

    assert round(combined(25, 16.6, 6.7, 5.8, 3.9, 2.9, *second)) == 34


def test_example_h3_the_correction_of_a_thermometer_at_30_degrees() -> None:
    """-0.1494 with u 0.0041 deg C: a line through eleven readings, its scatter told by themselves."""
    over_20 = np.array(H3_CELSIUS) - 20
    design = np.column_stack([np.ones(11), over_20])

    line = fit(design, np.array(H3_CORRECTION), np.ones(11))
    at_30 = np.array([1.0, 10.0])
    scatter = (left_over(line) / line.freedom) ** 0.5

    assert at_30 @ line.solution == pytest.approx(-0.1494, abs=5e-5)
    assert scatter * (at_30 @ line.covariance @ at_30) ** 0.5 == pytest.approx(0.0041, abs=5e-5)


def test_4_3_7_a_rectangle_of_half_width_0_7_is_0_404() -> None:
    half_width = tape_error_mi008("II", length_parse("2 m").nm, hook=False)

    assert rectangular(half_width) == pytest.approx(0.404, abs=TO_THE_LAST_DIGIT)


@pytest.mark.parametrize(("step", "u"), [("1 mm", 0.289), ("1/16 in", 0.458)])
def test_f_2_2_1_reading_to_a_graduation(step: str, u: float) -> None:
    assert resolution(length_parse(step).nm / 1e6) == pytest.approx(u, abs=TO_THE_LAST_DIGIT)


def test_5_1_2_class_graduation_and_repeatability_combine_to_0_705() -> None:
    assert combined(rectangular(0.7), resolution(1.0), 0.5) == pytest.approx(
        0.705, abs=TO_THE_LAST_DIGIT
    )


def test_5_1_2_three_lengths_of_0_4_combine_to_0_693() -> None:
    assert combined(0.4, 0.4, 0.4) == pytest.approx(0.693, abs=TO_THE_LAST_DIGIT)


def test_5_1_2_a_gap_left_by_two_panels_has_0_810() -> None:
    assert combined(0.58, 0.4, 0.4) == pytest.approx(0.810, abs=TO_THE_LAST_DIGIT)


@pytest.mark.parametrize(
    ("tapes", "shared", "u"), [("aaa", 0.4, 1.200), ("abc", 0.4, 0.693), ("aaa", 0.0, 0.693)]
)
def test_5_2_2_the_sum_of_three_lengths_by_one_tape_or_by_three(
    tapes: str, shared: float, u: float
) -> None:
    """One tape's scale errs the same way in all three, r = 1, and the parts add as they are."""
    seen = tuple(
        Observation(str(n), "width", "none", 1.0, None, 500.0, 0.4, shared, tape)
        for n, tape in enumerate(tapes)
    )
    each = fit(np.eye(3), np.full(3, 500.0), np.full(3, 0.4))
    solved = Solved(seen, Frame(1.0), np.full(3, 500.0), np.eye(3), each, bowed=False)

    assert solved.doubt(np.ones(3)) == pytest.approx(u, abs=TO_THE_LAST_DIGIT)


def test_6_2_1_expanded_twice_1_41_and_1_62() -> None:
    """A guard band is the same product; it is never rounded down, so it may print 0.01 mm more."""
    one = combined(rectangular(0.7), resolution(1.0), 0.5)
    gap = combined(0.58, 0.4, 0.4)

    assert 0 <= guard_band_nm(one, 2) - 1_409_500 <= HUNDREDTH_UP_NM
    assert 0 <= guard_band_nm(gap, 2) - 1_620_400 <= HUNDREDTH_UP_NM


def test_5_1_2_a_width_told_by_a_diagonal_of_2500_and_a_height_of_2000_has_1_344() -> None:
    """1500 mm; the diagonal's answer to width and to height is the adjustment's own."""
    shape = np.array([1500.0 if name == "width" else 0.0 for name in UNKNOWNS])
    seen = Observation("d", "diagonal", "left", 2000.0, None, 2500.0, 0.7, 0.0, None)

    diagonal, slopes = expected(seen, shape, Frame(2000.0))
    by_height = slopes[LEVEL]

    assert diagonal == 2500
    assert combined(0.7 / slopes[WIDTH], 0.5 * by_height / slopes[WIDTH]) == pytest.approx(
        1.344, abs=TO_THE_LAST_DIGIT
    )


def test_5_1_6_a_pane_of_34_32_kg_is_known_to_0_595_kg() -> None:
    """28 x 76 in, 10 mm: u 0.5 mm on both sides, the thickness anywhere within 0.3 mm."""
    sides, thickness = (28 * 25.4, 76 * 25.4), 10.0
    kg = glass_mass_ug(round(sides[0] * 1e6), round(sides[1] * 1e6), 10_000_000) / UG_PER_KG

    relative = combined(*(0.5 / side for side in sides), rectangular(0.3) / thickness)

    assert kg == pytest.approx(34.32, abs=0.005)
    assert kg * relative == pytest.approx(0.595, abs=TO_THE_LAST_DIGIT)


def test_7_2_6_an_uncertainty_is_printed_rounded_up() -> None:
    assert uncertainty_text(0.7041) == "0.71 mm"

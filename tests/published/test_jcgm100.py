"""JCGM 100:2008 (the GUM). Example H.1 was read in a public program's documentation; the glazing
values below were worked out with an independent uncertainty calculator.
"""

import pytest

from fitcheck.rules.finding import uncertainty_text
from fitcheck.rules.length import length_parse
from fitcheck.rules.uncertainty import combined, rectangular, resolution, tape_error_mi008

TO_THE_LAST_DIGIT = 0.0005


def test_example_h1_end_gauge_combines_to_32_nm() -> None:
    assert round(combined(25, 16.6, 6.7, 5.8, 3.9, 2.9)) == 32


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


def test_7_2_6_an_uncertainty_is_printed_rounded_up() -> None:
    assert uncertainty_text(0.7041) == "0.71 mm"

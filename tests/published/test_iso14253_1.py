"""ISO 14253-1 as web summaries state it: inside the limits by U a part conforms, outside by U it does
not, between the two nothing is proven. 4.5 with U 0.8 in 3 to 6 leaves 3.8 to 5.2, computed.

The service says "fails" from the limit itself on, for it never lets through what is out, and "tight"
up to and on the edge of the band.
"""

import pytest

from fitcheck.rules.uncertainty import guard_band_nm, margin_state

MM = 10**6
LEAST, MOST = 3 * MM, 6 * MM
BAND = guard_band_nm(0.4, 2)


def state(value_nm: int) -> str:
    return margin_state(min(value_nm - LEAST, MOST - value_nm), BAND)


def test_a_gap_of_3_to_6_mm_with_an_expanded_uncertainty_of_0_8_is_proven_from_3_8_to_5_2() -> None:
    assert (LEAST + BAND, MOST - BAND) == (3_800_000, 5_200_000)


@pytest.mark.parametrize(
    ("millimetres", "told"),
    [
        (3.81, "fits"),
        (5.19, "fits"),
        (3.80, "tight"),
        (5.20, "tight"),
        (3.00, "tight"),
        (6.00, "tight"),
        (2.99, "fails"),
        (6.01, "fails"),
    ],
)
def test_what_is_proven_what_is_not_and_what_is_out(millimetres: float, told: str) -> None:
    assert state(round(millimetres * MM)) == told

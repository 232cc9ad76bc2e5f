"""Aluminium 6063, least properties of an alloy table (read); safety factor of the Aluminum Design
Manual from memory.
"""

import pytest

from fitcheck.rules.joints import greatest_expansion
from fitcheck.rules.length import length_parse
from fitcheck.rules.rail import own_weight_lbf, rail_yield_psi
from fitcheck.rules.rail_beam import section_bar, section_tube
from fitcheck.rules.tables_fixings import (
    ALUMINIUM_E,
    ALUMINIUM_SAFETY,
    ALUMINIUM_ULTIMATE,
    ALUMINIUM_YIELD,
    DOWEL_BEARING_BRACKET,
)


def test_least_strengths_not_typical_ones() -> None:
    assert ALUMINIUM_YIELD.value == {"6063-T5": 16_000, "6063-T6": 25_000}
    assert ALUMINIUM_ULTIMATE.value == 22_000
    assert ALUMINIUM_E.value == 10.0e6


def test_t6_of_30_ksi_is_not_counted_on_where_a_brackets_temper_is_not_known() -> None:
    """Ftu of T5 is 22 ksi, of T6 30 ksi: a bracket of either is held to the weaker one's 22."""
    assert DOWEL_BEARING_BRACKET.value["aluminium"] == pytest.approx(1.375 * 22_000)
    assert DOWEL_BEARING_BRACKET.value["aluminium"] < 1.375 * 30_000


@pytest.mark.parametrize(("thick", "psi"), [(0.5, 16_000), (0.51, 15_000)])
def test_t5_thicker_than_half_an_inch_yields_at_15_ksi(thick: float, psi: int) -> None:
    assert rail_yield_psi("6063-T5", section_bar(thick, 2.0)) == psi


def test_a_rail_of_0_6875_square_inches_and_60_in_weighs_4_02_pounds_at_0_0975() -> None:
    weight = own_weight_lbf(section_tube(1, 2, 0.125), length_parse("60 in").nm)

    assert weight == pytest.approx(0.0975 * 0.6875 * 60)
    assert weight == pytest.approx(4.02, abs=0.005)


def test_the_expansion_taken_is_no_less_than_13e_6_per_degree_fahrenheit() -> None:
    per_kelvin = 13 * 1.8

    assert per_kelvin <= greatest_expansion("aluminium") <= per_kelvin * 1.03


@pytest.mark.parametrize(("alloy", "ksi"), [("6063-T5", 9.70), ("6063-T6", 15.15)])
def test_allowable_bending_on_yield_from_memory(alloy: str, ksi: float) -> None:
    allowed = ALUMINIUM_YIELD.value[alloy] / ALUMINIUM_SAFETY.value / 1000

    assert allowed == pytest.approx(ksi, abs=0.005)

"""Aluminium 6063, least properties of an alloy table (read); safety factor of the Aluminum Design
Manual from memory.
"""

import pytest

from fitcheck.rules.joints import greatest_expansion
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


def test_the_expansion_taken_is_no_less_than_13e_6_per_degree_fahrenheit() -> None:
    per_kelvin = 13 * 1.8

    assert per_kelvin <= greatest_expansion("aluminium") <= per_kelvin * 1.03


@pytest.mark.parametrize(("alloy", "ksi"), [("6063-T5", 9.70), ("6063-T6", 15.15)])
def test_allowable_bending_on_yield_from_memory(alloy: str, ksi: float) -> None:
    allowed = ALUMINIUM_YIELD.value[alloy] / ALUMINIUM_SAFETY.value / 1000

    assert allowed == pytest.approx(ksi, abs=0.005)

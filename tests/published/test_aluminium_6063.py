"""Aluminium 6063, least properties of an alloy table (read); safety factor of the Aluminum Design
Manual from memory.
"""

import pytest

from fitcheck.rules.tables_fixings import (
    ALUMINIUM_E,
    ALUMINIUM_SAFETY,
    ALUMINIUM_ULTIMATE,
    ALUMINIUM_YIELD,
)


def test_least_strengths_not_typical_ones() -> None:
    assert ALUMINIUM_YIELD.value == {"6063-T5": 16_000, "6063-T6": 25_000}
    assert ALUMINIUM_ULTIMATE.value == 22_000
    assert ALUMINIUM_E.value == 10.0e6


@pytest.mark.parametrize(("alloy", "ksi"), [("6063-T5", 9.70), ("6063-T6", 15.15)])
def test_allowable_bending_on_yield_from_memory(alloy: str, ksi: float) -> None:
    allowed = ALUMINIUM_YIELD.value[alloy] / ALUMINIUM_SAFETY.value / 1000

    assert allowed == pytest.approx(ksi, abs=0.005)

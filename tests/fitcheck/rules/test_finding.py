"""A value that came of a division is given out to the micrometre, rounded the way that is said."""

import pytest

from fitcheck.rules.finding import Measured, hundredths_text
from fitcheck.rules.length import Direction


@pytest.mark.parametrize(
    ("low", "high", "direction", "mm"),
    [
        (1_500_333_333, 1_500_333_334, "down", "1500.333 mm"),
        (1_500_333_333, 1_500_333_334, "up", "1500.334 mm"),
        (1_499_999_999, 1_500_000_000, "down", "1499.999 mm"),
        (1_500_000_000, 1_500_000_001, "up", "1500.001 mm"),
        (1_500_000_001, 1_500_000_001, "down", "1500.000001 mm"),
    ],
)
def test_a_value_between_two_nanometres_keeps_micrometres(
    low: int, high: int, direction: Direction, mm: str
) -> None:
    assert Measured(low, high, 0.5).as_json(direction, 16)["mm"] == mm


@pytest.mark.parametrize(
    ("nm", "text"), [(0, "0.00 mm"), (1, "0.01 mm"), (1_490_000, "1.49 mm"), (1_490_001, "1.50 mm")]
)
def test_doubt_is_printed_rounded_up(nm: int, text: str) -> None:
    assert hundredths_text(nm) == text

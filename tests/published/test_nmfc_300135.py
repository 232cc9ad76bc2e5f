"""NMFC item 300135-A (18 Apr 2015), read: concealed damage is told in five business days."""

from datetime import date

import pytest

from fitcheck.rules.business_days import MONDAY_TO_FRIDAY
from fitcheck.rules.clocks import concealed_damage


@pytest.mark.parametrize(
    ("delivered", "ends"),
    [
        ("2026-03-02", "2026-03-09"),
        ("2026-11-20", "2026-11-30"),
        ("2026-11-24", "2026-12-02"),
        ("2026-12-21", "2026-12-29"),
        ("2026-07-01", "2026-07-09"),
    ],
)
def test_five_business_days_with_holidays_as_observed(delivered: str, ends: str) -> None:
    clock = concealed_damage(date.fromisoformat(delivered), MONDAY_TO_FRIDAY)

    assert clock.ends == date.fromisoformat(ends)
    assert "not barred" in clock.note


@pytest.mark.parametrize("part", ["in writing", "inspection", "keep the packaging"])
def test_what_the_item_asks_of_whoever_finds_it_is_told_with_the_clock(part: str) -> None:
    assert part in concealed_damage(date(2026, 3, 2), MONDAY_TO_FRIDAY).do

"""49 USC 14706(e)(1), as quoted: nine months to claim and two years to sue are floors."""

from datetime import date

import pytest

from fitcheck.rules.clocks import claim_floor, suit_floor


@pytest.mark.parametrize(
    ("delivered", "ends"),
    [
        ("2026-03-02", "2026-12-02"),
        ("2026-01-31", "2026-10-31"),
        ("2026-05-31", "2027-02-28"),
        ("2026-06-15", "2027-03-15"),
    ],
)
def test_nine_months_are_calendar_months_clipped_to_the_end(delivered: str, ends: str) -> None:
    clock = claim_floor(date.fromisoformat(delivered))

    assert clock.ends == date.fromisoformat(ends)
    assert "floor" in clock.note


@pytest.mark.parametrize(
    ("disallowed", "ends"), [("2026-02-28", "2028-02-28"), ("2028-02-29", "2030-02-28")]
)
def test_two_years_to_sue(disallowed: str, ends: str) -> None:
    clock = suit_floor(date.fromisoformat(disallowed))

    assert clock.ends == date.fromisoformat(ends)
    assert "floor" in clock.note

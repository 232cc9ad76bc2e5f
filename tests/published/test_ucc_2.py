"""UCC 2-602(1) and 2-607(3)(a), quoted and read: tell the seller within a reasonable time, or be barred.

The code names no number of days, so that the days are the firm's own, and are told as that.
"""

from datetime import date

import pytest

from fitcheck.rules.clocks import notice_of_breach

FOUND = date(2026, 3, 2)


@pytest.mark.parametrize(("days", "ends"), [(3, date(2026, 3, 5)), (30, date(2026, 4, 1))])
def test_the_days_are_whatever_the_firm_says(days: int, ends: date) -> None:
    assert notice_of_breach(FOUND, days).ends == ends


def test_the_clock_says_whose_days_they_are_and_what_the_code_asks() -> None:
    clock = notice_of_breach(FOUND)

    assert clock.source.status == "house setting"
    assert "within a reasonable time (UCC 2-602, 2-607)" in clock.note
    assert "the days are the firm's" in clock.note
    assert "Tell the seller in writing" in clock.do

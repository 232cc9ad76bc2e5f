"""16 CFR 429, cooling-off: midnight of the third business day; Saturday is one, Sunday is not.

The text of 429.0(a) was read; the definition of a business day was read as two files quote it.
"""

from dataclasses import replace
from datetime import date

import pytest

from fitcheck.rules.business_days import MONDAY_TO_SATURDAY
from fitcheck.rules.clocks import cooling_off, cooling_off_applies


@pytest.mark.parametrize(
    ("signed", "ends"),
    [
        ("2026-03-02", "2026-03-05"),
        ("2026-11-25", "2026-11-30"),
        ("2026-11-23", "2026-11-27"),
        ("2026-12-23", "2026-12-28"),
        ("2026-12-24", "2026-12-29"),
        ("2026-12-30", "2027-01-04"),
        ("2026-10-08", "2026-10-13"),
        ("2026-06-18", "2026-06-23"),
        ("2026-09-04", "2026-09-09"),
    ],
)
def test_three_business_days_with_holidays_on_their_own_dates(signed: str, ends: str) -> None:
    clock = cooling_off(date.fromisoformat(signed), MONDAY_TO_SATURDAY)

    assert clock.ends == date.fromisoformat(ends)


@pytest.mark.parametrize(
    ("holidays", "ends"),
    [("statutory", "2026-07-06"), ("observed_too", "2026-07-07"), ("observed", "2026-07-06")],
)
def test_a_saturday_fourth_of_july_is_an_ambiguity_with_a_named_setting(
    holidays: str, ends: str
) -> None:
    calendar = replace(MONDAY_TO_SATURDAY, holidays=holidays)  # type: ignore[arg-type]

    clock = cooling_off(date(2026, 7, 1), calendar)

    assert clock.ends == date.fromisoformat(ends)
    assert holidays in clock.note


@pytest.mark.parametrize(
    ("cents", "place", "applies"),
    [
        (2500, "home", True),
        (2501, "home", True),
        (2499, "home", False),
        (13000, "elsewhere", True),
        (12999, "elsewhere", False),
        (99999, "our_place", False),
    ],
)
def test_the_sale_must_reach_25_dollars_at_home_and_130_elsewhere(
    cents: int, place: str, applies: bool
) -> None:
    assert cooling_off_applies(cents, place) is applies

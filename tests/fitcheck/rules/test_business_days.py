"""Business days by named calendars that may be changed, and what no calendar may do."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.business_days import (
    HOLIDAY_RULES,
    MONDAY_TO_FRIDAY,
    MONDAY_TO_SATURDAY,
    Calendar,
    business_days_after,
)

DAYS = st.dates(date(1990, 1, 1), date(2100, 12, 31))


@pytest.mark.parametrize(
    ("rule", "friday", "saturday"),
    [
        ("statutory", True, False),
        ("observed", False, True),
        ("observed_too", False, False),
        ("none", True, True),
    ],
)
def test_what_each_rule_says_of_the_fourth_of_july_2026(
    rule: str, friday: bool, saturday: bool
) -> None:
    calendar = Calendar("every day", (), rule)  # type: ignore[arg-type]

    assert calendar.is_business_day(date(2026, 7, 3)) is friday
    assert calendar.is_business_day(date(2026, 7, 4)) is saturday


def test_a_new_year_on_a_saturday_is_observed_in_the_old_year() -> None:
    assert not MONDAY_TO_FRIDAY.is_business_day(date(2027, 12, 31))
    assert MONDAY_TO_SATURDAY.is_business_day(date(2027, 12, 31))


def test_the_firms_own_closed_days_do_not_count() -> None:
    closed = replace(MONDAY_TO_FRIDAY, closed=(date(2026, 3, 3),))

    assert business_days_after(date(2026, 3, 2), 1, closed) == date(2026, 3, 4)
    assert closed.as_json() == {
        "name": "Monday to Friday",
        "rest": [5, 6],
        "holidays": "observed",
        "closed": ["2026-03-03"],
    }


def test_saturday_counts_by_one_calendar_and_sunday_by_none() -> None:
    friday = date(2026, 3, 6)

    assert business_days_after(friday, 1, MONDAY_TO_FRIDAY) == date(2026, 3, 9)
    assert business_days_after(friday, 1, MONDAY_TO_SATURDAY) == date(2026, 3, 7)
    assert business_days_after(friday, 2, MONDAY_TO_SATURDAY) == date(2026, 3, 9)


@given(DAYS, st.integers(1, 30), st.sampled_from(HOLIDAY_RULES))
def test_exactly_so_many_business_days_lie_between(day: date, count: int, rule: str) -> None:
    calendar = replace(MONDAY_TO_FRIDAY, holidays=rule)  # type: ignore[arg-type]
    end = business_days_after(day, count, calendar)
    between = [day + timedelta(days=n) for n in range(1, (end - day).days + 1)]

    assert calendar.is_business_day(end)
    assert sum(calendar.is_business_day(each) for each in between) == count


@given(DAYS, st.integers(1, 30))
def test_counting_both_holidays_never_ends_earlier(day: date, count: int) -> None:
    for calendar in (MONDAY_TO_FRIDAY, MONDAY_TO_SATURDAY):
        both = replace(calendar, holidays="observed_too")
        assert business_days_after(day, count, both) >= business_days_after(day, count, calendar)


@pytest.mark.parametrize("count", [0, -1])
def test_less_than_one_day_is_refused(count: int) -> None:
    with pytest.raises(ValueError, match="one business day or more"):
        business_days_after(date(2026, 3, 2), count, MONDAY_TO_FRIDAY)


def test_a_calendar_that_always_rests_is_refused() -> None:
    with pytest.raises(ValueError, match="never gets anywhere"):
        business_days_after(date(2026, 3, 2), 1, Calendar("never", tuple(range(7)), "none"))


def test_the_last_year_that_is_known_has_its_holidays_too() -> None:
    assert not MONDAY_TO_FRIDAY.is_business_day(date(2200, 12, 25))

"""5 USC 6103, federal holidays (from memory), held against an independent package.

The package lists holidays and their observed days year by year; it is an oracle for tests only.
"""

from datetime import date

import holidays
import pytest

from fitcheck.rules.business_days import Calendar, federal_holidays, nth_weekday, observed_day

YEARS = range(1986, 2081)


def oracle(year: int, *, observed: bool) -> set[date]:
    return {day for day in holidays.country_holidays("US", years=year, observed=observed)}


@pytest.mark.parametrize("year", YEARS)
def test_statutory_dates_agree_with_the_package(year: int) -> None:
    found = set(federal_holidays(year))

    assert found == {day for day in oracle(year, observed=False) if day.year == year}


@pytest.mark.parametrize("year", YEARS)
def test_observed_days_agree_with_the_package(year: int) -> None:
    """The package's list holds both dates of a moved holiday, as "observed_too" does."""
    both = Calendar("all days", (), "observed_too")
    named = {
        day for each in (year, year + 1) for day in oracle(each, observed=True) if day.year == year
    }

    off = {
        day
        for ordinal in range(date(year, 1, 1).toordinal(), date(year + 1, 1, 1).toordinal())
        if not both.is_business_day(day := date.fromordinal(ordinal))
    }

    assert off == named


def test_the_holidays_of_2026_by_name() -> None:
    assert [day.isoformat()[5:] for day in federal_holidays(2026)] == [
        "01-01", "01-19", "02-16", "05-25", "06-19", "07-04",
        "09-07", "10-12", "11-11", "11-26", "12-25",
    ]  # fmt: skip


def test_the_holidays_of_2027_by_name() -> None:
    assert [day.isoformat()[5:] for day in federal_holidays(2027)] == [
        "01-01", "01-18", "02-15", "05-31", "06-19", "07-04",
        "09-06", "10-11", "11-11", "11-25", "12-25",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("day", "observed"),
    [
        ("2026-07-04", "2026-07-03"),
        ("2027-06-19", "2027-06-18"),
        ("2027-07-04", "2027-07-05"),
        ("2027-12-25", "2027-12-24"),
        ("2028-01-01", "2027-12-31"),
        ("2026-12-25", "2026-12-25"),
    ],
)
def test_a_saturday_is_observed_on_friday_and_a_sunday_on_monday(day: str, observed: str) -> None:
    assert observed_day(date.fromisoformat(day)) == date.fromisoformat(observed)


def test_juneteenth_is_a_holiday_since_2021() -> None:
    assert date(2020, 6, 19) not in federal_holidays(2020)
    assert federal_holidays(2021)[date(2021, 6, 19)] == "Juneteenth"


@pytest.mark.parametrize(("which", "day"), [(1, 4), (2, 11), (5, None), (4, 25), (-1, 25)])
def test_mondays_of_may_2026(which: int, day: int | None) -> None:
    """The fifth would be 1 June: counting runs on, it does not clip."""
    found = nth_weekday(2026, 5, 0, which)

    assert found == (date(2026, 5, day) if day else date(2026, 6, 1))


def test_the_last_day_of_a_year_can_be_the_last_weekday() -> None:
    assert nth_weekday(2026, 12, 3, -1) == date(2026, 12, 31)


def test_the_last_friday_of_a_month_that_ends_on_a_monday() -> None:
    assert nth_weekday(2026, 8, 4, -1) == date(2026, 8, 28)


@pytest.mark.parametrize("year", [1985, 2201])
def test_years_that_the_list_does_not_know_are_refused(year: int) -> None:
    with pytest.raises(ValueError, match="1986 to 2200"):
        federal_holidays(year)

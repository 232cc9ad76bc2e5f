"""Which days are business days, by a calendar that is named and may be changed?"""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import Literal

from fitcheck.rules.tables_clocks import FIXED_HOLIDAYS, OBSERVED, WEEKDAY_HOLIDAYS

HolidayRule = Literal["statutory", "observed", "observed_too", "none"]
HOLIDAY_RULES: tuple[HolidayRule, ...] = ("statutory", "observed", "observed_too", "none")
COOLING_OFF_RULES: tuple[HolidayRule, ...] = ("statutory", "observed_too")
FIRST_YEAR, LAST_YEAR = 1986, 2200
SATURDAY, SUNDAY = 5, 6


@dataclass(frozen=True, slots=True)
class Calendar:
    """A calendar as data: days of rest in the week, rule for holidays, days closed besides.

    "statutory" keeps holidays on their own dates; "observed" moves a Saturday to Friday and a
    Sunday to Monday; "observed_too" counts both; "none" knows no federal holiday.
    """

    name: str
    rest: tuple[int, ...]
    holidays: HolidayRule
    closed: tuple[date, ...] = ()

    def is_business_day(self, day: date) -> bool:
        """Return whether the day counts."""
        if day.weekday() in self.rest or day in self.closed:
            return False
        return self.holidays == "none" or day not in _days_off(day.year, self.holidays)

    def as_json(self) -> dict[str, object]:
        """Return the calendar as plain JSON."""
        return {
            "name": self.name,
            "rest": list(self.rest),
            "holidays": self.holidays,
            "closed": [day.isoformat() for day in self.closed],
        }


MONDAY_TO_FRIDAY = Calendar("Monday to Friday", (SATURDAY, SUNDAY), "observed")
MONDAY_TO_SATURDAY = Calendar("Monday to Saturday", (SUNDAY,), "statutory")


@lru_cache(maxsize=512)
def federal_holidays(year: int) -> dict[date, str]:
    """Return the federal holidays of a year on their statutory dates.

    Inauguration Day, which only the capital's region keeps, and one-off closings by order are
    not among them.

    Source: 5 USC 6103(a) (from memory).

    Args:
        year: the year [-].

    Returns:
        Name by date, in order [-].

    Raises:
        ValueError: a year before the present list held, or absurdly far ahead.

    Valid for: 1986 to 2200.
    """
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError(f"holidays are known from {FIRST_YEAR} to {LAST_YEAR}")
    found = {
        date(year, month, day): name
        for name, (month, day, since) in FIXED_HOLIDAYS.value.items()
        if year >= since
    }
    for name, (month, weekday, which) in WEEKDAY_HOLIDAYS.value.items():
        found[nth_weekday(year, month, weekday, which)] = name
    return dict(sorted(found.items()))


def nth_weekday(year: int, month: int, weekday: int, which: int) -> date:
    """Return the first, second, ... or last such weekday of a month.

    Source: arithmetic.

    Args:
        year: the year [-].
        month: 1 to 12 [-].
        weekday: 0 for Monday to 6 for Sunday [-].
        which: 1 for the first, -1 for the last [-].

    Returns:
        The day [-].
    """
    if which < 0:
        after = date(year + month // 12, month % 12 + 1, 1)
        last = after - timedelta(days=1)
        return last - timedelta(days=(last.weekday() - weekday) % 7)
    first = date(year, month, 1)
    return first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (which - 1))


def observed_day(day: date) -> date:
    """Return the day on which a holiday is observed: Saturday on Friday, Sunday on Monday.

    Source: 5 USC 6103(b) and Executive Order 11582 (from memory).

    Args:
        day: the statutory date [-].

    Returns:
        The day observed [-].
    """
    return day + timedelta(days=OBSERVED.value.get(day.weekday(), 0))


@lru_cache(maxsize=512)
def _days_off(year: int, rule: HolidayRule) -> frozenset[date]:
    near = [day for each in (year, year + 1) for day in _statutory(each)]
    statutory = frozenset(near)
    if rule == "statutory":
        return statutory
    observed = frozenset(observed_day(day) for day in near)
    return observed | statutory if rule == "observed_too" else observed


def _statutory(year: int) -> list[date]:
    return list(federal_holidays(year)) if year <= LAST_YEAR else []


def business_days_after(day: date, count: int, calendar: Calendar) -> date:
    """Return the n-th business day after a day; the day itself is never counted.

    Source: counting; the calendar is named with the clock that uses it.

    Args:
        day: the day of the event [-].
        count: how many business days, one or more [-].
        calendar: which days count [-].

    Returns:
        The last day [-].

    Raises:
        ValueError: a count below one, a calendar with no business day, or a year not known.
    """
    if count < 1:
        raise ValueError("count one business day or more")
    if set(calendar.rest) >= set(range(7)):
        raise ValueError("a calendar that rests every day never gets anywhere")
    while count:
        day += timedelta(days=1)
        count -= calendar.is_business_day(day)
    return day

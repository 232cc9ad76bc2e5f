"""What time is it in the season? One clock for every module that asks `django.utils.timezone`."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from unittest import mock
from zoneinfo import ZoneInfo

# The night of 31 October 2026: at two in the morning the clocks of the firm's zone go back.
ZONE = ZoneInfo("America/Chicago")
CLOCKS_GO_BACK = date(2026, 11, 1)
TICK = timedelta(milliseconds=1)


@dataclass
class Clock:
    """A clock that is set by hand, and goes on by a little whenever it is read."""

    now: datetime

    def read(self) -> datetime:
        """The present moment, each time a little later, so that rows have an order."""
        self.now += TICK
        return self.now

    def set(self, moment: datetime) -> None:
        """Go on to a moment; never back."""
        self.now = max(self.now, moment.astimezone(UTC))

    def at(self, day: date, clock: str) -> None:
        """Go on to a time of a day by the firm's clock."""
        self.set(datetime.combine(day, time.fromisoformat(clock), ZONE))


@contextmanager
def running(clock: Clock) -> Iterator[Clock]:
    """Let the whole service go by this clock."""
    with mock.patch("django.utils.timezone.now", clock.read):
        yield clock


def first_day(days: int) -> date:
    """The working day on which to begin, so that the clocks go back in the middle of the season."""
    day, left = CLOCKS_GO_BACK + timedelta(days=1), days // 2
    while left:
        day -= timedelta(days=1)
        left -= is_working(day)
    return day


def is_working(day: date) -> bool:
    """Whether crews work: Monday to Friday."""
    return day.weekday() < 5

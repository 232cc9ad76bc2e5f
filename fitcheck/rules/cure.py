"""When is the bead dry enough for water, and what does that rest on?"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.site_time import clocks_moved, later, moment_text, rounded_up
from fitcheck.rules.sources import Source
from fitcheck.rules.tables_sealing import FIRST_SHOWER_STEP_MINUTES

HOURS_PER_DAY = 24


@dataclass(frozen=True, slots=True)
class CureRow:
    """One row of a product data sheet: how fast it cures in these conditions or better.

    Either `mm_per_root_day`, or the plain `hours` that the sheet promises up to `up_to_nm` deep.
    """

    least_celsius: Decimal
    least_humidity: Decimal
    mm_per_root_day: Decimal | None
    hours: Decimal | None
    up_to_nm: int | None


@dataclass(frozen=True, slots=True)
class Conditions:
    """The air while it cures: the coolest and the driest that is expected [deg C, % RH]."""

    celsius: Decimal
    humidity: Decimal


@dataclass(frozen=True, slots=True)
class Window:
    """How long nothing wet may touch it, and what says so."""

    hours: Decimal
    because: str
    source: Source

    def as_json(self) -> dict[str, object]:
        """Return the window as plain JSON."""
        return {
            "hours": f"{self.hours.normalize():f}",
            "because": self.because,
            "source": self.source.as_json(),
        }


def depth_hours(depth_nm: int, mm_per_root_day: Decimal) -> Decimal:
    """Return how long moisture takes to cure through a depth, rounded up to a tenth of an hour.

    Source: depth = k sqrt(t) (from memory); k comes from the product's data sheet only.

    Args:
        depth_nm: depth from the open face [nm].
        mm_per_root_day: k [mm/day^0.5].

    Returns:
        The time [h].

    Raises:
        ValueError: k is not more than zero.
    """
    if mm_per_root_day <= 0:
        raise ValueError("the rate of cure is more than zero")
    days = (Decimal(depth_nm) / NM_PER_MM / mm_per_root_day) ** 2
    return Decimal(math.ceil(days * HOURS_PER_DAY * 10)) / 10


def row_hours(row: CureRow, depth_nm: int) -> Decimal | None:
    """Return how long one row of the data sheet asks for this depth.

    Source: the product's data sheet.

    Args:
        row: the row [-].
        depth_nm: depth of the bead [nm].

    Returns:
        The time, None when the row does not speak of such a depth [h].
    """
    if row.up_to_nm is not None and depth_nm > row.up_to_nm:
        return None
    if row.mm_per_root_day is not None:
        return depth_hours(depth_nm, row.mm_per_root_day)
    return row.hours


def product_hours(rows: Iterable[CureRow], depth_nm: int, air: Conditions) -> Decimal | None:
    """Return the time by the product's data sheet in this air; colder or drier is never guessed.

    A row holds for its own conditions or better; of the rows that hold the shortest counts.

    Source: the product's data sheet.

    Args:
        rows: rows of the data sheet [-].
        depth_nm: depth of the bead [nm].
        air: conditions on site [-].

    Returns:
        The time, None when the data sheet does not speak of such air or depth [h].
    """
    found = [
        hours
        for row in rows
        if row.least_celsius <= air.celsius and row.least_humidity <= air.humidity
        for hours in [row_hours(row, depth_nm)]
        if hours is not None
    ]
    return min(found, default=None)


def longest_window(windows: Iterable[Window]) -> Window | None:
    """Return the window that ends last: kit sheet and product are both obeyed.

    Args:
        windows: what each document asks [-].

    Returns:
        The longest, None when nobody says anything [-].
    """
    return max(windows, key=lambda window: window.hours, default=None)


@dataclass(frozen=True, slots=True)
class FirstShower:
    """The earliest moment for water on the site's clock, in words."""

    at: datetime
    finished: datetime
    hours: Decimal

    def as_json(self) -> dict[str, object]:
        """Return the moment as plain JSON."""
        return {"not_before": self.at.isoformat(), "words": self.words}

    @property
    def words(self) -> str:
        """Return the sentence for the customer [-]."""
        zone = self.at.tzinfo
        moved = clocks_moved(self.finished, self.at, zone) if isinstance(zone, ZoneInfo) else None
        note = ""
        if moved:
            way = "forward" if moved.total_seconds() > 0 else "back"
            note = f" The clocks go {way} in between; the hours are real hours."
        hours = f"{self.hours.normalize():f}"
        return f"Keep it dry until {moment_text(self.at)}: {hours} h after the last bead.{note}"


def first_shower(finished: datetime, hours: Decimal, zone: ZoneInfo) -> FirstShower:
    """Return the earliest first shower, rounded up to a quarter of an hour on site.

    Source: arithmetic in UTC; the step is a house setting.

    Args:
        finished: when the last bead was tooled [-].
        hours: the cure window [h].
        zone: the zone of the site [-].

    Returns:
        The moment on the site's clock [-].
    """
    dry = later(finished, timedelta(seconds=math.ceil(hours * 3600)))
    return FirstShower(
        rounded_up(dry, zone, FIRST_SHOWER_STEP_MINUTES.value), finished.astimezone(zone), hours
    )

"""How long a bead stays dry: product data in this air, kit sheet, and the site's clock."""

from datetime import UTC, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from fitcheck.rules.cure import (
    Conditions,
    CureRow,
    Window,
    depth_hours,
    first_shower,
    longest_window,
    product_hours,
    row_hours,
)
from fitcheck.rules.sources import Source

MM = 10**6
NEW_YORK = ZoneInfo("America/New_York")
SOURCE = Source("A sheet", "1", "kit sheet", page="1")


def row(
    celsius: str, humidity: str, root: str | None = "3", hours: str | None = None, up_to: int = 0
) -> CureRow:
    return CureRow(
        Decimal(celsius),
        Decimal(humidity),
        Decimal(root) if root else None,
        Decimal(hours) if hours else None,
        up_to * MM or None,
    )


@pytest.mark.parametrize(("mm", "days"), [(3, 1), (6, 4), (9, 9)])
def test_depth_goes_with_the_root_of_time_from_memory(mm: int, days: int) -> None:
    """k = 3 mm/day^0.5: 6 mm in 4 days, 9 mm in 9 days."""
    assert depth_hours(mm * MM, Decimal(3)) == 24 * days


def test_hours_are_rounded_up_to_a_tenth() -> None:
    assert depth_hours(1 * MM, Decimal(3)) == Decimal("2.7")
    assert depth_hours(0, Decimal(3)) == 0


@pytest.mark.parametrize("rate", ["0", "-1"])
def test_a_product_that_never_cures_is_refused(rate: str) -> None:
    with pytest.raises(ValueError, match="more than zero"):
        depth_hours(6 * MM, Decimal(rate))


def test_a_row_with_hours_holds_up_to_its_depth() -> None:
    plain = row("5", "30", None, "24", 6)

    assert row_hours(plain, 6 * MM) == 24
    assert row_hours(plain, 6 * MM + 1) is None


def test_a_row_holds_for_its_air_or_better_and_the_best_that_holds_counts() -> None:
    rows = [row("5", "30", "2"), row("23", "50", "3"), row("30", "60", "4")]

    def hours(celsius: str, humidity: str) -> Decimal | None:
        return product_hours(rows, 6 * MM, Conditions(Decimal(celsius), Decimal(humidity)))

    assert hours("23", "50") == 96
    assert hours("22.9", "50") == 216
    assert hours("23", "49.9") == 216
    assert hours("30", "60") == 54
    assert hours("5", "30") == 216
    assert hours("4.9", "90") is None
    assert hours("40", "29.9") is None


def test_the_longest_window_counts_and_none_is_none() -> None:
    short, long = Window(Decimal(24), "kit sheet", SOURCE), Window(Decimal(96), "product", SOURCE)

    assert longest_window([short, long]) is long
    assert longest_window([long, short]) is long
    assert longest_window([]) is None
    assert long.as_json()["hours"] == "96"
    assert Window(Decimal("10"), "x", SOURCE).as_json()["hours"] == "10"


def test_the_first_shower_over_the_change_to_summer_time() -> None:
    finished = datetime(2026, 3, 7, 21, 20, tzinfo=UTC)
    shower = first_shower(finished, Decimal(24), NEW_YORK)

    assert shower.as_json() == {
        "not_before": "2026-03-08T17:30:00-04:00",
        "words": "Keep it dry until 5:30 pm on Sunday 8 March 2026 (EDT): 24 h after the last "
        "bead. The clocks go forward in between; the hours are real hours.",
    }


def test_the_first_shower_over_the_change_to_winter_time() -> None:
    finished = datetime(2026, 10, 31, 20, 30, tzinfo=UTC)
    shower = first_shower(finished, Decimal(24), NEW_YORK)

    assert shower.at.isoformat() == "2026-11-01T15:30:00-05:00"
    assert "The clocks go back in between" in shower.words


def test_the_first_shower_on_a_plain_day() -> None:
    finished = datetime(2026, 7, 1, 12, 0, 1, tzinfo=UTC)
    shower = first_shower(finished, Decimal("2.7"), NEW_YORK)

    assert shower.words == (
        "Keep it dry until 10:45 am on Wednesday 1 July 2026 (EDT): 2.7 h after the last bead."
    )

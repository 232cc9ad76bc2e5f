"""Time on site across changes of the clocks, by the zone data and not by adding hours."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from fitcheck.rules.site_time import (
    clocks_moved,
    day_text,
    end_of_day,
    later,
    moment_parse,
    moment_text,
    rounded_up,
    zone_parse,
)

NEW_YORK = ZoneInfo("America/New_York")


@pytest.mark.parametrize(
    ("local", "utc"),
    [
        (
            "2026-03-07T09:00",
            "2026-03-07T14:00:00",
        ),  # the whole table: tests/published/test_rfc5545.py
        ("2026-07-01T08:00-07:00", "2026-07-01T15:00:00"),
    ],
)
def test_the_clock_on_site_in_utc(local: str, utc: str) -> None:
    moment, remark = moment_parse(local, NEW_YORK)

    assert moment == datetime.fromisoformat(utc).replace(tzinfo=UTC)
    assert moment.tzinfo is UTC
    assert remark is None


def test_a_time_that_came_twice_is_the_second_and_says_so() -> None:
    moment, remark = moment_parse("2026-11-01T01:30", NEW_YORK)

    assert moment == datetime(2026, 11, 1, 6, 30, tzinfo=UTC)
    assert remark == "2026-11-01T01:30 came twice; the second is meant."


def test_a_time_that_was_skipped_is_refused() -> None:
    with pytest.raises(ValueError, match="skipped"):
        moment_parse("2026-03-08T02:30", NEW_YORK)


@pytest.mark.parametrize("text", ["1985-12-31T00:00", "2201-01-01T00:00", "tomorrow", ""])
def test_a_moment_that_no_clock_of_ours_knows_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"years 1986 to 2200|Invalid isoformat"):
        moment_parse(text, NEW_YORK)


@pytest.mark.parametrize("text", ["1986-01-01T00:00", "2200-12-31T23:59"])
def test_the_first_and_the_last_year_are_known(text: str) -> None:
    assert moment_parse(text, NEW_YORK)[1] is None


@pytest.mark.parametrize("name", ["Mars/Olympus", "../etc/passwd", "America", "", "New York\0"])
def test_a_zone_that_does_not_exist_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="no time zone"):
        zone_parse(name)


def test_a_zone_is_found_by_its_name() -> None:
    assert zone_parse("America/New_York").key == "America/New_York"


@pytest.mark.parametrize(
    ("evening", "hours"), [("2026-03-07", 11), ("2026-10-31", 13), ("2026-07-01", 12)]
)
def test_a_night_from_eight_to_eight_is_not_always_twelve_hours(evening: str, hours: int) -> None:
    day = date.fromisoformat(evening)
    start, _ = moment_parse(f"{evening}T20:00", NEW_YORK)
    end, _ = moment_parse(f"{day + timedelta(days=1)}T08:00", NEW_YORK)

    assert end - start == timedelta(hours=hours)
    assert clocks_moved(start, end, NEW_YORK) == timedelta(hours=12 - hours)


def test_a_span_passes_in_real_time() -> None:
    start = datetime(2026, 3, 7, 9, tzinfo=NEW_YORK)

    assert later(start, timedelta(hours=24)).astimezone(NEW_YORK).hour == 10


@pytest.mark.parametrize(
    ("time", "expected"),
    [
        ("09:00:00", "09:00"),
        ("09:00:01", "09:15"),
        ("09:14:59", "09:15"),
        ("09:15:00", "09:15"),
        ("09:46:00", "10:00"),
        ("23:50:00", "00:00"),
    ],
)
def test_a_moment_is_rounded_up_to_a_quarter_of_an_hour(time: str, expected: str) -> None:
    moment = datetime.fromisoformat(f"2026-07-01T{time}").replace(tzinfo=NEW_YORK)

    assert rounded_up(moment, NEW_YORK, 15).strftime("%H:%M") == expected


def test_a_part_of_a_second_is_rounded_up_too() -> None:
    moment = datetime(2026, 7, 1, 9, 0, 0, 1, tzinfo=NEW_YORK)

    assert rounded_up(moment, NEW_YORK, 15) == datetime(2026, 7, 1, 9, 15, tzinfo=NEW_YORK)


def test_a_day_ends_at_midnight_on_site() -> None:
    assert end_of_day(date(2026, 11, 1), NEW_YORK).isoformat() == "2026-11-02T00:00:00-05:00"


def test_a_midnight_that_the_clocks_skip_is_the_first_moment_after_it() -> None:
    """In Santiago the clocks of 6 September 2026 went from 24:00 to 01:00."""
    assert end_of_day(date(2026, 9, 5), ZoneInfo("America/Santiago")).isoformat() == (
        "2026-09-06T01:00:00-03:00"
    )


@pytest.mark.parametrize(
    ("moment", "words"),
    [
        ("2026-03-08T00:05", "12:05 am on Sunday 8 March 2026 (EST)"),
        ("2026-03-08T12:00", "12:00 pm on Sunday 8 March 2026 (EDT)"),
        ("2026-12-31T23:59", "11:59 pm on Thursday 31 December 2026 (EST)"),
        ("2027-01-04T09:30", "9:30 am on Monday 4 January 2027 (EST)"),
    ],
)
def test_a_moment_in_words(moment: str, words: str) -> None:
    assert moment_text(datetime.fromisoformat(moment).replace(tzinfo=NEW_YORK)) == words


def test_every_day_and_month_has_its_name() -> None:
    for ordinal in range(date(2026, 1, 1).toordinal(), date(2027, 1, 1).toordinal()):
        day = date.fromordinal(ordinal)
        assert day_text(day) == f"{day:%A} {day.day} {day:%B} {day.year}"

"""RFC 5545 (iCalendar), clauses read as others quote them; what is written is held against the octets.

3.1 lines of at most 75 octets, and unfolding gives back what was folded; 3.2.19 TZID on local times,
never on UTC, and one VTIMEZONE for each; 3.3.5 a clock time that came twice or never; 3.6.1 UID,
DTSTAMP, DTEND or DURATION; 3.8.7.2 DTSTAMP in UTC; 3.8.7.4 SEQUENCE from 0. That no line is folded
inside a letter (3.1, a note) and how TEXT is escaped (3.3.11) are from memory. Where the clocks change
is of the IANA database, 2026.
"""

import re
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from contractor.api.callers import SYSTEM
from contractor.people.models import Crew
from fitcheck.rules.site_time import clocks_moved, later, moment_parse
from jobs.bookings.services import booking_make
from jobs.calendars.feed import feed_text
from tests.factories import CrewFactory, JobFactory, SiteFactory, feed_made

NEW_YORK = ZoneInfo("America/New_York")
LONG = (
    "Ħeron & Söhne; ünusually løng, so that it is folded; \\ end"  # of the 60 that a crew may have
)


def lines_of(folded: bytes) -> list[str]:
    """Unfold on octets, then read: a line feed and one blank are no part of the text."""
    return folded.replace(b"\r\n ", b"").decode().split("\r\n")


def members(lines: list[str], component: str) -> list[list[str]]:
    text = "\n".join(lines)
    found = re.findall(rf"BEGIN:{component}\n(.*?)\nEND:{component}", text, re.DOTALL)
    return [one.split("\n") for one in found]


def value(rows: list[str], name: str) -> tuple[str, str]:
    """Return parameters and value of the one line of this name."""
    (line,) = [row for row in rows if re.match(rf"{name}[;:]", row)]
    left, _, right = line.partition(":")
    return left.removeprefix(name), right


@pytest.fixture
def written(db: None) -> bytes:
    crew: Crew = CrewFactory(slug="heron", name=LONG)
    day = datetime.now(UTC).date() + timedelta(days=3)
    for n, zone in enumerate(("America/New_York", "America/Denver", "America/Denver")):
        start = datetime.combine(day + timedelta(days=n), datetime.min.time(), UTC).replace(hour=15)
        job = JobFactory(site=SiteFactory(time_zone=zone))
        span = {"starts_at": start, "ends_at": start + timedelta(hours=1)}
        booking_make(by=SYSTEM, job=job, crew=crew, visit="survey", **span)
    return feed_text(feed_made(crew)[0])


def test_3_1_no_line_is_longer_than_75_octets_and_none_is_folded_inside_a_letter(
    written: bytes,
) -> None:
    folded = written.split(b"\r\n")

    assert max(len(line) for line in folded) <= 75
    assert any(line.startswith(b" ") for line in folded)
    for line in folded:
        line.decode()
    assert b"\n" not in written.replace(b"\r\n", b"")


def test_3_1_unfolded_the_escaped_text_is_what_was_written(written: bytes) -> None:
    (_, name) = value(lines_of(written), "X-WR-CALNAME")
    said = members(lines_of(written), "VEVENT")[0]
    (_, summary) = value(said, "SUMMARY")
    plain = re.sub(r"\\([\\;,])", r"\1", summary)

    assert LONG in plain
    assert r"løng\, so" in summary
    assert r"Söhne\; ün" in summary
    assert r"folded\; \\ end" in summary
    assert name


def test_3_2_19_local_times_name_a_zone_that_is_given_once_and_utc_names_none(
    written: bytes,
) -> None:
    lines = lines_of(written)
    given = [value(one, "TZID")[1] for one in members(lines, "VTIMEZONE")]

    assert sorted(given) == ["America/Denver", "America/New_York"]
    for event in members(lines, "VEVENT"):
        for name in ("DTSTART", "DTEND"):
            parameters, moment = value(event, name)
            assert parameters.removeprefix(";TZID=") in given
            assert re.fullmatch(r"\d{8}T\d{6}", moment)
        assert re.fullmatch(r"\d{8}T\d{6}Z", value(event, "DTSTAMP")[1])
        assert value(event, "DTSTAMP")[0] == ""


def test_3_6_1_every_event_has_what_it_must_and_either_end_or_duration(written: bytes) -> None:
    events = members(lines_of(written), "VEVENT")

    assert len(events) == 3
    assert len({value(one, "UID")[1] for one in events}) == 3
    for event in events:
        assert value(event, "SEQUENCE")[1] == "0"
        assert not [row for row in event if row.startswith("DURATION")]


@pytest.mark.parametrize(
    ("local", "utc"),
    [
        ("2026-03-07T09:00", "2026-03-07T14:00:00"),
        ("2026-03-08T01:59:59", "2026-03-08T06:59:59"),
        ("2026-03-08T03:00", "2026-03-08T07:00:00"),
        ("2026-03-08T09:00", "2026-03-08T13:00:00"),
        ("2026-11-01T09:00", "2026-11-01T14:00:00"),
        ("2026-11-02T08:00", "2026-11-02T13:00:00"),
        ("2026-07-01T08:00", "2026-07-01T12:00:00"),
        ("2027-01-15T08:00", "2027-01-15T13:00:00"),
    ],
)
def test_3_3_5_the_clock_of_new_york_in_utc_computed(local: str, utc: str) -> None:
    moment, remark = moment_parse(local, NEW_YORK)

    assert moment == datetime.fromisoformat(utc).replace(tzinfo=UTC)
    assert remark is None


def test_3_3_5_of_two_the_standard_means_the_first_and_the_service_the_second_aloud() -> None:
    """05:30 UTC is the first 01:30; the second is taken so that nothing is called dry too early."""
    moment, remark = moment_parse("2026-11-01T01:30", NEW_YORK)

    assert moment == datetime(2026, 11, 1, 6, 30, tzinfo=UTC)
    assert remark is not None
    assert "came twice" in remark


def test_3_3_5_a_skipped_time_would_be_read_an_hour_on_and_is_refused_instead() -> None:
    """20070311T023000 in New York is 03:30 EDT by the standard; nobody's clock showed it."""
    for skipped in ("2007-03-11T02:30", "2026-03-08T02:30"):
        with pytest.raises(ValueError, match="skipped"):
            moment_parse(skipped, NEW_YORK)

    assert moment_parse("2007-03-11T03:30", NEW_YORK)[0] == datetime(2007, 3, 11, 7, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("change", "hours"),
    [
        ("2026-03-08T07:00", 1),
        ("2027-03-14T07:00", 1),
        ("2026-11-01T06:00", -1),
        ("2027-11-07T06:00", -1),
    ],
)
def test_when_the_clocks_of_new_york_change_computed(change: str, hours: int) -> None:
    at = datetime.fromisoformat(change).replace(tzinfo=UTC)
    second = timedelta(seconds=1)

    assert clocks_moved(at - second, at, NEW_YORK) == timedelta(hours=hours)
    assert clocks_moved(at, at + second, NEW_YORK) == timedelta(0)


@pytest.mark.parametrize(("evening", "hours"), [("2026-03-07", 11), ("2026-10-31", 13)])
def test_a_night_from_20_to_8_over_a_change_computed(evening: str, hours: int) -> None:
    start, _ = moment_parse(f"{evening}T20:00", NEW_YORK)
    morning = date.fromisoformat(evening) + timedelta(days=1)
    end, _ = moment_parse(f"{morning.isoformat()}T08:00", NEW_YORK)

    assert end - start == timedelta(hours=hours)
    assert later(start, timedelta(hours=hours)) == end


def test_the_same_time_next_week_is_another_hour_of_utc_computed() -> None:
    this, _ = moment_parse("2026-10-31T09:00", NEW_YORK)
    following, _ = moment_parse("2026-11-07T09:00", NEW_YORK)

    assert this == datetime(2026, 10, 31, 13, tzinfo=UTC)
    assert following == datetime(2026, 11, 7, 14, tzinfo=UTC)

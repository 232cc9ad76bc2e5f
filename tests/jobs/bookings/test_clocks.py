"""Which moment is a wall time at the site, on the days when the clocks change?

Check values: the rules of America/New_York in the IANA time zone database (tzdata), and RFC 5545,
3.3.5, for what a repeated and a skipped local time would mean.
"""

from datetime import datetime
from typing import Any

import pytest

from contractor.api.problems import Problem
from jobs.bookings.times import EARLIER, LATER, NONE, moment_of_wall_time
from tests.clients import Caller, assert_problem
from tests.factories import JobFactory

BOOKINGS = "/api/v1/bookings/"
NEW_YORK = "America/New_York"
# wall time at the site, which of the two when it comes twice, the moment in UTC
TABLE = [
    ("2026-03-07T09:00", NONE, "2026-03-07T14:00:00Z"),
    ("2026-03-08T01:59:59", NONE, "2026-03-08T06:59:59Z"),
    ("2026-03-08T03:00", NONE, "2026-03-08T07:00:00Z"),
    ("2026-03-08T09:00", NONE, "2026-03-08T13:00:00Z"),
    ("2026-07-01T08:00", NONE, "2026-07-01T12:00:00Z"),
    ("2026-11-01T00:59", NONE, "2026-11-01T04:59:00Z"),
    ("2026-11-01T01:30", EARLIER, "2026-11-01T05:30:00Z"),
    ("2026-11-01T01:30", LATER, "2026-11-01T06:30:00Z"),
    ("2026-11-01T02:00", NONE, "2026-11-01T07:00:00Z"),
    ("2026-11-01T09:00", NONE, "2026-11-01T14:00:00Z"),
    ("2026-11-02T08:00", NONE, "2026-11-02T13:00:00Z"),
    ("2027-01-15T08:00", NONE, "2027-01-15T13:00:00Z"),
    ("2027-03-14T03:00", NONE, "2027-03-14T07:00:00Z"),
    ("2027-11-07T01:00", LATER, "2027-11-07T06:00:00Z"),
]


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text)


@pytest.mark.parametrize(("wall", "fold", "moment"), TABLE)
def test_a_wall_time_is_the_moment_that_the_zone_database_says(
    wall: str, fold: str, moment: str
) -> None:
    found = moment_of_wall_time(datetime.fromisoformat(wall), NEW_YORK, fold, "/local_start")
    assert found == utc(moment)


@pytest.mark.parametrize("wall", ["2026-03-08T02:00", "2026-03-08T02:30", "2027-03-14T02:59:59"])
@pytest.mark.parametrize("fold", [NONE, EARLIER, LATER])
def test_a_skipped_wall_time_is_no_moment(wall: str, fold: str) -> None:
    with pytest.raises(Problem, match="skip") as refused:
        moment_of_wall_time(datetime.fromisoformat(wall), NEW_YORK, fold, "/local_start")
    assert refused.value.code == "time_skipped"


# An hour that is skipped, an hour that comes twice, and its two offsets, by the zones' own rules.
ZONES = [
    ("America/Chicago", "2027-03-14T02:30", "2027-11-07T01:30", ("-05:00", "-06:00")),
    ("America/St_Johns", "2027-03-14T02:30", "2027-11-07T01:30", ("-02:30", "-03:30")),
    ("America/Santiago", "2027-09-05T00:30", "2027-04-03T23:30", ("-03:00", "-04:00")),
    ("Europe/Berlin", "2027-03-28T02:30", "2027-10-31T02:30", ("+02:00", "+01:00")),
    ("Australia/Sydney", "2027-10-03T02:30", "2027-04-04T02:30", ("+11:00", "+10:00")),
    ("Australia/Lord_Howe", "2027-10-03T02:15", "2027-04-04T01:45", ("+11:00", "+10:30")),
    ("Pacific/Chatham", "2027-09-26T03:00", "2027-04-04T03:00", ("+13:45", "+12:45")),
]


@pytest.mark.parametrize(("zone", "gap", "twice", "offsets"), ZONES)
def test_every_zone_skips_and_repeats_its_own_hours(
    zone: str, gap: str, twice: str, offsets: tuple[str, str]
) -> None:
    with pytest.raises(Problem) as skipped:
        moment_of_wall_time(datetime.fromisoformat(gap), zone, NONE, "/local_start")
    assert skipped.value.code == "time_skipped"
    with pytest.raises(Problem) as asked:
        moment_of_wall_time(datetime.fromisoformat(twice), zone, NONE, "/local_start")
    assert asked.value.code == "time_comes_twice"
    for which, offset in zip((EARLIER, LATER), offsets, strict=True):
        found = moment_of_wall_time(datetime.fromisoformat(twice), zone, which, "/local_start")
        assert found == datetime.fromisoformat(twice + offset)


@pytest.fixture
def visit(body: Any) -> Any:
    """The body of a survey visit in New York, which needs no verdict."""
    job = JobFactory(site__time_zone=NEW_YORK)

    def made(**changes: Any) -> dict[str, Any]:
        own = {"job": job.number, "visit": "survey", "local_start": None, "local_end": None}
        booked: dict[str, Any] = body(**{**own, **changes})
        return booked

    return made


def test_a_booking_in_the_hour_that_the_clocks_skip_is_refused(office: Caller, visit: Any) -> None:
    wanted = visit(local_start="2026-03-08T02:30", local_end="2026-03-08T05:00")
    problem = assert_problem(office.post(BOOKINGS, wanted), 400, "time_skipped", "/local_start")
    assert "2026-03-08" in problem["detail"]
    assert "02:30" in problem["detail"]


@pytest.mark.parametrize("offset", ["-05:00", "-04:00"])
def test_a_skipped_hour_with_an_offset_of_the_site_is_refused_too(
    office: Caller, visit: Any, offset: str
) -> None:
    wanted = visit(starts_at=f"2026-03-08T02:30:00{offset}", ends_at="2026-03-08T12:00:00Z")
    assert_problem(office.post(BOOKINGS, wanted), 400, "time_skipped", "/starts_at")


@pytest.mark.parametrize("moment", ["2026-03-08T02:30:00Z", "2026-03-08T02:30:00+01:00"])
def test_a_moment_of_elsewhere_inside_the_skipped_hour_is_a_moment(
    office: Caller, visit: Any, moment: str
) -> None:
    reply = office.post(BOOKINGS, visit(starts_at=moment, ends_at="2026-03-08T06:00:00Z"))
    assert reply.status_code == 201
    assert utc(reply.data["starts_at"]) == utc(moment)


def test_utc_is_in_no_doubt_where_the_site_itself_has_it_in_winter(
    office: Caller, visit: Any
) -> None:
    """01:30 UTC is 02:30 in London on the night when its clocks skip from 01:00 to 02:00."""
    london = JobFactory(site__time_zone="Europe/London").number
    span = {"starts_at": "2026-03-29T01:30:00Z", "ends_at": "2026-03-29T04:00:00Z"}
    reply = office.post(BOOKINGS, visit(job=london, **span))
    assert reply.status_code == 201
    assert "02:30" in reply.data["local"]
    wall = {"local_start": "2026-03-29T01:30", "local_end": "2026-03-29T05:00"}
    reply = office.post(BOOKINGS, visit(job=london, **wall))
    assert_problem(reply, 400, "time_skipped", "/local_start")


def test_an_hour_that_comes_twice_is_asked_about(office: Caller, visit: Any) -> None:
    wanted = visit(local_start="2026-11-01T01:30", local_end="2026-11-01T04:00")
    problem = assert_problem(office.post(BOOKINGS, wanted), 400, "time_comes_twice", "/local_start")
    assert "-0400" in problem["detail"]
    assert "-0500" in problem["detail"]
    assert "`fold`" in problem["hint"]


@pytest.mark.parametrize(("fold", "hours"), [("earlier", 3.5), ("later", 2.5)])
def test_an_hour_that_comes_twice_is_booked_once_it_is_said_which(
    office: Caller, visit: Any, fold: str, hours: float
) -> None:
    wanted = visit(local_start="2026-11-01T01:30", local_end="2026-11-01T04:00", fold=fold)
    told = office.post(BOOKINGS, wanted).data
    length = utc(told["ends_at"]) - utc(told["starts_at"])
    assert length.total_seconds() == hours * 3600


def test_both_passes_of_the_hour_are_booked_by_moments_without_overlap(
    office: Caller, visit: Any
) -> None:
    """01:15 to 01:45 comes twice that night; the two are an hour apart and do not overlap."""
    for offset in ("-04:00", "-05:00"):
        span = {
            "starts_at": f"2026-11-01T01:15:00{offset}",
            "ends_at": f"2026-11-01T01:45:00{offset}",
        }
        assert office.post(BOOKINGS, visit(**span)).status_code == 201
        assert_problem(office.post(BOOKINGS, visit(**span)), 409, "crew_taken")


@pytest.mark.parametrize(
    ("night", "hours"), [("2026-03-07", 11), ("2026-10-31", 13), ("2026-06-01", 12)]
)
def test_a_night_lasts_as_long_as_it_does(
    office: Caller, visit: Any, night: str, hours: int
) -> None:
    day = datetime.fromisoformat(night)
    morning = (
        day.replace(day=1, month=day.month + 1) if day.day == 31 else day.replace(day=day.day + 1)
    )
    wanted = visit(local_start=f"{night}T20:00", local_end=f"{morning:%Y-%m-%d}T08:00")
    told = office.post(BOOKINGS, wanted).data
    assert (utc(told["ends_at"]) - utc(told["starts_at"])).total_seconds() == hours * 3600


def test_a_booking_is_told_in_the_sites_own_time(office: Caller, visit: Any) -> None:
    denver = JobFactory(site__time_zone="America/Denver").number
    wanted = visit(job=denver, local_start="2026-07-01T08:00", local_end="2026-07-01T12:00")
    told = office.post(BOOKINGS, wanted).data
    assert told["local"] == "Wed 1 Jul 2026, 08:00–12:00 (America/Denver, site time)"
    assert (told["starts_at"], told["ends_at"]) == ("2026-07-01T14:00:00Z", "2026-07-01T18:00:00Z")


@pytest.mark.parametrize("monday", ["0001-01-01", "9999-12-31", "soon"])
def test_a_week_that_is_none_is_refused(office: Caller, monday: str) -> None:
    reply = office.get(f"{BOOKINGS}week.svg/", {"monday": monday})
    assert_problem(reply, 400, "date_not_understood", "/monday")


def test_the_week_shows_each_visit_in_its_sites_own_time(office: Caller, visit: Any) -> None:
    office.post(BOOKINGS, visit(local_start="2026-07-01T08:00", local_end="2026-07-01T12:00"))
    picture = office.get(f"{BOOKINGS}week.svg/", {"monday": "2026-06-29"}).content.decode()
    assert "B-" in picture
    assert "08:00" in picture
    other = office.get(f"{BOOKINGS}week.svg/", {"monday": "2026-07-06"}).content.decode()
    assert "B-" not in other

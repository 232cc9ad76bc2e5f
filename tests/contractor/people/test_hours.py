"""When does a crew work, by the clock of its own zone, on days when the clocks change too?"""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from contractor.people.hours import spans_read, spans_text, working_spans
from contractor.people.models import Crew
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory

CREWS = "/api/v1/crews/"
ALL_DAY = {"sunday": "00:30-06:00"}


@pytest.mark.parametrize(
    ("zone", "day", "start", "hours"),
    [
        # Hours from 00:30 to 06:00 by the clock: 5.5, one less in spring, one more in autumn.
        ("America/Chicago", date(2027, 3, 7), "06:30", 5.5),
        ("America/Chicago", date(2027, 3, 14), "06:30", 4.5),
        ("America/Chicago", date(2027, 11, 7), "05:30", 6.5),
        ("Europe/Berlin", date(2027, 3, 28), "23:30", 4.5),
        ("Europe/Berlin", date(2027, 10, 31), "22:30", 6.5),
        ("America/Phoenix", date(2027, 3, 14), "07:30", 5.5),
        # Lord Howe Island moves its clocks by half an hour.
        ("Australia/Lord_Howe", date(2027, 4, 4), "13:30", 6.0),
        ("Australia/Lord_Howe", date(2027, 10, 3), "14:00", 5.0),
    ],
)
def test_a_working_day_is_as_long_as_the_clocks_make_it(
    zone: str, day: date, start: str, hours: float
) -> None:
    [(opens, closes)] = working_spans(ALL_DAY, ZoneInfo(zone), day)
    assert f"{opens:%H:%M}" == start
    assert (closes - opens).total_seconds() == hours * 3600


def test_hours_that_begin_in_the_skipped_hour_begin_when_the_clocks_have_jumped() -> None:
    [(opens, closes)] = working_spans(
        {"sunday": "02:30-05:00"}, ZoneInfo("America/Chicago"), date(2027, 3, 14)
    )
    assert opens == datetime(2027, 3, 14, 8, 30, tzinfo=UTC)  # 03:30 by the clock at the site
    assert closes == datetime(2027, 3, 14, 10, 0, tzinfo=UTC)


def test_a_weekday_that_is_not_named_is_a_day_at_home() -> None:
    assert working_spans(ALL_DAY, ZoneInfo("UTC"), date(2027, 3, 8)) == []


def test_hours_are_read_and_written_in_one_way() -> None:
    assert spans_text(spans_read(" 08:00 – 12:00,12:30-16:30 ")) == "08:00-12:00, 12:30-16:30"
    assert spans_read("") == []


@pytest.mark.parametrize(
    "text", ["8-16", "08:00", "16:00-08:00", "08:00-12:00, 11:00-13:00", "25:00-26:00", "x"]
)
def test_hours_that_cannot_be_meant_are_refused(office: Caller, text: str) -> None:
    crew = CrewFactory(time_zone="America/Chicago")
    reply = office.patch(f"{CREWS}{crew.slug}/", {"hours": {"monday": text}}, seen=1)
    assert_problem(reply, 400, "hours", "/hours/monday")


def test_a_change_of_one_day_keeps_the_others(office: Caller) -> None:
    crew = CrewFactory()
    path = f"{CREWS}{crew.slug}/"
    body = {
        "time_zone": "America/Chicago",
        "hours": {"monday": "08:00-16:00", "friday": "08:00-12:00"},
    }
    assert office.patch(path, body, seen=1).status_code == 200
    told = office.patch(path, {"hours": {"friday": ""}}, seen=2).json()["hours"]
    assert (told["monday"], told["friday"], told["sunday"]) == ("08:00-16:00", "", "")
    assert office.patch(path, told | {}, seen=3).status_code == 400  # hours are one member


def test_hours_need_the_zone_of_their_clock(office: Caller) -> None:
    crew = CrewFactory()
    reply = office.patch(f"{CREWS}{crew.slug}/", {"hours": {"monday": "08:00-16:00"}}, seen=1)
    assert_problem(reply, 400, "zone_missing", "/time_zone")


@pytest.mark.parametrize(
    ("name", "value", "code"),
    [
        ("rack_mass", "180", "mass"),
        ("rack_mass", "180 stone", "mass"),
        ("region", "Illinois", "region"),
        ("start_latitude", "91", "max_value"),
        ("time_zone", "Chicago", "time_zone_unknown"),
    ],
)
def test_a_wrong_fact_about_a_crew_is_refused(
    office: Caller, name: str, value: str, code: str
) -> None:
    crew = CrewFactory()
    reply = office.patch(f"{CREWS}{crew.slug}/", {name: value}, seen=1)
    assert_problem(reply, 400, code, f"/{name}")
    assert Crew.objects.get().version == 1

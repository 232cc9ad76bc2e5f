"""Does a crew's own calendar program get its visits, their changes, and no more than it needs?

Against RFC 5545 as read by the `icalendar` library: UID and SEQUENCE (3.8.4.7, 3.8.7.4), STATUS
(3.8.1.11), VTIMEZONE for every TZID (3.2.19).
"""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone
from icalendar import Calendar

from contractor.api.callers import SYSTEM
from contractor.config.access_log import masked
from contractor.people.models import Crew
from jobs.bookings.models import Booking
from jobs.bookings.services import booking_cancel, booking_make, booking_move
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory, JobFactory, MemberFactory, SiteFactory, feed_made

CALENDARS = "/api/v1/calendars/"
SOON = (timezone.now() + timedelta(days=3)).replace(hour=15, minute=0, second=0, microsecond=0)


@pytest.fixture
def crew(db: None) -> Crew:
    made: Crew = CrewFactory(slug="heron", name="Heron")
    return made


def visit(crew: Crew, *, days: int = 0, **more: Any) -> Booking:
    job = more.pop("job", None) or JobFactory(site=SiteFactory(time_zone="America/Chicago"))
    start = SOON + timedelta(days=days)
    span = {"starts_at": start, "ends_at": start + timedelta(hours=1)}
    return booking_make(by=SYSTEM, job=job, crew=crew, visit="survey", **span, **more)


def read(secret: str, **headers: str) -> Any:
    return Client().get(f"/calendar/{secret}.ics", headers=headers)


def events(secret: str) -> dict[str, Any]:
    calendar = Calendar.from_ical(read(secret).content)
    return {str(one["uid"]).partition("@")[0]: one for one in calendar.walk("VEVENT")}


def test_a_feed_tells_the_crews_visits_with_the_zone_of_each_site(crew: Crew) -> None:
    booking = visit(crew)
    other = visit(crew, days=1, job=JobFactory(site=SiteFactory(time_zone="America/Denver")))
    visit(CrewFactory(slug="otter"))
    secret = feed_made(crew)[1]
    found = events(secret)
    assert set(found) == {booking.number, other.number}
    event = found[booking.number]
    assert event["dtstart"].dt == booking.starts_at
    assert str(event["dtstart"].params["TZID"]) == "America/Chicago"
    calendar = Calendar.from_ical(read(secret).content)
    zones = {str(one["tzid"]) for one in calendar.walk("VTIMEZONE")}
    assert zones == {"America/Chicago", "America/Denver"}


def test_a_move_raises_the_sequence_and_keeps_the_uid(crew: Crew) -> None:
    booking, secret = visit(crew), feed_made(crew)[1]
    before = events(secret)[booking.number]
    start = SOON + timedelta(days=2)
    own = {"starts_at": start, "ends_at": start + timedelta(hours=1)}
    booking_move(by=SYSTEM, booking=booking, reason="Glass is late.", **own)
    after = events(secret)[booking.number]
    assert (before["uid"], before["sequence"]) == (after["uid"], 0)
    assert (after["sequence"], after["dtstart"].dt) == (1, start)


def test_a_cancelled_visit_stays_and_says_so_and_a_hold_is_tentative(crew: Crew) -> None:
    gone = visit(crew)
    hold = visit(crew, days=1, held_until=timezone.now() + timedelta(hours=1))
    over = visit(crew, days=2, held_until=timezone.now() - timedelta(hours=1))
    sure = visit(crew, days=4)
    booking_cancel(by=SYSTEM, booking=gone, why="Sold.")
    found = events(feed_made(crew)[1])
    said = [str(found[one.number]["status"]) for one in (gone, hold, over, sure)]
    assert said == ["CANCELLED", "TENTATIVE", "CANCELLED", "CONFIRMED"]
    assert found[gone.number]["sequence"] == 1


def test_nobody_learns_whose_house_it_is(crew: Crew) -> None:
    booking = visit(crew, notes="Key under the third pot.")
    site = booking.job.site
    text = read(feed_made(crew)[1]).content.decode().replace("\r\n ", "")
    assert site.address_locality in text
    for secret in (site.street_address, site.customer.name, site.customer.phone, "third pot"):
        assert secret not in text


def test_a_member_reads_the_visits_of_all_crews_that_it_is_in(crew: Crew) -> None:
    member = MemberFactory()
    crew.places.create(member=member)
    other = CrewFactory(slug="otter", members=[member])
    wanted = {visit(crew).number, visit(other).number}
    visit(CrewFactory(slug="marten"))
    secret = feed_made(None, member=member)[1]
    assert set(events(secret)) == wanted
    member.is_active = False
    member.save()
    assert read(secret).status_code == 404


def test_what_has_not_changed_is_not_sent_again(crew: Crew) -> None:
    booking, secret = visit(crew), feed_made(crew)[1]
    first = read(secret)
    assert first["Content-Type"] == "text/calendar; charset=utf-8"
    again = read(secret, **{"If-None-Match": first["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    booking_cancel(by=SYSTEM, booking=booking, why="Sold.")
    changed = read(secret, **{"If-None-Match": first["ETag"]})
    assert (changed.status_code, changed["ETag"] == first["ETag"]) == (200, False)


def test_the_office_issues_an_address_once_and_takes_it_back(office: Caller, crew: Crew) -> None:
    made = office.post(CALENDARS, {"name": "Van Heron", "crew": "heron"})
    address = made.data["token"]
    path = address.partition("/calendar/")[2]
    assert path.endswith(".ics")
    assert Client().get(f"/calendar/{path}").status_code == 200
    assert office.get(made.data["url"]).data["token"] == ""
    office.post(f"{made.data['url']}revoke/", {"why": "Phone lost."}, seen=1)
    assert Client().get(f"/calendar/{path}").status_code == 404
    again = office.post(f"{made.data['url']}revoke/", {"why": "x"}, seen=2)
    assert_problem(again, 409, "revoked")


def test_a_wrong_an_unknown_and_an_expired_secret_are_answered_alike(crew: Crew) -> None:
    good = feed_made(crew)[1]
    old = feed_made(crew, expires_at=datetime(2026, 1, 1, tzinfo=UTC))[1]
    told = {read(one).content for one in (good[:-1], good + "x", "cal_0_x", "tab_1_x", old)}
    assert told == {b"This calendar is not served."}
    assert Client().post(f"/calendar/{good}.ics").status_code == 405


def test_a_feed_is_of_one_crew_or_of_one_member(office: Caller, crew: Crew) -> None:
    member = MemberFactory().number
    for own in ({}, {"crew": "heron", "member": member}):
        assert_problem(office.post(CALENDARS, {"name": "x", **own}), 400, "one_of_two", "/crew")


def test_readers_are_counted(crew: Crew, settings: Any) -> None:
    secret = feed_made(crew)[1]
    settings.RATE_LIMIT_PER_MINUTE = 2
    codes = [read(secret).status_code for _ in range(3)]
    assert codes == [200, 200, 429]


def test_the_servers_log_does_not_tell_the_secret() -> None:
    line = "GET /calendar/cal_1234abcd_S3cret-x_y.ics HTTP/1.1"
    assert masked(line) == "GET /calendar/cal_1234abcd_….ics HTTP/1.1"
    assert (
        masked("GET /api/v1/calendars/CF-0001/ HTTP/1.1")
        == "GET /api/v1/calendars/CF-0001/ HTTP/1.1"
    )

"""Who stays at home: a member's days off, a region's closed days, holidays that are only proposed."""

import pytest

from contractor.notices.models import Notice
from contractor.people.holiday import holidays_of
from contractor.people.models import ClosedDay
from tests.clients import Caller, assert_problem
from tests.factories import ClosedDayFactory, MemberFactory, SiteFactory

HOLIDAYS, CLOSED = "/api/v1/holidays/", "/api/v1/closed-days/"


def test_holidays_are_proposed_and_count_only_when_they_are_kept(office: Caller) -> None:
    told = office.post(HOLIDAYS, {"region": "US-IL", "year": 2027}).json()
    days = {one["name"]: one for one in told["days"]}
    assert days["Thanksgiving Day"]["day"] == "2027-11-25"
    assert {one["state"] for one in told["days"]} == {"proposed"}
    path = days["Thanksgiving Day"]["url"]
    assert office.post(f"{path}keep/", seen=1).json()["state"] == "kept"
    assert office.post(f"{path}drop/", seen=2).json()["state"] == "dropped"


def test_asked_twice_nothing_decided_is_lost_and_nothing_is_twice(office: Caller) -> None:
    first = office.post(HOLIDAYS, {"region": "US-IL", "year": 2027, "keep": True}).json()["days"]
    office.post(f"{first[0]['url']}drop/", seen=1)
    again = office.post(HOLIDAYS, {"region": "US-IL", "year": 2027}).json()["days"]
    assert [one["id"] for one in again] == [one["id"] for one in first]
    assert [one["state"] for one in again] == ["dropped"] + ["kept"] * (len(first) - 1)
    assert Notice.objects.filter(type="holiday.proposed").count() == 2


@pytest.mark.parametrize("region", ["US-ZZ", "QQ"])
def test_a_region_that_nobody_knows_is_told(office: Caller, region: str) -> None:
    reply = office.post(HOLIDAYS, {"region": region, "year": 2027})
    assert_problem(reply, 400, "region_unknown", "/region")
    assert not ClosedDay.objects.exists()


def test_thanksgiving_is_the_fourth_thursday_of_november() -> None:
    """5 U.S.C. 6103(a): `Thanksgiving Day, the fourth Thursday in November`."""
    for year in range(2026, 2032):
        [day] = [day for day, name in holidays_of("US", year) if name == "Thanksgiving Day"]
        assert (day.month, day.isoweekday(), (day.day - 1) // 7) == (11, 4, 3)


def test_a_region_is_closed_once_a_day(office: Caller) -> None:
    row = ClosedDayFactory(region="US-IL")
    body = {"region": "US-IL", "day": str(row.day), "name": "Again"}
    assert_problem(office.post(CLOSED, body), 409, "unique", "/day")


def test_days_off_are_given_and_withdrawn_and_never_lost(office: Caller) -> None:
    member = MemberFactory()
    body = {"member": member.number, "first_day": "2027-06-01", "last_day": "2027-06-04"}
    told = office.post("/api/v1/days-off/", body).json()
    gone = office.post(f"{told['url']}withdraw/", {"why": "Flight cancelled."}, seen=1).json()
    assert (gone["stands"], gone["withdrawn_why"]) == (False, "Flight cancelled.")
    again = office.post(f"{told['url']}withdraw/", {"why": "x"}, seen=2)
    assert_problem(again, 409, "day_off_withdrawn")


def test_days_off_the_wrong_way_round_are_refused(office: Caller) -> None:
    body = {
        "member": MemberFactory().number,
        "first_day": "2027-06-04",
        "last_day": "2027-06-01",
    }
    assert_problem(office.post("/api/v1/days-off/", body), 400, "ends_before_start", "/last_day")


def test_a_site_has_a_whole_place_or_none(office: Caller) -> None:
    path = f"/api/v1/sites/{SiteFactory().number}/"
    assert_problem(
        office.patch(path, {"latitude": "41.9"}, seen=1), 400, "half_a_place", "/longitude"
    )
    whole = office.patch(path, {"latitude": "41.878113", "longitude": "-87.629799"}, seen=1)
    assert (whole.data["latitude"], whole.data["longitude"]) == ("41.878113", "-87.629799")

"""When can which crew come? Ranked offers that can be booked, and every other crew with why not."""

import time
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from contractor.people.models import Crew
from jobs.bookings import standing
from jobs.bookings.doors import Goods
from jobs.bookings.models import Booking
from tests.clients import Caller, assert_problem
from tests.factories import ClosedDayFactory, CrewFactory, DayOffFactory, JobFactory, MemberFactory

FREE, BOOKINGS = "/api/v1/bookings/free/", "/api/v1/bookings/"
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday")
HOURS = {day: "08:00-12:00, 12:30-16:30" for day in WEEKDAYS}
MONDAY = date(2031, 3, 10)  # the clocks of New York went forward the night before


def working(slug: str, people: int = 2, **facts: Any) -> Crew:
    own = {"time_zone": "America/New_York", "hours": HOURS, **facts}
    members = [MemberFactory(qualifications=["stone"]) for _ in range(people)]
    made: Crew = CrewFactory(slug=slug, members=members, **own)
    return made


@pytest.fixture
def crew(db: None) -> Crew:
    return working("heron")


def ask(caller: Caller, job: Any, **more: Any) -> dict[str, Any]:
    own = {"visit": "install", "hours": "4", "first_day": str(MONDAY), "last_day": str(MONDAY)}
    reply = caller.post(FREE, {"job": job.number, **own, **more})
    assert reply.status_code == 200, reply.content
    told: dict[str, Any] = reply.json()
    return told


def spans(told: dict[str, Any]) -> list[tuple[str, str]]:
    return [(one["crew"], one["local"].partition(", ")[2]) for one in told["offers"]]


def placed(job: Any, latitude: str, longitude: str = "-87.0") -> Any:
    job.site.latitude, job.site.longitude = Decimal(latitude), Decimal(longitude)
    job.site.save()
    return job


def taken(crew: Crew, start: str, end: str, job: Any = None) -> Booking:
    zone = "-04:00"
    return Booking.objects.create(
        job=job or JobFactory(),
        crew=crew,
        visit="survey",
        starts_at=datetime.fromisoformat(f"{MONDAY}T{start}{zone}"),
        ends_at=datetime.fromisoformat(f"{MONDAY}T{end}{zone}"),
    )


def test_a_free_day_offers_its_morning_and_its_afternoon(
    office: Caller, scheduler: Caller, job: Any, crew: Crew
) -> None:
    for caller in (office, scheduler):
        told = ask(caller, job)
        assert spans(told) == [("heron", "08:00–12:00"), ("heron", "12:30–16:30")]
    assert told["offers"][0]["starts_at"] == f"{MONDAY}T08:00:00-04:00"
    assert (told["hands_needed"], told["against"], told["refused"]) == (2, [], [])
    assert not Booking.objects.exists()


def test_every_offer_can_be_booked_as_it_stands(office: Caller, job: Any, crew: Crew) -> None:
    """What is offered passes every guard: all offers of a week are booked, one after the other."""
    placed(job, "41.0")
    Crew.objects.update(start_latitude=Decimal("41.2"), start_longitude=Decimal("-87.0"))
    taken(crew, "10:00", "11:00", placed(JobFactory(), "41.1"))
    for _ in range(4):
        told = ask(office, job, hours="1.5", last_day=str(MONDAY + timedelta(days=2)))
        best = told["offers"][0]
        body = {name: best[name] for name in ("crew", "starts_at", "ends_at")}
        reply = office.post(BOOKINGS, {**body, "job": job.number, "visit": "install"})
        assert reply.status_code == 201, reply.content
        assert reply.data["overridden"] == []


def test_bookings_and_holds_are_stepped_round_and_a_run_out_hold_is_not(
    office: Caller, job: Any, crew: Crew
) -> None:
    taken(crew, "08:00", "11:00")
    hold = taken(crew, "15:30", "16:30")
    Booking.objects.filter(pk=hold.pk).update(state="held", held_until="2031-01-01T00:00Z")
    assert spans(ask(office, job)) == [("heron", "11:00–15:00"), ("heron", "11:30–15:30")]
    Booking.objects.filter(pk=hold.pk).update(held_until="2020-01-01T00:00Z")
    assert spans(ask(office, job))[-1] == ("heron", "12:30–16:30")


def test_the_drive_is_left_free_on_both_sides_and_told(
    office: Caller, job: Any, crew: Crew
) -> None:
    """A tenth of a degree of latitude is 11.1 km: 17 minutes at 40 km/h; from 8:17 to a quarter."""
    placed(job, "41.0")
    Crew.objects.update(start_latitude=Decimal("41.1"), start_longitude=Decimal("-87.0"))
    taken(crew, "13:00", "16:30", placed(JobFactory(), "41.1"))
    [only] = ask(office, job)["offers"]
    assert only["local"].endswith("08:30–12:30")
    assert (only["travel_before"], only["travel_after"], only["added_travel"]) == (17, 17, 34)


def test_the_crew_that_is_near_comes_before_the_one_that_is_far(office: Caller, job: Any) -> None:
    placed(job, "41.0")
    for slug, latitude in (("far", "41.4"), ("near", "41.05")):
        working(slug, start_latitude=Decimal(latitude), start_longitude=Decimal("-87.0"))
    assert [one["crew"] for one in ask(office, job)["offers"]][:2] == ["near", "near"]


def test_where_a_place_is_missing_nothing_is_saved_and_the_known_drive_ranks_first(
    office: Caller, job: Any
) -> None:
    working("somewhere")
    near = working("near", start_latitude=Decimal("41.1"), start_longitude=Decimal("-87.0"))
    taken(near, "12:30", "13:00", placed(JobFactory(), "41.2"))
    told = ask(office, job, hours="1")
    assert told["place_known"] is False
    assert {one["added_travel"] for one in told["offers"]} == {0}
    placed(job, "41.0")
    told = ask(office, job, hours="1")
    assert told["place_known"] is True
    ranks = {one["crew"]: one["rank"] for one in told["offers"]}
    assert (ranks["somewhere"], ranks["near"]) == (60, 34)
    assert told["offers"][0]["crew"] == "near"


def test_an_earlier_day_and_a_crew_of_just_enough_hands_rank_first(
    office: Caller, job: Any
) -> None:
    working("three", people=3)
    working("two")
    told = ask(office, job, last_day=str(MONDAY + timedelta(days=2)))["offers"]
    ranks = [(one["crew"], one["starts_at"][8:10], one["rank"]) for one in told]
    assert ranks[:6:2] == [("two", "10", 60), ("two", "11", 70), ("three", "10", 75)]


def why(told: dict[str, Any], slug: str) -> str:
    return next(one["why"] for one in told["refused"] if one["crew"] == slug)


def test_each_crew_that_cannot_come_is_told_with_why_not(
    office: Caller, job: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(standing, "qualifications_of", lambda *_: {"stone": "natural stone"})
    working("alone", people=1)
    working("weak", rack_mass="20 kg")
    working("closed", region="US-IL")
    full, ill = working("full"), working("ill")
    CrewFactory(slug="unasked")
    CrewFactory(slug="green", time_zone="America/New_York", hours=HOURS)
    working("weekend", hours={"sunday": "08:00-16:00"})
    ClosedDayFactory(region="US-IL", day=MONDAY, name="Pulling Day")
    DayOffFactory(member=ill.places.last().member, first_day=MONDAY, last_day=MONDAY)
    taken(full, "09:00", "15:00")
    told = ask(office, job)
    assert told["offers"] == []
    assert "has 1 person; this visit needs 2" in why(told, "alone")
    assert "carries 20 kg" in why(told, "weak")
    assert "Closed: Pulling Day" in why(told, "closed")
    assert "No gap of 4 h and the drive on 1 day." in why(told, "full")
    assert "Too few there, or nobody qualified, on 1 day." in why(told, "ill")
    assert "Nobody has told when it works" in why(told, "unasked")
    assert "qualified for natural stone" in why(told, "green")
    assert "At home on 1 day." in why(told, "weekend")


def test_damaged_goods_leave_nothing_to_offer(
    office: Caller, job: Any, crew: Crew, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(standing, "goods_of", lambda _: Goods(True, True, ("panel chipped",)))
    told = ask(office, job)
    assert (told["offers"], told["blocked"]) == ([], ["panel chipped"])


def test_a_job_without_a_verdict_gets_offers_and_is_told_what_is_against_it(
    office: Caller, crew: Crew
) -> None:
    told = ask(office, JobFactory())
    assert len(told["offers"]) == 2
    assert told["against"][0]["says"] == "The job has no opening yet."


def test_on_the_night_of_a_clock_change_the_gap_is_an_hour_shorter(
    office: Caller, job: Any
) -> None:
    """From 00:00 to 06:00 by the clock are five hours on 9 March 2031 in New York."""
    working("owl", hours={"sunday": "00:00-06:00"})
    sunday = str(MONDAY - timedelta(days=1))
    for hours, count in (("5", 1), ("5.25", 0)):
        told = ask(office, job, hours=hours, first_day=sunday, last_day=sunday)
        assert len(told["offers"]) == count
    autumn = "2031-11-02"
    told = ask(office, job, hours="7", first_day=autumn, last_day=autumn)
    assert told["offers"][0]["starts_at"] == "2031-11-02T00:00:00-04:00"
    assert told["offers"][0]["ends_at"] == "2031-11-02T06:00:00-05:00"


def test_another_crews_zone_is_another_clock(office: Caller, job: Any) -> None:
    working("west", time_zone="America/Denver")
    assert spans(ask(office, job))[0] == ("west", "10:00–14:00")


@pytest.mark.parametrize(
    ("name", "value", "code"),
    [
        ("hours", "0", "min_value"),
        ("hours", "20", "max_value"),
        ("job", "J-9999", "does_not_exist"),
        ("visit", "party", "invalid_choice"),
        ("last_day", "2031-03-09", "window"),
        ("last_day", "2032-03-09", "window"),
    ],
)
def test_a_question_that_cannot_be_meant_is_told(
    office: Caller, job: Any, name: str, value: str, code: str
) -> None:
    own = {"job": job.number, "visit": "install", "hours": "4", "first_day": str(MONDAY)}
    assert_problem(office.post(FREE, {**own, name: value}), 400, code, f"/{name}")


def test_twenty_crews_over_sixty_days_ask_no_oftener_and_answer_at_once(
    office: Caller, job: Any, crew: Crew
) -> None:
    placed(job, "41.0")

    def statements() -> int:
        with CaptureQueriesContext(connection) as asked:
            ask(office, job, last_day=str(MONDAY + timedelta(days=59)))
        return len(asked)

    few = statements()
    sites = [placed(JobFactory(), f"41.{n}") for n in range(5)]
    rows = []
    for n in range(19):
        other = working(f"crew-{n:02d}", region="US-IL", start_latitude=Decimal("41.3"))
        for day in range(60):
            at = datetime.fromisoformat(f"{MONDAY}T14:00+00:00") + timedelta(days=day)
            own = {"job": sites[day % 5], "crew": other, "visit": "survey"}
            rows.append(Booking(starts_at=at, ends_at=at + timedelta(hours=1), **own))
    Booking.objects.bulk_create(rows)
    began = time.perf_counter()
    # One more at most: the closed days are asked for when a crew has a region.
    assert statements() <= few + 1
    assert time.perf_counter() - began < 1.5

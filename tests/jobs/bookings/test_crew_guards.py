"""May this crew come then? Qualifications, hours, closed days, days off, rack, road, goods, cure."""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import pytest

from contractor.people.models import Crew, Member
from jobs.bookings import asking, standing
from jobs.bookings.doors import Goods
from jobs.bookings.travel import Place, Travel
from tests.clients import Caller, assert_problem
from tests.factories import ClosedDayFactory, CrewFactory, DayOffFactory, JobFactory, MemberFactory

BOOKINGS = "/api/v1/bookings/"
OVERRIDE = {"override_name": "Imke Thorsby", "override_reason": "Agreed with the crew."}
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday")
HOURS = {day: "08:00-12:00, 12:30-16:30" for day in WEEKDAYS}


def works(crew: Crew, **facts: Any) -> None:
    own = {"time_zone": "America/New_York", "hours": HOURS, **facts}
    Crew.objects.filter(pk=crew.pk).update(**own)


def needs_an_answer(office: Caller, wanted: dict[str, Any], code: str) -> dict[str, Any]:
    """The booking is refused, then made with a name and a reason; returns the refusal."""
    problem: dict[str, Any] = assert_problem(
        office.post(BOOKINGS, wanted), 409, code, "/override_name"
    )
    told = office.post(BOOKINGS, {**wanted, **OVERRIDE})
    assert told.status_code == 201, told.content
    assert [one["state"] for one in told.data["overridden"]] == [code]
    return problem


@pytest.mark.parametrize(
    ("start", "end", "free"),
    [
        ("2026-03-09T08:00", "2026-03-09T16:30", True),  # over the break
        ("2026-03-09T07:59", "2026-03-09T10:00", False),
        ("2026-03-09T15:00", "2026-03-09T16:31", False),
        ("2026-03-08T09:00", "2026-03-08T10:00", False),  # a Sunday
        ("2026-03-09T14:00", "2026-03-10T12:00", True),  # over night
    ],
)
def test_a_visit_lies_within_the_crews_hours_or_somebody_answers_for_it(
    office: Caller, crew: Any, body: Any, start: str, end: str, free: bool
) -> None:
    works(crew)
    wanted = body(local_start=start, local_end=end)
    if free:
        assert office.post(BOOKINGS, wanted).status_code == 201
    else:
        needs_an_answer(office, wanted, "outside_hours")


def test_hours_are_those_of_the_crews_own_clock(office: Caller, crew: Any, body: Any) -> None:
    """Nine at a site in New York is seven where the crew is from."""
    works(crew, time_zone="America/Denver")
    problem = needs_an_answer(office, body(), "outside_hours")
    assert "Monday 08:00–16:30 (America/Denver)" in problem["detail"]


@pytest.mark.parametrize("region", ["US-IL", "US"])
def test_a_closed_day_of_the_region_or_its_country_closes_the_crew(
    office: Caller, crew: Any, body: Any, region: str
) -> None:
    works(crew, region="US-IL")
    ClosedDayFactory(region=region, day=date(2026, 3, 9), name="Pulling Day")
    problem = needs_an_answer(office, body(), "closed_day")
    assert "Pulling Day" in problem["detail"]


@pytest.mark.parametrize(("region", "state"), [("US-VT", "kept"), ("US-IL", "proposed")])
def test_a_day_that_is_closed_elsewhere_or_only_proposed_closes_nothing(
    office: Caller, crew: Any, body: Any, region: str, state: str
) -> None:
    works(crew, region="US-IL")
    ClosedDayFactory(region=region, day=date(2026, 3, 9), state=state)
    assert office.post(BOOKINGS, body()).status_code == 201


def test_one_who_has_a_day_off_lifts_nothing_that_day(office: Caller, crew: Any, body: Any) -> None:
    member = crew.places.last().member
    off = DayOffFactory(member=member, first_day=date(2026, 3, 9), last_day=date(2026, 3, 9))
    problem = assert_problem(office.post(BOOKINGS, {**body(), **OVERRIDE}), 409, "hands_short")
    assert (problem["hands"], problem["hands_needed"]) == (1, 2)
    off.stands = False
    off.save()
    assert office.post(BOOKINGS, body()).status_code == 201


def test_a_rack_too_weak_for_the_glass_is_answered_for_by_nobody(
    office: Caller, crew: Any, body: Any
) -> None:
    works(crew, hours={}, rack_mass="20 kg")
    reply = office.post(BOOKINGS, {**body(), **OVERRIDE})
    assert "carries 20 kg" in assert_problem(reply, 409, "rack_too_weak", "/crew")["detail"]
    works(crew, hours={}, rack_mass="400 lb")
    assert office.post(BOOKINGS, body()).status_code == 201


@pytest.mark.parametrize(
    ("zone", "year", "wanted"),
    [
        ({"finish": "natural_stone", "surface": "left_wall"}, 1998, {"stone"}),
        ({"structure": "steel_stud", "surface": "left_wall"}, 1998, {"steel_stud"}),
        ({"finish": "porcelain", "structure": "wood_stud"}, 1978, set()),
        ({"finish": "unknown", "structure": "unknown"}, 1977, {"old_house"}),
        ({"finish": "natural_stone", "structure": "steel_stud"}, None, {"stone", "steel_stud"}),
    ],
)
def test_walls_and_house_ask_for_qualifications(zone: Any, year: Any, wanted: set[str]) -> None:
    assert set(standing.qualifications_of([zone], year)) == wanted


def test_somebody_of_the_crew_who_is_there_is_qualified_or_somebody_answers(
    office: Caller, crew: Any, body: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(standing, "qualifications_of", lambda *_: {"stone": "natural stone"})
    lead = crew.places.first().member
    problem = needs_an_answer(office, body(), "qualification_missing")
    assert "natural stone" in problem["detail"]
    later = {"local_start": "2026-03-10T09:00", "local_end": "2026-03-10T10:00"}
    Member.objects.filter(pk=lead.pk).update(qualifications=["stone"])
    assert office.post(BOOKINGS, body(**later)).status_code == 201
    three = CrewFactory(members=[lead, MemberFactory(), MemberFactory()])
    DayOffFactory(member=lead, first_day=date(2026, 3, 11), last_day=date(2026, 3, 11))
    away = {"local_start": "2026-03-11T09:00", "local_end": "2026-03-11T10:00"}
    needs_an_answer(office, body(crew=three.slug, **away), "qualification_missing")


def placed(job: Any, latitude: str, longitude: str) -> Any:
    job.site.latitude, job.site.longitude = Decimal(latitude), Decimal(longitude)
    job.site.save()
    return job


@pytest.mark.parametrize(("minutes", "free"), [(84, True), (83, False)])
def test_the_drive_between_two_sites_needs_its_time(
    office: Caller, job: Any, body: Any, minutes: int, free: bool
) -> None:
    """Half a degree of latitude is 55.6 km, at 40 km/h 83.4 minutes."""
    placed(job, "41.0", "-87.0")
    north = placed(JobFactory(), "41.5", "-87.0").number
    assert office.post(BOOKINGS, body()).status_code == 201
    hour, minute = divmod(13 * 60 + minutes, 60)
    span = {"local_start": f"2026-03-09T{hour}:{minute:02d}", "local_end": "2026-03-09T17:00"}
    wanted = body(job=north, visit="survey", **span)
    if free:
        assert office.post(BOOKINGS, wanted).status_code == 201
    else:
        assert "84 min" in needs_an_answer(office, wanted, "travel_too_short")["detail"]


def slow_road(legs: Any) -> list[int]:
    """A provider that knows of a swamp."""
    return [45 for _ in legs]


def broken_road(legs: Any) -> list[int]:
    """A provider that does not answer."""
    raise TimeoutError


def test_a_provider_of_travel_times_is_a_setting(
    office: Caller, job: Any, body: Any, settings: Any
) -> None:
    settings.TRAVEL_PROVIDER = f"{__name__}.slow_road"
    placed(job, "41.0", "-87.0")
    assert office.post(BOOKINGS, body()).status_code == 201
    other = placed(JobFactory(), "41.001", "-87.0").number
    span = {"local_start": "2026-03-09T13:30", "local_end": "2026-03-09T14:00"}
    wanted = body(job=other, visit="survey", **span)
    problem = assert_problem(office.post(BOOKINGS, wanted), 409, "travel_too_short")
    assert "takes 45 min" in problem["detail"]


def test_a_provider_that_does_not_answer_is_stood_in_for(settings: Any) -> None:
    settings.TRAVEL_PROVIDER = f"{__name__}.broken_road"
    one, other = Place(41.0, -87.0), Place(41.5, -87.0)
    assert Travel().learn([(one, other)]).minutes(one, other) == 84


def test_a_damaged_panel_blocks_the_install_and_says_so(
    office: Caller, body: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    goods = Goods(True, True, ("outer panel: chipped edge",), "")
    monkeypatch.setattr(standing, "goods_of", lambda job: goods)
    reply = office.post(BOOKINGS, {**body(), **OVERRIDE})
    assert "outer panel: chipped edge" in assert_problem(reply, 409, "goods_damaged")["detail"]
    assert office.post(BOOKINGS, body(visit="survey")).status_code == 201


def test_goods_that_have_not_come_are_answered_for_by_name(
    office: Caller, body: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    goods = Goods(True, False, (), "The glass is expected.")
    monkeypatch.setattr(standing, "goods_of", lambda job: goods)
    problem = assert_problem(office.post(BOOKINGS, body()), 409, "goods_not_received")
    assert problem["detail"] == "The glass is expected."
    made = office.post(BOOKINGS, {**body(), **OVERRIDE}).data
    assert [one["state"] for one in made["overridden"]] == ["goods_not_received"]
    later = {"local_start": "2026-03-10T09:00", "local_end": "2026-03-10T11:00", "reason": "later"}
    moved = office.post(f"{BOOKINGS}{made['id']}/move/", later, seen=1).data
    assert [one["state"] for one in moved["overridden"]] == ["goods_not_received"]


def test_a_follow_up_waits_until_the_bead_has_cured(
    office: Caller, body: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    cured = datetime(2026, 3, 9, 13, 1, tzinfo=UTC)
    monkeypatch.setattr(asking, "cured_at", lambda job: cured)
    problem = needs_an_answer(office, body(visit="follow_up"), "not_cured")
    assert "until 9:01 am on Monday 9 March 2026 (EDT)" in problem["detail"]


def test_an_override_of_one_day_answers_for_no_other(office: Caller, crew: Any, body: Any) -> None:
    works(crew)
    sunday = {"local_start": "2026-03-08T09:00", "local_end": "2026-03-08T10:00"}
    made = office.post(BOOKINGS, {**body(**sunday), **OVERRIDE}).data
    move = {
        "local_start": "2026-03-15T09:00",
        "local_end": "2026-03-15T10:00",
        "reason": "A week later.",
    }
    assert_problem(office.post(f"{made['url']}move/", move, seen=1), 409, "outside_hours")
    moved = office.post(f"{made['url']}move/", {**move, **OVERRIDE}, seen=1)
    assert moved.status_code == 200
    monday = {"local_start": "2026-03-16T09:00", "local_end": "2026-03-16T10:00", "reason": "x"}
    told = office.post(f"{made['url']}move/", monday, seen=2).data
    assert told["overridden"] == []

"""Is a day replanned as a proposal, and does accepting it move exactly what it says, or nothing?"""

from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from contractor.people.models import Crew
from jobs.bookings.models import Booking
from jobs.plans import services
from jobs.plans.models import DayPlan
from jobs.plans.services import plan_ask, plan_solve, plans_waiting
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory, JobFactory, MemberFactory, SiteFactory

PLANS = "/api/v1/plans/"
MONDAY = date(2031, 3, 10)
HOURS = {"monday": "08:00-17:00"}


def working(slug: str, latitude: str, people: int = 2, **facts: Any) -> Crew:
    start = {"start_latitude": Decimal(latitude), "start_longitude": Decimal("-87.0")}
    own = {"time_zone": "America/New_York", "hours": HOURS, **start, **facts}
    made: Crew = CrewFactory(slug=slug, members=[MemberFactory() for _ in range(people)], **own)
    return made


def visit(crew: Crew, clock: str, latitude: str, **more: Any) -> Booking:
    site = SiteFactory(latitude=Decimal(latitude), longitude=Decimal("-87.0"))
    start = datetime.fromisoformat(f"{MONDAY}T{clock}-04:00")
    span = {"starts_at": start, "ends_at": start + timedelta(hours=1)}
    own = {"job": JobFactory(site=site), "crew": crew, "visit": "survey", **span}
    made: Booking = Booking.objects.create(**{**own, **more})
    return made


@pytest.fixture
def day(db: None) -> dict[str, Booking]:
    """Two crews, north and south, each of whom is booked to the other's end first and comes back."""
    north, south = working("north", "41.5"), working("south", "41.0")
    return {
        "a": visit(north, "09:00", "41.49"),
        "b": visit(north, "12:00", "41.02"),
        "c": visit(south, "09:00", "41.01"),
        "d": visit(south, "12:00", "41.48"),
    }


def solved(office: Caller, **asked: Any) -> Any:
    reply = office.post(PLANS, {"day": str(MONDAY), "seconds": 1, **asked})
    assert reply.status_code == 202, reply.content
    plan = DayPlan.objects.get()
    DayPlan.objects.update(seconds=0)  # the first order found is good enough for four visits
    assert plan_solve(key=plan.pk)
    DayPlan.objects.update(seconds=1)
    return office.get(reply["Location"]).data


def test_two_crews_that_cross_each_other_are_proposed_to_swap(
    office: Caller, day: dict[str, Booking]
) -> None:
    told = solved(office)
    moved = {one["booking"]: one["crew_after"] for one in told["moves"]}
    assert moved == {day["b"].number: "south", day["d"].number: "north"}
    assert all(one["starts_after"] == one["starts_before"] for one in told["moves"])
    assert (told["state"], told["percent"]) == ("done", 100)
    # 0.5 degrees of latitude are 84 minutes at 40 km/h; each crew saves the way there and back.
    assert told["drive_before"] - told["drive_after"] > 2 * 2 * 70
    assert Booking.objects.get(pk=day["b"].pk).crew.slug == "north"


def test_accepted_whole_the_crews_swap_their_visits_at_one_time(
    office: Caller, day: dict[str, Booking]
) -> None:
    told = solved(office)
    done = office.post(f"{told['url']}accept/", {}, seen=told["version"])
    assert (done.status_code, done.data["state"]) == (200, "accepted")
    crews = {name: Booking.objects.get(pk=one.pk) for name, one in day.items()}
    assert {name: one.crew.slug for name, one in crews.items()} == {
        "a": "north",
        "b": "south",
        "c": "south",
        "d": "north",
    }
    assert [crews[name].version for name in "abcd"] == [1, 2, 1, 2]
    assert {one.state for one in crews.values()} == {"booked"}
    moved = Notice.objects.filter(type="booking.moved")
    assert {one.about for one in moved} == {day["b"].number, day["d"].number}
    assert {tuple(one.changes) for one in moved} == {("crew",)}
    again = office.post(f"{told['url']}accept/", {}, seen=told["version"] + 1)
    assert_problem(again, 409, "not_proposed")


def test_accepted_in_part_what_stands_in_the_way_is_named_and_nothing_moves(
    office: Caller, day: dict[str, Booking]
) -> None:
    told = solved(office)
    only = {"only": [day["b"].number]}
    refused = office.post(f"{told['url']}accept/", only, seen=told["version"])
    problem = assert_problem(refused, 409, "crew_taken", "/only")
    assert problem["taken_by"] == day["d"].number
    assert f"moves {day['d'].number} out of the way" in problem["hint"]
    assert set(Booking.objects.values_list("state", "version")) == {("booked", 1)}
    assert not Notice.objects.filter(type="booking.moved").exists()
    strange = office.post(
        f"{told['url']}accept/", {"only": [day["a"].number]}, seen=told["version"]
    )
    assert_problem(strange, 400, "not_in_plan", "/only")


def test_a_booking_that_changed_since_is_named_and_nothing_moves(
    office: Caller, day: dict[str, Booking]
) -> None:
    told = solved(office)
    office.post(f"/api/v1/bookings/{day['d'].number}/cancel/", {"why": "Away."}, seen=1)
    refused = office.post(f"{told['url']}accept/", {}, seen=told["version"])
    problem = assert_problem(refused, 409, "bookings_changed")
    assert problem["changed"] == [day["d"].number]
    assert Booking.objects.get(pk=day["b"].pk).crew.slug == "north"
    only = {"only": [day["b"].number]}
    assert office.post(f"{told['url']}accept/", only, seen=told["version"]).status_code == 200


def test_every_guard_is_asked_anew_when_it_is_accepted(
    office: Caller, day: dict[str, Booking]
) -> None:
    told = solved(office)
    Crew.objects.filter(slug="south").update(hours={"monday": "08:00-11:00"})
    refused = office.post(f"{told['url']}accept/", {}, seen=told["version"])
    assert_problem(refused, 409, "outside_hours")
    assert set(Booking.objects.values_list("state", "version")) == {("booked", 1)}


def test_a_move_is_edited_left_out_and_put_back(office: Caller, day: dict[str, Booking]) -> None:
    told = solved(office)
    path = f"{told['url']}edit/"
    left = office.post(path, {"booking": day["b"].number, "leave": True}, seen=told["version"])
    assert [one["booking"] for one in left.data["moves"]] == [day["d"].number]
    assert left.data["drive_after"] > told["drive_after"]
    later = {"booking": day["d"].number, "local_start": f"{MONDAY}T15:00"}
    edited = office.post(path, later, seen=told["version"] + 1)
    [only] = edited.data["moves"]
    assert (only["crew_after"], only["starts_after"][11:16]) == ("north", "19:00")
    done = office.post(f"{told['url']}accept/", {}, seen=told["version"] + 2)
    assert done.status_code == 200, done.content
    row = Booking.objects.get(pk=day["d"].pk)
    assert (row.crew.slug, row.starts_at.hour) == ("north", 19)
    stranger = office.post(path, {"booking": "B-9999"}, seen=told["version"] + 3)
    assert_problem(stranger, 409, "not_proposed")


def test_what_is_kept_held_or_answered_for_stays(office: Caller, day: dict[str, Booking]) -> None:
    Booking.objects.filter(pk=day["d"].pk).update(
        overridden=[{"opening": "", "state": "outside_hours", "says": "x"}]
    )
    told = solved(office, keep=[day["b"].number])
    assert told["moves"] == []
    assert "No order of these visits" in told["trouble"]
    assert office.post(f"{told['url']}accept/", {}, seen=told["version"]).status_code == 200


def test_a_crew_that_may_not_is_sent_nowhere(office: Caller) -> None:
    """The near crew is one person short for what the far one does; both are out at one time."""
    far, near = working("far", "41.5"), working("near", "41.0", people=1)
    visit(far, "10:00", "41.01", visit="install")
    visit(near, "10:00", "41.02")
    assert solved(office, shift_hours=0)["moves"] == []
    near.places.create(member=MemberFactory())
    again = office.post(PLANS, {"day": str(MONDAY), "seconds": 1, "shift_hours": 0}).data
    DayPlan.objects.update(seconds=0)
    assert plan_solve(key=int(again["id"][3:]))
    assert len(DayPlan.objects.get(pk=int(again["id"][3:])).moves) == 2


def test_a_day_without_visits_is_no_plan(office: Caller) -> None:
    working("north", "41.5")
    assert_problem(office.post(PLANS, {"day": str(MONDAY)}), 409, "nothing_to_plan", "/day")


def test_a_declined_plan_leaves_the_day(office: Caller, day: dict[str, Booking]) -> None:
    told = solved(office)
    done = office.post(f"{told['url']}decline/", {"why": "Promised."}, seen=told["version"])
    assert (done.data["state"], done.data["decided_why"]) == ("declined", "Promised.")
    assert set(Booking.objects.values_list("version", flat=True)) == {1}


def asked(day: dict[str, Booking]) -> DayPlan:
    return plan_ask(by=SYSTEM, day=MONDAY, crews=list(Crew.objects.all()), seconds=1)


def test_three_failures_end_in_a_reason_and_can_be_tried_again(
    office: Caller, day: dict[str, Booking], monkeypatch: pytest.MonkeyPatch
) -> None:
    plan = asked(day)
    monkeypatch.setattr(services, "solve", lambda *_, **__: 1 / 0)
    for _ in range(4):
        assert not plan_solve(key=plan.pk)
    told = office.get(f"{PLANS}{plan.number}/").data
    assert (told["state"], told["trouble"]) == ("failed", "division by zero")
    types = Notice.objects.filter(noun="plan").order_by("pk").values_list("type", flat=True)
    assert list(types) == ["plan.asked", "plan.put_back", "plan.put_back", "plan.failed"]
    monkeypatch.undo()
    office.post(f"{PLANS}{plan.number}/retry/", seen=told["version"])
    assert plan_solve(key=plan.pk)


def test_a_plan_whose_worker_died_is_found_and_solved_once(day: dict[str, Booking]) -> None:
    plan, now = asked(day), timezone.now()
    DayPlan.objects.update(state="solving", attempts=1, lease_until=now + timedelta(minutes=1))
    assert plans_waiting(now=now) == []
    assert not plan_solve(key=plan.pk, now=now)
    late = now + timedelta(minutes=2)
    assert plans_waiting(now=late) == [plan.pk]
    assert plan_solve(key=plan.pk, now=late)
    assert not plan_solve(key=plan.pk, now=late)


def test_progress_is_told_and_keeps_the_lease(
    day: dict[str, Booking], monkeypatch: pytest.MonkeyPatch
) -> None:
    plan, seen = asked(day), []
    real = services.solve

    def told(task: Any, *, seconds: float, tell: Any) -> Any:
        tell(0.5)
        row = DayPlan.objects.get(pk=plan.pk)
        assert row.lease_until is not None
        seen.append((row.state, row.percent, row.lease_until > timezone.now()))
        return real(task, seconds=seconds, tell=tell)

    monkeypatch.setattr(services, "solve", told)
    assert plan_solve(key=plan.pk)
    assert seen == [("solving", 50, True)]


def test_a_worker_whose_lease_was_taken_stops_and_marks_nothing(
    day: dict[str, Booking], monkeypatch: pytest.MonkeyPatch
) -> None:
    plan = asked(day)
    real = services.solve

    def robbed(task: Any, *, seconds: float, tell: Any) -> Any:
        def told(share: float) -> None:
            DayPlan.objects.filter(pk=plan.pk).update(attempts=2)
            tell(share)

        return real(task, seconds=seconds, tell=told)

    monkeypatch.setattr(services, "solve", robbed)
    assert not plan_solve(key=plan.pk)
    plan.refresh_from_db()
    assert (plan.state, plan.percent, plan.moves, plan.trouble) == ("solving", 5, [], "")

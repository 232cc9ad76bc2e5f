"""Can one crew be promised twice? Not on making, not on moving, and never silently."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction

from jobs.bookings.models import Booking
from jobs.bookings.overlap import ensure
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory, JobFactory

BOOKINGS = "/api/v1/bookings/"
REASON = {"reason": "Customer asked."}


def span(start: str, end: str, day: int = 9) -> dict[str, str]:
    return {f"local_{k}": f"2026-03-{day:02d}T{v}" for k, v in (("start", start), ("end", end))}


@pytest.mark.parametrize(
    ("start", "end"),
    [
        ("08:00", "09:01"),
        ("12:59", "15:00"),
        ("10:00", "11:00"),
        ("08:00", "14:00"),
        ("09:00", "13:00"),
    ],
)
def test_an_overlap_is_refused_naming_the_other_booking(
    office: Caller, body: Any, start: str, end: str
) -> None:
    first = office.post(BOOKINGS, body()).data
    reply = office.post(BOOKINGS, body(**span(start, end)))
    problem = assert_problem(reply, 409, "crew_taken", "/starts_at")
    assert problem["taken_by"] == first["id"]
    assert first["id"] in problem["detail"]
    assert first["local"] in problem["detail"]
    assert Booking.objects.count() == 1


def test_back_to_back_is_no_overlap(office: Caller, body: Any) -> None:
    spans = [span("09:00", "13:00"), span("07:00", "09:00"), span("13:00", "15:00")]
    assert [office.post(BOOKINGS, body(**one)).status_code for one in spans] == [201, 201, 201]


def test_another_crew_works_at_the_same_time(office: Caller, body: Any) -> None:
    other = CrewFactory(slug="otter")
    assert office.post(BOOKINGS, body()).status_code == 201
    assert office.post(BOOKINGS, body(crew=other.slug)).status_code == 201


def test_a_move_into_an_overlap_is_refused_and_leaves_the_booking_where_it_was(
    office: Caller, body: Any
) -> None:
    first = office.post(BOOKINGS, body()).data
    second = office.post(BOOKINGS, body(**span("09:00", "13:00", day=10))).data
    moved = office.post(f"{second['url']}move/", {**span("12:00", "16:00"), **REASON}, seen=1)
    problem = assert_problem(moved, 409, "crew_taken", "/starts_at")
    assert problem["taken_by"] == first["id"]
    assert office.get(second["url"]).data == second


def test_a_booking_may_be_moved_over_its_own_old_time(office: Caller, body: Any) -> None:
    made = office.post(BOOKINGS, body()).data
    moved = office.post(f"{made['url']}move/", {**span("10:00", "14:00"), **REASON}, seen=1)
    assert moved.status_code == 200
    assert moved.data["version"] == 2
    assert moved.data["starts_at"] == "2026-03-09T14:00:00Z"


def test_a_cancelled_booking_gives_its_time_back_and_moves_no_more(
    office: Caller, body: Any
) -> None:
    made = office.post(BOOKINGS, body()).data
    cancelled = office.post(f"{made['url']}cancel/", {"why": "Customer is away."}, seen=1)
    assert (cancelled.data["state"], cancelled.data["cancelled_why"]) == (
        "cancelled",
        "Customer is away.",
    )
    assert office.post(BOOKINGS, body()).status_code == 201
    again = office.post(f"{made['url']}cancel/", {"why": "Twice."}, seen=2)
    assert_problem(again, 409, "booking_cancelled")
    moved = office.post(f"{made['url']}move/", {**span("15:00", "16:00"), **REASON}, seen=2)
    assert_problem(moved, 409, "booking_cancelled")


def test_a_move_and_a_cancel_say_why(office: Caller, body: Any) -> None:
    made = office.post(BOOKINGS, body()).data
    assert_problem(
        office.post(f"{made['url']}move/", span("15:00", "16:00"), seen=1),
        400,
        "required",
        "/reason",
    )
    assert_problem(office.post(f"{made['url']}cancel/", {}, seen=1), 400, "required", "/why")


def test_a_move_that_saw_an_older_version_is_refused(office: Caller, body: Any) -> None:
    url = office.post(BOOKINGS, body()).data["url"]
    move = {**span("10:00", "14:00"), **REASON}
    assert_problem(office.post(f"{url}move/", move), 428, "version_missing")
    assert office.post(f"{url}move/", move, seen=1).status_code == 200
    assert_problem(office.post(f"{url}move/", move, seen=1), 412, "version_stale")


@pytest.mark.parametrize(
    ("change", "code", "pointer"),
    [
        (span("13:00", "09:00"), "ends_before_start", "/ends_at"),
        (span("09:00", "09:00"), "ends_before_start", "/ends_at"),
        ({"local_end": "2026-03-13T09:00"}, "span_too_long", "/ends_at"),
        ({"local_end": None}, "required", "/ends_at"),
        ({"local_start": None}, "required", "/starts_at"),
        ({"starts_at": "2026-03-09T13:00:00Z"}, "one_of_two", "/local_start"),
        ({"local_start": "2026-03-09T09:00:00-05:00"}, "wall_time", "/local_start"),
        ({"local_start": 20260309}, "wall_time", "/local_start"),
        ({"local_start": "0001-01-01T00:00"}, "wall_time", "/local_start"),
        ({"local_start": None, "starts_at": "2026-03-09T09:00:00"}, "time_without_offset", "/starts_at"),
        ({"local_start": None, "starts_at": "9999-12-31T23:00:00-12:00"}, "time_out_of_range", "/starts_at"),
        ({"crew": "nobody"}, "does_not_exist", "/crew"),
        ({"job": "J-9999"}, "does_not_exist", "/job"),
        ({"visit": "party"}, "invalid_choice", "/visit"),
        ({"hands_needed": 1}, "read_only", "/hands_needed"),
        ({"crews": "x"}, "unknown_field", "/crews"),
    ],
)  # fmt: skip
def test_a_booking_that_cannot_be_read_is_refused_at_its_pointer(
    office: Caller, body: Any, change: dict[str, Any], code: str, pointer: str
) -> None:
    assert_problem(office.post(BOOKINGS, body(**change)), 400, code, pointer)
    assert not Booking.objects.exists()


def rows(crew: Any, *, state: str = "booked") -> Any:
    start = datetime(2026, 3, 9, 14, tzinfo=UTC)
    return Booking(
        job=JobFactory(), crew=crew, visit="survey", state=state,
        starts_at=start, ends_at=start + timedelta(hours=2),
    )  # fmt: skip


def assert_guarded(crew: Any) -> None:
    """The database itself refuses, whoever writes."""
    rows(crew).save()
    with pytest.raises(IntegrityError, match="booking_no_overlap"), transaction.atomic():
        rows(crew).save()
    cancelled = rows(crew, state="cancelled")
    cancelled.save()
    cancelled.state = "booked"
    with pytest.raises(IntegrityError, match="booking_no_overlap"), transaction.atomic():
        cancelled.save()


def test_the_database_itself_refuses_an_overlap(crew: Any) -> None:
    assert_guarded(crew)


@pytest.mark.django_db(transaction=True)
def test_the_guard_is_back_after_a_migration_rebuilt_the_table() -> None:
    """SQLite rebuilds a table to alter it and drops its triggers; migrate puts them back."""
    if connection.vendor == "sqlite":
        field = Booking._meta.get_field("notes")
        with connection.schema_editor() as editor:
            editor._remake_table(Booking, alter_fields=[(field, field)])
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT count(*) FROM sqlite_master WHERE name LIKE 'booking_no_overlap%'"
            )
            assert cursor.fetchone() == (0,)
    else:
        with connection.cursor() as cursor:
            cursor.execute("ALTER TABLE bookings_booking DROP CONSTRAINT booking_no_overlap")
    call_command("migrate", verbosity=0)
    assert_guarded(CrewFactory())


def test_putting_the_guard_in_place_twice_is_harmless(crew: Any) -> None:
    ensure("default")
    ensure("default")
    assert_guarded(crew)

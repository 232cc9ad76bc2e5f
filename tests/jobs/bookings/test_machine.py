"""Whatever is booked, held, moved and cancelled in whatever order: no overlap, one notice a write."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from typing import Any, ClassVar

import pytest
from django.db import transaction
from django.utils import timezone
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from contractor.notices.models import Notice
from jobs.bookings.models import Booking
from tests.clients import Caller
from tests.factories import CrewFactory, JobFactory

BOOKINGS = "/api/v1/bookings/"
START = datetime(2026, 3, 6, 20, tzinfo=UTC)
hours = st.integers(min_value=0, max_value=60)
lengths = st.integers(min_value=1, max_value=9)
crews = st.sampled_from(["heron", "otter"])


def stands(own: dict[str, Any]) -> bool:
    return own["state"] in {"booked", "held"} and not own["over"]


class Bookings(RuleBasedStateMachine):
    """The model: what each booking is known to hold. The service must agree after every step."""

    office: ClassVar[Caller]

    def __init__(self) -> None:
        super().__init__()
        self.block = transaction.atomic()
        self.block.__enter__()
        self.job = JobFactory().number
        for slug in ("heron", "otter"):
            CrewFactory(slug=slug)
        self.known: dict[str, dict[str, Any]] = {}
        self.before = Notice.objects.count()
        self.writes = 0

    def teardown(self) -> None:
        transaction.set_rollback(True)
        self.block.__exit__(None, None, None)

    def span(self, at: int, length: int) -> dict[str, str]:
        start = START + timedelta(hours=at)
        end = start + timedelta(hours=length)
        return {"starts_at": start.isoformat(), "ends_at": end.isoformat()}

    def free(self, crew: str, at: int, length: int, but: str = "") -> bool:
        return not any(
            self.meets(one, crew, at, length)
            for number, one in self.known.items()
            if number != but and stands(one)
        )

    def meets(self, one: dict[str, Any], crew: str, at: int, length: int) -> bool:
        return one["crew"] == crew and one["at"] < at + length and at < one["at"] + one["length"]

    def let_go(self, crew: str, at: int, length: int) -> None:
        """A write that met a run-out hold has let all run-out holds of the crew go."""
        over = [one for one in self.known.values() if one["over"] and one["crew"] == crew]
        if any(self.meets(one, crew, at, length) for one in over):
            for one in over:
                one.update(state="lapsed", over=False, version=one["version"] + 1)
                self.writes += 1

    @rule(crew=crews, at=hours, length=lengths)
    def book(self, crew: str, at: int, length: int) -> None:
        self.written("booked", crew, at, length)

    @rule(crew=crews, at=hours, length=lengths)
    def hold(self, crew: str, at: int, length: int) -> None:
        self.written("held", crew, at, length, hold_hours=2)

    def written(self, state: str, crew: str, at: int, length: int, **more: Any) -> None:
        own = {"job": self.job, "crew": crew, "visit": "survey", **more}
        reply = self.office.post(BOOKINGS, {**own, **self.span(at, length)})
        assert reply.status_code == (201 if self.free(crew, at, length) else 409)
        if reply.status_code == 201:
            self.let_go(crew, at, length)
            self.writes += 1
            own = {"crew": crew, "at": at, "length": length, "state": state}
            self.known[reply.data["id"]] = {**own, "over": False, "version": 1}

    @precondition(lambda self: any(one["state"] == "held" for one in self.known.values()))
    @rule(data=st.data())
    def run_out(self, data: Any) -> None:
        held = [n for n, one in self.known.items() if one["state"] == "held"]
        number = data.draw(st.sampled_from(sorted(held)))
        past = timezone.now() - timedelta(minutes=1)
        Booking.objects.filter(pk=int(number[2:])).update(held_until=past)
        self.known[number]["over"] = True

    @precondition(lambda self: self.known)
    @rule(data=st.data())
    def confirm(self, data: Any) -> None:
        number = data.draw(st.sampled_from(sorted(self.known)))
        own = self.known[number]
        may = own["state"] == "held" and not own["over"]
        reply = self.office.post(f"{BOOKINGS}{number}/confirm/", {}, seen=own["version"])
        assert reply.status_code == (200 if may else 409)
        if may:
            self.writes += 1
            own.update(state="booked", version=own["version"] + 1)

    @precondition(lambda self: self.known)
    @rule(data=st.data(), crew=crews, at=hours, length=lengths)
    def move(self, data: Any, crew: str, at: int, length: int) -> None:
        number = data.draw(st.sampled_from(sorted(self.known)))
        own = self.known[number]
        body = {**self.span(at, length), "crew": crew, "reason": "Moved."}
        reply = self.office.post(f"{BOOKINGS}{number}/move/", body, seen=own["version"])
        may = stands(own) and self.free(crew, at, length, but=number)
        assert reply.status_code == (200 if may else 409)
        if may and (own["crew"], own["at"], own["length"]) != (crew, at, length):
            self.let_go(crew, at, length)
            self.writes += 1
            own.update(crew=crew, at=at, length=length, version=own["version"] + 1)

    @precondition(lambda self: self.known)
    @rule(data=st.data())
    def cancel(self, data: Any) -> None:
        number = data.draw(st.sampled_from(sorted(self.known)))
        own = self.known[number]
        path = f"{BOOKINGS}{number}/cancel/"
        reply = self.office.post(path, {"why": "Away."}, seen=own["version"])
        assert reply.status_code == (200 if stands(own) else 409)
        if stands(own):
            self.writes += 1
            own.update(state="cancelled", version=own["version"] + 1)

    @precondition(lambda self: self.known)
    @rule(data=st.data())
    def move_with_an_old_version(self, data: Any) -> None:
        number = data.draw(st.sampled_from(sorted(self.known)))
        path = f"{BOOKINGS}{number}/move/"
        reply = self.office.post(path, {"reason": "Late."}, seen=self.known[number]["version"] + 1)
        assert reply.status_code == 412

    @invariant()
    def no_two_of_a_crew_overlap(self) -> None:
        standing = Booking.objects.filter(state__in=["booked", "held"])
        rows = list(standing.order_by("crew_id", "starts_at"))
        for one, other in pairwise(rows):
            assert one.crew_id != other.crew_id or one.ends_at <= other.starts_at

    @invariant()
    def the_rows_are_what_the_replies_said(self) -> None:
        rows = {one.number: one for one in Booking.objects.select_related("crew")}
        assert rows.keys() == self.known.keys()
        for number, own in self.known.items():
            row = rows[number]
            assert (row.crew.slug, row.version) == (own["crew"], own["version"])
            assert row.starts_at == START + timedelta(hours=own["at"])
            assert row.state == own["state"]

    @invariant()
    def every_write_left_one_notice(self) -> None:
        assert Notice.objects.count() == self.before + self.writes


@pytest.mark.timeout(300)
def test_no_order_of_booking_moving_and_cancelling_promises_a_crew_twice(office: Caller) -> None:
    Bookings.office = office
    machine: Any = Bookings.TestCase
    machine.settings = settings(
        max_examples=10,
        stateful_step_count=15,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    machine("runTest").runTest()

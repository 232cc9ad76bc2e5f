"""Whatever is tried in whatever order: no state without its guards, and one notice a write."""

from typing import Any, ClassVar

import pytest
from django.db import transaction
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from contractor.notices.models import Notice
from jobs.jobs.look import Look
from jobs.jobs.models import Job, State
from jobs.jobs.moves import ACTIONS, MOVES
from jobs.receiving.standing import goods_standing
from tests.clients import Caller
from tests.factories import fresh_uuid, survey_body, survey_case


class Life(RuleBasedStateMachine):
    """A job is pushed about by the office while its rows come in or do not."""

    office: ClassVar[Caller]

    def __init__(self) -> None:
        super().__init__()
        self.block = transaction.atomic()
        self.block.__enter__()
        self.case = survey_case("fits")
        self.number = self.case.opening.job.number
        self.moves = 0
        self.state = "enquiry"

    def teardown(self) -> None:
        transaction.set_rollback(True)
        self.block.__exit__(None, None, None)

    @property
    def job(self) -> Job:
        return Job.objects.get(pk=self.case.opening.job_id)

    def seen(self) -> None:
        """Count the moves that followed by themselves."""
        self.moves = Notice.objects.filter(type="job.moved", about=self.number).count()
        self.state = self.job.state

    @rule()
    def survey(self) -> None:
        body = survey_body(self.case.opening, self.case.kit)
        assert self.office.post("/api/v1/surveys/", body).status_code == 201
        self.seen()

    @rule()
    def choose_the_kit(self) -> None:
        path = f"/api/v1/openings/{self.case.opening.number}/"
        assert self.office.patch(path, {"kit": self.case.kit.slug}, seen="*").status_code == 200

    @rule()
    def order(self) -> None:
        reply = self.office.post("/api/v1/orders/", {"job": self.number})
        assert reply.status_code in {201, 409}
        self.seen()

    @rule(condition=st.sampled_from(["sound", "sound", "damaged"]))
    def receive(self, condition: str) -> None:
        order = self.job.orders.last()
        if order is None:
            return
        pieces = [
            {"id": fresh_uuid(), "line": one.number, "condition": condition, "count": one.count}
            for one in order.lines.all()
        ]
        body = {
            "order": order.number,
            "carrier": "Bramblewick",
            "arrived_at": "2026-11-02T15:00:00Z",
            "inspections": pieces,
        }
        reply = self.office.put(f"/api/v1/arrivals/{fresh_uuid()}/", body)
        assert reply.status_code == 201
        self.seen()

    @rule(action=st.sampled_from(sorted(ACTIONS)), reason=st.sampled_from(["", "They said so."]))
    def move(self, action: str, reason: str) -> None:
        look = Look(self.job, reason=reason)
        known = MOVES.get((State(self.state), action))
        may = known is not None and all(guard(look) is None for guard in known.guards)
        path = f"/api/v1/jobs/{self.number}/move/"
        reply = self.office.post(path, {"action": action, "reason": reason}, seen="*")
        assert reply.status_code == (200 if may else 409), reply.content
        if may and known is not None:
            self.state = known.to.value
            self.moves += 1

    @invariant()
    def the_row_is_in_the_state_that_was_told(self) -> None:
        assert self.job.state == self.state

    @invariant()
    def every_move_left_one_notice_and_one_version(self) -> None:
        rows = Notice.objects.filter(type="job.moved", about=self.number)
        assert rows.count() == self.moves == self.job.version - 1

    @invariant()
    def what_a_state_promises_holds_when_it_is_entered(self) -> None:
        last = Notice.objects.filter(type="job.moved", about=self.number).order_by("pk").last()
        if last is not None and last.changes["state"][1] == State.RECEIVED:
            assert goods_standing(job=self.job).expected
        if self.state not in {State.ENQUIRY, State.CANCELLED}:
            assert Look(self.job).openings


@pytest.mark.timeout(300)
def test_no_order_of_tries_brings_a_job_past_its_guards(office: Caller) -> None:
    Life.office = office
    machine: Any = Life.TestCase
    machine.settings = settings(
        max_examples=8,
        stateful_step_count=12,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    machine("runTest").runTest()

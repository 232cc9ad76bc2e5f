"""Do messages about goods and claims know when what they wait for has happened? With rows of both rooms."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.core import mail
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from contractor.notices.services import notice_record
from jobs.claims.models import Claim
from jobs.claims.services import claim_open, claim_settle, deadline_meet
from jobs.losses.models import Loss
from jobs.losses.services import loss_change, loss_record
from jobs.receiving.models import Order
from jobs.receiving.orders import order_cancel
from jobs.reminders.claims import claim_of, deadlines_near, next_deadline
from jobs.reminders.digest import digest_lines, digest_text
from jobs.reminders.goods import goods_here, order_of, orders_expected
from jobs.reminders.hearing import notices_hear
from jobs.reminders.models import Reminder
from jobs.reminders.tasks import sweep
from tests.factories import JobFactory, MemberFactory
from tests.goods import ArrivalFactory, InspectionFactory, LineFactory, OrderFactory

TODAY = timezone.now().date()


@pytest.fixture
def order(db: None) -> Order:
    """Two panels that were promised for six days ago."""
    MemberFactory(role="office", email="imke@example.com")
    found: Order = OrderFactory(expected_on=TODAY - timedelta(days=6))
    for name in ("inner panel", "outer panel"):
        LineFactory(order=found, name=name)
    notice_record(by=SYSTEM, type="order.placed", about=found.number)
    return found


@pytest.fixture
def claim(db: None) -> Claim:
    """Damage against the maker, with its clocks."""
    MemberFactory(role="office", email="imke@example.com")
    came = ArrivalFactory(arrived_at=timezone.now() - timedelta(days=1))
    return claim_open(
        by=SYSTEM,
        job=came.order.job,
        kind="damage",
        against="carrier",
        summary="Corner gone",
        delivery=came,
    )


def of_goods() -> Any:
    return Reminder.objects.filter(rule__slug="goods_not_here")


def looked_over(order: Order, *names: str) -> None:
    """A delivery of which these pieces were inspected."""
    came = ArrivalFactory(order=order)
    for line in order.lines.filter(name__in=names):
        InspectionFactory(line=line, delivery=came)


def test_goods_that_did_not_come_are_asked_for_once(order: Order) -> None:
    notices_hear()
    assert (of_goods().count(), sweep()) == (1, 1)
    assert order.number in mail.outbox[0].body
    assert (sweep(), len(mail.outbox)) == (0, 1)


@pytest.mark.parametrize(
    ("names", "still"),
    [((), True), (("inner panel",), True), (("inner panel", "outer panel"), False)],
)
def test_an_order_is_waited_for_until_its_last_piece_is_looked_over(
    order: Order, names: tuple[str, ...], still: bool
) -> None:
    notices_hear()
    looked_over(order, *names)
    assert goods_here(order) is not still
    assert [one.number for one in orders_expected(TODAY)] == ([order.number] if still else [])
    assert sweep() == int(still)
    assert of_goods().get().state == ("sent" if still else "cancelled")


def test_goods_that_came_drop_the_message_at_once(order: Order) -> None:
    notices_hear()
    assert of_goods().get().state == "due"
    looked_over(order, "inner panel")
    notice_record(by=SYSTEM, type="goods.received", about=order.number)
    notices_hear()
    assert of_goods().get().state == "due"  # a panel is still waited for
    looked_over(order, "outer panel")
    notice_record(by=SYSTEM, type="goods.inspected", about=order.number)
    notices_hear()
    assert of_goods().get().state == "cancelled"


def test_what_is_cancelled_or_promised_later_is_not_expected(order: Order) -> None:
    assert list(orders_expected(TODAY - timedelta(days=7))) == []
    order_cancel(by=SYSTEM, order=order, why="sold out")
    assert goods_here(order)
    assert list(orders_expected(TODAY)) == []


def test_a_claim_is_found_by_its_number_and_by_that_of_its_deadline(claim: Claim) -> None:
    deadline = claim.deadlines.first()
    assert deadline is not None
    assert claim_of(claim.number) == claim_of(deadline.number) == claim
    assert (claim_of("CL-9999"), order_of("OR-9999")) == (None, None)


def test_the_next_deadline_is_the_first_that_nobody_met(claim: Claim) -> None:
    days = sorted(claim.deadlines.values_list("ends_on", flat=True))
    assert len(set(days)) > 1
    assert next_deadline(claim) == days[0]
    for one in claim.deadlines.filter(ends_on=days[0]):
        deadline_meet(by=SYSTEM, deadline=one, on=TODAY, how="letter")
    assert next_deadline(claim) == min(day for day in days if day > days[0])
    claim_settle(by=SYSTEM, claim=claim, outcome="replaced", says="A new panel came.")
    assert next_deadline(claim) is None


def test_only_open_claims_near_their_deadline_are_listed(claim: Claim) -> None:
    first = min(claim.deadlines.values_list("ends_on", flat=True))
    assert list(deadlines_near(first - timedelta(days=1))) == []
    assert {one.claim for one in deadlines_near(first)} == {claim}
    claim_settle(by=SYSTEM, claim=claim, outcome="none", says="It was a shadow.")
    assert list(deadlines_near(date.max)) == []


def test_a_deadline_is_told_before_it_ends_and_not_after_it_was_met(claim: Claim) -> None:
    notices_hear()
    row = Reminder.objects.get(about=claim.number, rule__counts_from="claim_deadline")
    assert row.state == "due"
    for one in claim.deadlines.all():
        deadline_meet(by=SYSTEM, deadline=one, on=TODAY, how="letter")
    Reminder.objects.update(due_at=timezone.now() - timedelta(minutes=1))
    sweep()
    row.refresh_from_db()
    assert (row.state, mail.outbox) == ("cancelled", [])


def test_a_deadline_that_was_over_when_it_became_known_is_told_at_once(claim: Claim) -> None:
    days = TODAY - timedelta(days=90)
    claim.deadlines.update(ends_on=days)
    notices_hear()
    row = Reminder.objects.get(about=claim.number, rule__counts_from="claim_deadline")
    opened = Notice.objects.get(type="claim.opened", about=claim.number).at
    assert row.due_at == opened
    Reminder.objects.exclude(pk=row.pk).delete()
    sweep()
    row.refresh_from_db()
    assert row.state == "sent"


def test_the_digest_names_goods_and_deadlines(order: Order, claim: Claim) -> None:
    text = digest_text(digest_lines(now=timezone.now(), most=99))
    assert order.number in text
    assert "and not here" in text
    assert claim.number in text


def test_another_job_s_order_is_another_order(order: Order) -> None:
    other = OrderFactory(job=JobFactory(), expected_on=TODAY)
    looked_over(order, "inner panel", "outer panel")
    assert [one.number for one in orders_expected(TODAY)] == [other.number]


def cost_asked_for(**values: Any) -> Reminder:
    """The message about a cost that nobody wrote."""
    loss = loss_record(
        by=SYSTEM, job=JobFactory(), kind="call_back", cause="other", says="Drips.", **values
    )
    notices_hear()
    found: Reminder = Reminder.objects.get(rule__slug="cost_missing", about=loss.number)
    return found


def test_a_cost_that_nobody_wrote_is_asked_for(order: Order) -> None:
    row = cost_asked_for(happened_on=TODAY - timedelta(days=12))
    assert 7 <= (row.due_at.date() - (TODAY - timedelta(days=12))).days <= 9  # a working day
    Reminder.objects.exclude(pk=row.pk).delete()
    assert (sweep(), len(mail.outbox)) == (1, 1)
    assert "Drips." in mail.outbox[0].body
    assert row.about in mail.outbox[0].subject


def test_a_cost_that_is_written_is_not_asked_for(order: Order) -> None:
    row = cost_asked_for()
    loss = Loss.objects.get()
    loss_change(by=SYSTEM, loss=loss, reason="", says="It drips at the sill.")
    notices_hear()
    row.refresh_from_db()
    assert row.state == "due"
    loss_change(by=SYSTEM, loss=loss, reason="The invoice came.", cost=Decimal("85.00"))
    notices_hear()
    row.refresh_from_db()
    assert row.state == "cancelled"


def test_an_error_with_its_cost_asks_for_nothing(order: Order) -> None:
    told = {"kind": "remake", "cause": "transit", "says": "Broken."}
    loss_record(by=SYSTEM, job=JobFactory(), cost=Decimal("310.00"), **told)
    notices_hear()
    assert not Reminder.objects.filter(rule__slug="cost_missing").exists()

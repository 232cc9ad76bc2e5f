"""How does a day's plan come to be? Copied when it is asked for, solved by a worker, then proposed.

A claim is one conditional UPDATE with a lease that the solver's progress renews; a worker that is killed
leaves its lease to run out, and the sweep wakes another. After three tries the row says failed and why.
"""

import logging
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import Any

from django.db import transaction
from django.db.models import F, Q
from django.utils import timezone

from contractor.api.callers import SYSTEM, Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from contractor.notices.wake import wake
from contractor.people.models import Crew
from jobs.plans.answer import drive_of, moves_of, routes_as_booked
from jobs.plans.inputs import copied, task_of
from jobs.plans.models import DayPlan, State
from jobs.plans.solve import driven, solve

log = logging.getLogger(__name__)
LEASE = timedelta(seconds=60)
MOST_ATTEMPTS, MOST_VISITS, BATCH = 3, 300, 50
NOTHING = "No order of these visits was found that takes less driving; the day can stay as it is."


@transaction.atomic
def plan_ask(
    *,
    by: Caller,
    day: date,
    crews: Sequence[Crew],
    keep: frozenset[str] = frozenset(),
    shift_hours: int = 3,
    seconds: int = 10,
) -> DayPlan:
    """Copy a day and ask a worker for a better order; announces `plan.asked`.

    Args:
        day: by the clock of each visit's site.
        crews: whose visits are looked at.
        keep: numbers of bookings that stay where they are.
        shift_hours: how far a visit may move from its promised time [h].
        seconds: how long the solver looks [s].

    Raises:
        Problem: there is nothing to plan on that day, or far too much.
    """
    asked = copied(day, crews, keep=keep, shift_hours=shift_hours)
    count = len(asked["visits"])
    if not 0 < count <= MOST_VISITS:
        raise Problem(
            "nothing_to_plan" if not count else "too_much_to_plan",
            f"On {day} these crews have {count} visits.",
            status=409,
            hint=f"Name a day with 1 to {MOST_VISITS} visits.",
            pointer="/day",
        )
    plan = DayPlan.objects.create(day=day, asked=asked, seconds=seconds, asked_by=by.name)
    notice_record(
        by=by, type="plan.asked", about=plan.number, changes={"day": [None, day.isoformat()]}
    )
    wake("plans.solve", key=plan.pk)
    return plan


@transaction.atomic
def plan_retry(*, by: Caller, plan: DayPlan) -> DayPlan:
    """Ask anew for a plan that was given up; announces `plan.retried`.

    Raises:
        Problem: it was not given up.
    """
    _check(plan, State.FAILED, "not_failed", "Only a failed one is tried again.")
    values = {"state": State.WANTED.value, "attempts": 0, "trouble": "", "percent": 0}
    row_change(row=plan, by=by, type="plan.retried", values=values)
    wake("plans.solve", key=plan.pk)
    return plan


@transaction.atomic
def plan_decline(*, by: Caller, plan: DayPlan, why: str) -> DayPlan:
    """Leave the day as it is; announces `plan.declined`.

    Raises:
        Problem: it is not proposed.
    """
    _check(plan, State.DONE, "not_proposed", "Only a proposed plan is decided on.")
    values = {"state": State.DECLINED.value, "decided_why": why}
    return row_change(row=plan, by=by, type="plan.declined", values=values, reason=why)


def _check(plan: DayPlan, state: State, code: str, hint: str) -> None:
    if plan.state != state:
        says = f"{plan.number} is {plan.state}."
        raise Problem(code, says, status=409, hint=hint)


def _free(now: datetime) -> Q:
    return Q(state=State.WANTED) | Q(state=State.SOLVING, lease_until__lt=now)


def plans_waiting(*, now: datetime) -> list[int]:
    """List the keys of plans that no living worker holds."""
    return list(DayPlan.objects.filter(_free(now)).values_list("pk", flat=True)[:BATCH])


def plan_solve(*, key: int, now: datetime | None = None) -> bool:
    """Claim one plan and solve it; returns whether this call finished it. Announces `plan.proposed`."""
    now = now or timezone.now()
    if not _claim(key, now):
        return False
    plan = DayPlan.objects.get(pk=key)
    try:
        return _finish(plan, _found(plan))
    except Exception as error:
        log.exception("Plan %s was not solved", plan.number)
        _put_back(plan, error)
        return False


def _claim(key: int, now: datetime) -> bool:
    rows = DayPlan.objects.filter(_free(now), pk=key)
    if rows.filter(attempts__lt=MOST_ATTEMPTS).update(
        state=State.SOLVING, percent=5, lease_until=now + LEASE, attempts=F("attempts") + 1
    ):
        return True
    died = {"state": State.FAILED, "lease_until": None, "trouble": "The worker died three times."}
    with transaction.atomic():
        spent = rows.filter(attempts__gte=MOST_ATTEMPTS)
        if spent.update(version=F("version") + 1, percent=0, **died):
            _announce(key, "plan.failed")
    return False


def _mine(plan: DayPlan) -> Any:
    return DayPlan.objects.filter(pk=plan.pk, state=State.SOLVING, attempts=plan.attempts)


def _found(plan: DayPlan) -> dict[str, Any]:
    """Solve what was copied; a plan that saves nothing proposes nothing."""

    def tell(share: float) -> None:
        lease = timezone.now() + LEASE
        _mine(plan).update(percent=5 + int(90 * share), lease_until=lease)

    task, zero = task_of(plan.asked)
    before = driven(task, routes_as_booked(plan.asked))
    solved = solve(task, seconds=plan.seconds, tell=tell)
    moves = moves_of(plan.asked, task, zero, solved) if solved else None
    after = drive_of(plan.asked, task, moves) if moves else before
    if not moves or after >= before:
        return {"moves": [], "drive_before": before, "drive_after": before, "trouble": NOTHING}
    return {"moves": moves, "drive_before": before, "drive_after": after, "trouble": ""}


def _finish(plan: DayPlan, found: dict[str, Any]) -> bool:
    """Mark the row; a worker that lost its lease meanwhile marks nothing."""
    done = {"state": State.DONE, "percent": 100, "lease_until": None, "done_at": timezone.now()}
    with transaction.atomic():
        marked = _mine(plan).update(version=F("version") + 1, **done, **found)
        if marked:
            _announce(plan.pk, "plan.proposed")
    return bool(marked)


def _put_back(plan: DayPlan, error: Exception) -> None:
    spent = plan.attempts >= MOST_ATTEMPTS
    state = State.FAILED if spent else State.WANTED
    own = {"state": state, "lease_until": None, "percent": 0, "trouble": str(error)[:500]}
    with transaction.atomic():
        if _mine(plan).update(version=F("version") + 1, **own):
            _announce(plan.pk, "plan.failed" if spent else "plan.put_back")


def _announce(key: int, what: str) -> None:
    plan = DayPlan.objects.only("pk", "version").get(pk=key)
    notice_record(by=SYSTEM, type=what, about=plan.number, version=plan.version)

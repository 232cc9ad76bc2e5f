"""How does a day's plan come to be? Copied when it is asked for, solved by a worker, then proposed.

The solver's progress renews the worker's lease.
"""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from contractor.notices.wanted import Work
from contractor.people.models import Crew
from jobs.plans.answer import drive_of, moves_of, routes_as_booked
from jobs.plans.inputs import copied, task_of
from jobs.plans.models import DayPlan, State
from jobs.plans.solve import driven, solve

PLANNED = Work(
    DayPlan,
    noun="plan",
    task="plans.solve",
    busy=State.SOLVING,
    taken={"percent": 5},
    lease=timedelta(seconds=60),
)
MOST_VISITS = 300
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
    PLANNED.wake(plan)
    return plan


def plan_retry(*, by: Caller, plan: DayPlan) -> DayPlan:
    """Ask anew for a plan that was given up; announces `plan.retried`.

    Raises:
        Problem: it was not given up.
    """
    return PLANNED.again(by=by, row=plan)


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


def plans_waiting(*, now: datetime) -> list[int]:
    """List the keys of plans that no living worker holds."""
    return PLANNED.waiting(now=now)


def plan_solve(*, key: int, now: datetime | None = None) -> bool:
    """Claim one plan and solve it; returns whether this call finished it. Announces `plan.proposed`."""
    return PLANNED.do(
        key=key, now=now, by=lambda plan: PLANNED.finish(plan, "proposed", **_found(plan))
    )


def _found(plan: DayPlan) -> dict[str, Any]:
    """Solve what was copied; a plan that saves nothing proposes nothing."""
    task, zero = task_of(plan.asked)
    before = driven(task, routes_as_booked(plan.asked))
    solved = solve(
        task,
        seconds=plan.seconds,
        tell=lambda share: PLANNED.hold(plan, percent=5 + int(90 * share)),
    )
    moves = moves_of(plan.asked, task, zero, solved) if solved else None
    after = drive_of(plan.asked, task, moves) if moves else before
    if not moves or after >= before:
        return {"moves": [], "drive_before": before, "drive_after": before, "trouble": NOTHING}
    return {"moves": moves, "drive_before": before, "drive_after": after, "trouble": ""}

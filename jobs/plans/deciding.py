"""What does the office make of a proposal? It takes moves out, changes them, and accepts what is left."""

from datetime import datetime, timedelta
from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.numbered import key_of
from contractor.api.problems import Problem
from contractor.notices.services import row_change
from contractor.people.models import Crew
from jobs.bookings.models import Booking
from jobs.bookings.rearrange import Rearranged, bookings_rearrange
from jobs.plans.answer import drive_of, move
from jobs.plans.inputs import task_of
from jobs.plans.models import DayPlan, State

Shape = dict[str, Any]


@transaction.atomic
def plan_edit(
    *,
    by: Caller,
    plan: DayPlan,
    booking: str,
    leave: bool = False,
    crew: Crew | None = None,
    starts_at: datetime | None = None,
) -> DayPlan:
    """Change one move of a proposal, or leave that visit where it is; announces `plan.edited`.

    Only the proposal changes: whether the crew can come is asked when it is accepted.

    Raises:
        Problem: the plan is not proposed, or the booking is no visit of it that may move.
    """
    _check_proposed(plan)
    visit = next((one for one in plan.asked["visits"] if one["booking"] == booking), None)
    if visit is None or visit["fixed"]:
        known = [one["booking"] for one in plan.asked["visits"] if not one["fixed"]]
        raise Problem(
            "not_in_plan",
            f"{booking} is no visit of this plan that may move.",
            hint=f"Send one of: {', '.join(known) or 'none'}.",
            pointer="/booking",
        )
    old = next((one for one in plan.moves if one["booking"] == booking), None)
    rest = [one for one in plan.moves if one["booking"] != booking]
    if not leave:
        rest.append(_edited(visit, old, crew, starts_at))
    moves = sorted(rest, key=lambda one: (one["starts_after"], one["booking"]))
    task, _ = task_of(plan.asked)
    values = {"moves": moves, "drive_after": drive_of(plan.asked, task, moves)}
    return row_change(row=plan, by=by, type="plan.edited", values=values)


def _edited(
    visit: Shape, old: Shape | None, crew: Crew | None, starts_at: datetime | None
) -> Shape:
    slug = old["crew_after"] if old else visit["crew"]
    start = datetime.fromisoformat(old["starts_after"] if old else visit["starts_at"])
    return move(visit, crew.slug if crew else slug, starts_at or start)


@transaction.atomic
def plan_accept(*, by: Caller, plan: DayPlan, only: list[str] | None = None) -> DayPlan:
    """Move the visits of a proposal, or only some; announces `plan.accepted` and each `booking.moved`.

    Everything in one transaction: every guard is asked anew, and when one refuses nothing moves.

    Raises:
        Problem: the plan is not proposed, `only` names a booking that it does not move, a booking
            changed since (all such are named), or a guard refuses.
    """
    _check_proposed(plan)
    chosen = [one for one in plan.moves if only is None or one["booking"] in only]
    strangers = set(only or []) - {one["booking"] for one in plan.moves}
    if strangers:
        raise Problem(
            "not_in_plan",
            f"The plan does not move {', '.join(sorted(strangers))}.",
            hint=f"It moves: {', '.join(one['booking'] for one in plan.moves) or 'nothing'}.",
            pointer="/only",
        )
    crews = {one.slug: one for one in Crew.objects.filter(is_active=True)}
    moves = [_rearranged(one, crews) for one in chosen]
    told = f"Plan {plan.number} of {plan.day}."
    try:
        bookings_rearrange(by=by, moves=moves, reason=told)
    except Problem as refused:
        left = {one["booking"] for one in plan.moves if one not in chosen}
        raise _with_the_other(refused, left) from refused
    task, _ = task_of(plan.asked)
    drive = drive_of(plan.asked, task, chosen)
    values = {"state": State.ACCEPTED.value, "moves": chosen, "drive_after": drive}
    return row_change(row=plan, by=by, type="plan.accepted", values=values)


def _with_the_other(refused: Problem, left: set[str]) -> Problem:
    """Where a visit that was left out holds the time, say so: the two go together."""
    holder = refused.extra.get("taken_by", "")
    if holder not in left:
        return refused
    hint = f"The plan moves {holder} out of the way: accept it too, or edit the plan."
    says, status = str(refused.detail), refused.status_code
    return Problem(refused.code, says, status=status, hint=hint, pointer="/only", taken_by=holder)


def _rearranged(one: Shape, crews: dict[str, Crew]) -> Rearranged:
    crew = crews.get(one["crew_after"])
    if crew is None:
        raise Problem(
            "crew_gone",
            f"Crew {one['crew_after']} does not work any more.",
            status=409,
            hint="Edit the plan, or ask for a new one.",
        )
    start, end = (datetime.fromisoformat(one[name]) for name in ("starts_after", "ends_after"))
    return Rearranged(
        key=key_of(one["booking"], Booking.LETTER),
        version=one["version"],
        crew=crew,
        starts_at=start,
        ends_at=max(end, start + timedelta(minutes=1)),
    )


def _check_proposed(plan: DayPlan) -> None:
    if plan.state != State.DONE:
        raise Problem(
            "not_proposed",
            f"{plan.number} is {plan.state}.",
            status=409,
            hint="Only a proposed plan is changed or accepted.",
        )

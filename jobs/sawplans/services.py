"""How does a saw plan come to be? Frozen when asked for, laid out once by whichever worker claims it."""

import hashlib
import json
from datetime import date, datetime
from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.inputs import inputs_checked
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from contractor.notices.wanted import Work
from fitcheck.rules.saw_order import saw_read
from jobs.sawplans.models import SawPlan, State
from jobs.sawplans.planning import FROM, plan_worked_out
from jobs.sawplans.stock import check_counted, profiles_of, stock_merged, whole_question
from jobs.sawplans.week import Gathered, monday_before, week_gather

SAWN = Work(
    SawPlan,
    noun="saw_plan",
    task="sawplans.lay_out",
    busy=State.LAYING_OUT,
    taken={"percent": FROM},
)


@transaction.atomic
def saw_plan_ask(
    *,
    by: Caller,
    week: date | None = None,
    pieces: list[dict[str, Any]] | None = None,
    bar_length: str | None = None,
    bar_cost: Any = None,
    stock: list[dict[str, Any]] | None = None,
    saw: dict[str, Any] | None = None,
) -> SawPlan:
    """Freeze what is to be sawn and ask for a plan; announces `saw_plan.asked`.

    Raises:
        Problem: there is nothing to saw in that week, no bar was named, or a value makes no sense.
    """
    monday = monday_before(week) if week else None
    gathered = week_gather(monday=monday) if monday else Gathered(pieces or [], [])
    if not gathered.pieces:
        raise _nothing(gathered, monday)
    listed = list(stock or [])
    bars = stock_merged(bar_length, bar_cost, listed)
    asked = {"pieces": gathered.pieces, "stock": bars, "saw": saw or {}}
    with inputs_checked():
        saw_read(whole_question(asked))
    check_counted(bars, profiles_of(gathered.pieces), len(bars) - len(listed))
    row = SawPlan.objects.create(
        week_of=monday,
        asked=asked,
        left_out=gathered.left_out,
        digest=digest_of(asked),
        asked_by=by.name,
    )
    changes = {"week_of": [None, str(monday)]} if monday else {}
    notice_record(by=by, type="saw_plan.asked", about=row.number, changes=changes)
    SAWN.wake(row)
    return row


def _nothing(gathered: Gathered, monday: date | None) -> Problem:
    if monday is None:
        return Problem(
            "one_of_two", "Name a week or list parts.", hint="Send `week`.", pointer="/week"
        )
    why = [f"{one['opening']} {one['part']}: {one['why']}" for one in gathered.left_out]
    return Problem(
        "nothing_to_saw",
        f"Nothing is to be sawn for the week of {monday}. " + " ".join(why),
        status=409,
        hint="Book installs in that week, or list `pieces` yourself.",
        pointer="/week",
    )


def digest_of(asked: dict[str, Any]) -> str:
    """Digest what was asked in canonical JSON."""
    text = json.dumps(asked, sort_keys=True, separators=(",", ":"))
    return "sha256:" + hashlib.sha256(text.encode()).hexdigest()


def saw_plan_retry(*, by: Caller, plan: SawPlan) -> SawPlan:
    """Ask anew for a plan that was given up; announces `saw_plan.retried`.

    Raises:
        Problem: it was not given up.
    """
    return SAWN.again(by=by, row=plan)


def saw_plans_waiting(*, now: datetime) -> list[int]:
    """List the keys of plans that no living worker holds."""
    return SAWN.waiting(now=now)


def saw_plan_work(*, key: int, now: datetime | None = None) -> bool:
    """Claim one plan and lay it out; returns whether this call finished it. Announces `saw_plan.done`."""
    return SAWN.do(key=key, now=now, by=_laid_out)


def _laid_out(plan: SawPlan) -> bool:
    result = plan_worked_out(plan.asked, lambda percent: SAWN.hold(plan, percent=percent))
    return SAWN.finish(plan, result=result, trouble="")

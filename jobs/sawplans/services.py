"""How does a saw plan come to be? Frozen when asked for, laid out once by whichever worker claims it.

A claim is one conditional UPDATE with a lease, as for packets; after three tries the row says failed
and why, and can be asked for again.
"""

import hashlib
import json
import logging
from datetime import date, datetime, timedelta
from typing import Any

from django.db import transaction
from django.db.models import F, Q
from django.utils import timezone

from contractor.api.callers import SYSTEM, Caller
from contractor.api.inputs import inputs_checked
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from contractor.notices.wake import wake
from fitcheck.rules.saw_order import saw_read
from jobs.sawplans.models import SawPlan, State
from jobs.sawplans.planning import FROM, plan_worked_out
from jobs.sawplans.stock import check_counted, profiles_of, stock_merged, whole_question
from jobs.sawplans.week import Gathered, monday_before, week_gather

log = logging.getLogger(__name__)
LEASE = timedelta(seconds=75)
MOST_ATTEMPTS = 3
BATCH = 100


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
    wake("sawplans.lay_out", key=row.pk)
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
    if plan.state != State.FAILED:
        raise Problem(
            "not_failed",
            f"{plan.number} is {plan.state}.",
            status=409,
            hint="Only a failed one is tried again.",
        )
    plan.state, plan.attempts, plan.trouble, plan.percent = State.WANTED, 0, "", 0
    plan.version += 1
    plan.save(update_fields=["state", "attempts", "trouble", "percent", "version"])
    notice_record(by=by, type="saw_plan.retried", about=plan.number, version=plan.version)
    wake("sawplans.lay_out", key=plan.pk)
    return plan


def _free(now: datetime) -> Q:
    return Q(state=State.WANTED) | Q(state=State.LAYING_OUT, lease_until__lt=now)


def saw_plans_waiting(*, now: datetime) -> list[int]:
    """List the keys of plans that no living worker holds."""
    return list(SawPlan.objects.filter(_free(now)).values_list("pk", flat=True)[:BATCH])


def saw_plan_work(*, key: int, now: datetime | None = None) -> bool:
    """Claim one plan and lay it out; returns whether this call finished it. Announces `saw_plan.done`."""
    now = now or timezone.now()
    if not _claim(key, now):
        return False
    plan = SawPlan.objects.get(pk=key)
    try:
        result = plan_worked_out(plan.asked, lambda done: _report(plan, done))
    except Exception as error:
        log.exception("Saw plan %s was not laid out", plan.number)
        _put_back(plan, error)
        return False
    done = {"state": State.DONE, "percent": 100, "result": result, "trouble": ""}
    return _settle(plan, "saw_plan.done", done_at=timezone.now(), **done)


def _claim(key: int, now: datetime) -> bool:
    rows = SawPlan.objects.filter(_free(now), pk=key)
    if rows.filter(attempts__lt=MOST_ATTEMPTS).update(
        state=State.LAYING_OUT, percent=FROM, lease_until=now + LEASE, attempts=F("attempts") + 1
    ):
        return True
    with transaction.atomic():
        if rows.filter(attempts__gte=MOST_ATTEMPTS).update(
            state=State.FAILED,
            lease_until=None,
            percent=0,
            trouble="The worker died three times.",
            version=F("version") + 1,
        ):
            _announce(key, "saw_plan.failed")
    return False


def _mine(plan: SawPlan) -> Any:
    """The row, as long as this worker still holds it."""
    held = {"state": State.LAYING_OUT, "attempts": plan.attempts}
    return SawPlan.objects.filter(pk=plan.pk, **held)


def _report(plan: SawPlan, percent: int) -> None:
    """Say how far it is, and keep the lease from running out meanwhile."""
    _mine(plan).update(percent=percent, lease_until=timezone.now() + LEASE)


def _put_back(plan: SawPlan, error: Exception) -> None:
    spent = plan.attempts >= MOST_ATTEMPTS
    _settle(
        plan,
        "saw_plan.failed" if spent else "saw_plan.put_back",
        state=State.FAILED if spent else State.WANTED,
        percent=0,
        trouble=str(error)[:500],
    )


def _settle(plan: SawPlan, what: str, **values: Any) -> bool:
    """End this worker's try; one that lost its lease meanwhile marks nothing."""
    with transaction.atomic():
        done = _mine(plan).update(lease_until=None, version=F("version") + 1, **values)
        if done:
            _announce(plan.pk, what)
    return bool(done)


def _announce(key: int, what: str) -> None:
    plan = SawPlan.objects.only("pk", "version").get(pk=key)
    notice_record(by=SYSTEM, type=what, about=plan.number, version=plan.version)

"""What did a refusal save? Each guard that stopped somebody is counted once a day for a job.

A refused write leaves no row of its own, so the refusal is written after it, in a transaction of its
own. Where somebody later answers for it by name, the guard has saved nothing: it is taken back.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import Count
from django.utils import timezone

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from jobs.jobs.models import Job
from jobs.jobs.moments import day_at
from jobs.losses.models import Save

# The guards whose refusals save something, in the words of the page. Taken crews, closed days and hours
# are the calendar's own business, and what is only unsaid (a reason, an opening) costs nothing.
GUARDS: Mapping[str, str] = {
    "goods_damaged": "Install not booked: a piece is damaged",
    "goods_not_received": "Install not booked: goods are not here",
    "verdict_against": "Install not booked: no verdict that fits",
    "way_in_too_tight": "Install not booked: a panel does not get in",
    "hands_short": "Visit not booked: too few hands for the glass",
    "rack_too_weak": "Visit not booked: the van's rack does not carry the glass",
    "qualification_missing": "Visit not booked: nobody qualified for the wall or house",
    "not_cured": "Follow-up not booked: the bead still cures",
    "travel_too_short": "Visit not booked: the drive takes longer than the gap",
    "verdicts_fit": "Kit not decided on: its verdict does not fit",
    "verdicts_current": "Kit not decided on: surveyed again since its verdict",
    "goods_sound": "Job not moved on: a piece is not sound",
    "goods_here": "Job not moved on: a piece is not here",
    "install_finished": "Not called installed: a hold point is open",
    "cure_over": "Not called cured: the bead still cures",
    "handover_signed": "Not called handed over: nobody has signed, or the care sheet was not given",
    "claims_settled": "Job not closed: a claim is open",
}

OF_VERDICTS = frozenset({"tight", "fails", "unknown"})


def guards_of(refused: Problem) -> list[str]:
    """Name the guards that spoke in a refusal, those that save something."""
    said = [one["guard"] for one in refused.extra.get("blocked_by", [])]
    said += guards_against(refused.extra.get("against", []))
    return [one for one in dict.fromkeys([*said, refused.code]) if one in GUARDS]


def guards_against(rows: Iterable[Mapping[str, str]]) -> list[str]:
    """Name the guards behind what is against a visit, as a booking keeps it."""
    states = [one["state"] for one in rows]
    named = ["verdict_against" if one in OF_VERDICTS else one for one in states]
    return [one for one in dict.fromkeys(named) if one in GUARDS]


@contextmanager
def refusals_counted(*, by: Caller, about: Callable[[], Job | None]) -> Iterator[None]:
    """Count what the guards refuse in here; stand outside the refused write's own transaction."""
    try:
        yield
    except Problem as refused:
        guards = guards_of(refused)
        job = about() if guards else None
        if job is not None:
            saves_count(by=by, job=job, guards=guards, says=str(refused.detail))
        raise


def saves_count(*, by: Caller, job: Job, guards: Iterable[str], says: str) -> list[Save]:
    """Write what guards refused, each once a day for a job; announces `save.counted`."""
    day = day_at(timezone.now(), job.site.time_zone)
    found = [_counted(by, job, guard, day, says) for guard in guards]
    return [one for one in found if one is not None]


def _counted(by: Caller, job: Job, guard: str, day: date, says: str) -> Save | None:
    if Save.objects.filter(job=job, guard=guard, day=day).exists():
        return None
    try:
        with transaction.atomic():
            row = Save.objects.create(
                job=job, guard=guard, day=day, says=says[:500], caller=by.key, caller_name=by.name
            )
            changes = {"job": [None, job.number], "guard": [None, guard]}
            notice_record(by=by, type="save.counted", about=row.number, changes=changes)
            return row
    except IntegrityError:  # its twin was quicker
        return None


def saves_take_back(*, by: Caller, job: Job, guards: Iterable[str], reason: str) -> None:
    """Take back what was counted, for somebody answered for it by name; announces `save.taken_back`."""
    for row in Save.objects.filter(job=job, guard__in=list(guards), overridden=False):
        values = {"overridden": True}
        row_change(row=row, by=by, type="save.taken_back", values=values, reason=reason)


def refusals_sums(*, since: date | None = None) -> list[dict[str, Any]]:
    """Sum what stands, guard by guard, the most frequent first."""
    rows = Save.objects.filter(overridden=False)
    rows = rows if since is None else rows.filter(day__gte=since)
    found = rows.order_by().values("guard").annotate(count=Count("pk"))
    told = [{**one, "says": GUARDS.get(one["guard"], one["guard"])} for one in found]
    return sorted(told, key=lambda one: (-one["count"], one["guard"]))

"""Who stays at home, and when? Members' days off and a region's closed days, each with its notice."""

from datetime import date
from typing import Any

from django.db import IntegrityError, transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from contractor.people.holiday import RegionUnknown, holidays_of
from contractor.people.models import ClosedDay, ClosedState, DayOff, Member


@transaction.atomic
def day_off_give(
    *, by: Caller, member: Member, first_day: date, last_day: date, why: str = ""
) -> DayOff:
    """Let a member stay at home on some days; writes the row, announces `day_off.given`."""
    row = DayOff.objects.create(member=member, first_day=first_day, last_day=last_day, why=why)
    changes = {
        "member": [None, member.number],
        "first_day": [None, first_day.isoformat()],
        "last_day": [None, last_day.isoformat()],
    }
    notice_record(by=by, type="day_off.given", about=row.number, changes=changes)
    return row


@transaction.atomic
def day_off_withdraw(*, by: Caller, row: DayOff, why: str) -> DayOff:
    """Let the member work after all; the row stays and says so. Announces `day_off.withdrawn`.

    Raises:
        Problem: it was withdrawn before.
    """
    if not row.stands:
        raise Problem(
            "day_off_withdrawn",
            f"{row.number} was withdrawn before.",
            status=409,
            hint="Give another one.",
        )
    values = {"stands": False, "withdrawn_why": why}
    return row_change(row=row, by=by, type="day_off.withdrawn", values=values, reason=why)


@transaction.atomic
def closed_day_add(*, by: Caller, region: str, day: date, name: str) -> ClosedDay:
    """Close a region on one day; writes the row, announces `closed_day.added`.

    Raises:
        Problem: the region has a row for that day already.
    """
    try:
        with transaction.atomic():
            row = ClosedDay.objects.create(region=region, day=day, name=name)
    except IntegrityError:
        raise Problem(
            "unique",
            f"{region} has a row for {day} already.",
            status=409,
            hint="Keep or drop that one.",
            pointer="/day",
        ) from None
    notice_record(
        by=by, type="closed_day.added", about=row.number, changes={"name": ["", row.name]}
    )
    return row


@transaction.atomic
def closed_day_keep(*, by: Caller, row: ClosedDay) -> ClosedDay:
    """Decide that the region stays at home; announces `closed_day.kept`."""
    values = {"state": ClosedState.KEPT.value}
    return row_change(row=row, by=by, type="closed_day.kept", values=values)


@transaction.atomic
def closed_day_drop(*, by: Caller, row: ClosedDay) -> ClosedDay:
    """Decide that the region works on that day; announces `closed_day.dropped`."""
    values = {"state": ClosedState.DROPPED.value}
    return row_change(row=row, by=by, type="closed_day.dropped", values=values)


@transaction.atomic
def holidays_propose(*, by: Caller, region: str, year: int, keep: bool = False) -> list[ClosedDay]:
    """Write a year's public holidays that the region has no row for; announces `holiday.proposed`.

    Args:
        region: as `holidays_of` takes it.
        year: the year [-].
        keep: close on all of them at once, instead of deciding day by day.

    Raises:
        Problem: nothing is known of the region.
    """
    try:
        found = holidays_of(region, year)
    except RegionUnknown:
        raise Problem(
            "region_unknown",
            f"No list of public holidays is known for {region!r}.",
            hint="Send an ISO 3166 code such as US-IL, or add its closed days by hand.",
            pointer="/region",
        ) from None
    known = set(
        ClosedDay.objects.filter(region=region, day__year=year).values_list("day", flat=True)
    )
    state = ClosedState.KEPT if keep else ClosedState.PROPOSED
    fresh = [
        ClosedDay(region=region, day=day, name=name[:120], state=state)
        for day, name in found
        if day not in known
    ]
    ClosedDay.objects.bulk_create(fresh, ignore_conflicts=True)
    told: dict[str, Any] = {one.day.isoformat(): [None, one.name] for one in fresh}
    notice_record(by=by, type="holiday.proposed", about=f"{region}:{year}", changes=told)
    return list(ClosedDay.objects.filter(region=region, day__year=year).order_by("day"))

"""Which deadline of a claim is the next?"""

from datetime import date

from django.db.models import QuerySet

from contractor.api.numbered import key_of
from jobs.claims.models import Claim, Deadline, State

OVER = (State.SETTLED.value, State.WITHDRAWN.value)


def claim_of(number: str) -> Claim | None:
    """Find a claim by its number or by that of one of its deadlines."""
    rows = Claim.objects.select_related("job__site__customer")
    if number.startswith(f"{Claim.LETTER}-"):
        return rows.filter(pk=key_of(number, Claim.LETTER)).first()
    return rows.filter(deadlines__pk=key_of(number, Deadline.LETTER)).first()


def next_deadline(claim: Claim) -> date | None:
    """Find the day by which something must be done next; None when nothing runs."""
    if claim.state in OVER:
        return None
    rows = claim.deadlines.filter(met_on=None).order_by("ends_on")
    return rows.values_list("ends_on", flat=True).first()


def deadlines_near(until: date) -> QuerySet[Deadline]:
    """List the deadlines of open claims up to a day that are not met."""
    rows = Deadline.objects.filter(met_on=None, ends_on__lte=until)
    open_ones = rows.exclude(claim__state__in=OVER).select_related("claim__job")
    return open_ones.order_by("ends_on", "pk")

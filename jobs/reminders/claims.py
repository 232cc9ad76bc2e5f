"""Which deadline of a claim is the next? Asked through the registry, so that it holds without that room."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from django.apps import apps

from contractor.api.numbered import key_of

ROOM = "claims"
OVER = ("settled", "withdrawn")


def claim_of(number: str) -> Any:
    """Find a claim by its number or by that of one of its deadlines; None where claims are not kept."""
    if not apps.is_installed(f"jobs.{ROOM}"):
        return None
    claims = apps.get_model(ROOM, "Claim")
    rows = claims.objects.select_related("job__site__customer")
    if number.startswith(f"{claims.LETTER}-"):
        return rows.filter(pk=key_of(number, claims.LETTER)).first()
    letter = apps.get_model(ROOM, "Deadline").LETTER
    return rows.filter(deadlines__pk=key_of(number, letter)).first()


def next_deadline(claim: Any) -> date | None:
    """Find the day by which something must be done next; None when nothing runs."""
    if claim.state in OVER:
        return None
    rows = claim.deadlines.filter(met_on=None).order_by("ends_on")
    found: date | None = rows.values_list("ends_on", flat=True).first()
    return found


def deadlines_near(until: date) -> Iterable[Any]:
    """List the deadlines of open claims up to a day that are not met."""
    if not apps.is_installed(f"jobs.{ROOM}"):
        return []
    rows = apps.get_model(ROOM, "Deadline").objects.filter(met_on=None, ends_on__lte=until)
    open_ones = rows.exclude(claim__state__in=OVER).select_related("claim__job")
    return open_ones.order_by("ends_on", "pk")  # type: ignore[no-any-return]

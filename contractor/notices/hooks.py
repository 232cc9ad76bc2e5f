"""What changes about endpoints and deliveries? Each in one transaction with its notice."""

from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.models import Delivery, DeliveryState, Endpoint, Notice
from contractor.notices.services import notice_record, row_change
from contractor.notices.signing import secret_make


@transaction.atomic
def endpoint_add(*, by: Caller, **values: Any) -> tuple[Endpoint, str]:
    """Add an endpoint that hears of what comes from now on; returns it with its secret, shown this once.

    Announces `webhook.added`.
    """
    last = Notice.objects.aggregate(last=Max("pk"))["last"] or 0
    row = Endpoint.objects.create(secret=secret_make(), position=last, **values)
    notice_record(by=by, type="webhook.added", about=row.number)
    return row, row.secret


@transaction.atomic
def endpoint_change(*, by: Caller, row: Endpoint, reason: str = "", **values: Any) -> Endpoint:
    """Change an endpoint, turn it off or on; announces `webhook.changed`."""
    if values.get("is_on"):
        values["off_why"] = ""
    return row_change(row=row, by=by, type="webhook.changed", values=values, reason=reason)


@transaction.atomic
def delivery_resend(*, by: Caller, row: Delivery) -> Delivery:
    """Send a settled delivery once more under the same id; announces `webhook.resent`.

    Raises:
        Problem: it still waits.
    """
    if row.state not in {DeliveryState.DONE, DeliveryState.FAILED}:
        raise Problem(
            "delivery_waits",
            f"{row.number} is {row.state}.",
            status=409,
            hint="Only a settled one is sent again; this one is tried by itself.",
        )
    row.state, row.attempts, row.next_try = DeliveryState.WAITING.value, 0, timezone.now()
    row.lease_until, row.trouble, row.done_at = None, "", None
    row.version += 1
    row.save()
    notice_record(by=by, type="webhook.resent", about=row.number, version=row.version)
    return row

"""How does a notice reach those who want to hear of it? One row a notice and endpoint, tried till taken.

Receivers hear at least once, each message under one id: they drop what they know.
"""

import json
import logging
from datetime import datetime, timedelta
from http.client import HTTPException
from typing import Any

from django.db import transaction
from django.db.models import Exists, F, OuterRef, Q
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices.feed import settled_after
from contractor.notices.models import Delivery, DeliveryState, Endpoint, Notice
from contractor.notices.posting import Refused, post
from contractor.notices.services import row_change
from contractor.notices.signing import signature_of

log = logging.getLogger(__name__)
BATCH = 200
LEASE = timedelta(minutes=2)
GONE = 410
# House setting, of the order that Standard Webhooks recommends: about three days in all.
RESTS = tuple(
    timedelta(seconds=one) for one in (5, 300, 1800, 7200, 18_000, 36_000, 50_400, 72_000, 86_400)
)


def deliveries_plan(*, now: datetime) -> int:
    """Write a row for every notice that an endpoint wants and has not; returns how many notices were read."""
    read = 0
    for key in Endpoint.objects.filter(is_on=True).values_list("pk", flat=True):
        with transaction.atomic():
            endpoint = Endpoint.objects.select_for_update().get(pk=key)
            notices = list(settled_after(endpoint.position)[:BATCH])
            wanted = [one for one in notices if not endpoint.types or one.type in endpoint.types]
            rows = [Delivery(endpoint=endpoint, notice=one, next_try=now) for one in wanted]
            Delivery.objects.bulk_create(rows, ignore_conflicts=True)
            if notices:
                Endpoint.objects.filter(pk=key).update(position=notices[-1].pk)
        read += len(notices)
    return read


def _free(now: datetime) -> Q:
    waits = Q(state=DeliveryState.WAITING, next_try__lte=now)
    return waits | Q(state=DeliveryState.SENDING, lease_until__lt=now)


def deliveries_due(*, now: datetime) -> list[int]:
    """List the keys of deliveries whose try has come."""
    rows = Delivery.objects.filter(_free(now), endpoint__is_on=True)
    return list(rows.order_by("next_try", "pk").values_list("pk", flat=True)[:50])


def delivery_send(*, key: int, now: datetime | None = None) -> bool:
    """Claim one delivery and post it; returns whether it was taken. Announces `webhook.turned_off` on 410."""
    now = now or timezone.now()
    # The endpoint is asked beside, never joined: what a joined update found is not looked at again when
    # another worker has just claimed the row.
    is_on = Endpoint.objects.filter(pk=OuterRef("endpoint_id"), is_on=True)
    claimed = Delivery.objects.filter(_free(now), Exists(is_on), pk=key).update(
        state=DeliveryState.SENDING, lease_until=now + LEASE, attempts=F("attempts") + 1
    )
    if not claimed:
        return False
    row = Delivery.objects.select_related("endpoint", "notice").get(pk=key)
    try:
        status, trouble = _posted(row, now), ""
    except (Refused, OSError, HTTPException, ValueError) as error:
        status, trouble = None, str(error)[:300] or type(error).__name__
    return _settle(row, status, trouble, now)


def _posted(row: Delivery, now: datetime) -> int:
    body = json.dumps(payload_of(row.notice), ensure_ascii=False).encode()
    key, timestamp = str(row.notice.event), int(now.timestamp())
    signature = signature_of(secret=row.endpoint.secret, key=key, timestamp=timestamp, body=body)
    headers = {
        "Content-Type": "application/json",
        "webhook-id": key,
        "webhook-timestamp": str(timestamp),
        "webhook-signature": signature,
    }
    return post(row.endpoint.address, body, headers)


def payload_of(notice: Notice) -> dict[str, Any]:
    """Say what happened; `changes` holds old and new by field."""
    return {
        "type": notice.type,
        "timestamp": notice.at.isoformat(),
        "data": {
            "event": str(notice.event),
            "noun": notice.noun,
            "about": notice.about,
            "version": notice.version,
            "by": notice.caller_name,
            "reason": notice.reason,
            "changes": notice.changes,
        },
    }


def _settle(row: Delivery, status: int | None, trouble: str, now: datetime) -> bool:
    mine = Delivery.objects.filter(pk=row.pk, attempts=row.attempts, state=DeliveryState.SENDING)
    values: dict[str, Any] = {
        "status_code": status,
        "lease_until": None,
        "version": F("version") + 1,
    }
    if status is not None and 200 <= status < 300:
        return bool(mine.update(**values, state=DeliveryState.DONE, trouble="", done_at=now))
    values["trouble"] = trouble or f"It answered {status}."
    if status == GONE:
        _turn_off(row.endpoint)
    if status == GONE or row.attempts > len(RESTS):
        mine.update(**values, state=DeliveryState.FAILED)
        return False
    later = now + RESTS[row.attempts - 1]
    mine.update(**values, state=DeliveryState.WAITING, next_try=later)
    return False


def _turn_off(endpoint: Endpoint) -> None:
    with transaction.atomic():
        row = Endpoint.objects.select_for_update().get(pk=endpoint.pk)
        why = "It answered 410: gone for good."
        values = {"is_on": False, "off_why": why}
        row_change(row=row, by=SYSTEM, type="webhook.turned_off", values=values, reason=why)

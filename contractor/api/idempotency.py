"""Was this request answered before? Then it is answered the same way again, and nothing runs twice.

The key's row is written in the transaction of the work itself: a twin that arrives meanwhile waits on
the unique index (PostgreSQL) or on the one writer's lock (SQLite) and then reads the kept answer. A
refused request keeps no row, so that a corrected one may use the same key.
"""

import hashlib
import json
import re
from collections.abc import Callable
from datetime import timedelta
from typing import Any

from django.db import OperationalError, connection, transaction
from django.utils import timezone
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import SCHEDULER, TABLET, Caller
from contractor.api.forms import form_value
from contractor.api.models import IdempotencyKey
from contractor.api.problems import Problem
from contractor.api.written import plain

HEADER = "Idempotency-Key"
KEPT_FOR = timedelta(days=7)
KEY = re.compile(r"^[A-Za-z0-9._:+/=-]{8,120}$")
KEPT_HEADERS = ("Location", "ETag")


def key_of(request: Request, caller: Caller) -> str | None:
    """Read the key from the header, or from the browser's form; tokens must send one."""
    key = request.headers.get(HEADER)
    if key is None:
        key = form_value(request, "_idempotency_key")
    if key is None:
        if caller.role in {TABLET, SCHEDULER}:
            raise Problem(
                "idempotency_key_missing",
                f"A {caller.role} must say which request this is, so that sending twice is harmless.",
                hint=f"Send {HEADER}: a UUID made once for this request, kept for its retries.",
            )
        return None
    key = key.strip('"')
    if not KEY.match(key):
        raise Problem(
            "idempotency_key_malformed",
            f"{HEADER} may have 8 to 120 letters, digits and ._:+/=- only.",
            hint="A UUID does.",
        )
    return key


def fingerprint_of(request: Request, data: Any) -> str:
    """Digest method, address and body, so that a key cannot be used for something else."""
    body = (
        {k: v for k, v in data.items() if not k.startswith(("_", "csrf"))}
        if hasattr(data, "items")
        else data
    )
    text = json.dumps([request.method, request.path, body], sort_keys=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def once(
    request: Request, caller: Caller, work: Callable[[], Response], *, secret: str = ""
) -> Response:
    """Do the work in one transaction, or give the kept answer again.

    `secret` names a member of the answer that is shown this once and kept nowhere.
    """
    key = key_of(request, caller)
    if key is None:
        with transaction.atomic():
            return work()
    return once_by(key, fingerprint_of(request, request.data), caller, work, secret=secret)


def once_by(
    key: str, fingerprint: str, caller: Caller, work: Callable[[], Response], *, secret: str = ""
) -> Response:
    """Do the work of this key and fingerprint in one transaction, or give its kept answer again."""
    with transaction.atomic():
        row = _claim(caller, key, fingerprint)
        if row is None:
            return _again(caller, key, fingerprint)
        response = work()
        IdempotencyKey.objects.filter(pk=row).update(
            status=response.status_code,
            body=_kept(response.data, secret),
            headers={name: response[name] for name in KEPT_HEADERS if name in response},
        )
        return response


def _kept(data: Any, secret: str) -> Any:
    body = json.loads(json.dumps(data, default=plain))
    return {**body, secret: ""} if secret else body


CLAIM = """
INSERT INTO api_idempotencykey (caller, key, fingerprint, status, body, headers, made_at)
VALUES (%s, %s, %s, 0, '{}', '{}', %s) ON CONFLICT (caller, key) DO NOTHING RETURNING id
"""


def _claim(caller: Caller, key: str, fingerprint: str) -> int | None:
    """Insert the key in one statement; None when it is there already."""
    with connection.cursor() as cursor:
        try:
            cursor.execute(CLAIM, [caller.key, key, fingerprint, timezone.now()])
        except OperationalError as error:
            raise Problem(
                "still_running",
                "The first request with this key is still running.",
                status=409,
                hint="Send it again in a few seconds.",
                headers={"Retry-After": "3"},
            ) from error
        found = cursor.fetchone()
    return found[0] if found else None


def _again(caller: Caller, key: str, fingerprint: str) -> Response:
    row = IdempotencyKey.objects.get(caller=caller.key, key=key)
    if row.fingerprint != fingerprint:
        raise Problem(
            "idempotency_key_reused",
            f"The key {key} was used for another request.",
            status=422,
            hint="Make a new key for a new request; keep the old one for retries of the old.",
        )
    headers = {**row.headers, "Idempotency-Replayed": "true"}
    return Response(row.body, status=row.status, headers=headers)


def keys_forget(*, now: Any = None) -> int:
    """Delete keys older than a week; returns how many."""
    limit = (now or timezone.now()) - KEPT_FOR
    return IdempotencyKey.objects.filter(made_at__lt=limit).delete()[0]

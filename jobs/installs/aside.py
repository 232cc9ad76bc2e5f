"""What becomes of a body that is refused because its id is taken? It is kept for a person to judge."""

import hashlib
import json
from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from jobs.surveys.models import Refused

TAKEN = "id_taken"


def digest_of(data: Mapping[str, Any]) -> str:
    """Digest a body in canonical JSON, to tell a retry from another content under one id."""
    text = json.dumps(data, sort_keys=True, separators=(",", ":"), default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def check_same(row: Any, digest: str, what: str) -> None:
    """Refuse another content under an id that is taken.

    Raises:
        Problem: the digests differ.
    """
    if row.digest != digest:
        raise Problem(
            TAKEN,
            f"The id {row.pk} was used for another {what}.",
            status=409,
            hint="Make a new UUID for new content. What you sent is kept for the office to look at.",
            pointer="/id",
        )


def keep_aside(*, by: Caller, key: UUID, opening: str, raw: Mapping[str, Any]) -> Refused:
    """Keep a refused body once, however often it is sent; announces `install.refused`."""
    body = {"id": str(key), **raw}
    with transaction.atomic():
        known = Refused.objects.filter(caller=by.key, code=TAKEN, body=body).first()
        if known is not None:
            return known
        kept = Refused.objects.create(
            opening=opening[:20], code=TAKEN, body=body, caller=by.key, caller_name=by.name
        )
        notice_record(by=by, type="install.refused", about=kept.id, reason=TAKEN)
        return kept

"""What becomes of a body that is refused because its id is taken? It is kept for a person to judge."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.facts import TAKEN
from contractor.notices.services import notice_record
from jobs.surveys.models import Refused


@transaction.atomic
def keep_aside(*, by: Caller, type: str, about: str, raw: Mapping[str, Any]) -> Refused:
    """Keep a refused body so that nothing is lost; announces `type`, such as `survey.refused`.

    A tablet that sends the same again and again fills no table: it is kept once.
    """
    body = dict(raw)
    known = Refused.objects.filter(caller=by.key, code=TAKEN, body=body).first()
    if known is not None:
        return known
    kept = Refused.objects.create(
        opening=about[:20], code=TAKEN, body=body, caller=by.key, caller_name=by.name
    )
    notice_record(by=by, type=type, about=kept.id, reason=TAKEN)
    return kept

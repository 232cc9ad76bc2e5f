"""A fact comes under its sender's own id: is it new, the same again, or another under a taken id?

Made without a connection and sent whenever there is one, perhaps twice, perhaps by two workers at once.
"""

import hashlib
import json
from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from django.db import IntegrityError, transaction

from contractor.api.problems import Problem

TAKEN = "id_taken"
Kept = TypeVar("Kept")


def digest_of(data: Mapping[str, Any]) -> str:
    """Digest a body in canonical JSON, to tell a retry from another content under one id."""
    text = json.dumps(data, sort_keys=True, separators=(",", ":"), default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def taken(text: str, pointer: str = "/id") -> Problem:
    """The refusal of an id that other content has."""
    return Problem(
        TAKEN,
        text,
        status=409,
        hint="Make a new UUID for new content. What you sent is kept for the office to look at.",
        pointer=pointer,
    )


def check_same(row: Any, digest: str, what: str) -> None:
    """Refuse another content under an id that is taken.

    Raises:
        Problem: the digests differ.
    """
    if row.digest != digest:
        raise taken(f"The id {row.pk} was used for another {what}.")


def kept_once(work: Callable[[], Kept], otherwise: Callable[[], Problem] | None = None) -> Kept:
    """Do the work in a transaction; where a twin was quicker do it again, for then it finds the twin.

    The work looks for the id first, and answers from the row that it finds.

    Raises:
        Problem: no twin, but a part's own id is taken: what `otherwise` says.
    """
    try:
        with transaction.atomic():
            return work()
    except IntegrityError:
        pass
    try:
        with transaction.atomic():
            return work()
    except IntegrityError:
        if otherwise is None:
            raise
    raise otherwise()

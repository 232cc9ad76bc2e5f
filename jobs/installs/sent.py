"""What does a fact bring along, whatever it is about? Its id, whose it is, when, and its digest."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID

from fitcheck.rules.survey import Reading


@dataclass(frozen=True, slots=True)
class Sent:
    """A fact as it was sent: its id, whose and when, the body and its digest."""

    id: UUID
    said_by: str
    taken_at: datetime
    body: dict[str, Any]
    digest: str
    readings: tuple[Reading, ...] = field(default=())

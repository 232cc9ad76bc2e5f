"""Who is calling: a person at a desk, a tablet, or a scheduling tool?"""

from dataclasses import dataclass

OFFICE = "office"
MEASURER = "measurer"
LEAD = "lead"
HELPER = "helper"
YARD = "yard"
TABLET = "tablet"
SCHEDULER = "scheduler"

PEOPLE = frozenset({OFFICE, MEASURER, LEAD, HELPER, YARD})
EVERYONE = PEOPLE | {TABLET, SCHEDULER}


@dataclass(frozen=True, slots=True)
class Caller:
    """One authenticated caller.

    `key` is unique over all kinds (`member:3`, `tablet:1`, `integration:1`) and scopes limits and
    idempotency keys; `member_id` is the person behind a session or holding the tablet, if any.
    """

    role: str
    key: str
    name: str
    member_id: int | None = None
    scopes: frozenset[str] = frozenset()

    @property
    def sees_own_crews_only(self) -> bool:
        """Tell whether bookings and packets of other crews are hidden from this caller."""
        return self.role in {TABLET, LEAD, HELPER}


NOBODY = Caller(role="anonymous", key="anonymous", name="anonymous")
SYSTEM = Caller(role="system", key="system", name="the service itself")

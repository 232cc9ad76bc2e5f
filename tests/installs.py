"""Installs, records and saw marks made through their services, for tests that need a row of each."""

from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

from contractor.api.callers import SYSTEM
from jobs.bookings.models import Booking
from jobs.installs.marks import mark_ask
from jobs.installs.models import Install, Mark, Record
from jobs.installs.services import Sent, install_start, record_receive
from tests.factories import fresh_uuid

MORNING = datetime(2027, 3, 2, 14, tzinfo=UTC)
TAPE = {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in"}


def sent(body: dict[str, Any], minutes: int = 0) -> Sent:
    """A fact of Hien Phan's."""
    key = UUID(fresh_uuid())
    return Sent(key, "Hien Phan", MORNING + timedelta(minutes=minutes), body, str(key))


def install_made(booking: Booking) -> Install:
    """Start the install of a booking's only opening."""
    opening = booking.job.openings.get()
    return install_start(by=SYSTEM, sent=sent({}), booking=booking, opening=opening)[0]


def record_made(install: Install) -> Record:
    """Write down a snag."""
    body = {"note": "A scratch on the towel bar."}
    return record_receive(by=SYSTEM, install=install, sent=sent(body), kind="snag")[0]


def mark_body(install: Install) -> dict[str, Any]:
    """Two readings for the rail, before anything was fixed."""
    return {
        "install": str(install.pk),
        "part": "head rail",
        "taken_at": MORNING.isoformat(),
        "as_fixed": [
            {"id": name, "value": "58 in", "read_by": name, "taken_at": "-", "tool": TAPE}
            for name in ("Hien Phan", "Callum Reyes")
        ],
    }


def mark_made(install: Install) -> Mark:
    """Ask for a mark too early: it is held."""
    body = {"as_fixed": mark_body(install)["as_fixed"]}
    return mark_ask(by=SYSTEM, install=install, sent=sent(body), part="head rail")[0]


def install_keys(booking: Booking) -> dict[str, str]:
    """An install with a record and a mark, by their routes' names."""
    install = install_made(booking)
    return {
        "install": str(install.pk),
        "install-record": str(record_made(install).pk),
        "mark": str(mark_made(install).pk),
    }


def all_skipped(booking: Booking) -> dict[str, Any]:
    """Let a lead pass every stop, so that the work may be called finished."""
    install = booking.installs.get()
    for index, stop in enumerate(install.stops):
        fact = sent({"reason": "a test"}, index)
        record_receive(by=OFFICE_CALLER, install=install, sent=fact, kind="skip", stop=stop["key"])
    return {}


OFFICE_CALLER = type(SYSTEM)(role="office", key="member:0", name="Imke Thorsby")

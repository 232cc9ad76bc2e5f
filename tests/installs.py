"""Installs, records and saw marks made through their services, for tests that need a row of each."""

import hashlib
import io
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

from PIL import Image

from contractor.api.callers import SYSTEM
from contractor.people.models import Crew
from jobs.bookings.models import Booking
from jobs.handovers.models import Handover
from jobs.handovers.services import handover_make
from jobs.handovers.signatures import signature_keep
from jobs.installs.marks import mark_ask
from jobs.installs.models import Install, Mark, Record
from jobs.installs.sent import Sent
from jobs.installs.services import install_start, record_receive
from jobs.stock.models import Item, Movement, VanItem
from jobs.stock.services import stock_move
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


def handover_made(install: Install) -> Handover:
    """Hand over to somebody who does not sign."""
    values: dict[str, Any] = {
        "person": "Bram Tolliver",
        "label_shown": True,
        "care_sheet_given": True,
        "tempered_told": True,
        "unsigned_why": "Hands wet.",
    }
    return handover_make(by=SYSTEM, install=install, sent=sent({}), values=values)[0]


def item_made(slug: str) -> Item:
    """A part on the list; the same one when it is there."""
    return Item.objects.filter(slug=slug).first() or Item.objects.create(
        slug=slug, name=slug.title(), kind="screw", reload_below=5, reload_to=20
    )


def movement_made(crew: Crew, item: Item) -> Movement:
    """Load four."""
    fact = sent({})
    return stock_move(by=SYSTEM, sent=fact, crew=crew, item=item, move="loaded", amount=4)[0]


def signature(color: str = "black") -> tuple[str, bytes]:
    """A small signature: its SHA-256 and its bytes."""
    stream = io.BytesIO()
    Image.new("RGB", (8, 6), color).save(stream, "PNG")
    data = stream.getvalue()
    return hashlib.sha256(data).hexdigest(), data


def install_keys(booking: Booking) -> dict[str, str]:
    """An install with a record and a mark, by their routes' names."""
    install, item = install_made(booking), item_made("screw")
    movement_made(booking.crew, item)
    digest, data = signature()
    signature_keep(by=SYSTEM, digest=digest, stream=io.BytesIO(data))
    return {
        "signature": digest,
        "visit-bundle": booking.number,
        "handover": str(handover_made(install).pk),
        "stock-item": item.slug,
        "stock-movement": str(Movement.objects.get().pk),
        "van-stock": str(VanItem.objects.get().pk),
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

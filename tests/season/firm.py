"""Who works in the season? Three crews with a tablet each, an office, and a scheduling program; invented."""

import hashlib
import io
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from PIL import Image

from contractor.api.callers import SYSTEM
from contractor.people.models import Member, Qualification
from contractor.people.services import (
    crew_create,
    integration_issue,
    member_create,
    tablet_issue,
)
from jobs.stock.services import item_add
from tests.clients import Caller
from tests.factories import EVERY_SCOPE, kit_published
from tests.season.bathroom import KIT

CREWS = {
    "heron": ("Marisol Quintero", "Callum Reyes", "Odalys Fenwright"),
    "plover": ("Hien Phan", "Bryn Tallow", "Wren Halloway"),
    "dipper": ("Sorrel Okafor", "Tobias Ankrah", "Ngozi Brandt"),
}
WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday")
HOURS = dict.fromkeys(WEEK, "07:30-12:00, 12:30-17:30")
START = {"start_latitude": Decimal("41.2"), "start_longitude": Decimal("-87.0")}
ITEMS = ("screw", "anchor", "sealant")


@dataclass
class Firm:
    """Everybody who calls, by name; who leads each crew and who helps."""

    callers: dict[str, Caller]
    clerk: Member
    people: dict[str, tuple[str, ...]]
    photo: tuple[str, bytes]
    signature: tuple[str, bytes]

    def log_in(self) -> None:
        """Open the office's session of this week."""
        self.callers["office"].force_login(self.clerk)


def firm_made(now: datetime, days: int) -> Firm:
    """Hire everybody, publish the kit, put the parts on the list; not through HTTP."""
    kit_published(KIT)
    later = now + timedelta(days=3 * days + 60)
    clerk = member_create(
        by=SYSTEM, login="imke", name="Imke Thorsby", role="office", email="imke@example.com"
    )
    callers = {"office": Caller()}
    for slug, names in CREWS.items():
        callers[f"tablet {slug}"] = _crew(slug, names, later)
    _, token = integration_issue(
        by=SYSTEM, name="Planning board (invented)", scopes=EVERY_SCOPE, expires_at=later
    )
    callers["program"] = Caller().with_token(token)
    for slug in ITEMS:
        item_add(by=SYSTEM, slug=slug, name=slug.title(), kind=slug, reload_below=20, reload_to=200)
    return Firm(callers, clerk, CREWS, _image("JPEG"), _image("PNG"))


def _crew(slug: str, names: tuple[str, ...], later: datetime) -> Caller:
    members = [
        member_create(
            by=SYSTEM,
            login=name.split()[0].lower(),
            name=name,
            role="helper" if index else "lead",
            email=f"{name.split()[0].lower()}@example.com",
            qualifications=list(Qualification.values),
        )
        for index, name in enumerate(names)
    ]
    own = {"time_zone": "America/Chicago", "hours": HOURS, "rack_mass": "250 kg", **START}
    crew_create(by=SYSTEM, slug=slug, name=slug.title(), members=members, lead=members[0], **own)
    _, token = tablet_issue(by=SYSTEM, name=f"Tablet {slug}", holder=members[0], expires_at=later)
    return Caller().with_token(token)


def _image(kind: str) -> tuple[str, bytes]:
    stream = io.BytesIO()
    Image.new("RGB", (8, 6), "teal").save(stream, kind)
    data = stream.getvalue()
    return hashlib.sha256(data).hexdigest(), data

"""What do the story's three vans carry? An invented list of parts, loaded, used and counted."""

import hashlib
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from uuid import UUID, uuid5

from contractor.config.demo.story import NAMES
from contractor.people.models import Member
from jobs.installs.models import Install
from jobs.installs.sent import Sent
from jobs.stock.models import Item
from jobs.stock.services import item_add, stock_move

SILICONE = {
    "title": "Clear neutral silicone, data sheet (invented)",
    "edition": "invented, 2026",
    "rows": [
        {"least_celsius": "18", "least_humidity": "40", "hours": "24", "up_to": "10 mm"},
        {"least_celsius": "10", "least_humidity": "40", "hours": "48", "up_to": "10 mm"},
    ],
}
# slug: name, kind, unit, load up below, load up to, data sheet
ITEMS: dict[str, tuple[str, str, str, int, int, dict[str, Any]]] = {
    "screw-10-2": ("Screw #10 × 2 in, stainless", "screw", "piece", 40, 120, {}),
    "screw-8-114": ("Screw #8 × 1 1/4 in, stainless", "screw", "piece", 60, 150, {}),
    "anchor-tile": ("Anchor for tile on board", "anchor", "piece", 20, 60, {}),
    "anchor-hollow": ("Anchor for hollow surround", "anchor", "piece", 16, 40, {}),
    "clear-silicone": ("Clear neutral silicone", "sealant", "cartridge", 4, 12, SILICONE),
}
# van, part, movement, how many, days before the first day
MOVES = (
    ("c-heron", "screw-10-2", "counted", 110, 6),
    ("c-heron", "screw-8-114", "counted", 52, 6),
    ("c-heron", "anchor-tile", "counted", 48, 6),
    ("c-heron", "clear-silicone", "counted", 9, 6),
    ("c-otter", "screw-10-2", "counted", 44, 6),
    ("c-otter", "screw-8-114", "counted", 90, 6),
    ("c-otter", "anchor-hollow", "loaded", 6, 5),
    ("c-otter", "clear-silicone", "counted", 5, 6),
    ("c-otter", "screw-10-2", "used", 12, 3),
    ("c-otter", "anchor-hollow", "used", 8, 3),
    ("c-otter", "clear-silicone", "used", 2, 3),
    ("c-marten", "screw-10-2", "counted", 120, 6),
    ("c-marten", "anchor-tile", "counted", 12, 6),
    ("c-marten", "clear-silicone", "counted", 12, 6),
)


def items_tell(office: Member) -> None:
    """Find or add the parts on the list."""
    for slug, (name, kind, unit, below, most, data) in ITEMS.items():
        if not Item.objects.filter(slug=slug).exists():
            item_add(
                by=office.caller(),
                slug=slug,
                name=name,
                kind=kind,
                unit=unit,
                reload_below=below,
                reload_to=most,
                data_sheet=data,
            )


def vans_tell(rows: dict[str, Any], install: Install, first_day: date) -> None:
    """Find or tell every movement; the otters used two hollow anchors more than were written down."""
    for van, slug, move, amount, days in MOVES:
        name = f"{van} {slug} {move}"
        crew = rows[van]
        lead = crew.places.select_related("member").get(is_lead=True).member
        at = datetime.combine(first_day - timedelta(days=days), time(21), UTC)
        key = UUID(str(uuid5(NAMES, name)))
        sent = Sent(key, lead.name, at, {}, hashlib.sha256(name.encode()).hexdigest())
        stock_move(
            by=lead.caller(),
            sent=sent,
            crew=crew,
            item=Item.objects.get(slug=slug),
            move=move,
            amount=amount,
            install=install if (move, van) == ("used", "c-otter") else None,
        )

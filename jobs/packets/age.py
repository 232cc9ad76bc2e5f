"""Is a printed packet still the one to work from?"""

from typing import Any

from jobs.bookings.models import State
from jobs.openings.models import Opening
from jobs.packets.data import newest_sheet, newest_version, visit_copy, way_copy
from jobs.packets.models import Kind, Packet
from jobs.packets.work import claims_copy, claims_whole, goods_copy
from jobs.verdicts.services import verdict_outdated, verdict_standing

ASKED_AGAIN = "asked for again"
VISIT = "the visit was moved, given to another crew or cancelled"
READ_AGAIN = "the opening was read or described again"
OTHER_KIT = "another kit was decided on"
NEW_SHEET = "the kit's sheet has a newer version"
CLAIMED = "a claim was opened, has grown or was settled"
ORDERED = "what is on order was changed"
WAY_IN = "the way in was told otherwise"
OF_THE_VISIT = ("start", "end", "crew")


def paper_stale(*, packet: Packet) -> str:
    """Say why a packet is not to be worked from any more; empty while it is.

    A stranger may ask, so the reason names the kind of change and nothing of what it was.
    """
    if packet.superseded_by_id is not None:
        return packet.superseded_why
    return paper_overtaken(packet=packet)


def paper_overtaken(*, packet: Packet) -> str:
    """Say what has changed of that which a packet was made from; empty when nothing has."""
    if _visit_changed(packet):
        return VISIT
    if _claims_changed(packet):
        return CLAIMED
    if packet.kind == Kind.INSTALL and _way_changed(packet):
        return WAY_IN
    opening_changed = _unread_changed if packet.kind == Kind.SURVEY else _opening_changed
    return next(filter(None, map(opening_changed, packet.data["openings"])), "")


def _claims_changed(packet: Packet) -> bool:
    """Tell whether a claim that the paper tells at length has grown or gone on since."""
    then = packet.data.get("claims")
    return then is not None and then != claims_whole(packet.job)


def _way_changed(packet: Packet) -> bool:
    """Tell whether the site tells its way in otherwise; older papers held less of it, and are let be."""
    then = packet.data["site"]
    if "way_asks" not in then:
        return False
    now = way_copy(packet.job.site)
    return any(then[name] != now[name] for name in now)


def _visit_changed(packet: Packet) -> bool:
    """Tell whether the visit was cancelled, or moved to another time or crew."""
    booking = packet.booking
    if booking is None:
        return False
    then, now = packet.data["booking"], visit_copy(booking)
    return booking.state != State.BOOKED or any(then[one] != now[one] for one in OF_THE_VISIT)


def _opening_of(copied: dict[str, Any]) -> Opening:
    key = int(copied["number"].partition("-")[2])
    return Opening.objects.select_related("kit", "job__site").get(pk=key)


def _unread_changed(copied: dict[str, Any]) -> str:
    """Say what changed of an opening that is to be read."""
    opening = _opening_of(copied)
    if opening.facts() != copied["facts"]:
        return READ_AGAIN
    sheet = newest_sheet(opening.kit) if opening.kit else None
    kit = copied.get("kit") or {}
    if (sheet.kit_id if sheet else None) != kit.get("id"):
        return OTHER_KIT
    return NEW_SHEET if sheet and sheet.number != kit["version"] else ""


def _opening_changed(copied: dict[str, Any]) -> str:
    """Say whether an opening has another verdict by now, was read again, or has other goods or claims."""
    opening = _opening_of(copied)
    return _judged_anew(opening, copied) or _goods_changed(opening, copied)


def _goods_changed(opening: Opening, copied: dict[str, Any]) -> str:
    """Say whether a claim or an order changed; what came of an order changes no paper."""
    ordered = [_as_ordered(one) for one in goods_copy(opening)] if "goods" in copied else []
    if ordered != [_as_ordered(one) for one in copied.get("goods", [])]:
        return ORDERED
    return CLAIMED if claims_copy(opening) != copied.get("claims", []) else ""


def _as_ordered(piece: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in piece.items() if name != "to_come"}


def _judged_anew(opening: Opening, copied: dict[str, Any]) -> str:
    verdict = verdict_standing(opening=opening)
    kit = copied["kit"]
    if kit is None:
        return READ_AGAIN if verdict else ""
    if verdict is None or verdict.sheet.kit_id != kit.get("id", verdict.sheet.kit_id):
        return OTHER_KIT
    same = verdict.inputs_digest == copied["verdict"]["inputs_digest"]
    if not same and verdict.sheet.number != kit["version"]:
        return NEW_SHEET
    if not same or verdict_outdated(verdict=verdict):
        return READ_AGAIN
    if newest_version(verdict.sheet.kit_id) > kit.get("newest", kit["version"]):
        return NEW_SHEET
    return ""

"""Is a printed packet still the one to work from?"""

from typing import Any

from jobs.bookings.models import State
from jobs.openings.models import Opening
from jobs.packets.data import visit_copy
from jobs.packets.models import Packet
from jobs.verdicts.services import verdict_outdated, verdict_standing

MADE_OF_OLD = "what it was made from has changed; ask for it anew"
OF_THE_VISIT = ("start", "end", "crew")


def paper_stale(*, packet: Packet) -> str:
    """Say why a packet is not to be worked from any more; empty while it is.

    A stranger may ask, so the reason never says what has changed.
    """
    if packet.superseded_by_id is not None:
        return packet.superseded_why
    changed = _visit_changed(packet) or any(map(_verdict_changed, packet.data["openings"]))
    return MADE_OF_OLD if changed else ""


def _visit_changed(packet: Packet) -> bool:
    """Tell whether the visit was cancelled, or moved to another time or crew."""
    booking = packet.booking
    if booking is None:
        return False
    then, now = packet.data["booking"], visit_copy(booking)
    return booking.state != State.BOOKED or any(then[one] != now[one] for one in OF_THE_VISIT)


def _verdict_changed(copied: dict[str, Any]) -> bool:
    """Tell whether an opening has another verdict by now, or was read again since."""
    key = int(copied["number"].partition("-")[2])
    verdict = verdict_standing(opening=Opening.objects.select_related("kit").get(pk=key))
    if verdict is None or verdict_outdated(verdict=verdict):
        return True
    same: bool = verdict.inputs_digest == copied["verdict"]["inputs_digest"]
    return not same

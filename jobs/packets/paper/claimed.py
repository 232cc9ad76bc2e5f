"""What is the other side of a claim told: goods, evidence, statements, whose day ends when?"""

from typing import Any

from jobs.packets.paper.phrases import Json, listed, local_time
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import noted, say

SHOWN_OF_DIGEST, SOUND = 16, "Sound"
NOT_HERE = noted("not here yet")
# What the rows of a claim say of themselves, in the words of their rooms.
ROWS_SAY = noted(
    (
        "Damage, or goods short or wrong",
        "Warranty",
        "Maker",
        "Carrier",
        "The firm itself",
        "Customer",
        "Sound",
        "Damaged",
        "Short: not in the box",
        "Wrong: another piece, size or handing",
        "Crushed, torn or broken",
        "Wet",
        "Told to the other side",
        "Refused by the other side",
        "Settled",
        "Replaced",
        "Repaired",
        "Paid",
        "Paid in part",
        "Nothing was got",
    )
)
TEXTS = (
    "claim",
    "opening",
    "site",
    "party",
    "summary",
    "found_on",
    "filed_on",
    "remake",
    "outcome_says",
)


def claimed_page(claim: Json) -> dict[str, Any]:
    """Return what the paper of one claim tells its other side, as strings; what the firm paid is not told."""
    zone = str(claim.get("zone") or "UTC")
    own = {name: str(claim.get(name) or "") for name in TEXTS}
    named = {name: told(str(claim.get(name) or "")) for name in ("kind", "against")}
    state = str(claim.get("state") or "")
    settled, pieces = bool(claim.get("outcome_says")), claim.get("pieces") or []
    return {
        **own,
        **named,
        "state": "" if state.startswith("Open") else told(state),
        "outcome": told(str(claim.get("outcome") or "")) if settled else "",
        "delivery": _delivery(claim.get("delivery"), zone),
        "pieces": [_piece(one) for one in pieces if one.get("condition") != SOUND],
        "sound": listed([told(str(one["name"])) for one in pieces if one["condition"] == SOUND]),
        "evidence": [_evidence(n, one, zone) for n, one in enumerate(claim["evidence"], start=1)],
        "statements": [_statement(one, zone) for one in claim.get("statements") or []],
        "deadlines": [_deadline(one) for one in claim.get("deadlines") or []],
        "visits": [str(one) for one in claim.get("visits") or []],
        "caution": told(str(claim.get("caution") or "")),
    }


def _delivery(delivery: Json | None, zone: str) -> dict[str, str] | None:
    if not delivery:
        return None
    names = ("order", "reference", "supplier", "carrier", "waybill", "received_by")
    return {name: str(delivery.get(name) or "") for name in names} | {
        "arrived": local_time(delivery.get("arrived_at"), zone),
        "packaging": told(str(delivery.get("packaging") or "")),
        "receipt": say("yes") if delivery.get("noted_at_door") else say("no"),
    }


def _piece(piece: Json) -> dict[str, str]:
    return {
        "name": told(str(piece.get("name") or "")),
        "number": str(piece.get("piece") or ""),
        "count": str(piece.get("count") or ""),
        "condition": told(str(piece.get("condition") or "")),
        "note": str(piece.get("note") or ""),
        "by": str(piece.get("inspected_by") or ""),
    }


def _evidence(number: int, row: Json, zone: str) -> dict[str, str]:
    """One piece of evidence; a photo goes beside the paper, under the first signs of its SHA-256."""
    photo = str(row.get("photo") or "")[:SHOWN_OF_DIGEST]
    late = f" ({say(NOT_HERE)})" if photo and not row.get("photo_here") else ""
    return {
        "number": str(number),
        "photo": photo + late,
        "note": str(row.get("note") or ""),
        "author": str(row.get("author") or ""),
        "when": local_time(row.get("taken_at"), zone),
    }


def _statement(row: Json, zone: str) -> dict[str, str]:
    return {
        "name": str(row.get("name") or ""),
        "party": told(str(row.get("party") or "")),
        "text": str(row.get("text") or ""),
        "when": local_time(row.get("said_at"), zone),
    }


def _deadline(row: Json) -> dict[str, str]:
    source = row.get("source") or {}
    words = (source.get(name) for name in ("document", "edition", "clause", "page"))
    return {
        "clock": told(str(row.get("clock") or "")),
        "ends_on": str(row.get("ends_on") or ""),
        "met_on": str(row.get("met_on") or ""),
        "source": ", ".join(str(one) for one in words if one),
    }

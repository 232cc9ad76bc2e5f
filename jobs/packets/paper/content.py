"""What stands on each page of a packet: frozen data turned into the strings that are printed?"""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from jobs.packets.paper.glyphs import printable
from jobs.packets.paper.loading import load_list
from jobs.packets.paper.opening import opening_page, questions_of
from jobs.packets.paper.phrases import Json


def packet_content(data: Json, qr: str | None) -> dict[str, Any]:
    """Return everything that the template sets, with None for what nobody knows."""
    openings = list(data.get("openings") or [])
    verdicts = [o.get("verdict") or {} for o in openings]
    people = _people(data, verdicts)
    content = {
        "title": f"Packet {data.get('number')}, job {(data.get('job') or {}).get('number')}",
        "number": data.get("number"),
        "code": data.get("code"),
        "code_url": data.get("code_url"),
        "qr": qr,
        "made_at": data.get("made_at"),
        "firm": data.get("firm") or {},
        "job": data.get("job") or {},
        "booking": _booking(data.get("booking")),
        "customer": data.get("customer") or {},
        "site": _site(data.get("site") or {}),
        "hands": str(people),
        "states": [_state_line(o) for o in openings],
        "questions": [q for o in openings for q in questions_of(o)],
        "override": data.get("override"),
        "stop": _stop(data, verdicts),
        "safety": [str(s) for s in data.get("safety") or []],
        "load": load_list(verdicts, people),
        "openings": [opening_page(o) for o in openings],
        "care": _care(openings),
    }
    cleaned: dict[str, Any] = _clean(content)
    return cleaned


def _clean(value: Any) -> Any:
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, dict):
        return {k: _clean(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_clean(v) for v in value]
    return value


def _people(data: Json, verdicts: list[Json]) -> int:
    asked = [int(v["hands_needed"]) for v in verdicts if v.get("hands_needed")]
    booked = len((data.get("booking") or {}).get("members") or [])
    return max([2, booked, *asked])


def _stop(data: Json, verdicts: list[Json]) -> str | None:
    """Return why this packet must not be installed from, when nobody has released it by name."""
    states = {str(v.get("state") or "unknown") for v in verdicts}
    if data.get("override") or not states & {"fails", "unknown"}:
        return None
    return "The verdict does not pass and nobody has released it by name. Ring the office first."


def _state_line(opening: Json) -> dict[str, str]:
    verdict = opening.get("verdict") or {}
    return {
        "name": f"{opening.get('number')} {opening.get('name')}",
        "state": str(verdict.get("state") or "unknown"),
        "summary": str(verdict.get("summary") or "No verdict has been made for this opening."),
    }


def _booking(booking: Json | None) -> dict[str, Any] | None:
    if not booking:
        return None
    zone = str(booking.get("zone") or "")
    start, end = (local_time(booking.get(k), zone) for k in ("start", "end"))
    same_day = start[:-5] == end[:-5]
    return {
        "number": booking.get("number"),
        "visit": booking.get("visit"),
        "when": f"{start} to {end[-5:] if same_day else end}",
        "zone": zone,
        "crew": booking.get("crew"),
        "members": [str(m) for m in booking.get("members") or []],
    }


def local_time(moment: Any, zone: str) -> str:
    """Return a moment on the site's own clock: "Mon 30 Nov 2026, 08:00"; verbatim if it is none."""
    try:
        read = datetime.fromisoformat(str(moment))
        local = read.astimezone(ZoneInfo(zone)) if read.tzinfo else read
    except (ValueError, ZoneInfoNotFoundError):
        return str(moment)
    return f"{local:%a %d %b %Y, %H:%M}"


def _site(site: Json) -> dict[str, Any]:
    return {
        "address_lines": [str(line) for line in site.get("address_lines") or []],
        "access_notes": site.get("access_notes") or None,
        "way_in": [
            {"what": str(w.get("what")), "value": str(w.get("value") or "not read")}
            for w in site.get("way_in") or []
        ],
        "year_built": str(site["year_built"]) if site.get("year_built") else None,
    }


def _care(openings: list[Any]) -> list[dict[str, Any]]:
    pages = []
    for opening in openings:
        sheet = (opening.get("inputs") or {}).get("sheet") or {}
        hours = (opening.get("verdict") or {}).get("cure_hours")
        pages.append(
            {
                "name": f"{opening.get('number')} {opening.get('name')}",
                "cure": None if hours is None else str(hours),
                "warranty": _warranty(sheet.get("warranty")),
                "claim": _claim(sheet.get("claim")),
            }
        )
    return pages


def _warranty(warranty: Json | None) -> str | None:
    if not warranty:
        return None
    return f"{warranty.get('years')} years: {warranty.get('terms')} (page {warranty.get('page')})"


def _claim(claim: Json | None) -> str | None:
    if not claim:
        return None
    days = claim.get("within_days")
    within = f" within {days} days" if days else ""
    return f"to {claim.get('contact')}{within} (page {claim.get('page')})"

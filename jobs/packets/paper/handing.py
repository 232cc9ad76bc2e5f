"""What does the customer keep: the first shower in words, warranty, claims?"""

from datetime import datetime, timedelta
from typing import Any

from fitcheck.rules.sealing_told import hours_told
from jobs.packets.paper.phrases import Json, local_time
from jobs.packets.paper.words import say


def care_page(opening: Json) -> dict[str, Any]:
    """Return what one opening's customer is told about cure, warranty and claims."""
    sheet = (opening.get("inputs") or {}).get("sheet") or {}
    hours = hours_told(opening.get("verdict") or {})
    return {
        "name": f"{opening.get('number')} {opening.get('name')}",
        "cure": cure_words(hours),
        "first": first_shower(opening, hours),
        "warranty": _warranty(sheet.get("warranty")),
        "claim": claim_words(sheet.get("claim")),
    }


def cure_words(hours: Any) -> str | None:
    """Return how long the sealant cures, in hours and, from two days on, in days; None if unknown."""
    if hours is None:
        return None
    text = str(hours)
    if text.isdecimal() and int(text) >= 48 and int(text) % 24 == 0:
        return say("{hours} hours ({days} days)", hours=text, days=int(text) // 24)
    return say("{hours} hours", hours=text)


def first_shower(opening: Json, hours: Any) -> str | None:
    """Return when the first shower may be, in words, once the bead's end is recorded."""
    work = opening.get("work") or {}
    ready, zone = work.get("cured_at"), str(work.get("zone") or "")
    if not ready and work.get("bead_at") and hours is not None:
        ready = (
            datetime.fromisoformat(work["bead_at"]) + timedelta(hours=float(hours))
        ).isoformat()
    return local_time(ready, zone) if ready else None


def _warranty(warranty: Json | None) -> str | None:
    if not warranty:
        return None
    years = warranty.get("years")
    text = say("{years} years: {terms} (page {page})")
    if years == 1:
        text = say("{years} year: {terms} (page {page})")
    return text.format(years=years, terms=warranty.get("terms"), page=warranty.get("page"))


def claim_words(claim: Json | None) -> str | None:
    """Return to whom the kit's maker wants claims, by when, and the sheet's page."""
    if not claim:
        return None
    contact, days, page = (claim.get(k) for k in ("contact", "within_days", "page"))
    if days:
        return say(
            "to {contact} within {days} days (page {page})", contact=contact, days=days, page=page
        )
    return say("to {contact} (page {page})", contact=contact, page=page)

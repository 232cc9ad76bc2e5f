"""How is damage claimed: what to keep, whom to tell, by when?"""

from typing import Any

from jobs.packets.paper.handing import claim_words
from jobs.packets.paper.opening import kit_line
from jobs.packets.paper.phrases import Json, panel_size, panels_in_order, source_of
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import noted, say

STATES = noted({"open": "open", "filed": "filed", "refused": "refused"})


def claim_page(opening: Json) -> dict[str, Any]:
    """Return what a claim about one opening's goods needs."""
    verdict = opening.get("verdict") or {}
    claim = ((opening.get("inputs") or {}).get("sheet") or {}).get("claim")
    days = (claim or {}).get("within_days")
    return {
        "name": f"{opening.get('number')} {opening.get('name')}",
        "kit": kit_line(opening.get("kit"), verdict),
        "to": claim_words(claim),
        "days": say("{n} days", n=days) if days else None,
        "panels": [
            {"name": told(str(p.get("name"))), "size": panel_size(p), "source": source_of(p)}
            for p in panels_in_order(verdict)
        ],
        "open": [_open(one) for one in opening.get("claims") or []],
    }


def _open(claim: Json) -> dict[str, str]:
    told_as = {key: str(claim.get(key) or "") for key in ("number", "about", "deadline")}
    return told_as | {"state": say(STATES.get(str(claim.get("state")), "open"))}

"""What is expected to arrive, and what is looked at on the day it lands?"""

from typing import Any

from jobs.packets.paper.claiming import claim_page
from jobs.packets.paper.loading import small_parts
from jobs.packets.paper.opening import kit_line
from jobs.packets.paper.phrases import Json, panel_size, panels_in_order, words
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import say


def goods_page(opening: Json) -> dict[str, Any]:
    """Return the panels and parts that one opening's kit must hold, and how a claim is made."""
    verdict = opening.get("verdict") or {}
    return {
        **claim_page(opening),
        "kit": kit_line(opening.get("kit"), verdict),
        "panels": [panel_row(panel) for panel in panels_in_order(verdict)],
        "parts": part_rows(verdict),
    }


def panel_row(panel: Json) -> dict[str, str]:
    """Return one panel as it is expected."""
    handing = str(panel.get("handing") or "none")
    return {
        "name": told(str(panel.get("name"))),
        "size": panel_size(panel),
        "mass": str(panel.get("mass") or say("mass not known")),
        "hands": str(panel.get("hands") or 2),
        "handing": "" if handing == "none" else told(handing),
    }


def part_rows(verdict: Json) -> list[dict[str, str]]:
    """Return the parts that are counted: bars, then anchors and screws that the schedule takes."""
    rows = [
        {
            "count": str(cut.get("count") or 1),
            "what": told(str(cut.get("part"))),
            "size": say("stock {stock}", stock=words(cut.get("stock"))),
        }
        for cut in verdict.get("cuts") or []
    ]
    small = small_parts([verdict])
    return rows + [{"count": str(n), "what": what, "size": ""} for what, n in small.items()]

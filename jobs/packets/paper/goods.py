"""What is expected to arrive, and what is looked at on the day it lands?"""

from datetime import datetime
from typing import Any

from jobs.packets.paper.claiming import claim_page
from jobs.packets.paper.loading import small_parts
from jobs.packets.paper.opening import glass_drawn, kit_line
from jobs.packets.paper.phrases import (
    Json,
    day_of,
    listed,
    mass_of,
    panel_size,
    panels_in_order,
    words,
)
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import say


def goods_page(opening: Json) -> dict[str, Any]:
    """Return the panels and parts that one opening's kit must hold, and how a claim is made."""
    verdict = opening.get("verdict") or {}
    goods = opening.get("goods") or []
    awaited = [piece for piece in goods if piece.get("to_come")]
    panels = [panel_row(panel) for panel in panels_in_order(verdict)]
    parts = part_rows(verdict)
    if goods:
        panels = [_ordered_panel(one, verdict) for one in awaited if one.get("what") == "panel"]
        parts = [_ordered_part(one) for one in awaited if one.get("what") != "panel"]
    return {
        **claim_page(opening),
        "kit": kit_line(opening.get("kit"), verdict),
        "orders": list(dict.fromkeys(_order_line(one) for one in awaited)),
        "ordered": bool(goods),
        "here": listed(_here(one) for one in goods if not one.get("to_come")),
        "panels": panels,
        "glass": glass_drawn(opening.get("inputs") or {}, verdict),
        "parts": parts,
    }


def _order_line(piece: Json) -> str:
    """Return who sends a piece, under which numbers, and for which day."""
    parts = [str(piece.get("order")), str(piece.get("supplier") or "")]
    if piece.get("reference"):
        parts.append(say("their number {number}", number=piece["reference"]))
    if piece.get("expected_on"):
        parts.append(
            say("expected {day}", day=day_of(datetime.fromisoformat(piece["expected_on"])))
        )
    return ", ".join(part for part in parts if part)


def _name(piece: Json) -> str:
    """Return what a piece is; orders read "inner panel" where a verdict says "inner"."""
    name = str(piece.get("name"))
    panel = name.removesuffix(" panel")
    return say("panel {panel}", panel=told(panel)) if panel != name else told(name)


def _here(piece: Json) -> str:
    return f"{piece.get('count')} × {_name(piece)}"


def _ordered_panel(piece: Json, verdict: Json) -> dict[str, str]:
    """Return one panel as it is on order; its handing and hands are the verdict's, where it has it."""
    alike = [one for one in panels_in_order(verdict) if f"{one.get('name')} panel" == piece["name"]]
    known = alike[0] if alike else {}
    count = f"{piece['to_come']} × " if piece["to_come"] != 1 else ""
    row = panel_row({**known, "name": piece["name"], "mass": piece.get("mass")})
    return row | {
        "name": count + _name(piece),
        "size": str(piece.get("size") or ""),
        "number": _number(piece),
    }


def _ordered_part(piece: Json) -> dict[str, str]:
    size = piece.get("size")
    return {
        "count": str(piece["to_come"]),
        "what": _name(piece),
        "size": say("stock {stock}", stock=size) if size else "",
        "number": _number(piece),
    }


def _number(piece: Json) -> str:
    return f"{piece.get('order')} · {piece.get('number')}"


def panel_row(panel: Json) -> dict[str, str]:
    """Return one panel as it is expected."""
    handing = str(panel.get("handing") or "none")
    return {
        "name": told(str(panel.get("name"))),
        "size": panel_size(panel),
        "mass": mass_of(panel),
        "hands": str(panel.get("hands") or 2),
        "handing": "" if handing == "none" else told(handing),
        "number": "",
    }


def part_rows(verdict: Json) -> list[dict[str, str]]:
    """Return the parts that are counted: bars, then anchors and screws that the schedule takes."""
    rows = [
        {
            "count": str(cut.get("count") or 1),
            "what": told(str(cut.get("part"))),
            "size": say("stock {stock}", stock=words(cut.get("stock"))),
            "number": "",
        }
        for cut in verdict.get("cuts") or []
    ]
    small = small_parts([verdict])
    return rows + [
        {"count": str(n), "what": what, "size": "", "number": ""} for what, n in small.items()
    ]

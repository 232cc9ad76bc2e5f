"""What is to be read in this opening, how, and where is it written?"""

from typing import Any

from jobs.packets.paper.opening import station
from jobs.packets.paper.phrases import Json, word
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import noted, say

HOW = noted(
    {
        "width": "Inside to inside, tape level and flat. Two people or two tools; the second reads "
        "without hearing the first. Start at the tape's 0; if you start at 1, write so.",
        "lean": "Level or laser line along the wall from the sill up. Write how far the top leans in "
        "(+) or away (−), and over which height.",
        "sill_level": "Level along the sill. Write by how much the right end is higher (+) or lower (−) "
        "than the left.",
        "sill_fall": "Level across the sill's depth. Write by how much the inner edge is lower (+) or "
        "higher (−) than the outer: water must run in.",
        "ceiling_height": "From the sill straight up to the lowest thing a panel could meet: ceiling, "
        "soffit, light.",
        "surround_height": "From the sill to the top edge of tile or surround.",
        "diagonal": "From one foot corner to the opposite corner at head height; both diagonals to "
        "the same height.",
        "curb_depth": "Front to back over the whole curb or deck.",
        "curb_flat": "Only the part that is flat, without rounded edges.",
        "backing_centre": "Find stud or blocking at this height; from the sill's outer edge to its "
        "centre.",
        "masonry_edge": "From the hole nearest to it to the free edge of the masonry itself, not of the "
        "tile.",
        "head_joint": "From the hole nearest to it to the upright joint of the block, both sides.",
    }
)
GENERAL: tuple[tuple[str, str, str | None], ...] = (
    ("width", "none", None),
    ("width", "none", None),
    ("width", "none", None),
    ("lean", "left", None),
    ("lean", "right", None),
    ("sill_level", "none", None),
    ("sill_fall", "none", None),
    ("ceiling_height", "left", None),
    ("ceiling_height", "right", None),
    ("surround_height", "left", None),
    ("surround_height", "right", None),
    ("curb_depth", "none", None),
    ("curb_flat", "none", None),
    ("backing_centre", "left", None),
    ("backing_centre", "right", None),
)
PLACES = noted(("at the sill", "in the middle", "near head-rail height"))
DIAGONALS = (("diagonal", "left", None), ("diagonal", "right", None))
FREE = frozenset({"width", "backing_centre"})
ZONES = noted(("left wall", "right wall", "sill"))


def reading_page(opening: Json) -> dict[str, Any]:
    """Return one opening's reading list: what, where, how, with what it is needed for."""
    plan = opening.get("plan")
    return {
        "name": f"{opening.get('number')} {opening.get('name')}",
        "facts": [_fact(k, opening) for k in ("enclosure", "stands_on", "shower_head_side")],
        "kit": (opening.get("kit") or {}).get("name"),
        "groups": _groups(plan if plan else _general()),
        "by_kit": bool(plan),
        "zones": [say(one) for one in ZONES],
        "finishes": ", ".join(word(one) for one in opening.get("finishes") or []) or None,
        "structures": ", ".join(word(one) for one in opening.get("structures") or []) or None,
    }


def _fact(key: str, opening: Json) -> dict[str, str]:
    value = (opening.get("facts") or {}).get(key) or "unknown"
    return {"what": word(key), "value": word(value)}


def _general() -> list[Json]:
    return [{"quantity": q, "side": s, "height": h} for q, s, h in GENERAL]


def _groups(plan: list[Json]) -> list[dict[str, Any]]:
    """Return the readings by quantity, so that the way to read stands once above its boxes."""
    named = {str(one.get("quantity")) for one in plan}
    whole = list(plan)
    if "diagonal" not in named:
        whole += [{"quantity": q, "side": s, "height": h} for q, s, h in DIAGONALS]
    groups: dict[str, list[Json]] = {}
    for one in whole:
        groups.setdefault(str(one.get("quantity")), []).append(one)
    return [_group(quantity, rows) for quantity, rows in groups.items()]


def _group(quantity: str, rows: list[Json]) -> dict[str, Any]:
    return {
        "what": word(quantity),
        "how": say(HOW[quantity]) if quantity in HOW else "",
        "rows": [_row(quantity, i, row) for i, row in enumerate(rows)],
    }


def _row(quantity: str, index: int, row: Json) -> dict[str, Any]:
    where = station(row)
    if quantity == "width" and not row.get("height"):
        where = say(PLACES[index]) if index < len(PLACES) else where
    return {
        "where": where,
        "why": told(_shortened(str(row["why"]))) if row.get("why") else "",
        "height": bool(quantity in FREE and not row.get("height")),
        "over": quantity == "lean",
    }


def _shortened(why: str) -> str:
    """Return what a reading is needed for without the places whose every part is named by itself."""
    places = why.split("; ")
    first = places[0].removeprefix("needed for ")
    named = {first, *places[1:]}
    return "; ".join(one for one in places if ", " not in one or not set(one.split(", ")) <= named)

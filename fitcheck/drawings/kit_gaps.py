"""Which gaps does a boxed kit leave in this opening, by its own sheet and by the widths as read?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings import facts
from fitcheck.drawings.captions import of_quantity
from fitcheck.drawings.measures import both_units, length_nm, nearest_text

Json = Mapping[str, Any]
OTHERS = "Other gaps: by the kit's sheet."
UNSPLIT = "How much of it is left and how much right of the door, the kit's sheet does not say."
BY_SIZE = "sizes of the kit's sheet"


def overlap_nm(inputs: Json, verdict_json: Json) -> int | None:
    """Return by how much two sliding panels overlap at least, both at their walls [nm]; None for others."""
    panels, widths = _panels(verdict_json), _values(inputs, "width")
    if "slider" not in _kind(inputs) or len(panels) != 2 or not widths:
        return None
    return sum(panels) - max(widths)


def beside_nm(inputs: Json, verdict_json: Json) -> int | None:
    """Return what a single panel leaves of the width at least, both sides together [nm]."""
    panels, widths = _panels(verdict_json), _values(inputs, "width")
    if len(panels) != 1 or not widths:
        return None
    return min(widths) - panels[0]


def gaps_said(inputs: Json, verdict_json: Json) -> list[str]:
    """Return every gap that is known, in words, each with where its figure comes from."""
    return [
        *_between(inputs, verdict_json),
        *_to_the_ceiling(inputs, verdict_json),
        *_cuts(inputs, verdict_json),
        OTHERS,
    ]


def strip_of(verdict_json: Json) -> Json | None:
    """Return the cut of the strip that lies on the sill over its whole width, if there is one."""
    found = [
        cut
        for cut in verdict_json.get("cuts") or []
        if cut.get("from") == "width" and str(cut.get("part")) in ("threshold strip", "deck strip")
    ]
    return found[0] if found else None


def _between(inputs: Json, verdict_json: Json) -> list[str]:
    overlap, beside = overlap_nm(inputs, verdict_json), beside_nm(inputs, verdict_json)
    if overlap is not None and overlap > 0:
        told = _told(overlap, inputs)
        return [
            f"Panels overlap by {told} or more, both at their walls ({BY_SIZE}, widest width as read)."
        ]
    if beside is None or beside <= 0:
        return []
    by = f"({BY_SIZE}, narrowest width as read)"
    if _kind(inputs) == "fixed_screen":
        return [f"Way in beside the screen: {_told(beside, inputs)} or more {by}."]
    return [f"Beside the door, both sides together: {_told(beside, inputs)} or more {by}.", UNSPLIT]


def _to_the_ceiling(inputs: Json, verdict_json: Json) -> list[str]:
    ceilings = _values(inputs, "ceiling_height")
    rail = (inputs.get("sheet") or {}).get("rail_height")
    heights = [p.get("height") for p in verdict_json.get("panels") or []]
    tallest = max(heights, key=lambda one: length_nm(one) or 0, default=None)
    top = length_nm(rail or tallest)
    if not ceilings or top is None:
        return []
    told = _told(min(ceilings) - top, inputs)
    if rail:
        return [f"From the head rail at {rail} to the lowest ceiling read: {told}."]
    return [f"From the glass's own height of {tallest} to the lowest ceiling read: {told}."]


def _cuts(inputs: Json, verdict_json: Json) -> list[str]:
    lines = []
    for cut in verdict_json.get("cuts") or []:
        page = (cut.get("source") or {}).get("page")
        if not length_nm(cut.get("deduct")) or not page:
            continue
        told, sheet = both_units(cut["deduct"]), f"(kit sheet, page {page})"
        if cut.get("from") == "between_brackets":
            lines.append(
                f"The {cut['part']} is {told} shorter than from bracket to bracket {sheet}."
            )
        elif cut.get("from") == "width":
            ends = ", both ends together" if cut == strip_of(verdict_json) else ""
            lines.append(f"The {cut['part']} is {told} shorter than the width{ends} {sheet}.")
    return lines


def wall_of_screen(verdict_json: Json) -> str:
    """Return the wall that a fixed screen stands at: the one that takes its channel."""
    fixings = verdict_json.get("fixings") or []
    right = [one for one in fixings if one.get("surface") == "right_wall"]
    left = [one for one in fixings if one.get("surface") == "left_wall"]
    return "right" if len(right) > len(left) else "left"


def _kind(inputs: Json) -> str:
    return str((inputs.get("sheet") or {}).get("kind"))


def _panels(verdict_json: Json) -> list[int]:
    found = [length_nm(panel.get("width")) for panel in verdict_json.get("panels") or []]
    return [one for one in found if one]


def _values(inputs: Json, quantity: str) -> list[int]:
    found = [length_nm(one.get("value")) for one in of_quantity(inputs, quantity)]
    return [one for one in found if one is not None]


def _told(nm: int, inputs: Json) -> str:
    return " · ".join(nearest_text(nm, facts.unit_of(inputs), facts.mark_of(inputs)))

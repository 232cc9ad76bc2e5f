"""Which readings and which demands of the sheet does a drawing show?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings.captions import of_quantity
from fitcheck.drawings.measures import length_mm, length_nm

Json = Mapping[str, Any]
SAME_HEIGHT_MM = 152.4  # a reading speaks for a fixing within six inches, as the rules have it
SIDES = ("left", "right")
MASONRY = frozenset({"block", "brick", "concrete"})


def unit_of(inputs: Json) -> str:
    """Return the unit that comes first: the firm's if it is told, else the sheet's."""
    told = (inputs.get("house") or {}).get("unit") or (inputs.get("sheet") or {}).get("unit")
    return "mm" if told in ("mm", "metric") else "inch"


def mark_of(inputs: Json) -> int:
    """Return into how many parts the firm divides an inch [-]."""
    mark = (inputs.get("house") or {}).get("mark")
    return mark if isinstance(mark, int) and mark > 0 else 16


def value_of(inputs: Json, quantity: str, side: str | None = None) -> str | None:
    """Return the first readable reading of a quantity as it was entered."""
    for reading in of_quantity(inputs, quantity, side):
        if length_nm(reading.get("value")) is not None:
            return str(reading["value"])
    return None


def is_masonry(inputs: Json, side: str) -> bool:
    """Return whether a wall is masonry all over, so that no stud is to be found in it."""
    zones = [z for z in inputs.get("zones") or [] if z.get("surface") == f"{side}_wall"]
    return bool(zones) and all(zone.get("structure") in MASONRY for zone in zones)


def backing_of(inputs: Json, side: str) -> list[Json]:
    """Return the readings of a wall's stud or blocking that can be drawn, from the sill up."""
    readings = [
        r
        for r in of_quantity(inputs, "backing_centre", side)
        if length_nm(r.get("value")) is not None and length_nm(r.get("height")) is not None
    ]
    return sorted(readings, key=lambda r: length_nm(r["height"]) or 0)


def backing_near(inputs: Json, side: str, height: Any) -> Json | None:
    """Return the reading of a stud that speaks for a height, the nearest one within reach."""
    at = length_mm(height)
    if at is None:
        return None
    found = [(abs((length_mm(r["height"]) or 0.0) - at), r) for r in backing_of(inputs, side)]
    near = min(found, key=lambda one: one[0], default=None)
    return near[1] if near and near[0] <= SAME_HEIGHT_MM else None


def setbacks_of(inputs: Json, side: str) -> list[Json]:
    """Return the sheet's demands on a wall's stud or blocking."""
    sheet = inputs.get("sheet") or {}
    return [r for r in sheet.get("backing") or [] if side in (r.get("sides") or [])]


def depth_known(inputs: Json) -> tuple[str | None, float]:
    """Return the curb's depth as entered, and the depth that is drawn [mm]."""
    entered = value_of(inputs, "curb_depth")
    drawn = length_mm(entered) if entered else None
    least = ((inputs.get("sheet") or {}).get("curb") or {}).get("depth_least")
    return entered, drawn or length_mm(least) or 110.0


def furthest_mm(inputs: Json, sides: tuple[str, ...] = SIDES) -> float:
    """Return how far in from the sill's outer edge a drawing must reach [mm]."""
    far = [depth_known(inputs)[1]]
    for side in sides:
        far += [length_mm(r["value"]) or 0.0 for r in backing_of(inputs, side)]
        for rule in setbacks_of(inputs, side):
            far += [length_mm(rule.get(name)) or 0.0 for name in ("setback_least", "setback_most")]
    return max(far)


def stands_on(inputs: Json) -> str:
    """Return what the opening stands on, in words."""
    told = str((inputs.get("opening") or {}).get("stands_on") or "curb")
    return told.replace("_", " ")


def shower_side(inputs: Json) -> str:
    """Return the shower head's side, or "unknown"."""
    side = (inputs.get("opening") or {}).get("shower_head_side")
    return str(side) if side in SIDES else "unknown"


def screws_at(inputs: Json, fixing: Json) -> str | None:
    """Return how far in the sheet puts the middle of a bracket's screws, as the sheet says it."""
    for rule in (inputs.get("sheet") or {}).get("fixings") or []:
        named = rule.get("surface")
        surfaces = ("left_wall", "right_wall") if named == "both_walls" else (named,)
        heights = rule.get("heights") or [rule.get("height")]
        same = (
            rule.get("place"),
            fixing.get("surface") in surfaces,
            fixing.get("height") in heights,
        )
        setback = (rule.get("bracket") or {}).get("setback")
        if same == (fixing.get("place"), True, True) and length_nm(setback) is not None:
            return str(setback)
    return None


def rollers_of(inputs: Json, panel: Json) -> str | None:
    """Return how far apart a panel's rollers are, as the sheet says it; None when it does not."""
    rail = (inputs.get("sheet") or {}).get("rail") or {}
    hangs = rail.get("hangs") or []
    if hangs and panel.get("name") not in hangs:
        return None
    return str(rail["roller_spacing"]) if length_nm(rail.get("roller_spacing")) else None

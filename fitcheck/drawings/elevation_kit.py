"""How does the kit stand in a front elevation: head rail, strip, panels with what lies between, masses?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings import captions
from fitcheck.drawings.elevation_view import ElevationView
from fitcheck.drawings.kit_gaps import beside_nm, gaps_said, overlap_nm, strip_of, wall_of_screen
from fitcheck.drawings.measures import length_mm, length_nm
from fitcheck.drawings.model import At, Shape, Text, nm
from fitcheck.drawings.signs import box, note, stroke

FOOT = 4.0  # pt: the panels are drawn clear of the sill, by how much is the kit's
MARKED = 0.62  # of the height: where a gap is marked, clear of the widths
LOW = 60.0  # pt: where a panel's words begin over its foot
LEAST_LABEL = 46.0  # pt: a panel narrower than this is named in the caption only


def kit_shapes(
    view: ElevationView, inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]
) -> list[Shape]:
    """Return rail and panels, dashed: they are the kit's, not the wall's."""
    return [
        *_rail(view, inputs),
        *_strip(view, verdict_json),
        *_panels(view, inputs, verdict_json),
        *_between(view, inputs, verdict_json),
    ]


def _rail(view: ElevationView, inputs: Mapping[str, Any]) -> list[Shape]:
    rail = view.outline.rail_mm
    if rail is None:
        return []
    left, right = view.wall_at("left", rail), view.wall_at("right", rail)
    height = str((inputs.get("sheet") or {}).get("rail_height"))
    middle = At((left.x + right.x) // 2, left.y)
    return [
        box(left.moved(0, -3), right.moved(0, 3), "kit", "dashed"),
        Text(middle.moved(0, 19), f"head rail at {height}", anchor="middle", bold=True, halo=True),
        Text(middle.moved(0, 8), captions.other_unit(height), anchor="middle", halo=True),
    ]


def _strip(view: ElevationView, verdict_json: Mapping[str, Any]) -> list[Shape]:
    """Draw the strip on the sill as long as it is cut, its two ends alike."""
    cut = strip_of(verdict_json)
    long = length_nm((cut or {}).get("length"))
    if long is None:
        return []
    end = max(0, (view.base_nm - long) // 2)
    return [box(At(end), At(end + long, 0, 0, FOOT), "kit", "fine")]


def _between(
    view: ElevationView, inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]
) -> list[Shape]:
    """Mark where two panels overlap, or the way in beside a screen, if there is room for the word."""
    panels = [length_nm(p.get("width")) or 0 for p in verdict_json.get("panels") or []]
    high = nm(view.outline.top_mm * MARKED)
    if len(panels) == 2 and (overlap_nm(inputs, verdict_json) or 0) > 0:
        ends = (At(view.base_nm - panels[1], high), At(panels[0], high))
        return _marked(ends, "overlap")
    beside = beside_nm(inputs, verdict_json) or 0
    kind = (inputs.get("sheet") or {}).get("kind")
    if kind == "fixed_screen" and beside / 1e6 * view.scale > LEAST_LABEL:
        rest = view.base_nm - panels[0]
        sides = (At(0, high), At(rest, high)), (At(panels[0], high), At(view.base_nm, high))
        return _marked(sides[wall_of_screen(verdict_json) == "left"], "way in")
    return []


def _marked(ends: tuple[At, At], said: str) -> list[Shape]:
    middle = At((ends[0].x + ends[1].x) // 2, ends[0].y)
    ticks = [stroke(end.moved(0, -4), end.moved(0, 4), "kit") for end in ends]
    return [
        stroke(*ends, "kit"),
        *ticks,
        Text(middle.moved(0, 6), said, "kit", anchor="middle", halo=True),
    ]


def _panels(
    view: ElevationView, inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]
) -> list[Shape]:
    kind = (inputs.get("sheet") or {}).get("kind")
    at_right = kind == "fixed_screen" and wall_of_screen(verdict_json) == "right"
    alone = 0.5 if kind == "hinged_door" else float(at_right)
    panels = [p for p in verdict_json.get("panels") or [] if length_mm(p.get("width"))]
    shapes: list[Shape] = []
    taken = 0.0  # labels stand clear of the panel before
    for place, panel in enumerate(panels):
        wide = min((length_mm(panel.get("width")) or 0.0) * view.scale, view.wide)
        tall = length_nm(panel.get("height")) or nm(view.outline.top_mm)
        share = place / (len(panels) - 1) if len(panels) > 1 else alone
        x = share * (view.wide - wide)
        shapes.append(box(At(dx=x, dy=FOOT), At(0, tall, x + wide, FOOT), "glass", "dashed"))
        at = max(x, taken) + 6
        room, taken = x + wide - at - 6, x + wide
        if room < LEAST_LABEL or view.narrow:
            continue
        label = f"{panel.get('name')} {panel.get('width')} × {panel.get('height')}"
        lines, down = note(At(dx=at, dy=_low(view)), label, room)
        shapes += lines
        if panel.get("mass"):
            shapes.append(Text(At(dx=at, dy=_low(view) - down), str(panel["mass"]), bold=True))
    return shapes


BOXES = (
    "Glass made to measure: each size is the smallest upright box around a panel; its edges and the "
    "gaps stand in its own drawing."
)
NOT_CUT = "Glass made to measure: none is cut before the opening is known well enough."


def _low(view: ElevationView) -> float:
    """Return how high over the sill a panel's words begin: clear of the sill's own width [pt]."""
    return FOOT + LOW + 14


def panels_said(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> list[str]:
    """Return every panel by name, size and mass, then the gaps that its sheet and the readings tell."""
    said = "; ".join(
        f"{p.get('name')} {p.get('width')} × {p.get('height')}, {p.get('mass')}"
        for p in verdict_json.get("panels") or []
    )
    if verdict_json.get("made_glass"):
        return [f"Panels: {said}. {BOXES}"] if said else [NOT_CUT]
    return [f"Panels: {said}.", " ".join(gaps_said(inputs, verdict_json))] if said else []

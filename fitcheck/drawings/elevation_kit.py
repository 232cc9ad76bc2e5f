"""How does the kit stand in a front elevation: head rail, panels, what they weigh?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings import captions
from fitcheck.drawings.elevation_view import ElevationView
from fitcheck.drawings.measures import length_mm, length_nm
from fitcheck.drawings.model import At, Shape, Text, nm
from fitcheck.drawings.signs import box, note

FOOT = 4.0  # pt: the panels are drawn clear of the sill, by how much is the kit's
LOW = 60.0  # pt: where a panel's words begin over its foot
LEAST_LABEL = 46.0  # pt: a panel narrower than this is named in the caption only


def kit_shapes(
    view: ElevationView, inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]
) -> list[Shape]:
    """Return rail and panels, dashed: they are the kit's, not the wall's."""
    return [*_rail(view, inputs), *_panels(view, verdict_json)]


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


def _panels(view: ElevationView, verdict_json: Mapping[str, Any]) -> list[Shape]:
    panels = [p for p in verdict_json.get("panels") or [] if length_mm(p.get("width"))]
    shapes: list[Shape] = []
    taken = 0.0  # labels stand clear of the panel before
    for place, panel in enumerate(panels):
        wide = min((length_mm(panel.get("width")) or 0.0) * view.scale, view.wide)
        tall = length_nm(panel.get("height")) or nm(view.outline.top_mm)
        share = place / (len(panels) - 1) if len(panels) > 1 else 0.0
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


def _low(view: ElevationView) -> float:
    """Return how high over the sill a panel's words begin: clear of the sill's own width [pt]."""
    return FOOT + LOW + 14


def panels_said(verdict_json: Mapping[str, Any]) -> list[str]:
    """Return every panel by name, size and mass; gaps of a boxed kit are the kit's own."""
    said = "; ".join(
        f"{p.get('name')} {p.get('width')} × {p.get('height')}, {p.get('mass')}"
        for p in verdict_json.get("panels") or []
    )
    return [f"Panels: {said}. Gaps and overlap: by the kit's sheet."] if said else []

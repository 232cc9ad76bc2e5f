"""Which panel hangs first, on which side are its handle holes, and which face looks where?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings import facts
from fitcheck.drawings.handing_made import BY_PLACE, OWN, made_of, made_shapes
from fitcheck.drawings.measures import both_units, length_mm, length_nm, pair, word
from fitcheck.drawings.model import At, Circle, Dimension, Drawing, Shape, Text, View, page
from fitcheck.drawings.signs import (
    LEADING,
    WRAPPED,
    balloon,
    box,
    note,
    notes_down,
    shower_head,
    stroke,
)
from fitcheck.drawings.svg import PAGE_WIDTH, SMALL
from fitcheck.drawings.write_svg import svg_write

TOP, TALL, GUTTER, ROW = 58.0, 150.0, 16.0, SMALL * LEADING
MOST_ACROSS, BESIDE = 4, 152.0  # panels in a row; room for each with words beside [pt]
SLIDERS = ("bypass_slider", "single_slider")
FACES = "Drawn as seen from outside, facing in: the face that you see looks into the bathroom."


def svg_handing(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> str:
    """Return every panel in the order of hanging, with its handle side, as SVG."""
    return svg_write(handing(inputs, verdict_json))


def handing(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> Drawing:
    """Return every panel from outside: order, handle side, roller edge, size and mass."""
    panels = _in_order(verdict_json)
    across = min(MOST_ACROSS, max(1, len(panels)))
    beside = across < 3 and bool(
        panels
    )  # one or two panels leave room for the words at their right
    room = BESIDE if beside else (PAGE_WIDTH - 8 - GUTTER * (across - 1)) / across
    highest = max([length_mm(p.get("height")) or 1.0 for p in panels], default=1.0)
    widest = max([length_mm(p.get("width")) or 1.0 for p in panels], default=1.0)
    scale = min(TALL / highest, (room - 62) / widest)
    views: list[View] = []
    y = TOP + (0 if panels else 12)
    for row in range(0, len(panels), MOST_ACROSS):
        low = y + highest * scale
        lowest = low
        for i, panel in enumerate(panels[row : row + MOST_ACROSS]):
            shapes, down = _panel(inputs, panel, panels, room, scale)
            views.append(View(4 + i * (room + GUTTER), low, scale, tuple(shapes)))
            lowest = max(lowest, low + down)
        y = lowest + TOP
    low = y - TOP
    x, top = (4 + across * (room + GUTTER), TOP) if beside else (4.0, low + 16)
    foot, down = notes_down(page(x, top), _sayings(inputs, panels), PAGE_WIDTH - 4 - x)
    views.append(View(0, 0, 1, (*_head(inputs), *foot)))
    said, high = _said(inputs, panels), max(low + 4, top + down)
    return Drawing("handing", "Panel handing", said, PAGE_WIDTH, high, tuple(views))


def _in_order(verdict_json: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Return the panels in the order of hanging, each with what was worked out of it."""
    told = {p.get("name"): p.get("handle") for p in verdict_json.get("panes") or []}
    made = made_of(verdict_json)
    panels = [
        {**p, "handle": told.get(p.get("name"))} if told.get(p.get("name")) else p
        for p in verdict_json.get("panels") or []
    ]
    panels = [{**p, "made": made[p["name"]]} if p.get("name") in made else p for p in panels]
    return sorted(panels, key=lambda p: p.get("order") or 0)


def side_of(inputs: Mapping[str, Any], panel: Mapping[str, Any]) -> str:
    """Return the side of a panel's handle holes seen from outside: left, right, none or unknown.

    A side that the rules worked out counts. Else the words are the sheet's; "shower-head side" is
    turned into a side by the survey, and what names no side, or one that depends on an unknown, stays
    unknown.
    """
    if panel.get("made"):
        return str(panel["made"].get("handle") or "none")
    if panel.get("handle") in ("left", "right", "unknown"):
        return str(panel["handle"])
    told = str(panel.get("handing") or "none").lower()
    if told == "none":
        return "none"
    if "shower-head side" in told:
        return facts.shower_side(inputs)
    named = [side for side in facts.SIDES if side in told.replace(",", " ").split()]
    return named[0] if len(named) == 1 else "unknown"


def _head(inputs: Mapping[str, Any]) -> list[Shape]:
    side = facts.shower_side(inputs)
    if side == "unknown":
        words = "Shower-head side not known yet: no handle side may be trusted before it is."
        return [Text(page(4, 14), words, "unknown", bold=True)]
    x, way = (4.0, 1) if side == "left" else (PAGE_WIDTH - 4, -1)
    return shower_head(page(x, 10), way)


def _panel(
    inputs: Mapping[str, Any],
    panel: Mapping[str, Any],
    panels: list[Any],
    room: float,
    scale: float,
) -> tuple[list[Shape], float]:
    """Draw one panel with its foot at the view's origin; returns how far down its words reach."""
    wide, tall = length_nm(panel.get("width")), length_nm(panel.get("height"))
    known = wide is not None and tall is not None
    wide, tall = wide or round(room * 0.6 / scale * 1e6), tall or round(TALL / scale * 1e6)
    left = (room - wide / 1e6 * scale) / 2
    number, made = str(panels.index(panel) + 1), panel.get("made")
    if made:
        shapes = [*made_shapes(made, left), *balloon(At(wide // 2, tall, left, 26), number)]
        return _worded(shapes, panel, room, OWN)
    at = At(dx=left)
    face = box(at, At(wide, tall, left), "glass", "heavy" if known else "dashed")
    shapes = [face, *balloon(At(wide // 2, tall, left, 26), number)]
    shapes += _rollers(inputs, panel, At(0, tall, left), wide)
    shapes += _handles(side_of(inputs, panel), left, wide, tall)
    if known:
        under = At(wide // 2, 0, left, -27)
        ends = (at, At(wide, 0, left))
        shapes.append(Dimension(*ends, wide, pair(panel["width"]), "level", -14, under))
        label_at = At(wide // 2, tall // 5, left)
        label = (f"high {pair(panel['height'])[0]}", pair(panel["height"])[1])
        shapes.append(Dimension(at, At(0, tall, left), tall, label, "plumb", -12, label_at))
    return _worded(shapes, panel, room)


def _worded(
    shapes: list[Shape], panel: Mapping[str, Any], room: float, *more_words: str
) -> tuple[list[Shape], float]:
    """Write a panel's name, mass, hands and handing under it."""
    words = [
        f"{panel.get('name')}, {panel.get('thickness')}, {panel.get('mass')}, "
        f"{panel.get('hands')} people",
        f"Sheet: {panel.get('handing')}",
        *more_words,
    ]
    down = 54.0
    for i, line in enumerate(words):
        more, high = note(At(dy=-down), line, room * WRAPPED, bold=i == 0)
        shapes += more
        down += high
    return shapes, down


def _rollers(
    inputs: Mapping[str, Any], panel: Mapping[str, Any], corner: At, wide: int
) -> list[Shape]:
    """Mark the edge that hangs; where its holes are is the sheet's, so no place is drawn."""
    kind = (inputs.get("sheet") or {}).get("kind")
    if kind not in SLIDERS or str(panel.get("name")).startswith("fixed"):
        return []
    far = At(corner.x + wide, corner.y, corner.dx, corner.dy)
    return [
        stroke(corner.moved(4, -9), far.moved(-4, -9), "unknown", "dashed"),
        Text(
            At(wide // 2, corner.y, corner.dx, corner.dy + 6),
            _roller_words(str(panel.get("name"))),
            anchor="middle",
        ),
    ]


def _roller_words(name: str) -> str:
    pair_ = next((p for p in ("inner", "outer") if p in name.lower()), "")
    return f"{pair_} roller holes up".strip()


def _handles(side: str, left: float, wide: int, tall: int) -> list[Shape]:
    if side == "none":
        return []
    if side == "unknown":
        both = [At(0, tall // 2, left + 14), At(wide, tall // 2, left - 14)]
        return [
            *(
                Text(at.moved(0, 8), "?", "unknown", anchor="middle", bold=True, size=14)
                for at in both
            ),
            Text(At(wide // 2, tall // 2, left, 26), "handle side", "unknown", anchor="middle"),
            Text(At(wide // 2, tall // 2, left, 15), "not known", "unknown", anchor="middle"),
        ]
    x, shift = (0, left + 14) if side == "left" else (wide, left - 14)
    at = At(x, tall // 2, shift)
    return [
        Circle(at.moved(0, 22), "holes", radius_pt=3.5, fill="paper"),
        Circle(at.moved(0, -22), "holes", radius_pt=3.5, fill="paper"),
        stroke(at.moved(0, 18), at.moved(0, -18), "holes", "dotted"),
        Text(At(wide // 2, tall // 2, left, 40), "handle holes", anchor="middle"),
        Text(At(wide // 2, tall // 2, left, 29), f"on the {side}", anchor="middle", bold=True),
    ]


def _sayings(inputs: Mapping[str, Any], panels: list[Any]) -> list[str]:
    if not panels:
        return ["No panel is known: no kit has been asked about, or none of its sizes fits."]
    kind = (inputs.get("sheet") or {}).get("kind")
    order = " then ".join(f"{i + 1} {p.get('name')}" for i, p in enumerate(panels))
    said = [f"Order of hanging: {order}.", FACES]
    if kind == "bypass_slider":
        said.append(
            "The inner panel runs on the shower's side of the rail, the outer on the bathroom's side "
            "(common practice, no source). Handles with all their gaskets; no metal on glass."
        )
    apart = {r for p in panels if (r := facts.rollers_of(inputs, p))}
    said += [f"Rollers {both_units(one)} apart, by the sheet." for one in sorted(apart)]
    if any(p.get("made") for p in panels):
        return [*said, BY_PLACE]
    said.append(
        "Handle and roller holes are drawn by their side, not by their place: measure nothing off "
        "this picture. The kit's sheet outranks it."
    )
    return said


def _said(inputs: Mapping[str, Any], panels: list[Any]) -> str:
    parts = [f"Shower head: {facts.shower_side(inputs)}. {FACES}"]
    for i, panel in enumerate(panels):
        parts.append(
            f"{i + 1}: {panel.get('name')}, {both_units(panel.get('width'))} wide, "
            f"{both_units(panel.get('height'))} high, {panel.get('mass')}, handle holes: "
            f"{word(side_of(inputs, panel))}."
        )
    return " ".join(parts if panels else [*parts, "No panel is known."])

"""What does the opening look like from the side: curb, fall, rail, glass, heights?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings import facts
from fitcheck.drawings.captions import of_quantity, zones_said
from fitcheck.drawings.measures import both_units, length_mm, length_nm, pair
from fitcheck.drawings.model import At, Dimension, Drawing, Path, Shape, Text, View, nm, page
from fitcheck.drawings.outline import LADDER, outline_of
from fitcheck.drawings.signs import box, notes_down, spread, stroke, stud
from fitcheck.drawings.svg import PAGE_WIDTH
from fitcheck.drawings.write_svg import svg_write

TALL, WIDE, LEFT, TOP = 196.0, 120.0, 66.0, 16.0  # pt: the side view's room
LABELS, ROW = 268.0, 11.0
CURB = 26.0  # pt: of the curb's height, which nobody reads
GLASS_DRAWN = 2.5  # pt: half the drawn thickness of a pane


def svg_section(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> str:
    """Return the side section as SVG, looking at the left wall, the bathroom on the left."""
    return svg_write(section(inputs, verdict_json))


def section(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> Drawing:
    """Return the opening from the side: curb with its fall, rail, glass, studs, every height."""
    heights = _heights(inputs, verdict_json)
    top = max([at for _, at, _ in heights] + [nm(outline_of(inputs).top_mm)])
    scale = TALL / (top / 1e6)
    far = facts.furthest_mm(inputs, ("left",)) + 10
    times = next((e for e in LADDER if far * scale * e <= WIDE), 1)
    base = TOP + TALL
    labels, low = _labels(heights, scale, base, far * scale * times)
    shapes = [
        *_curb(inputs, times),
        *_inside(inputs, verdict_json, times, top),
        *labels,
    ]
    foot, high = _foot(_sayings(inputs, times), low + 12, base + CURB + 46)
    views = (View(LEFT, base, scale, tuple(shapes)), View(0, 0, 1, tuple(foot)))
    size = verdict_json.get("size")
    title = f"Side section{f', kit size {size}' if size else ''}"
    return Drawing("section", title, _said(inputs, heights), PAGE_WIDTH, high, views)


def _foot(sayings: list[str], beside: float, below: float) -> tuple[list[Shape], float]:
    """Write the words beside the drawing, or below it when that is lower; returns how high all is."""
    foot, down = notes_down(page(LABELS, beside), sayings, PAGE_WIDTH - LABELS)
    under, deep = notes_down(page(4, below + 8), sayings, PAGE_WIDTH - 8)
    low, lower = max(below, beside + down), below + 8 + deep
    return (foot, low) if low <= lower else (under, lower)


Height = tuple[str, int, tuple[str, ...]]


def _heights(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> list[Height]:
    """Return every known height: its name, the height [nm], its two lines of label."""
    found: list[tuple[str, Any]] = []
    for side in facts.SIDES:
        for quantity, name in (("ceiling_height", "ceiling"), ("surround_height", "surround")):
            found += [
                (f"{name}, {side}", r.get("value")) for r in of_quantity(inputs, quantity, side)
            ]
    sheet = inputs.get("sheet") or {}
    found.append(("head rail", sheet.get("rail_height")))
    for panel in verdict_json.get("panels") or []:
        found.append((f"panel {panel.get('name')}", panel.get("height")))
    rows = [(name, length_nm(value), pair(value)) for name, value in found]
    return _merged([(name, at, label) for name, at, label in rows if at is not None and at > 0])


def _merged(rows: list[Height]) -> list[Height]:
    """Return one row for what stands at one height, from the sill up."""
    merged: dict[tuple[int, tuple[str, ...]], list[str]] = {}
    for name, at, label in rows:
        merged.setdefault((at, label), []).append(name)
    named = [(", ".join(dict.fromkeys(n)), at, label) for (at, label), n in merged.items()]
    return sorted(named, key=lambda one: one[1])


def _curb(inputs: Mapping[str, Any], times: int) -> list[Shape]:
    entered, depth = facts.depth_known(inputs)
    wide = nm(depth * times)
    fall = length_mm(facts.value_of(inputs, "sill_fall"))
    drop = (
        0.0 if fall is None else max(-7.0, min(7.0, 4.0 if fall > 0 else -4.0 if fall < 0 else 0))
    )
    known = entered is not None
    corners = (At(dy=-CURB), At(), At(wide, 0, 0, -drop), At(wide, 0, 0, -CURB))
    label = (f"depth {entered}", pair(entered)[1]) if entered else ()
    shapes: list[Shape] = [
        Path(corners, "opening", "heavy" if known else "dashed"),
        stroke(At(dx=-60, dy=-CURB), At(dy=-CURB), "opening", "heavy"),
        stroke(At(wide, 0, 0, -CURB), At(wide, 0, 60, -CURB), "opening", "heavy"),
        Text(At(dx=-58, dy=-CURB + 4), "bathroom", anchor="start"),
        Text(At(wide, 0, 58, -CURB + 4), "shower", anchor="end"),
    ]
    if entered:
        ends = (At(dy=-CURB), At(wide, 0, 0, -CURB))
        at = At(wide // 2, 0, 0, -CURB - 27)
        shapes.append(Dimension(*ends, length_nm(entered) or 0, label, off=-14, label_at=at))
    else:
        shapes.append(
            Text(At(wide // 2, 0, 0, -CURB - 24), "depth not read", "unknown", anchor="middle")
        )
    return shapes


def _inside(
    inputs: Mapping[str, Any], verdict_json: Mapping[str, Any], times: int, top: int
) -> list[Shape]:
    """Draw glass, rail and studs over the curb; the glass stands where the kit puts it."""
    _, depth = facts.depth_known(inputs)
    middle = nm(depth * times / 2)
    shapes: list[Shape] = [stroke(At(dy=0), At(0, top), "opening", "dotted")]
    tall = [length_nm(p.get("height")) or 0 for p in verdict_json.get("panels") or []]
    if tall:
        low, high = At(middle, 0, -GLASS_DRAWN, 2), At(middle, max(tall), GLASS_DRAWN, 2)
        shapes.append(box(low, high, "glass", "dashed"))
    rail = length_nm((inputs.get("sheet") or {}).get("rail_height"))
    if rail:
        shapes.append(box(At(middle, rail, -6, -5), At(middle, rail, 6, 5), "kit"))
    for reading in facts.backing_of(inputs, "left"):
        at = At(nm((length_mm(reading["value"]) or 0.0) * times), length_nm(reading["height"]) or 0)
        if at.y <= top:
            shapes += stud(at)
    return shapes


def _labels(
    heights: list[Height], scale: float, base: float, wide: float
) -> tuple[list[Shape], float]:
    """Draw each height as a dimension of its own, labelled in one column; returns where that ends."""
    down = list(reversed(heights))
    wanted = [base - at / 1e6 * scale for _, at, _ in down]
    tops = spread(wanted, [ROW * 2 + 4.0] * len(down), 4.0)
    shapes: list[Shape] = []
    left = wide + 14
    apart = min(9.0, (LABELS - LEFT - left - 24) / max(1, len(down)))
    for i, ((name, at, label), top) in enumerate(zip(down, tops, strict=True)):
        x = left + i * apart
        words = At(0, 0, LABELS - LEFT, base - top - 9)
        shapes += [
            Dimension(
                At(dx=x), At(0, at, x), at, (name, " · ".join(label)), "plumb", 0, words, "start"
            ),
            stroke(At(0, at, 0), At(0, at, x), "dimensions", "dotted"),
            stroke(At(0, at, x), words.moved(-3, -2), "dimensions", "fine"),
        ]
    if not down:
        shapes.append(Text(At(0, 0, LABELS - LEFT, base / 2), "No height read.", "unknown"))
    return shapes, max([base / 2, *(top + ROW * 2 + 4 for top in tops)])


def _sayings(inputs: Mapping[str, Any], times: int) -> list[str]:
    fall = facts.value_of(inputs, "sill_fall")
    flat = facts.value_of(inputs, "curb_flat")
    way = "outward: water would run into the bathroom" if str(fall).startswith("-") else "inward"
    told = f"Sill falls {way} by {both_units(fall)}" if fall else "Fall of the sill not read"
    enlarged = f"drawn {times} times as large as heights" if times > 1 else "drawn as heights are"
    return [
        f"{told}. Flat top {both_units(flat) if flat else 'not read'}.",
        *zones_said(inputs, ("left_wall", "sill")),
        f"Looking at the left wall. Depths are {enlarged}. Dashed: glass, drawn in the middle of the "
        "curb because where it stands is the kit's. The curb's own height is not read. Crossed "
        "circle: centre of stud or blocking in the left wall.",
    ]


def _said(inputs: Mapping[str, Any], heights: list[Height]) -> str:
    entered, _ = facts.depth_known(inputs)
    parts = [f"The {facts.stands_on(inputs)} from the side."]
    parts.append(f"Depth {both_units(entered)}." if entered else "Depth not read.")
    parts += [f"{name}: {' · '.join(label)}." for name, _, label in heights]
    return " ".join([*parts, *_sayings(inputs, 1)[:1]])

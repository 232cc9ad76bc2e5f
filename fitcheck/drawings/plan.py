"""What does the opening look like from above: curb, setbacks, studs, fall?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings import facts
from fitcheck.drawings.captions import lettered, zones_said
from fitcheck.drawings.hatching import family_of
from fitcheck.drawings.measures import both_units, length_mm, length_nm, pair, words
from fitcheck.drawings.model import (
    At,
    Dimension,
    Drawing,
    Hatch,
    Kind,
    Path,
    Shape,
    Text,
    View,
    nm,
    page,
)
from fitcheck.drawings.outline import outline_of
from fitcheck.drawings.signs import (
    arrow,
    balloon,
    note,
    notes_down,
    shower_head,
    spread,
    stroke,
    stud,
)
from fitcheck.drawings.svg import PAGE_WIDTH
from fitcheck.drawings.write_svg import svg_write

LEFT, RIGHT, BREAK = 142.0, 368.0, 262.0  # pt: wall faces and the break between both ends
DEEP, TOP = 116.0, 40.0  # pt: how deep the drawn depth is, where it begins
WALL, AWAY, COLUMN, ROW = 14.0, 54.0, 84.0, 12.0
MOST_SCALE = 1.3


def svg_plan(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> str:
    """Return the plan as SVG: both ends of the curb, what lies between them broken out."""
    return svg_write(plan(inputs, verdict_json))


def plan(inputs: Mapping[str, Any], verdict_json: Mapping[str, Any]) -> Drawing:
    """Return the opening from above: curb, both studs with their setbacks, fall, sill width."""
    far = facts.furthest_mm(inputs) + 14
    scale = min(DEEP / far, MOST_SCALE)
    base = TOP + far * scale
    curb = View(LEFT, base, scale, tuple(_curb(inputs, scale)))
    sides = [_side(inputs, side, far, scale, base) for side in facts.SIDES]
    under = max(base + 64, *(low for _, low in sides))
    foot, down = _foot(inputs, under)
    views = (curb, *(view for view, _ in sides), View(0, 0, 1, tuple(foot)))
    size = verdict_json.get("size")
    title = f"Plan{f', kit size {size}' if size else ''}"
    return Drawing("plan", title, _said(inputs), PAGE_WIDTH, under + down + 6, views)


def _curb(inputs: Mapping[str, Any], scale: float) -> list[Shape]:
    entered, depth = facts.depth_known(inputs)
    outer, inner = At(0, 0), At(0, nm(depth))
    wide = RIGHT - LEFT
    kind: Kind = "solid" if entered else "dashed"
    shapes: list[Shape] = [
        stroke(outer, outer.moved(wide), "opening", "heavy" if entered else "dashed"),
        stroke(inner, inner.moved(wide), "opening", kind),
        Path(
            tuple(
                At(0, nm(depth) if i % 2 else 0, BREAK - LEFT + dx, dy)
                for i, (dx, dy) in enumerate(((-5, -9), (5, 9)))
            ),
            "opening",
            "fine",
        ),
        *_between(inputs, depth, scale),
        Text(outer.moved(wide / 2, -58), "outside: the bathroom", anchor="middle"),
        Text(inner.moved(wide / 2, 5), "inside: the shower", anchor="middle"),
    ]
    return shapes + _sill_width(inputs, wide)


def _between(inputs: Mapping[str, Any], depth: float, scale: float) -> list[Shape]:
    """Draw depth and fall on either side of the break."""
    entered, _ = facts.depth_known(inputs)
    middle = BREAK - LEFT
    a, b = At(0, 0, middle - 16), At(0, nm(depth), middle - 16)
    label = pair(entered)
    at = At(0, nm(depth / 2), middle - 22, -2)
    told = at.moved(0, 5)
    shapes: list[Shape] = (
        [Dimension(a, b, length_nm(entered) or 0, label, "plumb", label_at=told, anchor="end")]
        if entered
        else [Text(told, "depth not read", "unknown", anchor="end")]
    )
    fall = facts.value_of(inputs, "sill_fall")
    if fall is None:
        return [*shapes, Text(at.moved(40), "fall not read", "unknown")]
    inward = not fall.lstrip().startswith("-")
    low, high = At(0, nm(depth * 0.2), middle + 16), At(0, nm(depth * 0.8), middle + 16)
    ends = (low, high) if inward else (high, low)
    shapes += arrow(*ends, (0, 1 if inward else -1))
    for i, line in enumerate((f"falls {'inward' if inward else 'OUTWARD'}", *pair(fall))):
        shapes.append(
            Text(at.moved(44, 13 - i * 11), line.replace("-", ""), bold=i < 1 and not inward)
        )
    return shapes


def _sill_width(inputs: Mapping[str, Any], wide: float) -> list[Shape]:
    widths = outline_of(inputs).widths
    a, b = At(), At(dx=wide)
    if not widths:
        at = a.moved(wide / 2, -34)
        return [Text(at, "no width read", "unknown", anchor="middle", bold=True)]
    lowest = widths[0]
    entered = ", ".join(dict.fromkeys(lowest.entered))
    others = ", ".join(dict.fromkeys(pair(one)[1] for one in lowest.entered))
    label = (f"at {lowest.height}: {entered}", others)
    return [Dimension(a, b, nm(lowest.width_mm), label, off=-34)]


def _side(
    inputs: Mapping[str, Any], side: str, far: float, scale: float, base: float
) -> tuple[View, float]:
    """Draw one wall with its studs, and return how low its words reach."""
    out = -1 if side == "left" else 1
    x = LEFT if side == "left" else RIGHT
    shapes: list[Shape] = [
        *_wall(inputs, side, far, out),
        *_limits(inputs, side, out),
        *(shower_head(At(0, nm(far), 0, 14), -out) if facts.shower_side(inputs) == side else ()),
    ]
    marks, low = _marks(inputs, side, out, (scale, base))
    return View(x, base, scale, (*shapes, *marks)), low


def _wall(inputs: Mapping[str, Any], side: str, far: float, out: int) -> list[Shape]:
    low = [z for z in lettered(inputs) if z[1].get("surface") == f"{side}_wall"]
    low.sort(key=lambda one: length_mm(one[1].get("from_height")) or 0.0)
    xs = sorted((0.0, out * WALL))
    top = At(0, nm(far))
    face = stroke(At(), top, "opening", "heavy")
    if not low:
        return [Hatch(At(dx=xs[0]), top.moved(xs[1]), "unknown"), face]
    letter, zone = low[0]
    hatch = Hatch(At(dx=xs[0]), top.moved(xs[1]), family_of(zone))
    return [hatch, face, *balloon(top.moved(out * WALL / 2, 11), letter)]


def _limits(inputs: Mapping[str, Any], side: str, out: int) -> list[Shape]:
    """Draw where the sheet wants the stud: a slanted band on the wall's face, and its words."""
    shapes: list[Shape] = []
    rules = facts.setbacks_of(inputs, side)
    asked = [(length_nm(r.get("setback_least")), length_nm(r.get("setback_most"))) for r in rules]
    for i, (least, most) in enumerate(dict.fromkeys(asked)):
        if least is None:
            continue
        top = most if most is not None else least + nm(60)
        near, far = sorted((-out * (3.0 + 9 * i), -out * (9.0 + 9 * i)))
        shapes.append(Hatch(At(0, least, near), At(0, top, far), "moulded_solid", "limits"))
        if most is None:
            shapes.append(stroke(At(0, top, near), At(0, top, far), "limits", "dashed"))
    return shapes


def _marks(
    inputs: Mapping[str, Any], side: str, out: int, size: tuple[float, float]
) -> tuple[list[Shape], float]:
    """Draw every stud read on one wall, its setback as a dimension labelled in the column."""
    scale, base = size
    found = sorted(facts.backing_of(inputs, side), key=lambda r: -(length_nm(r["value"]) or 0))
    edge = out * AWAY
    if not found:
        at = At(0, 0, edge if out > 0 else 4 - LEFT, (base - TOP) / 2)
        masonry = facts.is_masonry(inputs, side)
        words = "Stud or blocking not read on this wall."
        if masonry:
            words = "Masonry on this wall: no stud to be found."
        more, _ = note(at, words, COLUMN, layer="words" if masonry else "unknown")
        return [*more], base
    apart = min(9.0, 26.0 / len(found))
    wanted = [base - (length_mm(r["value"]) or 0.0) / 2 * scale for r in found]
    order = sorted(range(len(found)), key=lambda i: wanted[i])
    tops = spread([wanted[i] for i in order], [ROW * 3 + 2] * len(found), TOP - 10)
    shapes: list[Shape] = []
    for place, i in enumerate(order):
        reading, top = found[i], tops[place]
        at, off = At(0, length_nm(reading["value"]) or 0), out * (WALL + 8 + apart * place)
        label = (f"stud at {reading['height']}", *pair(reading["value"]))
        shapes += stud(at.moved(out * WALL / 2))
        words_at = At(0, 0, edge, base - top - 9)
        level = min(at.y, max(0, nm((words_at.dy - 8) / scale)))
        line = (At(0, level, off), words_at.moved(-out * 2, -8))
        shapes.append(stroke(*line, "dimensions", "fine"))
        shapes.append(
            Dimension(
                At(dx=out * WALL),
                at.moved(out * WALL),
                at.y,
                label,
                "plumb",
                off - out * WALL,
                words_at,
                "start" if out > 0 else "end",
            )
        )
    return shapes, max(tops) + ROW * 3 + 4


def _foot(inputs: Mapping[str, Any], y: float) -> tuple[list[Shape], float]:
    flat = facts.value_of(inputs, "curb_flat")
    sayings = [
        f"Flat top: {both_units(flat)}; where in the depth it lies was not read."
        if flat
        else "Flat top not read.",
        *_demands(inputs),
        *zones_said(inputs, ("left_wall", "right_wall"), at_the_sill=True),
        "Seen from above. Both ends are drawn to one scale; the middle is broken out. Crossed "
        "circle: centre of stud or blocking, measured from the sill's outer edge. Slanted band: "
        "where the sheet wants it.",
    ]
    return notes_down(page(4, y + 12), sayings, PAGE_WIDTH - 8)


def _demands(inputs: Mapping[str, Any]) -> list[str]:
    told: dict[str, list[str]] = {}
    for side in facts.SIDES:
        for rule in facts.setbacks_of(inputs, side):
            most = rule.get("setback_most")
            to = f" to {both_units(most)}" if most else " or more"
            least = both_units(rule.get("setback_least"))
            text = f"{rule.get('place')} at {words(rule.get('height'))}: {least}{to}"
            told.setdefault(text, []).append(side)
    return [f"Sheet, {' and '.join(sides)}: {text}." for text, sides in told.items()]


def _said(inputs: Mapping[str, Any]) -> str:
    entered, _ = facts.depth_known(inputs)
    parts = [f"The {facts.stands_on(inputs)} from above."]
    parts.append(f"Depth {both_units(entered)}." if entered else "Depth not read.")
    for side in facts.SIDES:
        found = facts.backing_of(inputs, side)
        said = "; ".join(f"{both_units(r['value'])} at {r['height']}" for r in found)
        parts.append(f"Stud, {side}: {said or 'not read'}.")
    return " ".join([*parts, *_demands(inputs)])

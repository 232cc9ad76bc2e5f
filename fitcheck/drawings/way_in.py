"""How does a panel get in: each place of the way with the panel in it, the tightest by its name?"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fitcheck.drawings.measures import both_units, length_mm, length_nm, words
from fitcheck.drawings.model import Drawing, Shape, Text, View, page
from fitcheck.drawings.signs import note, notes_down
from fitcheck.drawings.svg import PAGE_WIDTH
from fitcheck.drawings.way_in_poses import sketch_of
from fitcheck.drawings.write_svg import svg_write
from fitcheck.rules.length import mm_text
from fitcheck.rules.tables_carrying import PACKING_EACH_SIDE, ROOM_FOR_HANDS
from fitcheck.rules.way_in import Place, Slab, passages

TOP, CELL, TALL, WIDE, GUTTER = 20.0, 242.0, 66.0, 118.0, 16.0
WORDS = 104.0  # pt: the words beside a sketch
SIZES: dict[str, tuple[tuple[str, str], ...]] = {
    "doorway": (("width", "wide"), ("height", "high")),
    "corner": (("from", "corridor before"), ("to", "corridor after"), ("height", "high")),
    "stairs": (("width", "wide"), ("headroom", "headroom"), ("rise", "rise"), ("going", "going")),
    "stair_turn": (("flight", "flight"), ("landing", "landing"), ("height", "high")),
    "lift_car": (
        ("width", "wide"),
        ("depth", "deep"),
        ("height", "high"),
        ("door_width", "door wide"),
        ("door_height", "door high"),
    ),
}
ALSO: dict[str, tuple[tuple[str, str], ...]] = {
    "stair_turn": (("across", "landing across"), ("rise", "rise"), ("going", "going")),
}  # what need not be told, and is reckoned with where it is
NO_SIZE = "No size of the way in is known: ask for doors, corridors, stairs and lift."
STRAIGHT = "Straight in on one level, as the site is told: nothing to pass but its door."
WORD = {"stair_turn": "stair turn", "lift_car": "lift car"}


@dataclass(frozen=True, slots=True)
class Step:
    """One place of the way: its sizes as told, and what the rules said of it, if they could."""

    kind: str
    name: str
    sizes: Mapping[str, str]
    passage: Mapping[str, Any] | None

    @property
    def state(self) -> str:
        """Return what the rules say; unknown where a size is missing."""
        return str((self.passage or {}).get("state") or "unknown")

    @property
    def missing(self) -> list[str]:
        """Return the sizes that nobody has told."""
        return [said for name, said in SIZES[self.kind] if not self.sizes.get(name)]


def steps_of(
    panel: Mapping[str, Any], way: Sequence[Mapping[str, Any]], mark: int = 16
) -> list[Step]:
    """Return each place of a way with what the rules say of it; nothing where a size is missing.

    A place has `kind`, `name` and its sizes as lengths with their units.
    """
    slab = _slab(panel)
    steps = []
    for place in way:
        kind = str(place.get("kind"))
        if kind not in SIZES:
            continue
        name = str(place.get("name") or WORD.get(kind, kind))
        sizes = {key: str(place[key]) for key, _ in named_sizes(kind) if length_nm(place.get(key))}
        step = Step(kind, name, sizes, None)
        found = (
            passages(slab, (_place(step),), ROOM_FOR_HANDS.value, mark)
            if _whole(slab, step)
            else ()
        )
        steps.append(Step(kind, name, sizes, found[0].as_json() if found else None))
    return steps


def carried(panel: Mapping[str, Any]) -> dict[str, Any]:
    """Return a panel in the packing that the house carries it in, on every side of it."""
    return {**panel, "packed": mm_text(PACKING_EACH_SIDE.value)}


def panels_carried(
    panels: Sequence[Mapping[str, Any]], way: Sequence[Mapping[str, Any]], mark: int = 16
) -> list[tuple[dict[str, Any], list[Step]]]:
    """Return each panel in its packing with the places of the way, the tightest panel first.

    Panels that no place holds up are told by their size, the largest first.
    """
    found: dict[Slab, list[Step]] = {}
    rows = []
    for panel in map(carried, panels):
        slab = _slab(panel)
        if slab not in found:
            found[slab] = steps_of(panel, way, mark)
        rows.append((panel, found[slab]))
    return sorted(rows, key=lambda row: (_least(row[1]), -_area(row[0])))


def _least(steps: Sequence[Step]) -> float:
    tight = tightest(steps)
    margin = length_nm((tight.passage or {}).get("margin")) if tight else None
    return math.inf if margin is None else margin


def _area(panel: Mapping[str, Any]) -> float:
    return (length_mm(panel.get("width")) or 0.0) * (length_mm(panel.get("height")) or 0.0)


def named_sizes(kind: str) -> tuple[tuple[str, str], ...]:
    """Return each size that a kind of place may have, with its word."""
    return (*SIZES[kind], *ALSO.get(kind, ()))


def _whole(slab: Slab, step: Step) -> bool:
    return not step.missing and slab.side > 0 and slab.upright > 0


def _slab(panel: Mapping[str, Any]) -> Slab:
    more = 2 * (length_mm(panel.get("packed")) or 0.0)
    thick = sum(length_mm(panel.get(name)) or 0.0 for name in ("thickness", "packing"))
    width, height = (length_mm(panel.get(name)) for name in ("width", "height"))
    return Slab(width + more if width else 0.0, height + more if height else 0.0, thick + more)


def _place(step: Step) -> Place:
    sizes = {name: length_mm(value) or 0.0 for name, value in step.sizes.items()}
    told = {"rise", "going"} <= sizes.keys() or step.kind != "stair_turn"
    rise, going = sizes.pop("rise", 0.0), sizes.pop("going", 1.0)
    return Place(step.kind, step.name, sizes, rise if told else 0.0, going, told)


def svg_way_in(
    panel: Mapping[str, Any], steps: Sequence[Step], asks: Sequence[str] = (NO_SIZE,)
) -> str:
    """Return the way in as SVG: one sketch a place, two in a row; `asks` is said where there is none."""
    return svg_write(way_in(panel, steps, asks))


def way_in(
    panel: Mapping[str, Any], steps: Sequence[Step], asks: Sequence[str] = (NO_SIZE,)
) -> Drawing:
    """Return the panel in every place whose sizes are told, in the pose that passes, the tightest named.

    What is to be measured of the others stands as words below, or beside a sketch that is alone.
    """
    tight = tightest(steps)
    drawn = [step for step in steps if step.passage is not None]
    views: list[View] = []
    y = TOP
    for row in range(0, len(drawn), 2):
        deep = 0.0
        for i, step in enumerate(drawn[row : row + 2]):
            x = 4 + i * (CELL + GUTTER)
            cell, down = _cell(panel, step, row + i + 1, step is tight and len(drawn) > 1, (x, y))
            views += cell
            deep = max(deep, down)
        y += deep + 8
    sayings = _sayings(panel, steps, tight if len(drawn) > 1 else None) if steps else list(asks)
    aside = CELL + GUTTER + 4 if len(drawn) == 1 else 4.0
    start = TOP + 9 if len(drawn) == 1 else y
    foot, down = notes_down(page(aside, start), sayings, PAGE_WIDTH - 4 - aside)
    views.append(View(0, 0, 1, (*_head(panel), *foot)))
    said = " ".join([*sayings, *map(_said, steps)])
    return Drawing("way-in", "Way in", said, PAGE_WIDTH, max(y, start + down), tuple(views))


def tightest(steps: Sequence[Step]) -> Step | None:
    """Return the place with the least margin; a place that fails is tighter than one that fits."""
    known = [(length_nm((s.passage or {}).get("margin")), s) for s in steps if s.state != "unknown"]
    found = [(margin, step) for margin, step in known if margin is not None]
    return min(found, key=lambda one: one[0], default=(None, None))[1]


def _head(panel: Mapping[str, Any]) -> list[Shape]:
    size = " × ".join(str(panel.get(n)) for n in ("width", "height", "thickness") if panel.get(n))
    return [
        Text(page(4, 14), f"Panel {panel.get('name') or ''} {size}".replace("  ", " "), bold=True)
    ]


def _cell(
    panel: Mapping[str, Any], step: Step, number: int, tight: bool, corner: tuple[float, float]
) -> tuple[list[View], float]:
    x, y = corner
    title = f"{number} {step.name}"
    head, high = note(page(x, y + 9), title, CELL, bold=True)
    sketch = sketch_of(panel, step.kind, step.sizes, (step.passage or {}).get("pose"))
    above = 12 if step.kind == "doorway" else 22  # other sketches have a width over them
    top = y + high + above
    scale = min(WIDE / sketch.wide_mm, TALL / sketch.tall_mm)
    view = View(x + 6, top + sketch.tall_mm * scale, scale, (*sketch.shapes, *sketch.dims))
    lines = _words(step, tight)
    said, down = notes_down(page(x + WIDE + 22, top + 6), lines, WORDS)
    return [View(0, 0, 1, (*head, *said)), view], max(high + above + TALL + 30, high + above + down)


def _words(step: Step, tight: bool) -> list[str]:
    lines = ["THE TIGHTEST PLACE"] if tight else []
    passage = step.passage
    if passage is None:
        return lines
    if step.state == "unknown":
        lines.append("not known: measure rise, going")
    elif step.state == "fails":
        lines.append(f"fails: short by {words(_without_sign(passage.get('margin')))}")
    else:
        lines += [
            f"{step.state}: {passage.get('pose')}",
            f"to spare {words(passage.get('margin'))}",
        ]
    lines += [
        f"{said} {both_units(step.sizes[n])}"
        for n, said in named_sizes(step.kind)
        if n in step.sizes
    ]
    return lines


def _without_sign(margin: Any) -> Any:
    if not isinstance(margin, Mapping):
        return margin
    return {k: str(v).lstrip("-") if k in ("mm", "inch") else v for k, v in margin.items()}


def _sayings(panel: Mapping[str, Any], steps: Sequence[Step], tight: Step | None) -> list[str]:
    lines = []
    if tight is not None:
        lines.append(
            f"The tightest place known is {tight.name}: {tight.state}, margin "
            f"{words((tight.passage or {}).get('margin'))}."
        )
    lines += [_to_measure(step) for step in steps if step.passage is None]
    if panel.get("packed"):
        lines.append(f"Reckoned with {panel['packed']} of packing on every side, a house setting.")
    lines.append(
        "Each sketch at its own scale; the narrow box is the panel, with its packing where told. Two "
        "people carry every panel; keep out of its fall path. Rehearse a tight place with a "
        "cardboard template."
    )
    return lines


def _to_measure(step: Step) -> str:
    """Say which sizes of a place nobody has read, beside those that somebody has."""
    told = [
        f"{said} {both_units(step.sizes[n])}" for n, said in SIZES[step.kind] if n in step.sizes
    ]
    known = f" ({', '.join(told)})" if told else ""
    return f"{step.name}{known}: not worked out; measure {', '.join(step.missing) or 'the panel'}."


def _said(step: Step) -> str:
    sizes = ", ".join(f"{said} {step.sizes[n]}" for n, said in SIZES[step.kind] if n in step.sizes)
    return f"{step.name}: {sizes or 'no size told'}; {step.state}."

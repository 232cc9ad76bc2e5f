"""Where on a wall is which hole: surface, stud, distances from edges, sizes?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings import facts
from fitcheck.drawings.captions import lettered, zones_said
from fitcheck.drawings.hatching import family_of
from fitcheck.drawings.measures import (
    both_units,
    length_mm,
    length_nm,
    nearest_text,
    pair,
    word,
    words,
)
from fitcheck.drawings.model import (
    At,
    Dimension,
    Drawing,
    Hatch,
    Shape,
    Text,
    View,
    nm,
    page,
)
from fitcheck.drawings.outline import LADDER, outline_of
from fitcheck.drawings.signs import (
    LEADING,
    WRAPPED,
    balloon,
    hole,
    note,
    notes_down,
    spread,
    stroke,
    stud,
)
from fitcheck.drawings.svg import PAGE_WIDTH, SMALL, lines_of
from fitcheck.drawings.write_svg import svg_write

LEFT, TOP, TALL, WIDE, STRIP = 12.0, 32.0, 190.0, 120.0, 18.0
LABELS, STEP = 186.0, SMALL * LEADING
FULL = 8  # more holes than this, and each is told in two lines
SURFACES = ("left_wall", "right_wall", "sill")


def svg_hole_map(
    inputs: Mapping[str, Any], verdict_json: Mapping[str, Any], surface: str = "left_wall"
) -> str:
    """Return the hole map of one wall, or of the sill, as SVG."""
    return svg_write(hole_map(inputs, verdict_json, surface))


def surfaces_drilled(verdict_json: Mapping[str, Any]) -> list[str]:
    """Return the surfaces that a kit drills, walls first."""
    found = {str(f.get("surface")) for f in verdict_json.get("fixings") or []}
    return [s for s in SURFACES if s in found] + sorted(found - set(SURFACES))


def hole_map(
    inputs: Mapping[str, Any], verdict_json: Mapping[str, Any], surface: str = "left_wall"
) -> Drawing:
    """Return one wall seen square on from the middle of the opening, with every hole.

    Distances from the sill's outer edge are enlarged as the drawing says; heights are to scale.
    """
    fixings = [f for f in verdict_json.get("fixings") or [] if f.get("surface") == surface]
    fixings.sort(key=lambda f: -(length_nm(f.get("height")) or 0))
    wall = _Wall(inputs, surface, fixings)
    sayings = _labels(fixings, wall)
    heights = [len(lines) * STEP + 6 for lines in sayings]
    wall.fit(sum(heights))
    tops = spread([wall.y(f) for f in fixings], heights, TOP - 8)
    rows = zip(fixings, sayings, tops, strict=True)
    shapes = [
        *wall.shapes(),
        *(s for i, row in enumerate(rows) for s in wall.labelled(i + 1, *row)),
    ]
    if not fixings:
        text = f"The kit drills nothing into the {word(surface)}, or no kit has been asked about."
        shapes += note(
            At(0, 0, LABELS - LEFT, wall.tall - 40), text, (PAGE_WIDTH - LABELS - 8) * WRAPPED
        )[0]
    beside = max([top + high for top, high in zip(tops, heights, strict=True)], default=wall.base)
    foot, high = _foot(_sayings(inputs, wall), beside, wall.base + 46)
    views = (View(wall.left, wall.base, wall.scale, tuple(shapes)), View(0, 0, 1, tuple(foot)))
    title = f"Hole map, {word(surface)}"
    said = " ".join([f"{title}: {len(fixings)} kinds of holes.", *map("; ".join, sayings)])
    return Drawing(f"holes-{surface}", title, said, PAGE_WIDTH, high, views)


class _Wall:
    """One wall at a scale: which way is out, how far depths are enlarged."""

    def __init__(self, inputs: Mapping[str, Any], surface: str, fixings: list[Any]) -> None:
        self.inputs, self.surface, self.fixings = inputs, surface, fixings
        self.side = surface.removesuffix("_wall")
        self.left = LEFT + (STRIP if surface == "right_wall" else 0)
        highest = [length_mm(f.get("height")) or 0.0 for f in fixings]
        zones = [length_mm(z.get("to_height")) or 0.0 for _, z in self.zones]
        self.top_mm = max([outline_of(inputs).top_mm, *highest, *zones]) * 1.02
        self.far_mm = facts.furthest_mm(inputs, (self.side,)) + 12
        self.fit(0.0)

    def fit(self, labels: float) -> None:
        """Grow with the labels, so that many holes stay readable."""
        self.tall = max(TALL, min(labels, 620.0))
        self.scale = self.tall / self.top_mm
        self.base = TOP + self.tall
        self.times = next((e for e in LADDER if self.far_mm * self.scale * e <= WIDE), 1)

    @property
    def zones(self) -> list[tuple[str, Mapping[str, Any]]]:
        return [z for z in lettered(self.inputs) if z[1].get("surface") == self.surface]

    @property
    def wide(self) -> float:
        """Return how wide the wall is drawn [pt]."""
        return self.far_mm * self.scale * self.times

    def y(self, fixing: Mapping[str, Any]) -> float:
        """Return where a fixing's height lies on the paper [pt]."""
        return self.base - (length_mm(fixing.get("height")) or 0.0) * self.scale

    def at(self, in_nm: int, height_nm: int) -> At:
        """Return a place by its distance from the sill's outer edge and its height [nm]."""
        if self.side == "right":  # facing the right wall the bathroom is on the right
            return At(-in_nm * self.times, height_nm, self.wide)
        return At(in_nm * self.times, height_nm)

    def shapes(self) -> list[Shape]:
        """Draw the wall: outer edge, surfaces, studs, where the sheet wants them."""
        top = nm(self.top_mm)
        edge = 0.0 if self.side != "right" else self.wide
        inner = self.wide - edge
        outer, within = ("start", "end") if edge == 0 else ("end", "start")
        shapes: list[Shape] = [
            *self._surfaces(inner, top),
            stroke(At(dx=-8), At(dx=self.wide + 8), "opening", "heavy"),
            stroke(At(dx=edge), At(0, top, edge), "opening", "solid"),
            Text(At(0, top, edge, 8), "outside", anchor=outer),  # type: ignore[arg-type]
            Text(At(0, top, inner, 19), "inside", anchor=within),  # type: ignore[arg-type]
        ]
        return [*shapes, *self._limits(), *self._studs()]

    def _surfaces(self, inner: float, top: int) -> list[Shape]:
        way = 1 if inner else -1
        low, high = sorted((inner, inner + way * STRIP))
        if not self.zones:
            return [Hatch(At(dx=low), At(0, top, high), "unknown")]
        shapes: list[Shape] = []
        for letter, zone in self.zones:
            foot = max(0, length_nm(zone.get("from_height")) or 0)
            tip = min(top, length_nm(zone.get("to_height")) or top)
            if tip <= foot:
                continue
            shapes.append(Hatch(At(0, foot, low), At(0, tip, high), family_of(zone)))
            shapes += balloon(At(0, (foot + tip) // 2, inner + way * STRIP / 2), letter)
            shapes.append(stroke(At(0, tip), At(0, tip, self.wide), "surface", "dotted"))
        return shapes

    def _limits(self) -> list[Shape]:
        shapes: list[Shape] = []
        for rule in facts.setbacks_of(self.inputs, self.side):
            least, most = length_nm(rule.get("setback_least")), length_nm(rule.get("setback_most"))
            height = length_nm(rule.get("height"))
            if least is None or height is None:
                continue
            ends = [self.at(least, height), self.at(most or nm(self.far_mm), height)]
            ends.sort(key=lambda at: at.x)
            shapes.append(
                Hatch(ends[0].moved(0, -11), ends[1].moved(0, 11), "moulded_hollow", "limits")
            )
        return shapes

    def _studs(self) -> list[Shape]:
        shapes: list[Shape] = []
        found = facts.backing_of(self.inputs, self.side)
        for i, reading in enumerate(found):
            into, height = length_nm(reading["value"]) or 0, length_nm(reading["height"]) or 0
            shapes += [
                stroke(
                    self.at(into, height).moved(0, -30),
                    self.at(into, height).moved(0, 30),
                    "backing",
                    "chain",
                ),
                *stud(self.at(into, height)),
            ]
            if i == 0:
                ends = (self.at(0, 0), self.at(into, 0))
                off = -14.0
                label_at = At(dx=4 - self.left, dy=-28)
                label = (f"stud at {reading['height']}", " · ".join(pair(reading["value"])))
                shapes.append(Dimension(*ends, into, label, "level", off, label_at, "start"))
        if not found and self.side in facts.SIDES:
            below = At(0, 0, self.wide / 2, -16)
            if facts.is_masonry(self.inputs, self.side):
                shapes.append(Text(below, "masonry: no stud", anchor="middle"))
            else:
                shapes.append(Text(below, "stud not read", "unknown", anchor="middle"))
        return shapes

    def labelled(
        self, number: int, fixing: Mapping[str, Any], lines: list[str], top: float
    ) -> list[Shape]:
        """Draw a hole, its numbered words in the column, and the stroke between them."""
        height = length_nm(fixing.get("height")) or 0
        told, reading = facts.screws_at(self.inputs, fixing), self.reading(fixing)
        into = length_nm(told or (reading["value"] if reading else None))
        at = self.at(into, height) if into is not None else At(0, height, self.wide / 2)
        words_at = At(0, 0, LABELS - self.left, self.base - top - 9)
        shapes: list[Shape] = [
            stroke(at, words_at.moved(-9, 3), "words", "fine"),
            *hole(at, known=into is not None),
            *balloon(words_at.moved(0, 3), str(number)),
        ]
        for i, line in enumerate(lines):
            shapes.append(Text(words_at.moved(12, -i * STEP), line, bold=i == 0))
        return shapes

    def reading(self, fixing: Mapping[str, Any]) -> Mapping[str, Any] | None:
        """Return the stud that the hole goes into, when it must reach one and one was read."""
        if fixing.get("backing_hit") in (None, "not_needed"):
            return None
        return facts.backing_near(self.inputs, self.side, fixing.get("height"))


def _labels(fixings: list[Any], wall: _Wall) -> list[list[str]]:
    """Return what is written beside each hole; one that is made as another above says so.

    A hole with a doubt is told in full at each of its places.
    """
    first: dict[tuple[str, ...], int] = {}
    labels = []
    for number, fixing in enumerate(fixings, 1):
        sure = fixing.get("backing_hit") in ("hit", "not_needed") and fixing.get("final_hole")
        made = first.setdefault(_made(fixing, wall), number) if sure else number
        labels.append(_label(fixing, wall, as_hole=made if made != number else 0))
    return labels


def _made(fixing: Mapping[str, Any], wall: _Wall) -> tuple[str, ...]:
    """Return how a hole is made and what it meets, in words."""
    deep = f"depth {words(fixing['depth'])}" if fixing.get("depth") else ""
    return (_sizes(fixing), deep, _stud_words(fixing, wall))


def _label(fixing: Mapping[str, Any], wall: _Wall, as_hole: int = 0) -> list[str]:
    """Return what is written beside a hole: what and where, how big, which stud, which edges."""
    count = fixing.get("count") or 1
    kind = f"{fixing.get('place')}, {count} hole{'s' if count != 1 else ''}"
    height = fixing.get("height")
    named = f"{kind}, {both_units(height)} up" if height else kind
    if len(wall.fixings) > FULL:
        return [named, _fit([_sizes(fixing)])[0]]
    made = (f"made as hole {as_hole}",) if as_hole else _made(fixing, wall)
    return _fit([named, *made, _edges(fixing, wall)])


def _fit(lines: list[str]) -> list[str]:
    return [
        part
        for line in lines
        if line
        for part in lines_of(line, (PAGE_WIDTH - LABELS - 16) * WRAPPED)
    ]


def _sizes(fixing: Mapping[str, Any]) -> str:
    parts = []
    for name, key in (("final", "final_hole"), ("pilot", "pilot")):
        if made := fixing.get(key):
            parts.append(f"{name} {made.get('text')} through {made.get('through')}")
    if not parts:
        return "hole size: a question, see the schedule"
    return "; ".join(parts)


def _stud_words(fixing: Mapping[str, Any], wall: _Wall) -> str:
    hit = str(fixing.get("backing_hit") or "unknown")
    if screws := facts.screws_at(wall.inputs, fixing):
        return _screw_words(screws, hit, wall, wall.reading(fixing))
    if hit == "not_needed":
        return "holds in the finish; how far in: by the part"
    reading = wall.reading(fixing)
    if reading is None and facts.is_masonry(wall.inputs, wall.side):
        return "in masonry; how far in: by the part"
    if reading is None:
        return "stud or blocking not read here: how far in is not known"
    told = {"hit": "stud hit", "missed": "STUD MISSED"}.get(hit, f"stud {word(hit)}")
    return f"{told}; its centre {both_units(reading['value'])} from the outer edge"


def _screw_words(screws: str, hit: str, wall: _Wall, reading: Mapping[str, Any] | None) -> str:
    """Say where the sheet puts the screws, and how far that is off the stud's centre as read."""
    said = f"screws {both_units(screws)} from the outer edge, by the sheet"
    if reading is None and facts.is_masonry(wall.inputs, wall.side):
        return f"{said}; in masonry"
    if reading is None:
        return said if hit == "not_needed" else f"{said}; stud not read here"
    off = abs((length_nm(screws) or 0) - (length_nm(reading["value"]) or 0))
    where = f"{_told(off, wall.inputs)} off" if off else "on"
    missed = "STUD MISSED, " if hit == "missed" else ""
    return f"{said}; {missed}{where} the stud's centre at {both_units(reading['value'])}"


def _edges(fixing: Mapping[str, Any], wall: _Wall) -> str:
    """Return how far the hole is from the upper and lower edge of its zone."""
    at = length_nm(fixing.get("height"))
    if at is None:
        return ""
    for letter, zone in wall.zones:
        low, high = length_nm(zone.get("from_height")), length_nm(zone.get("to_height"))
        if low is None or high is None or not low <= at <= high:
            continue
        near, edge = min((high - at, "upper"), (at - low, "lower"))
        return f"{_told(near, wall.inputs)} to the {edge} edge of ({letter})"
    return "surface here not known"


def _told(value: int, inputs: Mapping[str, Any]) -> str:
    return " · ".join(nearest_text(value, facts.unit_of(inputs), facts.mark_of(inputs)))


def _foot(sayings: list[str], beside: float, below: float) -> tuple[list[Shape], float]:
    """Write the words under the labels, or below all when that takes less; returns how high all is."""
    foot, down = notes_down(page(LABELS + 12, beside + 14), sayings, PAGE_WIDTH - LABELS - 16)
    lowest = max(below, beside) + 14
    under, deep = notes_down(page(4, lowest), sayings, PAGE_WIDTH - 8)
    low = max(below, beside + 14 + down)
    return (foot, low) if low <= lowest + deep else (under, lowest + deep)


def _sayings(inputs: Mapping[str, Any], wall: _Wall) -> list[str]:
    enlarged = f"drawn {wall.times} times as large as heights" if wall.times > 1 else "to scale"
    if wall.side not in facts.SIDES:
        return [*zones_said(inputs, (wall.surface,)), "The sill from the front."]
    return [
        *zones_said(inputs, (wall.surface,)),
        f"Facing the {word(wall.surface)}. Distances from the sill's outer edge are {enlarged}. "
        "Crossed circle: centre of stud or blocking. Slanted band: where the sheet wants it. "
        "Dashed hole: its height is told, how far in is not. Spacing of holes in one part is the "
        "part's own. Find pipes and cables before any drill turns.",
    ]

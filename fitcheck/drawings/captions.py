"""Which words stand beside the front elevation: leans, backing, surfaces, sill and scale."""

from collections.abc import Iterator, Mapping
from typing import Any

from fitcheck.drawings.measures import both_units, length_nm, word, words
from fitcheck.drawings.outline import Outline

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # no I, no O: they read as figures

SILL = (
    ("sill_level", "Sill: right end higher than left by"),
    ("sill_fall", "Sill: inner edge lower than outer by"),
    ("curb_depth", "Curb depth"),
    ("curb_flat", "Curb flat"),
)


def of_quantity(inputs: Mapping[str, Any], quantity: str, side: str | None = None) -> list[Any]:
    """Return the readings of one quantity, of one side when it is given."""
    readings = [r for r in inputs.get("readings") or [] if r.get("quantity") == quantity]
    return [r for r in readings if side is None or r.get("side") == side]


def lettered(inputs: Mapping[str, Any]) -> list[tuple[str, Mapping[str, Any]]]:
    """Return every zone with the letter that the picture and its caption share."""
    zones = inputs.get("zones") or []
    return [(LETTERS[i % len(LETTERS)], zone) for i, zone in enumerate(zones)]


def zone_words(zone: Mapping[str, Any]) -> str:
    """Return a zone's build-up in words, unknown parts named as unknown."""
    finish = word(zone.get("finish") or "unknown finish")
    if zone.get("finish") == "unknown":
        finish = "unknown finish"
    thick = zone.get("finish_thickness")
    backing = word(zone.get("backing") or "unknown")
    behind = zone.get("backing_thickness")
    parts = [f"{finish} {thick}" if thick else finish]
    if zone.get("fit") in ("hollow", "solid"):
        parts[0] += f", {zone['fit']}"
    if backing != "none":
        parts.append("backing unknown" if backing == "unknown" else f"on {backing}")
        if behind:
            parts[-1] += f" {behind}"
    structure = word(zone.get("structure") or "unknown")
    parts.append(
        {"unknown": "structure unknown", "none": "nothing behind"}.get(structure, structure)
    )
    return f"{zone.get('from_height')} to {zone.get('to_height')}: {', '.join(parts)}"


def zones_said(
    inputs: Mapping[str, Any], surfaces: tuple[str, ...], *, at_the_sill: bool = False
) -> list[str]:
    """Return the build-up of every zone of some surfaces, each with the letter it has in pictures."""
    return [
        f"({letter}) {word(zone.get('surface'))}, {zone_words(zone)}."
        for letter, zone in lettered(inputs)
        if zone.get("surface") in surfaces
        and not (at_the_sill and (length_nm(zone.get("from_height")) or 0) > 0)
    ]


def wall(
    outline: Outline, inputs: Mapping[str, Any], side: str, *, zones: bool = True
) -> Iterator[tuple[str, str]]:
    """Yield heading and words for one wall's column, with its zones or without."""
    yield f"{side.capitalize()} wall", lean_words(outline, side)
    for reading in of_quantity(inputs, "backing_centre", side):
        at = f"Backing at {reading.get('height')}"
        yield at, f"centre {both_units(reading.get('value'))} from the sill's outer edge"
    for quantity, name in (("masonry_edge", "Masonry edge"), ("head_joint", "Block joint")):
        for reading in of_quantity(inputs, quantity, side):
            yield (
                f"{name} at {reading.get('height')}",
                f"{both_units(reading.get('value'))} from the holes",
            )
    for quantity, name in (("ceiling_height", "Ceiling"), ("surround_height", "Surround")):
        for reading in of_quantity(inputs, quantity, side):
            yield name, f"{both_units(reading.get('value'))} above the sill"
    for letter, zone in lettered(inputs):
        if zones and zone.get("surface") == f"{side}_wall":
            yield f"({letter})", zone_words(zone)


def lean_words(outline: Outline, side: str) -> str:
    """Return how a wall leans, as it was read."""
    lean = outline.leans.get(side)
    if lean is None:
        return "lean not read"
    way = "leans in" if lean.value_mm > 0 else "leans away" if lean.value_mm < 0 else "plumb"
    return f"{way}: {both_units(lean.value)} over {lean.over}"


def foot(
    times: int,
    measured: bool,
    inputs: Mapping[str, Any],
    adjusted: bool = False,
    *,
    walls: bool = False,
) -> Iterator[str]:
    """Yield the paragraphs under the picture: sill, zones but those of `walls` told beside it, scale."""
    sill = [
        f"{name} {both_units(reading.get('value'))}."
        for quantity, name in SILL
        for reading in of_quantity(inputs, quantity)
    ]
    if sill:
        yield " ".join(sill)
    zones = [
        f"({letter}) {word(zone.get('surface'))}, {zone_words(zone)}."
        for letter, zone in lettered(inputs)
        if walls or zone.get("surface") not in ("left_wall", "right_wall")
    ]
    if zones:
        yield " ".join(zones)
    if measured:
        enlarged = f"leans are drawn {times} times their size" if times > 1 else "leans to scale"
        yield (
            f"Seen from outside, facing in. Heavy line: as read; {enlarged}. Dotted: plumb from "
            "the foot. Dashed: kit. Crossed circle: centre of stud or blocking."
            + (" Dash and dot: the walls as all readings together give them." * adjusted)
        )


def other_unit(entered: Any) -> str:
    """Return only the unit that a reading was not entered in."""
    if length_nm(entered) is None:
        return words(entered)
    return both_units(entered).split(" · ", 1)[1]


def description(outline: Outline, inputs: Mapping[str, Any]) -> str:
    """Return the picture in sentences, for those who do not see it."""
    if not outline.widths:
        return "Nothing can be drawn to measure: no width of this opening has been read yet."
    read = "; ".join(f"{', '.join(w.entered)} at {w.height} above the sill" for w in outline.widths)
    leans = "; ".join(f"{s} wall {lean_words(outline, s)}" for s in ("left", "right"))
    side = (inputs.get("opening") or {}).get("shower_head_side", "unknown")
    return f"Widths as read: {read}. Leans: {leans}. Shower-head side: {side}."

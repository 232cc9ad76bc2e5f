"""How does a panel that is made to measure look among the others: its outline, holes and notches?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings.measures import length_nm
from fitcheck.drawings.model import At, Circle, Path, Shape, Text

Json = Mapping[str, Any]
OWN = "Edges, holes and notches: its own drawing."
BY_PLACE = (
    "Panels, holes and notches are drawn where they are; what is cut or measured stands in each "
    "panel's own drawing."
)


def made_of(verdict_json: Json) -> dict[str, Json]:
    """Return the panels that are made to measure, by their names."""
    made = verdict_json.get("made_glass") or {}
    return {str(one.get("name")): one for one in made.get("panels") or []}


def made_shapes(made: Json, left: float) -> list[Shape]:
    """Draw a panel as it is cut, its lowest corner on the line, its leftmost `left` points in."""
    corners = [_place(one) for one in made["corners"]]
    x, y = min(p.x for p in corners), min(p.y for p in corners)

    def at(place: At) -> At:
        return At(place.x - x, place.y - y, left)

    shapes: list[Shape] = [Path(tuple(map(at, corners)), "glass", "heavy", closed=True)]
    for hole in made["holes"]:
        radius = (length_nm(hole["diameter"]) or 0) // 2
        shapes.append(Circle(at(_place(hole)), "holes", radius_nm=radius))
    for notch in made["notches"]:
        places = tuple(at(_place(one)) for one in notch["corners"])
        shapes.append(Path(places, "notches", "solid", closed=True))
    return shapes + _handle_words(made, max(p.x for p in corners) - x, left)


def _handle_words(made: Json, wide: int, left: float) -> list[Shape]:
    side, high = made.get("handle"), (length_nm(made["edges"]["left"]) or 0) * 3 // 4
    if side not in ("left", "right"):
        return []
    middle = At(wide // 2, high, left)
    return [
        Text(middle, "handle holes", anchor="middle"),
        Text(middle.moved(0, -11), f"on the {side}", anchor="middle", bold=True),
    ]


def _place(value: Json) -> At:
    return At(length_nm(value["right"]) or 0, length_nm(value["up"]) or 0)

"""How are a pane's thickness, holes and notches read out of a question?"""

from collections.abc import Callable
from dataclasses import dataclass

from fitcheck.rules import RULES_VERSION
from fitcheck.rules.length import Length, inch_text, mm_text
from fitcheck.rules.pane_edition import EDITIONS, Edition, edition_of, thickness_names
from fitcheck.rules.pane_outline import EDGES, EdgeName, Hole, Notch, Quad, hole_in, notch_in
from fitcheck.rules.strict import Strict

HOLE = ("name", "from", "across", "up_from", "up", "diameter")
NOTCH = ("name", "edge", "start", "length", "depth", "radius")
SIDES: tuple[EdgeName, ...] = ("left", "right")
LEVELS: tuple[EdgeName, ...] = ("foot", "head")


@dataclass(frozen=True, slots=True)
class Taken:
    """What is taken out of a pane, before its outline is known."""

    holes: tuple[Callable[[Quad], Hole], ...]
    notches: tuple[Callable[[Quad], Notch], ...]


def edition_read(own: Strict, rules: int = int(RULES_VERSION)) -> Edition:
    """Read the edition and the nominal thickness; mistakes are noted on `own`.

    Args:
        own: the opened question with "edition" and "thickness" [-].
        rules: the version of the rules that answers [-].

    Returns:
        The edition [-].
    """
    name = own.choice("edition", EDITIONS)
    return edition_of(name, max(thickness_read(own).nm, 1), rules)


def thickness_read(own: Strict) -> Length:
    """Read a thickness that flat glass is sold by; mistakes are noted on `own`.

    Args:
        own: the opened object with "thickness" [-].

    Returns:
        The nominal thickness [nm].
    """
    thickness = own.length("thickness")
    if thickness.nm > 0 and thickness.nm not in thickness_names():
        known = sorted(thickness_names())
        near = min(known, key=lambda nm: abs(nm - thickness.nm))
        hint = f'the nearest is "{mm_text(near)}" ({inch_text(near, 32)})'
        own.refuse("thickness", "not_a_thickness", "No flat glass is sold by this thickness.", hint)
    return thickness


def taken_read(own: Strict) -> Taken:
    """Read holes and notches by their distances from edges; mistakes are noted on `own`.

    Args:
        own: the opened panel with "holes" and "notches" [-].

    Returns:
        What is taken out, for any outline [-].
    """
    return Taken(
        tuple(_hole(each) for each in own.children("holes", HOLE)),
        tuple(_notch(each) for each in own.children("notches", NOTCH)),
    )


def taken_from(outline: Quad, taken: Taken) -> tuple[tuple[Hole, ...], tuple[Notch, ...]]:
    """Place holes and notches in an outline.

    Args:
        outline: the panel's outline [nm].
        taken: what is taken out [-].

    Returns:
        The holes and the notches [-].
    """
    holes = tuple(place(outline) for place in taken.holes)
    return holes, tuple(place(outline) for place in taken.notches)


def _hole(own: Strict) -> Callable[[Quad], Hole]:
    name, diameter = own.text("name"), own.length("diameter").nm
    side, level = own.choice("from", SIDES), own.choice("up_from", LEVELS)
    across, up = own.length("across").nm, own.length("up").nm

    def place(outline: Quad) -> Hole:
        return Hole(name, hole_in(outline, side, across, level, up), diameter)

    return place


def _notch(own: Strict) -> Callable[[Quad], Notch]:
    name, edge = own.text("name"), own.choice("edge", EDGES)
    start, length = own.length("start", zero=True).nm, own.length("length").nm
    depth, radius = own.length("depth").nm, own.length("radius", zero=True).nm

    def place(outline: Quad) -> Notch:
        corners = notch_in(outline, edge, start, length, depth)
        return Notch(name, corners, depth, length, radius, edge)

    return place

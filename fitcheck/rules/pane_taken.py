"""Does what is taken out of a pane leave one pane, each piece whole and apart from the others?"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from fitcheck.rules.compare import Asked, compared, spoken
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.pane_geometry import Point, apart_nm, between_nm, inside_nm, segment_nm
from fitcheck.rules.pane_outline import EDGES, EdgeName, Hole, Notch, Pane
from fitcheck.rules.survey import House
from fitcheck.rules.tables_pane import NARROW_WEB

REMAKE = "Change the order now: nothing can be cut, drilled or edged after tempering."
TOUCHING_NM = 2  # corners of notches are rounded to a nanometre
_LEFT_BESIDE = "Is enough glass left beside the notch?"
_ROUNDED = "Is its radius small enough for the notch?"


@dataclass(frozen=True, slots=True)
class Web:
    """What is left between a notch and an edge, or another notch."""

    place: str
    wide_nm: int


def one_pane(pane: Pane) -> bool:
    """Return whether what is taken out lies within the pane, apart, and leaves it in one piece.

    Where it does not, neither its area nor its mass is known.

    Source: plane geometry.

    Args:
        pane: the pane [-].

    Returns:
        True when one pane is left [-].
    """
    corners = (corner for notch in pane.notches for corner in notch.corners)
    rims = (edge_nm(pane, hole) for hole in pane.holes)
    pairs = (hole_apart_nm(one, other) for one, other in combinations(pane.holes, 2))
    beside = (notch_apart_nm(hole, notch) for hole in pane.holes for notch in pane.notches)
    return (
        all(within(pane, corner) for corner in corners)
        and all(nm > 0 for nm in (*rims, *pairs, *beside))
        and all(web.wide_nm > TOUCHING_NM for web in webs(pane))
    )


def webs(pane: Pane) -> Iterator[Web]:
    """Return what is left beside each notch; nothing is left where it reaches through.

    A notch may lie in a corner, and then touches one more edge than its own, never the one across.

    Source: plane geometry.

    Args:
        pane: the pane [-].

    Returns:
        Each web with its width, zero where none is left [nm].
    """
    for notch in pane.notches:
        yield from _to_edges(pane, notch)
    for one, other in combinations(pane.notches, 2):
        yield Web(f"{one.name} and {other.name}", between_nm(one.corners, other.corners))


def taken_findings(pane: Pane, house: House) -> list[Finding]:
    """Check that notches leave one pane, and that each is large enough for its own radius.

    Source: plane geometry; no standard that was read says how narrow glass may be beside a notch,
    so what is narrower than a house setting is asked of the temperer.

    Args:
        pane: the pane [-].
        house: the firm's settings [-].

    Returns:
        The findings; none where there is room for every notch [-].
    """
    narrow = NARROW_WEB.value * pane.thickness_nm
    found = [_narrow(pane, web, narrow, house) for web in webs(pane) if web.wide_nm < narrow]
    for notch in pane.notches:
        most = round_most_nm(pane, notch)
        if notch.radius_nm > most:
            place = f"{pane.name}, {notch.name}"
            asked = Asked("notch.round", _ROUNDED, place, NARROW_WEB.source, REMAKE)
            value = Measured(notch.radius_nm, notch.radius_nm, 0.0)
            found.append(compared(asked, value, house, most_nm=most))
    return found


def round_most_nm(pane: Pane, notch: Notch) -> int:
    """Return the largest radius that a notch has room for inside.

    Source: plane geometry: two quarter circles stand side by side, one where it lies in a corner.

    Args:
        pane: the pane [-].
        notch: the notch [-].

    Returns:
        The radius, rounded down [nm].
    """
    beside = sum(nm <= TOUCHING_NM for nm in _beside(pane, notch).values())
    return min(notch.depth_nm, notch.length_nm if beside else notch.length_nm // 2)


def rounded_inside(pane: Pane, notch: Notch) -> tuple[bool, bool]:
    """Return which of a notch's two deep corners are rounded: not one that lies on an edge.

    Args:
        pane: the pane [-].
        notch: the notch [-].

    Returns:
        For its third and its fourth corner [-].
    """
    own = EDGES.index(notch.edge)
    after, before = EDGES[(own + 1) % 4], EDGES[own - 1]
    _, _, third, fourth = notch.corners
    return (
        inside_nm(*pane.outline.edge(after), third) > TOUCHING_NM,
        inside_nm(*pane.outline.edge(before), fourth) > TOUCHING_NM,
    )


def edge_nm(pane: Pane, hole: Hole) -> int:
    """Return how far a hole's rim is from the nearest edge, negative beyond it [nm]."""
    return min(inside_nm(*pane.outline.edge(name), hole.centre) for name in EDGES) - hole.half_nm


def hole_apart_nm(one: Hole, other: Hole) -> int:
    """Return how far the rims of two holes are apart, negative where they overlap [nm]."""
    return apart_nm(one.centre, other.centre) - one.half_nm - other.half_nm


def notch_apart_nm(hole: Hole, notch: Notch) -> int:
    """Return how far a hole's rim is from a notch's three inner sides, negative inside it [nm]."""
    a, b, c, d = notch.corners
    near = min(segment_nm(p, q, hole.centre) for p, q in ((b, c), (c, d), (d, a)))
    inside = all(inside_nm(p, q, hole.centre) > 0 for p, q in ((a, b), (b, c), (c, d), (d, a)))
    return (-near if inside else near) - hole.half_nm


def within(pane: Pane, corner: Point) -> bool:
    """Return whether a notch's corner is on the panel, give or take the rounding of a nanometre."""
    edges = (inside_nm(*pane.outline.edge(name), corner) for name in EDGES)
    return all(nm >= -TOUCHING_NM for nm in edges)


def _to_edges(pane: Pane, notch: Notch) -> Iterator[Web]:
    across, beside = EDGES[(EDGES.index(notch.edge) + 2) % 4], _beside(pane, notch)
    left = min(inside_nm(*pane.outline.edge(across), corner) for corner in notch.corners)
    yield Web(f"{notch.name} and {across}", max(left, 0))
    if all(nm <= TOUCHING_NM for nm in beside.values()):
        yield Web(f"{notch.name} and {notch.edge}", 0)
        return
    for name, nm in beside.items():
        if nm > TOUCHING_NM:
            yield Web(f"{notch.name} and {name}", nm)


def _beside(pane: Pane, notch: Notch) -> dict[EdgeName, int]:
    """Return how far a notch is from the two edges that meet its own."""
    own = EDGES.index(notch.edge)
    names = EDGES[own - 1], EDGES[(own + 1) % 4]
    return {
        name: min(inside_nm(*pane.outline.edge(name), corner) for corner in notch.corners)
        for name in names
    }


def _narrow(pane: Pane, web: Web, narrow_nm: int, house: House) -> Finding:
    asked = Asked("notch.web", _LEFT_BESIDE, f"{pane.name}, {web.place}", NARROW_WEB.source, "")
    limit = spoken(narrow_nm, house.mark, up=True)
    if web.wide_nm <= TOUCHING_NM:
        do = f"Move the notch, or make it smaller: no glass is left beside it. {REMAKE}"
        return spoken_finding(asked, "none", limit, "fails", do)
    do = "Ask the temperer: no rule is known that says how narrow glass may be beside a notch."
    found = spoken_finding(asked, spoken(web.wide_nm, house.mark), limit, "unknown", do)
    return replace(found, sense="least")

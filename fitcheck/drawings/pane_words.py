"""What is written under a panel cut to size: holes, notches, edges, area, mass, who may cut it?"""

from collections.abc import Callable

from fitcheck.drawings.measures import nearest_text
from fitcheck.drawings.order import Order, Release
from fitcheck.rules.pane_geometry import Point, apart_nm
from fitcheck.rules.pane_outline import EDGES, EdgeName, Pane, tapers_nm
from fitcheck.rules.panel_order import pane_json

Told = Callable[[int], str]
FACE = (
    "Seen from outside, facing in: the face that you see looks into the bathroom. Places are from the "
    "panel's own left foot, rightward and up. Millimetres of more than four decimals are told to a "
    "hundredth; what is rounded never makes the glass larger; inches without “about” are exact."
)


def pane_sayings(order: Order, pane: Pane, release: Release, unit: str) -> list[str]:
    """Return the lines under a panel's drawing."""
    mark = order.house.mark

    def told(nm: int) -> str:
        return " · ".join(nearest_text(nm, unit, mark))

    quad, origin = pane.outline, pane.outline.left_foot
    lines = [*_holes(pane, origin, told), *_notches(pane, len(pane.holes), told)]
    tapers = tapers_nm(quad)
    signed = "; ".join(_run(name, tapers[name], unit, mark) for name in EDGES)
    diagonals = (
        apart_nm(quad.left_foot, quad.right_head),
        apart_nm(quad.right_foot, quad.left_head),
    )
    data = pane_json(pane, order.asked.edition, order.house)
    lines += [
        f"Diagonals: left foot to right head {told(diagonals[0])}, right foot to left head "
        f"{told(diagonals[1])}.",
        f"Off plumb from foot to head, off level from left to right: {signed}.",
        f"Glass {told(pane.thickness_nm)} thick, {order.asked.edition.name}; area {data['net_area']} "
        f"net; glass {data['glass_mass']}, with hardware {data['mass']}.",
        *_handle(order, pane),
        FACE,
        f"The rules say of the whole order: {order.state}.",
    ]
    if release.checks:
        return lines
    lines += order.cautions
    if not release.signed_by:
        lines.append("A second person has not signed this order yet.")
    return lines


def pane_said(order: Order, pane: Pane, release: Release, unit: str) -> str:
    """Return a panel in sentences, for those who do not see it."""
    edges = ", ".join(
        f"{name} {' · '.join(nearest_text(apart_nm(*pane.outline.edge(name)), unit, order.house.mark))}"
        for name in EDGES
    )
    return " ".join(
        [f"{release.words}.", f"Edges: {edges}.", *pane_sayings(order, pane, release, unit)]
    )


def _handle(order: Order, pane: Pane) -> list[str]:
    """Say on which side the handle's holes are; an order that does not tell says nothing."""
    side = order.handles.get(pane.name)
    return [f"Handle holes on the {side}."] if side else []


def _holes(pane: Pane, origin: Point, told: Told) -> list[str]:
    return [
        f"{i + 1} {hole.name}: hole Ø {told(hole.diameter_nm)}; right {told(hole.centre.x - origin.x)}, "
        f"up {told(hole.centre.y - origin.y)}."
        for i, hole in enumerate(pane.holes)
    ]


def _notches(pane: Pane, before: int, told: Told) -> list[str]:
    return [
        f"{before + i + 1} {notch.name}: notch {told(notch.length_nm)} long, {told(notch.depth_nm)} "
        f"deep, inner radius {told(notch.radius_nm)}."
        for i, notch in enumerate(pane.notches)
    ]


def _run(name: EdgeName, nm: int, unit: str, mark: int) -> str:
    """Say which way an edge runs off: a side from foot to head, foot and head from left to right.

    How far is rounded into the glass: up where it takes glass away, down where it adds some.
    """
    if nm == 0:
        return f"{name} true"
    far = " · ".join(nearest_text(abs(nm), unit, mark, up=(nm > 0) == (name in ("left", "foot"))))
    if name in ("left", "right"):
        return f"{name} goes to the {'left' if nm < 0 else 'right'} by {far}"
    return f"{name} {'falls' if nm < 0 else 'rises'} by {far}"

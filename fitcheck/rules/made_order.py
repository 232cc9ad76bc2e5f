"""Which order does a sheet's glass become in this opening: joints, holes by the handle, gaps?"""

from itertools import accumulate

from fitcheck.rules.length import mm_text
from fitcheck.rules.made_opening import Corners
from fitcheck.rules.pane_geometry import Point
from fitcheck.rules.pane_outline import Gaps, outlines
from fitcheck.rules.sheet_made import MadeGlass, MadeHole, MadeNotch, MadePanel
from fitcheck.rules.sheet_more import GlazingRule
from fitcheck.rules.survey import House

_MICROMETRE_NM = 1000
OTHER = {"left": "right", "right": "left", "unknown": "unknown"}


class NoRoom(Exception):
    """The panels of a fixed width leave nothing for the others."""

    def __init__(self, short_nm: int) -> None:
        super().__init__(f"those of a fixed width are {mm_text(short_nm)} too wide for the opening")


def handle_side(handle: str, shower_head_side: str) -> str | None:
    """Return the side of the handle holes: left, right or unknown; None when there are none.

    Args:
        handle: as the sheet says it: shower_head, opposite, left, right or none [-].
        shower_head_side: left, right or unknown [-].

    Returns:
        The side as seen from outside [-].
    """
    sides = {"shower_head": shower_head_side, "opposite": OTHER[shower_head_side], "none": None}
    return sides.get(handle, handle)


def order_made(
    made: MadeGlass, glazing: GlazingRule, corners: Corners, head_side: str, house: House
) -> dict[str, object]:
    """Return the order of a sheet's glass for an opening, as the question of panels asks it.

    Source: the kit's own sheet; the corners are the adjusted opening's.

    Args:
        made: the glass made to measure [-].
        glazing: the edition by which it is made [-].
        corners: the adjusted opening [nm].
        head_side: the side of the shower head, known where a hole goes by the handle [-].
        house: the firm's settings [-].

    Returns:
        The order as plain JSON [-].

    Raises:
        NoRoom: the panels of a fixed width leave nothing for the others.
        ValueError: nothing is left between the edges of the opening.
    """
    names = ("left_foot", "right_foot", "right_head", "left_head")
    places = {n: _place(p) for n, p in zip(names, corners.quad.corners, strict=True)}
    gaps = {n: getattr(made.gaps, n).entered for n in ("left", "right", "head", "foot", "between")}
    order: dict[str, object] = {
        "edition": glazing.edition,
        "thickness": made.thickness.entered,
        "opening": {**places, "uncertainty": mm_text(corners.u_nm)},
        "gaps": gaps,
        "dividers": [mm_text(nm) for nm in _joints(made, corners)],
        "panels": [_panel(panel, head_side) for panel in made.panels],
        "house": {"mark": house.mark, "guard_factor": str(house.guard_factor)},
    }
    if made.top:
        order["top"] = made.top.entered
    if made.channel_hides:
        order |= {"taper": "channel", "channel_hides": made.channel_hides.entered}
    return order


def gaps_of(made: MadeGlass) -> Gaps:
    """Return the gaps of a sheet's glass [nm]."""
    gaps = made.gaps
    return Gaps(gaps.left.nm, gaps.right.nm, gaps.head.nm, gaps.foot.nm, gaps.between.nm)


def _joints(made: MadeGlass, corners: Corners) -> list[int]:
    """Return the middle of each joint from left to right [nm].

    Along the foot the panels with a width have it; the others share what is left, down to a
    micrometre.
    """
    gaps, top = gaps_of(made), made.top.nm if made.top else None
    whole = outlines(corners.quad, gaps, (), top, square=made.channel_hides is not None)[0]
    half = -(-gaps.between // 2)
    room = whole.right_foot.x - whole.left_foot.x - 2 * half * (len(made.panels) - 1)
    fixed = sum(panel.width.nm for panel in made.panels if panel.width)
    sharing = sum(panel.width is None for panel in made.panels)
    share = (room - fixed) // (sharing * _MICROMETRE_NM) * _MICROMETRE_NM
    if share <= 0:
        raise NoRoom(fixed - room)
    steps = [(p.width.nm if p.width else share) + 2 * half for p in made.panels[:-1]]
    return [x - half for x in accumulate(steps, initial=whole.left_foot.x)][1:]


def _place(point: Point) -> dict[str, str]:
    return {"right": mm_text(point.x), "up": mm_text(point.y)}


def _panel(panel: MadePanel, head_side: str) -> dict[str, object]:
    handle = handle_side(panel.handle, head_side)
    told: dict[str, object] = {
        "name": panel.name,
        "holes": [_hole(hole, handle) for hole in panel.holes],
        "notches": [_notch(notch) for notch in panel.notches],
    }
    return told | ({"hardware_mass": panel.hardware} if panel.hardware else {})


def _hole(hole: MadeHole, handle: str | None) -> dict[str, object]:
    return {
        "name": hole.name,
        "from": handle if hole.side == "handle" else hole.side,
        "across": hole.across.entered,
        "up_from": hole.level,
        "up": hole.up.entered,
        "diameter": hole.diameter.entered,
    }


def _notch(notch: MadeNotch) -> dict[str, object]:
    return {
        "name": notch.name,
        "edge": notch.edge,
        "start": notch.start.entered,
        "length": notch.length.entered,
        "depth": notch.depth.entered,
        "radius": notch.radius.entered,
    }

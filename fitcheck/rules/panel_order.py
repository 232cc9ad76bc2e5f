"""Which panels are ordered for this opening: outline, holes, checks, area and mass?"""

from collections.abc import Mapping
from dataclasses import dataclass

from fitcheck.rules import RULES_VERSION
from fitcheck.rules.finding import Finding
from fitcheck.rules.length import Direction, computed
from fitcheck.rules.pane_checks import gap_finding, head_finding, hidden_taper, pane_findings
from fitcheck.rules.pane_edition import Edition
from fitcheck.rules.pane_geometry import Point, apart_nm, twice_area
from fitcheck.rules.pane_outline import EDGES, EdgeName, Gaps, Pane, Quad, outlines, tapers_nm
from fitcheck.rules.pane_read import Taken, edition_read, taken_from, taken_read
from fitcheck.rules.pane_taken import one_pane
from fitcheck.rules.quantity import kg_text
from fitcheck.rules.sources_structure import structure_source
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import answered, mass_of
from fitcheck.rules.survey import House, house_read

_QUESTION = (
    "edition",
    "thickness",
    "opening",
    "gaps",
    "top",
    "dividers",
    "panels",
    "taper",
    "channel_hides",
    "house",
)
_OPENING = ("left_foot", "right_foot", "right_head", "left_head", "uncertainty")
_GAPS = ("left", "right", "head", "foot", "between")
_PANEL = ("name", "holes", "notches", "hardware_mass")
CAUTIONS = (
    "Nothing is cut, drilled or edged after tempering: a wrong size is a new panel and weeks lost.",
    "A second person checks and signs the order; on arrival every edge is measured before the old "
    "opening is torn out.",
    "Two people for every panel, never by its corners, never on a hard floor.",
)
DOWN: Direction = "down"
UP: Direction = "up"
# Into the glass: rightward at the left, upward at the foot; corners as in `Quad`.
_CORNERS: tuple[tuple[Direction, Direction], ...] = ((UP, UP), (DOWN, UP), (DOWN, DOWN), (UP, DOWN))
_ALL_DOWN: tuple[tuple[Direction, Direction], ...] = ((DOWN, DOWN),) * 4
_TAPERS: dict[EdgeName, Direction] = {"foot": UP, "right": DOWN, "head": DOWN, "left": UP}


@dataclass(frozen=True, slots=True)
class Ordered:
    """A panel as asked for, before its outline is known."""

    name: str
    taken: Taken
    hardware_ug: int


@dataclass(frozen=True, slots=True)
class OrderAsked:
    """An opening to be glazed with panels cut to size."""

    edition: Edition
    opening: Quad
    u_nm: int
    gaps: Gaps
    top_nm: int | None
    dividers: tuple[int, ...]
    panels: tuple[Ordered, ...]
    square: bool
    hides_nm: int


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer which panels are ordered, each with its outline, checks, area and mass.

    Source: geometry; ASTM C1048 as restated or EN 12150-1 (from memory), never mixed.

    Args:
        inputs: the adjusted opening's corners, named gaps, panels with holes and notches [-].

    Returns:
        The panels and the findings, as plain JSON [-].

    Raises:
        InputErrors: what was sent makes no sense; every mistake is named.
    """
    own = Strict.open(inputs, _QUESTION, "", [])
    house = house_read(own)
    asked = order_read(own)
    panes = () if own.errors else _panes(asked, own)
    own.finish()
    findings = tuple(order_findings(asked, panes, house))
    return answered(
        findings,
        CAUTIONS,
        edition=asked.edition.name,
        panels=[pane_json(pane, asked.edition, house) for pane in panes],
    )


def order_read(own: Strict, rules: int = int(RULES_VERSION)) -> OrderAsked:
    """Read an order; mistakes are noted on `own`.

    Args:
        own: the opened question [-].
        rules: the version of the rules that answers [-].

    Returns:
        The order; only to be used when no mistake was noted [-].
    """
    edition = edition_read(own, rules)
    opening = own.child("opening", _OPENING)
    gaps = own.child("gaps", _GAPS)
    top = own.length_or_none("top")
    panels = tuple(_panel(each) for each in own.children("panels", _PANEL, least=1, most=12))
    names = [panel.name for panel in panels if panel.name]
    if len(set(names)) < len(names):
        own.refuse("panels", "name_twice", "Every panel has a name of its own.")
    dividers = _dividers(own)
    if len(dividers) + 1 != len(panels) and not own.errors:
        own.refuse("dividers", "not_in_range", "There is one joint fewer than there are panels.")
    square = own.choice("taper", ("panel", "channel"), "panel") == "channel"
    hides = own.length("channel_hides", zero=True).nm if square else 0
    if own.has("channel_hides") and not square:
        own.refuse("channel_hides", "not_wanted", "Only a taper in a channel is hidden by it.")
    return OrderAsked(
        edition,
        Quad(*(_point(opening, name) for name in _OPENING[:4])),
        opening.length("uncertainty", zero=True).nm,
        Gaps(*(_gap(gaps, name) for name in _GAPS)),
        top.nm if top else None,
        dividers,
        panels,
        square,
        hides,
    )


def order_findings(asked: OrderAsked, panes: tuple[Pane, ...], house: House) -> list[Finding]:
    """Check each panel: its holes and notches, its gaps, its head, its taper.

    Args:
        asked: the order [-].
        panes: the panels as cut, from left to right [-].
        house: the firm's settings [-].

    Returns:
        The findings [-].
    """
    findings: list[Finding] = []
    for index, pane in enumerate(panes):
        findings += pane_findings(pane, asked.edition, house)
        joined = {"left joint": panes[index - 1], "right joint": panes[(index + 1) % len(panes)]}
        for side, gap in _gaps_of(asked, pane).items():
            beside = joined.get(side)
            findings.append(gap_finding(pane, side, gap, asked.u_nm, asked.edition, house, beside))
        if asked.top_nm is not None:
            findings.append(head_finding(pane, asked.opening, asked.gaps.head, asked.u_nm, house))
        findings += _taper_findings(asked, index, pane, house) if asked.square else []
    return findings


def _taper_findings(asked: OrderAsked, index: int, pane: Pane, house: House) -> list[Finding]:
    """Check the wedge beside a square panel: at each wall, along the foot, and under a head followed."""
    source = structure_source("house", "kit sheet", "channel")
    wedges, gaps = tapers_nm(asked.opening), _gaps_of(asked, pane)
    sides: tuple[EdgeName, ...] = ("left", "right")
    if house.rules >= 5:
        cut = outlines(asked.opening, asked.gaps, asked.dividers, asked.top_nm, square=False)
        along = tapers_nm(cut[index])
        wedges = {**wedges, "foot": along["foot"], "head": along["head"]}
        sides = ("left", "right", "foot", "head")
    return [
        hidden_taper(pane, side, abs(wedges[side]), asked.hides_nm, source, house)
        for side in sides
        if side in gaps
    ]


def pane_json(pane: Pane, edition: Edition, house: House) -> dict[str, object]:
    """Return a panel as plain JSON; places are from its own left foot, lengths round down.

    What a panel may be off its size rounds down, before version 5 of the rules up. Where notches
    and holes do not leave one pane, what is left has no area, mass or centre.

    Args:
        pane: the panel [-].
        edition: the edition that rules over it [-].
        house: the firm's settings [-].

    Returns:
        The panel [-].
    """
    mark, since_5 = house.mark, house.rules >= 5
    whole = not since_5 or one_pane(pane)
    origin, quad = pane.outline.left_foot, pane.outline
    longest = pane.longest_nm()
    allowed = {
        "size": edition.size_nm(longest),
        "diagonals": edition.square_nm(longest),
        "bow": edition.bow_nm(longest),
    }
    way = DOWN if since_5 else UP
    return {
        "name": pane.name,
        **_outline_json(quad, mark, inward=since_5),
        "holes": [
            {
                "name": hole.name,
                "diameter": computed(hole.diameter_nm, DOWN, mark),
                **_place(hole.centre, origin, mark),
            }
            for hole in pane.holes
        ],
        "notches": [
            {"name": notch.name, "corners": [_place(c, origin, mark) for c in notch.corners]}
            for notch in pane.notches
        ],
        "tolerances": {
            name: None if nm is None else computed(nm, way, mark) for name, nm in allowed.items()
        },
        "area": _square_metres(twice_area(quad.corners) // 2),
        "net_area": _square_metres(pane.net_area()) if whole else None,
        "glass_mass": kg_text(pane.glass_ug()) if whole else None,
        "mass": kg_text(pane.mass_ug()) if whole else None,
        "centre": _place(pane.centre(), origin, mark) if whole else None,
    }


def _outline_json(quad: Quad, mark: int, *, inward: bool) -> dict[str, object]:
    """Return an outline as plain JSON.

    Inches of corners and tapers are rounded into the glass, so that none that is read off makes it
    larger than it is cut; before version 5 of the rules they went down.
    """
    origin = quad.left_foot
    corners, tapers = (_CORNERS, _TAPERS) if inward else (_ALL_DOWN, dict.fromkeys(EDGES, DOWN))
    return {
        "corners": [
            _place(corner, origin, mark, right, up)
            for corner, (right, up) in zip(quad.corners, corners, strict=True)
        ],
        "edges": {name: computed(apart_nm(*quad.edge(name)), DOWN, mark) for name in EDGES},
        "diagonals": [
            computed(apart_nm(quad.left_foot, quad.right_head), DOWN, mark),
            computed(apart_nm(quad.right_foot, quad.left_head), DOWN, mark),
        ],
        "tapers": {name: computed(nm, tapers[name], mark) for name, nm in tapers_nm(quad).items()},
    }


def _place(
    point: Point, origin: Point, mark: int, right: Direction = "down", up: Direction = "down"
) -> dict[str, object]:
    return {
        "right": computed(point.x - origin.x, right, mark),
        "up": computed(point.y - origin.y, up, mark),
    }


def _square_metres(nm2: int) -> str:
    """Print an area, rounded up to a thousandth of a square metre."""
    thousandths = -(-nm2 // 10**15)
    return f"{thousandths // 1000}.{thousandths % 1000:03d} m2"


def order_panes(
    question: Mapping[str, object], rules: int = int(RULES_VERSION)
) -> tuple[OrderAsked, tuple[Pane, ...]]:
    """Read an order and cut its panels.

    Args:
        question: the order as `answer` takes it [-].
        rules: the version of the rules that answers [-].

    Returns:
        The order and its panels [-].

    Raises:
        InputErrors: the question is malformed; one entry per mistake.
        ValueError: the corners cross, or nothing is left of a panel.
    """
    own = Strict.open(question, _QUESTION, "", [])
    asked = order_read(own, rules)
    own.finish()
    return asked, panes_of(asked)


def panes_of(asked: OrderAsked) -> tuple[Pane, ...]:
    """Cut the panels of an order, from left to right.

    Args:
        asked: the order [-].

    Returns:
        The panels [-].

    Raises:
        ValueError: the corners cross, or nothing is left of a panel.
    """
    quads = outlines(asked.opening, asked.gaps, asked.dividers, asked.top_nm, square=asked.square)
    return tuple(
        _pane(ordered, quad, asked.edition)
        for ordered, quad in zip(asked.panels, quads, strict=True)
    )


def _panes(asked: OrderAsked, own: Strict) -> tuple[Pane, ...]:
    try:
        return panes_of(asked)
    except ValueError as error:
        own.refuse("opening", "no_panel", str(error), "are the corners in their places?")
        return ()


def _pane(ordered: Ordered, quad: Quad, edition: Edition) -> Pane:
    holes, notches = taken_from(quad, ordered.taken)
    return Pane(ordered.name, quad, edition.thickness_nm, holes, notches, ordered.hardware_ug)


def _gaps_of(asked: OrderAsked, pane: Pane) -> dict[str, int]:
    """Return the named gaps that this panel has: walls at the ends, joints between, foot, head."""
    index = [each.name for each in asked.panels].index(pane.name)
    last = len(asked.panels) - 1
    gaps = {
        "left": asked.gaps.left if index == 0 else asked.gaps.between,
        "right": asked.gaps.right if index == last else asked.gaps.between,
        "foot": asked.gaps.foot,
    }
    renamed = {
        ("left joint" if name == "left" and index > 0 else name): gap for name, gap in gaps.items()
    }
    if index < last:
        renamed["right joint"] = renamed.pop("right")
    return renamed | ({"head": asked.gaps.head} if asked.top_nm is None else {})


def _panel(own: Strict) -> Ordered:
    hardware = mass_of(own, "hardware_mass") if own.has("hardware_mass") else 0
    return Ordered(own.text("name"), taken_read(own), hardware)


def _point(own: Strict, name: str) -> Point:
    place = own.child(name, ("right", "up"))
    return Point(place.length("right", signed=True).nm, place.length("up", signed=True).nm)


def _gap(own: Strict, name: str) -> int:
    if name == "between" and not own.has(name):
        return 0
    return own.length(name, zero=True).nm


def _dividers(own: Strict) -> tuple[int, ...]:
    found = []
    for index, value in enumerate(own.items("dividers", most=11)):
        one = Strict({"it": value}, f"{own.pointer}/dividers/{index}", own.errors)
        found.append(one.length("it", signed=True).nm)
    if found != sorted(set(found)):
        own.refuse("dividers", "not_in_order", "Joints go from left to right, each once.")
    return tuple(found)

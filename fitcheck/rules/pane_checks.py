"""Do the holes, notches, corners and gaps of a pane keep the rules of its edition?"""

from itertools import combinations

from fitcheck.rules.compare import Asked, advised, compared, spoken
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.pane_edition import Edition
from fitcheck.rules.pane_geometry import apart_nm, corner_degrees, inside_nm
from fitcheck.rules.pane_outline import Hole, Notch, Pane, Quad
from fitcheck.rules.pane_taken import (
    REMAKE,
    edge_nm,
    hole_apart_nm,
    notch_apart_nm,
    taken_findings,
    within,
)
from fitcheck.rules.sources import Source
from fitcheck.rules.survey import House
from fitcheck.rules.tables_pane import LEAST_GAP, SQUARE_WITHIN

ROUNDED = "rounded; how far is not known"
ASK = "Ask the temperer which radius a notch needs inside: no figure is known for this edition."


def pane_findings(pane: Pane, edition: Edition, house: House) -> list[Finding]:
    """Check every hole, notch and corner of a pane by its one edition.

    Source: ASTM C1048 as restated, or EN 12150-1 (from memory).

    Args:
        pane: the pane [-].
        edition: the edition that rules over it [-].
        house: the firm's settings [-].

    Returns:
        The findings [-].
    """
    findings = [_corner(pane, index) for index in range(4)]
    for hole in pane.holes:
        findings += _hole(pane, hole, edition, house)
        findings += [_hole_to_notch(pane, hole, notch, edition, house) for notch in pane.notches]
    for one, other in combinations(pane.holes, 2):
        rim = hole_apart_nm(one, other)
        asked = _asked(
            pane, "hole.between", f"{one.name} and {other.name}", "apart enough", edition
        )
        findings.append(_least(asked, rim, edition.hole.between_nm, house))
    for notch in pane.notches:
        findings += _notch(pane, notch, edition, house)
    return [*findings, *taken_findings(pane, house)] if house.rules >= 5 else findings


def gap_finding(
    pane: Pane,
    side: str,
    gap_nm: int,
    u_nm: int,
    edition: Edition,
    house: House,
    beside: Pane | None = None,
) -> Finding:
    """Check that a gap stays open when the panel comes as large as its tolerance allows.

    At a joint both panels may come large; before version 5 of the rules only one of them did.

    Source: the edition's size tolerance; the least gap is a house setting.

    Args:
        pane: the pane [-].
        side: the gap's name [-].
        gap_nm: the gap as ordered [nm].
        u_nm: standard uncertainty of the opening there [nm].
        edition: the edition that rules over the pane [-].
        house: the firm's settings [-].
        beside: the panel on the other side of a joint [-].

    Returns:
        The finding [-].
    """
    panes = [pane, beside] if beside and house.rules >= 5 else [pane]
    large = "the panel comes large" if len(panes) == 1 else "both panels come large"
    asked = Asked(
        "pane.gap",
        f"Does the {side} gap stay open if {large}?",
        f"{pane.name}, {side}",
        edition.size_source,
        "Name a wider gap: glass would touch.",
    )
    tolerances = [edition.size_nm(one.longest_nm()) for one in panes]
    known = [each for each in tolerances if each is not None]
    if len(known) < len(tolerances):
        do = "Ask the temperer how far a panel of this thickness may be off its size."
        return spoken_finding(asked, None, "a tolerance", "unknown", do)
    left = gap_nm - sum(known)
    return compared(asked, Measured(left, left, u_nm / NM_PER_MM), house, least_nm=LEAST_GAP.value)


def hidden_taper(
    pane: Pane, side: str, taper_nm: int, hides_nm: int, source: Source, house: House
) -> Finding:
    """Check that a channel hides the wedge that a square panel leaves beside what is not square.

    Args:
        pane: the pane [-].
        side: the side's name, foot or head [-].
        taper_nm: width of the wedge at its widest, over the named gap [nm].
        hides_nm: what the channel hides [nm].
        source: who says how much it hides [-].
        house: the firm's settings [-].

    Returns:
        The finding [-].
    """
    where = f"on the {side} side" if side in ("left", "right") else f"at the {side}"
    asked = Asked(
        "pane.taper",
        f"Does the channel hide the wedge {where}?",
        f"{pane.name}, {side}",
        source,
        "Put the taper on the panel, or take a deeper channel.",
    )
    return _at_most(asked, taper_nm, hides_nm, house)


def _hole(pane: Pane, hole: Hole, edition: Edition, house: House) -> list[Finding]:
    rule = edition.hole
    wide = _asked(pane, "hole.diameter", hole.name, "wide enough", edition)
    findings = [_least(wide, hole.diameter_nm, rule.diameter_nm, house)]
    most = edition.most_diameter_nm(pane.narrow_nm())
    if most is not None:
        narrow = _asked(pane, "hole.most", hole.name, "no wider than a third of the panel", edition)
        findings.append(_at_most(narrow, hole.diameter_nm, most, house))
    edge = _asked(pane, "hole.edge", hole.name, "far enough from the edge", edition)
    findings.append(_least(edge, edge_nm(pane, hole), rule.to_edge_nm, house))
    tip = min(apart_nm(corner, hole.centre) for corner in pane.outline.corners)
    corner = _asked(pane, "hole.corner", hole.name, "far enough from the corner", edition)
    return [*findings, _least(corner, tip - hole.half_nm, rule.to_corner_nm, house)]


def _hole_to_notch(pane: Pane, hole: Hole, notch: Notch, edition: Edition, house: House) -> Finding:
    """A notch is an edge, so that a hole keeps an edge's distance from its three inner sides."""
    asked = _asked(
        pane, "hole.notch", f"{hole.name} and {notch.name}", "far enough from the notch", edition
    )
    return _least(asked, notch_apart_nm(hole, notch), edition.hole.to_edge_nm, house)


def _notch(pane: Pane, notch: Notch, edition: Edition, house: House) -> list[Finding]:
    radius = _asked(pane, "notch.radius", notch.name, "rounded enough inside", edition)
    least = edition.notch_radius_nm()
    if least is None and notch.radius_nm > 0 and house.rules >= 5:
        findings = [
            spoken_finding(radius, spoken(notch.radius_nm, house.mark), ROUNDED, "unknown", ASK)
        ]
    else:
        findings = [_least(radius, notch.radius_nm, least or 1, house)]
    if not all(within(pane, corner) for corner in notch.corners):
        outside = _asked(pane, "notch.place", notch.name, "within the panel", edition)
        do = f"Move the notch: it reaches beyond the panel. {REMAKE}"
        findings.append(spoken_finding(outside, "beyond its edges", "within", "fails", do))
    return findings


def _corner(pane: Pane, index: int) -> Finding:
    corners = pane.outline.corners
    angle = corner_degrees(corners[index - 1], corners[index], corners[(index + 1) % 4])
    name = ("left foot", "right foot", "right head", "left head")[index]
    asked = Asked(
        "pane.corner",
        "Is the corner near enough to a right angle for the rules of holes?",
        f"{pane.name}, {name}",
        SQUARE_WITHIN.source,
        "",
    )
    limit = f"90 degrees, give or take {SQUARE_WITHIN.value}"
    if abs(angle - 90) <= SQUARE_WITHIN.value:
        return spoken_finding(asked, f"{angle:.2f} degrees", limit, "fits", "Nothing to do.")
    do = "Ask the temperer: the rules of holes and corners do not speak of so sharp or blunt a one."
    return spoken_finding(asked, f"{angle:.2f} degrees", limit, "unknown", do)


def _asked(pane: Pane, rule: str, what: str, words: str, edition: Edition) -> Asked:
    place = f"{pane.name}, {what}"
    return Asked(rule, f"Is it {words}?", place, edition.hole_source, REMAKE)


def _least(asked: Asked, value_nm: int, least_nm: int, house: House) -> Finding:
    value = Measured(value_nm, value_nm, 0.0)
    found = compared(asked, value, house, least_nm=least_nm)
    return found if found.state == "fails" else advised(asked, value_nm, house, least_nm=least_nm)


def _at_most(asked: Asked, value_nm: int, most_nm: int, house: House) -> Finding:
    value = Measured(value_nm, value_nm, 0.0)
    found = compared(asked, value, house, most_nm=most_nm)
    return found if found.state == "fails" else advised(asked, value_nm, house, most_nm=most_nm)


def head_finding(pane: Pane, opening: Quad, gap_nm: int, u_nm: int, house: House) -> Finding:
    """Check that a level head stays its gap below the opening's own head.

    Args:
        pane: the pane [-].
        opening: the adjusted opening [nm].
        gap_nm: the head gap as ordered [nm].
        u_nm: standard uncertainty of the opening there [nm].
        house: the firm's settings [-].

    Returns:
        The finding [-].
    """
    below = min(
        inside_nm(*opening.edge("head"), corner)
        for corner in (pane.outline.left_head, pane.outline.right_head)
    )
    asked = Asked(
        "pane.head",
        "Does the level head stay clear of the opening's own head?",
        f"{pane.name}, head",
        LEAST_GAP.source,
        "Order a lower panel.",
    )
    return compared(asked, Measured(below, below, u_nm / NM_PER_MM), house, least_nm=gap_nm)

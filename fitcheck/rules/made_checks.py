"""May glass be cut to this opening, and is each panel as wide as its maker allows?"""

from collections.abc import Iterator
from dataclasses import replace

from fitcheck.rules.compare import Asked, compared
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.made_opening import Corners, NotTold
from fitcheck.rules.pane_outline import Pane
from fitcheck.rules.readings import need_text
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.sheet_made import MadeGlass
from fitcheck.rules.sources import Source
from fitcheck.rules.survey import House

WHICH_SIDE = "Find out on which side the shower head is: the handle's holes go by it."
_NOTHING = "Nothing to do."
_TOLD = "told by readings that check each other"
_KNOWN = "Is the opening known well enough to cut glass to it?"
_SIDE = "Is it known on which side the handle's holes go?"
_ROOM = "Is there room for every panel between the walls?"
_WIDE = "Is the panel as wide as its maker allows?"


def told(source: Source) -> Finding:
    """Return the finding that the opening is known well enough [-]."""
    return spoken_finding(_asked("made.opening", _KNOWN, source), _TOLD, _TOLD, "fits", _NOTHING)


def _asked(rule: str, question: str, source: Source, place: str = "glass made to measure") -> Asked:
    return Asked(rule, question, place, source, "")


def not_told(why: NotTold, source: Source) -> Finding:
    """Return the finding that no glass may be cut yet, with what to read.

    Args:
        why: readings to take, or what else to do [-].
        source: the sheet's page [-].

    Returns:
        The finding, unknown [-].
    """
    do = why.do or f"Read {', '.join(map(need_text, why.needs))}."
    asked = _asked("made.opening", _KNOWN, source)
    return replace(spoken_finding(asked, None, _TOLD, "unknown", do), needs=why.needs)


def side_unknown(source: Source) -> Finding:
    """Return the finding that nobody knows on which side a handle's holes go [-]."""
    return spoken_finding(
        _asked("made.handle", _SIDE, source), None, "known", "unknown", WHICH_SIDE
    )


def no_room(error: Exception, source: Source) -> Finding:
    """Return the finding that the panels do not go between the walls, with the reason [-]."""
    do = f"Choose other panels: {error}."
    return spoken_finding(_asked("made.room", _ROOM, source), "none", "room for each", "fails", do)


def width_findings(
    sheet: Sheet, made: MadeGlass, panes: tuple[Pane, ...], corners: Corners, house: House
) -> Iterator[Finding]:
    """Compare each panel's width with what its maker allows, its narrowest and its widest place.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        made: its glass made to measure [-].
        panes: the panels as cut, in the sheet's order [-].
        corners: the adjusted opening, for its doubt [nm].
        house: the firm's settings [-].

    Returns:
        One finding for each panel whose width is limited [-].
    """
    for rule, pane in zip(made.panels, panes, strict=True):
        if rule.least or rule.most:
            quad = pane.outline
            low = min(quad.right_foot.x - quad.left_foot.x, quad.right_head.x - quad.left_head.x)
            high = max(p.x for p in quad.corners) - min(p.x for p in quad.corners)
            asked = _asked("made.width", _WIDE, sheet.source(rule.page), f"{rule.name}, width")
            yield compared(
                replace(asked, remedy="Ask the maker for panels of other widths."),
                Measured(low, high, corners.u_nm / NM_PER_MM),
                house,
                least_nm=rule.least.nm if rule.least else None,
                most_nm=rule.most.nm if rule.most else None,
            )

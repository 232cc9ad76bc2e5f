"""What is said of each pane: centre, least thickness, safety mark, handle side, hinges and lift?"""

from dataclasses import dataclass
from functools import lru_cache

from fitcheck.rules.length import computed, mm_text
from fitcheck.rules.made_order import handle_side
from fitcheck.rules.pane_edition import edition_of
from fitcheck.rules.pane_geometry import Point
from fitcheck.rules.pane_handling import pane_hinges, pane_lift
from fitcheck.rules.pane_outline import Pane, Quad
from fitcheck.rules.panels import panel_rules
from fitcheck.rules.safety_mark import safety_mark
from fitcheck.rules.sheet import PanelRule, Sheet, Size
from fitcheck.rules.survey import House, Opening
from fitcheck.rules.verdict import Panel

GLASS_ONLY = "the glass; hardware is not weighed in"
NO_EDITION = "The sheet does not say by which standard its glass is made."


@dataclass(frozen=True, slots=True)
class PaneTold:
    """One pane, with what must be looked for on it and how it is handled; plain JSON inside."""

    name: str
    members: dict[str, object]

    def as_json(self) -> dict[str, object]:
        """Return the pane as plain JSON."""
        return {"name": self.name, **self.members}


def panes_told(
    sheet: Sheet, size: Size | None, panels: tuple[Panel, ...], opening: Opening, house: House
) -> tuple[PaneTold, ...]:
    """Tell of each pane what is worked out from the sheet and the side of the shower head.

    Source: ASTM C1036 and C1048 as restated or EN 12150-1 (from memory), by the edition that the
    sheet names; 16 CFR 1201 for the category; NIOSH for the lift.

    Args:
        sheet: the rule sheet [-].
        size: the size, if one is chosen [-].
        panels: the panels of the size with their mass [-].
        opening: the opening, for the shower-head side [-].
        house: the firm's settings [-].

    Returns:
        One row per panel [-].
    """
    code = size.code if size else None
    return _panes(sheet, code, tuple(panels), opening.shower_head_side, house)


@lru_cache(maxsize=256)
def _panes(
    sheet: Sheet, code: str | None, panels: tuple[Panel, ...], side: str, house: House
) -> tuple[PaneTold, ...]:
    """Tell once of the panes of a size; nothing but the shower-head side comes from the opening."""
    size = sheet.size(code) if code else None
    hinges = {
        fixing.bracket.hinge.panel: fixing.bracket.hinge
        for fixing in sheet.fixings
        if fixing.bracket and fixing.bracket.hinge
    }
    return tuple(
        PaneTold(
            panel.name,
            {
                **_pane(rule, sheet, panel.mass_ug, house),
                "handle": handle_side(rule.handle, side),
                "hinges": pane_hinges(rule, panel.mass_ug, hinges.get(panel.name)),
                "lift": pane_lift(
                    panel.mass_ug, panel.hands, house.lift_convention, stretched=house.rules < 5
                ),
            },
        )
        for rule, panel in zip(panel_rules(sheet, size), panels, strict=True)
    )


def _pane(rule: PanelRule, sheet: Sheet, mass_ug: int, house: House) -> dict[str, object]:
    width, height = rule.width.nm, rule.height.nm
    quad = Quad(Point(0, 0), Point(width, 0), Point(width, height), Point(0, height))
    middle = Pane(rule.name, quad, rule.thickness.nm).centre()
    centre = {
        "from_left": computed(middle.x, "down", house.mark),
        "up": computed(middle.y, "down", house.mark),
        "of": GLASS_ONLY,
    }
    if sheet.glazing is None:
        return {"centre": centre, "thickness_least": None, "safety": None, "why": NO_EDITION}
    edition = edition_of(sheet.glazing.edition, rule.thickness.nm, house.rules)
    window = edition.thickness_window_nm()
    mark = safety_mark(sheet.glazing.product, width * height, edition.name, house.rules)
    return {
        "centre": centre,
        "thickness_least": mm_text(window[0]) if window else None,
        "safety": {
            "edition": edition.name,
            "category": mark.category,
            "drop_class": mark.drop_class,
            "look_for": mark.look_for,
            "refuse": mark.refuse,
        },
        "why": None if window else "No least thickness is known for this name.",
    }

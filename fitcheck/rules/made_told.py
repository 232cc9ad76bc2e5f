"""Which panels are cut to this opening, do they keep the rules, and what is said of each?

The outline of each from the adjusted opening and the gaps that the sheet names; where the opening is
not told well enough nothing is cut, and what is to be read is said.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fitcheck.rules.asked_case import Case
from fitcheck.rules.finding import Finding, worst
from fitcheck.rules.in_doubt import in_doubt
from fitcheck.rules.made_checks import no_room, not_told, side_unknown, told, width_findings
from fitcheck.rules.made_opening import NotTold, corners_of
from fitcheck.rules.made_order import NoRoom, handle_side, order_made
from fitcheck.rules.pane_outline import Pane
from fitcheck.rules.pane_taken import one_pane
from fitcheck.rules.panel_order import CAUTIONS, OrderAsked, order_findings, order_panes, pane_json
from fitcheck.rules.shape_state import SHAPING, ShapeTold
from fitcheck.rules.sheet_made import MadeGlass
from fitcheck.rules.survey import House

WAITS = (
    "The order to the fabricator waits for a verdict that fits, and for a second person who has "
    "checked and signed it."
)


@dataclass(frozen=True, slots=True)
class MadeTold:
    """The glass made to measure for one opening: its order, its panes, its findings."""

    made: MadeGlass
    sides: tuple[str | None, ...]
    house: House
    findings: tuple[Finding, ...]
    order: dict[str, object] | None = None
    asked: OrderAsked | None = None
    panes: tuple[Pane, ...] = ()

    def doubted(self, doubts: Mapping[str, str]) -> "MadeTold":
        """Return the same with what rests on a reading in doubt unknown."""
        return replace(self, findings=in_doubt(self.findings, doubts))

    def as_json(self) -> dict[str, object]:
        """Return the glass as plain JSON; without an order `why` says what it waits for."""
        against = [one for one in self.findings if one.state in ("unknown", "fails")]
        return {
            "state": worst(one.state for one in self.findings),
            "why": None if self.order else against[0].do,
            "panels": self._panels(),
            "order": self.order,
            "cautions": [*CAUTIONS, WAITS],
        }

    def _panels(self) -> list[dict[str, object]]:
        if self.asked is None:
            return []
        edition = self.asked.edition
        rows = zip(self.made.panels, self.sides, self.panes, strict=True)
        return [
            {**pane_json(pane, edition, self.house), "handle": side, "order": rule.order}
            for rule, side, pane in rows
        ]


def made_told(case: Case, shape: ShapeTold) -> MadeTold | None:
    """Cut the sheet's glass to the adjusted opening, and check it.

    Source: the kit's own sheet; ASTM C1048 as restated or EN 12150-1 (from memory), never mixed.

    Args:
        case: survey, sheet and settings [-].
        shape: the adjusted opening [-].

    Returns:
        The glass; None when the sheet describes none [-].
    """
    made, glazing = case.sheet.made_glass, case.sheet.glazing
    if made is None or glazing is None:
        return None
    head_side = case.survey.opening.shower_head_side
    sides = tuple(handle_side(panel.handle, head_side) for panel in made.panels)
    source, found = case.sheet.source(made.page), corners_of(shape, made)
    if isinstance(found, NotTold):
        return MadeTold(made, sides, case.house, (not_told(found, source),))
    known = told(source)
    if head_side == "unknown" and made.by_the_shower_head:
        return MadeTold(made, sides, case.house, (known, side_unknown(source)))
    try:
        order = order_made(made, glazing, found, head_side, case.house)
        asked, panes = order_panes(order, case.house.rules)
    except (NoRoom, ValueError) as error:
        return MadeTold(made, sides, case.house, (known, no_room(error, source)))
    findings = [known, *width_findings(case.sheet, made, panes, found, case.house)]
    findings += order_findings(asked, panes, case.house)
    read = tuple(one.id for one in case.survey.readings if one.quantity in SHAPING)
    resting = tuple(replace(one, readings=read) for one in findings)
    if case.house.rules >= 5 and not all(map(one_pane, panes)):
        return MadeTold(made, sides, case.house, resting)
    return MadeTold(made, sides, case.house, resting, order, asked, panes)

"""What do the sheet's panels do to the sheet's head rail, wherever they stand?"""

from dataclasses import dataclass
from functools import lru_cache

from fitcheck.rules.finding import Finding
from fitcheck.rules.force import force_json, weight_lbf
from fitcheck.rules.length import NM_PER_INCH, computed, mm_text
from fitcheck.rules.quantity import kg_text
from fitcheck.rules.rail import Rail, rail_findings, sag_up_nm
from fitcheck.rules.rail_worst import Train
from fitcheck.rules.sheet import Sheet, Size
from fitcheck.rules.sheet_more import RailRule
from fitcheck.rules.sources import Source
from fitcheck.rules.survey import House
from fitcheck.rules.tables_fixings import SLAM_FACTOR
from fitcheck.rules.verdict import Panel


@dataclass(frozen=True, slots=True)
class HungRail:
    """The worst that the panels do to the rail, as the sheet describes both."""

    span_nm: int
    masses_ug: tuple[int, ...]
    reaction_lbf: float
    moment: float
    sag_nm: int
    findings: tuple[Finding, ...]
    source: Source
    mark: int

    def as_json(self) -> dict[str, object]:
        """Return the rail as plain JSON; loads and sag are rounded up."""
        return {
            "span": mm_text(self.span_nm),
            "panels": [kg_text(mass) for mass in self.masses_ug],
            "reaction": force_json(self.reaction_lbf, "up"),
            "moment": f"{-(-round(self.moment, 6) // 1):.0f} lbf in",
            "sag": computed(self.sag_nm, "up", self.mark),
            "slam_factor": SLAM_FACTOR.value,
            "source": self.source.as_json(),
        }


def hung_rail(
    sheet: Sheet, size: Size | None, panels: tuple[Panel, ...], house: House
) -> HungRail | None:
    """Work out the head rail of a size at its widest opening, with its panels anywhere along it.

    The widest opening is the worst; a reading never makes it worse, so one answer serves a kit.

    Source: superposition of simple beams; wall brackets are taken as pins.

    Args:
        sheet: the rule sheet [-].
        size: the size; without one nothing is told [-].
        panels: the panels of the size [-].
        house: the firm's settings [-].

    Returns:
        The rail, None when the sheet describes none, or no size or no panel is known [-].
    """
    if sheet.rail is None or size is None:
        return None
    hangs = sheet.rail.hangs or tuple(panel.name for panel in panels)
    masses = tuple(panel.mass_ug for panel in panels if panel.name in hangs)
    if not masses:
        return None
    span_nm = max(window.most.nm for window in size.windows)
    return _hung(sheet.rail, span_nm, masses, sheet.source(sheet.rail.page), house)


@lru_cache(maxsize=256)
def _hung(
    rule: RailRule, span_nm: int, masses: tuple[int, ...], source: Source, house: House
) -> HungRail:
    spacing = rule.roller_spacing.nm / NM_PER_INCH
    last = span_nm / NM_PER_INCH - spacing
    trains = tuple(Train(weight_lbf(mass), spacing, 0.0, last) for mass in masses)
    clear = rule.clear_below.nm if rule.clear_below else None
    weight = weight_lbf(rule.mass_ug)
    rail = Rail(span_nm, rule.section, rule.alloy, weight, trains, masses, clear)
    still, slammed = rail.worst(), rail.worst(float(SLAM_FACTOR.value))
    return HungRail(
        span_nm,
        masses,
        slammed.reaction,
        slammed.moment.value,
        sag_up_nm(still.sag.value),
        rail_findings(rail, still, slammed, house),
        source,
        house.mark,
    )

"""What does each bracket or hinge get, and does its screw hold that in the wall that was found?"""

from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from fitcheck.rules.brackets import Hinges
from fitcheck.rules.compare import words
from fitcheck.rules.demand import Case, bracket_case, hinge_cases
from fitcheck.rules.drilling import MASONRY
from fitcheck.rules.finding import Finding
from fitcheck.rules.fixing_in_steel import in_steel
from fitcheck.rules.fixing_in_wood import in_wood
from fitcheck.rules.fixing_seat import (
    BY_REPORT,
    NO_BRACKET,
    NO_MILS,
    NO_RAIL,
    NO_WALL,
    NOTHING,
    Asking,
    FixingLoad,
    Seat,
    bracket_on_wall,
)
from fitcheck.rules.force import newton_to_lbf, weight_lbf
from fitcheck.rules.framing import WOOD
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.panels import panel_rules
from fitcheck.rules.sheet import FixingRule
from fitcheck.rules.sheet_more import BracketRule
from fitcheck.rules.substrates import Spot
from fitcheck.rules.tables_fixings import (
    SLAM_FACTOR,
)
from fitcheck.rules.verdict import Fixing


def fixing_load(
    spot: Spot, fixing: Fixing, asking: Asking
) -> tuple[FixingLoad, tuple[Finding, ...]]:
    """Work out what the worst screw of one place gets, and compare it with what it holds there.

    Source: NDS 2018 and TR12 in wood, AISI S100 in steel, the evaluation report in masonry.

    Args:
        spot: the place with its zone [-].
        fixing: its row of the fastener schedule [-].
        asking: sheet, readings, panels, rail and settings [-].

    Returns:
        The row, and the findings; none where a load or the wall cannot be told [-].
    """
    row, seat = fixing_seated(spot, fixing, asking)
    return _held(row, seat, asking) if seat else (row, ())


def fixing_seated(spot: Spot, fixing: Fixing, asking: Asking) -> tuple[FixingLoad, Seat | None]:
    """Work out what the worst screw of one place gets, and how its bracket sits on the wall.

    Source: equilibrium.

    Args:
        spot: the place with its zone [-].
        fixing: its row of the fastener schedule [-].
        asking: sheet, readings, panels, rail and settings [-].

    Returns:
        The row, and the seat; no seat where a load or the wall cannot be told [-].
    """
    bracket, zone = spot.fixing.bracket, spot.zone
    if bracket is None:
        return _told(spot, "", (), NO_BRACKET), None
    bears = _bears(bracket)
    if zone is None or fixing.stack_nm is None:
        return _told(spot, bears, (), NO_WALL), None
    seat = Seat(spot, zone, bracket, fixing, fixing.stack_nm)
    cases = _cases(seat, asking)
    if not cases:
        return _told(spot, bears, (), NO_RAIL), None
    return _told(spot, bears, cases, None), seat


def _told(spot: Spot, bears: str, cases: tuple[Case, ...], why: str | None) -> FixingLoad:
    """Return a row of which the capacity is not known yet."""
    place, height = spot.fixing.place, spot.height.entered
    return FixingLoad(place, spot.surface, height, bears, cases, None, {}, why)


def _bears(bracket: BracketRule) -> str:
    if bracket.hinge:
        return f"the panel {bracket.hinge.panel}, hinged"
    return "the head rail with its panels" if bracket.bears == "rail" else "the sheet's load"


def _cases(seat: Seat, asking: Asking) -> tuple[Case, ...]:
    bracket, slam = seat.bracket, float(SLAM_FACTOR.value)
    if bracket.hinge:
        masses = {panel.name: panel.mass_ug for panel in asking.panels}
        rules = panel_rules(asking.sheet, asking.size)
        widths = {rule.name: rule.width.nm for rule in rules}
        if bracket.hinge.panel not in masses:
            return ()
        hinges = Hinges(
            weight_lbf(masses[bracket.hinge.panel]),
            widths[bracket.hinge.panel] / NM_PER_INCH,
            bracket.hinge.offset.nm / NM_PER_INCH,
            bracket.hinge.centres.nm / NM_PER_INCH,
        )
        return hinge_cases(hinges, seat.on_wall(), seat.stack_nm, slam)
    if bracket.bears == "rail":
        down = asking.rail.reaction_lbf if asking.rail else None
        name = "panels at this end"
    else:
        down, name = newton_to_lbf(seat.rule.load_n or Decimal(0)) * slam, "load of the sheet"
    return (_bracket_case(name, down, seat.rule, seat.bracket, seat.stack_nm),) if down else ()


@lru_cache(maxsize=256)
def _bracket_case(
    name: str, down_lbf: float, rule: FixingRule, bracket: BracketRule, stack_nm: int
) -> Case:
    return bracket_case(name, down_lbf, 0.0, bracket_on_wall(rule, bracket), stack_nm)


def _held(told: FixingLoad, seat: Seat, asking: Asking) -> tuple[FixingLoad, tuple[Finding, ...]]:
    base = seat.zone.structure
    if base in WOOD:
        return in_wood(told, seat, asking)
    if base == "steel_stud" and seat.zone.mils:
        return in_steel(told, seat)
    if base in MASONRY:
        return replace(told, why=BY_REPORT.format(base=words(base))), ()
    why = {"none": NOTHING, "steel_stud": NO_MILS}.get(base, NO_WALL)
    return replace(told, why=why), ()

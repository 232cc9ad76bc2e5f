"""Does the screw of a bracket hold in a steel stud?"""

from dataclasses import replace

from fitcheck.rules.finding import Finding
from fitcheck.rules.fixing_seat import NO_STEEL_SCREW, FixingLoad, Seat
from fitcheck.rules.holding_steel import SteelAsked, steel_findings
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.screws import screw_number
from fitcheck.rules.steel_stud import GaugeError, mils_parse, steel_strength
from fitcheck.rules.tables_fixings import (
    ALUMINIUM_ULTIMATE,
    STEEL_HEAD,
    STEEL_LEAST_MILS,
)


def in_steel(told: FixingLoad, seat: Seat) -> tuple[FixingLoad, tuple[Finding, ...]]:
    """Ask the stud; what it answers never lifts the question that the schedule asks of an engineer.

    Source: AISI S100-16, J4; mils as printed on the stud, never gauge.

    Args:
        told: the row with its cases [-].
        seat: the bracket on its wall [-].

    Returns:
        The row with its capacity, and the findings [-].
    """
    number = screw_number(seat.rule.screw.size) if seat.rule.screw else 0
    if number not in STEEL_HEAD.value:
        return replace(told, why=NO_STEEL_SCREW), ()
    refusal, mils = "", STEEL_LEAST_MILS.value
    try:
        mils = mils_parse(seat.zone.mils)
    except GaugeError as error:
        refusal = str(error)
    metal = seat.bracket.metal
    psi = ALUMINIUM_ULTIMATE.value if metal == "aluminium" else steel_strength(mils)
    thickness = seat.bracket.thickness.nm / NM_PER_INCH
    asked = SteelAsked(mils, refusal, number, thickness, psi, seat.stack_nm, off_centre=True)
    found, capacity, settings = steel_findings(seat.where, asked, told.cases)
    return replace(told, capacity=capacity, settings=settings), found

"""What is known so far about one fixing, while its hole is being worked out?"""

from dataclasses import dataclass, field

from fitcheck.rules import tables
from fitcheck.rules.drilling import SHEET
from fitcheck.rules.finding import Finding
from fitcheck.rules.length import inch_text
from fitcheck.rules.screws import clearance_hole_nm, lead_hole_nm, screw_number
from fitcheck.rules.sheet import Screw
from fitcheck.rules.substrates import Spot
from fitcheck.rules.survey import Zone
from fitcheck.rules.verdict import Hole

BIT_MARK = 64


@dataclass(slots=True)
class Plan:
    """One fixing being worked out: each rule writes on it what it knows."""

    spot: Spot
    carries: bool
    place: str
    stack_nm: int | None = None
    bracket_nm: int = 0
    pilot: Hole | None = None
    final_hole: Hole | None = None
    anchor: str | None = None
    screw: Screw | None = None
    reach_nm: int | None = None
    backing_hit: str = "not_needed"
    cautions: list[str] = field(default_factory=list)
    questions: list[str] = field(default_factory=list)
    refusals: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


def finish_questioned(zone: Zone) -> bool:
    """Return whether too little is known of the finish to name a bit.

    Args:
        zone: the build-up at the hole [-].

    Returns:
        True when the finish, or what is behind a thin sheet, is unknown [-].
    """
    return zone.finish == "unknown" or (zone.finish in SHEET and zone.fit == "unknown")


def plan_screw_holes(
    plan: Plan, screw: Screw, finish: str, into: str, *, dense: bool = False
) -> None:
    """Plan the clearance hole through the finish and the lead hole behind it; writes on the plan.

    Source: common practice for the clearance; NDS 2018 12.1.5 for the lead hole.

    Args:
        plan: what is known so far [-].
        screw: the screw [-].
        finish: what the clearance hole goes through [-].
        into: what the lead hole goes into [-].
        dense: whether that is wood of a specific gravity above 0.60 [-].
    """
    number = screw_number(screw.size)
    if number not in tables.SCREW_ROOT.value:
        plan.questions.append(f"Which lead hole does a {screw.size} screw want in {into}?")
        return
    clearance = inch_text(clearance_hole_nm(number), BIT_MARK)
    lead = inch_text(lead_hole_nm(number, dense=dense), BIT_MARK)
    plan.final_hole = Hole(clearance, finish, tables.CLEARANCE_OVER_MAJOR.source)
    plan.pilot = Hole(lead, into, tables.LEAD_HOLE_PERCENT.source)

"""What do the first rules work out of a case: findings, cuts, fixings, panels and beads?"""

from dataclasses import dataclass

from fitcheck.rules.asked_case import Case
from fitcheck.rules.backing import backing_in_frames, backing_setbacks
from fitcheck.rules.cuts import CutAnswer, cuts
from fitcheck.rules.finding import Finding
from fitcheck.rules.holes import FixingAnswer, fastener_schedule
from fitcheck.rules.panels import PanelAnswer, panels
from fitcheck.rules.readings import Readings
from fitcheck.rules.sealant import beads
from fitcheck.rules.sheet import Size
from fitcheck.rules.substrates import Spot, spots, stands_on, substrates
from fitcheck.rules.verdict import Bead
from fitcheck.rules.walls import (
    ceiling_height,
    curb,
    sill_fall,
    sill_level,
    surround_height,
    wall_lean,
)
from fitcheck.rules.widths import size_chosen, width_difference, width_windows


@dataclass(frozen=True, slots=True)
class Parts:
    """Everything that the first rules work out; later versions build on it."""

    readings: Readings
    size: Size | None
    spots: tuple[Spot, ...]
    cuts: tuple[CutAnswer, ...]
    fixings: tuple[FixingAnswer, ...]
    panes: PanelAnswer
    beads: tuple[Bead, ...]
    findings: tuple[Finding, ...]


def parts_of(case: Case, *, frames_only: bool = False) -> Parts:
    """Work out findings, cuts, fixings, panels and beads of a case.

    Args:
        case: survey, sheet, settings, and a size when one was asked for [-].
        frames_only: ask for the middle of the backing only where a wall is not masonry [-].

    Returns:
        The parts [-].
    """
    sheet, house = case.sheet, case.house
    readings = Readings(case.survey, house)
    size = case.size or size_chosen(sheet, readings)
    found = spots(sheet, case.survey)
    setbacks = (
        backing_in_frames(sheet, case.survey, readings, house)
        if frames_only
        else backing_setbacks(sheet, readings, house)
    )
    cut = cuts(sheet, size, readings, house)
    fixed = fastener_schedule(sheet, found, setbacks, house)
    findings = (
        *_opening_findings(case, size, readings),
        *setbacks,
        *substrates(sheet, found),
        *(finding for answer in cut for finding in answer.findings),
        *(finding for answer in fixed for finding in answer.findings),
    )
    return Parts(
        readings,
        size,
        tuple(found),
        tuple(cut),
        tuple(fixed),
        panels(sheet, size, case.survey.opening, house),
        tuple(beads(sheet, readings, house)),
        findings,
    )


def _opening_findings(case: Case, size: Size | None, readings: Readings) -> list[Finding]:
    sheet, survey, house = case.sheet, case.survey, case.house
    return [
        *stands_on(sheet, survey.opening),
        *width_windows(sheet, size, readings, house),
        *width_difference(sheet, size, readings, house),
        *wall_lean(sheet, readings, house),
        *sill_level(sheet, readings, house),
        *sill_fall(sheet, readings, house),
        *ceiling_height(sheet, readings, house),
        *surround_height(sheet, survey, readings, house),
        *curb(sheet, readings, house),
    ]

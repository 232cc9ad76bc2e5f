"""What do the rules of version 2 say of a case: the first rules, the shape, and what each part must bear?"""

from dataclasses import dataclass, replace

from fitcheck.rules.asked_case import Case
from fitcheck.rules.chance_bounds import chance_bounds
from fitcheck.rules.cut_foretold import cuts_foretold
from fitcheck.rules.deep import Deep
from fitcheck.rules.finding import Finding
from fitcheck.rules.fixing_loads import fixing_load
from fitcheck.rules.fixing_seat import Asking, FixingLoad
from fitcheck.rules.gathered import verdict_of
from fitcheck.rules.hung_rail import HungRail, hung_rail
from fitcheck.rules.in_doubt import by_shape, cuts_in_doubt
from fitcheck.rules.pane_handling import hinge_findings
from fitcheck.rules.pane_told import panes_told
from fitcheck.rules.parts import Parts, parts_of
from fitcheck.rules.sealing_told import sealing_told
from fitcheck.rules.shape_state import UNDOUBTED, ShapeTold
from fitcheck.rules.shape_told import shape_told
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.sheet_more import WALLS
from fitcheck.rules.sliding_told import sliding_told
from fitcheck.rules.verdict import Members, Verdict

VERSION = "2"
OF_A_WALL = ("wall.lean", "surround.height", "ceiling.height")


def verdict_2(case: Case, digest: str) -> Verdict:
    """Answer by the rules of version 2.

    Source: each part's own; what the sheet leaves out is not judged.

    Args:
        case: survey, sheet, settings, and a size when one was asked for [-].
        digest: digest of the inputs [-].

    Returns:
        The verdict [-].
    """
    parts = parts_of(case)
    shape = shape_told(case.survey, case.sheet.heights(parts.size), case.house)
    findings, deep = judged(case, parts, shape)
    cut = cuts_in_doubt(parts.cuts, shape.doubted)
    return verdict_of(case, replace(parts, cuts=cut, findings=findings), VERSION, digest, deep)


def findings_2(case: Case) -> tuple[Finding, ...]:
    """Return the findings of version 2 as if no reading were in doubt.

    Args:
        case: survey, sheet, settings and size [-].

    Returns:
        The findings [-].
    """
    return judged(case, parts_of(case), UNDOUBTED)[0]


@dataclass(frozen=True, slots=True)
class Borne:
    """The head rail, what each bracket gets and holds, and the findings on the brackets."""

    rail: HungRail | None
    rows: tuple[Members, ...]
    findings: list[Finding]


def judged(
    case: Case, parts: Parts, shape: ShapeTold, borne: Borne | None = None
) -> tuple[tuple[Finding, ...], Deep]:
    """Return the findings of version 2 and what it adds, for parts that are worked out already.

    Args:
        case: survey, sheet, settings and size [-].
        parts: what the first rules work out [-].
        shape: the adjusted opening [-].
        borne: what each bracket gets and holds, as this version says it when it is left out [-].

    Returns:
        The findings, and the members that version 2 adds [-].
    """
    sheet, house, panes = case.sheet, case.house, parts.panes.panels
    borne = borne or _borne(case, parts)
    rail = borne.rail
    saw, agreed = cuts_foretold(sheet, parts.size, parts.cuts, parts.readings, case.survey, house)
    found = (
        *_of_walls_that_count(sheet, parts.findings),
        *agreed,
        *(rail.findings if rail else ()),
        *borne.findings,
        *sliding_told(sheet, parts.size, parts.readings, house),
        *hinge_findings(sheet, parts.size, house),
    )
    findings = by_shape(found, shape)
    unknown = sum(answer.fixing.state == "unknown" for answer in parts.fixings)
    return findings, Deep(
        shape=shape,
        chance=chance_bounds(findings, unknown, both=house.rules >= 5),
        saw=tuple(each.held(shape.doubted) for each in saw) if shape.doubted else saw,
        rail=rail,
        loads=borne.rows,
        panes=panes_told(sheet, parts.size, panes, case.survey.opening, house),
        sealing=sealing_told(sheet, parts.beads),
    )


def asking_of(case: Case, parts: Parts) -> Asking:
    """Return what a load check needs to know besides the place itself, the head rail among it.

    Args:
        case: survey, sheet and settings [-].
        parts: what the first rules worked out [-].

    Returns:
        Sheet, size, readings, panels, rail and settings [-].
    """
    panes = parts.panes.panels
    rail = hung_rail(case.sheet, parts.size, panes, case.house)
    return Asking(case.sheet, parts.size, parts.readings, panes, rail, case.house)


def _borne(case: Case, parts: Parts) -> Borne:
    asking = asking_of(case, parts)
    rows: list[FixingLoad] = []
    findings: list[Finding] = []
    for spot, answer in zip(parts.spots, parts.fixings, strict=True):
        rule = spot.fixing
        if rule.carries or rule.bracket is not None:
            row, found = fixing_load(spot, answer.fixing, asking)
            rows.append(row)
            findings += found
    return Borne(asking.rail, tuple(rows), findings)


def _of_walls_that_count(sheet: Sheet, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Leave out what is asked of a wall that does not hold the kit."""
    if set(sheet.walls) == set(WALLS):
        return findings
    away = tuple(side for side in WALLS if side not in sheet.walls)
    return tuple(
        one for one in findings if not (one.rule in OF_A_WALL and one.place.startswith(away))
    )

"""How do panels cut to this opening stand among a verdict's panels: size, mass, hands, handing?"""

from dataclasses import replace
from functools import lru_cache

from fitcheck.rules.asked_case import Case
from fitcheck.rules.length import Length, computed, inch_text, length_parse, mm_text
from fitcheck.rules.made_told import MadeTold
from fitcheck.rules.pane_outline import Pane
from fitcheck.rules.pane_told import GLASS_ONLY, PaneTold
from fitcheck.rules.panels import panels_weighed
from fitcheck.rules.parts import Parts
from fitcheck.rules.sealant import beads
from fitcheck.rules.sheet import PanelRule, Sheet
from fitcheck.rules.sheet_made import MadePanel
from fitcheck.rules.verdict import Question

ABOUT = "glass made to measure"
NOT_CUT = "How heavy is the glass, and how many hands does it take? Known once the opening is read."
_TENTH_NM = 100_000  # of a millimetre


def made_case(case: Case, told: MadeTold) -> Case:
    """Return the case with the panels as they are cut among the sheet's panels.

    Each stands there with the smallest upright box around it, for what hangs on a hinge or a rail.

    Args:
        case: survey, sheet and settings [-].
        told: its glass made to measure [-].

    Returns:
        The case; without panels while none can be cut [-].
    """
    rows = zip(told.made.panels, told.panes, strict=True) if told.panes else ()
    rules = tuple(_rule(rule, pane, told.made.thickness, case.sheet.unit) for rule, pane in rows)
    return replace(case, sheet=_with_panels(case.sheet, rules))


def made_parts(parts: Parts, case: Case, told: MadeTold) -> Parts:
    """Return the parts with the panels as they are cut, their own mass and the beads along them.

    Source: as in `panels`; the mass is that of the outline less holes and notches.

    Args:
        parts: what the first rules work out of the sheet alone [-].
        case: the case with the panels as they are cut [-].
        told: the glass made to measure [-].

    Returns:
        The parts [-].
    """
    rules = case.sheet.panels
    glass = {r: pane.glass_ug() for r, pane in zip(rules, told.panes, strict=True)}
    answer = panels_weighed(case.sheet, glass, case.survey.opening, case.house)
    if not told.panes:
        answer = replace(answer, questions=(Question(ABOUT, NOT_CUT),))
    run = tuple(beads(case.sheet, parts.readings, case.house))
    return replace(parts, panes=answer, beads=run)


def made_panes(rows: tuple[PaneTold, ...], told: MadeTold) -> tuple[PaneTold, ...]:
    """Return what is said of each pane with the centre of its own outline, from its left foot.

    Args:
        rows: what is said of panes as of upright boxes [-].
        told: the glass made to measure [-].

    Returns:
        The rows [-].
    """
    panes = {pane.name: pane for pane in told.panes}
    mark = told.house.mark
    return tuple(
        PaneTold(row.name, {**row.members, "centre": _centre(panes[row.name], mark)})
        for row in rows
    )


def _centre(pane: Pane, mark: int) -> dict[str, object]:
    middle, foot = pane.centre(), pane.outline.left_foot
    return {
        "from_left": computed(middle.x - foot.x, "down", mark),
        "up": computed(middle.y - foot.y, "down", mark),
        "of": GLASS_ONLY,
    }


def _rule(rule: MadePanel, pane: Pane, thickness: Length, unit: str) -> PanelRule:
    xs, ys = ([p.x for p in pane.outline.corners], [p.y for p in pane.outline.corners])
    return PanelRule(
        name=rule.name,
        width=_box(max(xs) - min(xs), unit),
        height=_box(max(ys) - min(ys), unit),
        thickness=thickness,
        hardware_ug=rule.hardware_ug,
        order=rule.order,
        handing=rule.handing,
        sizes=(),
        page=rule.page,
        handle=rule.handle,
    )


def _box(nm: int, unit: str) -> Length:
    """Return a side of the box around a panel, up to the next sixteenth or tenth of a millimetre."""
    text = inch_text(nm, 16, "up") if unit == "inch" else mm_text(-(-nm // _TENTH_NM) * _TENTH_NM)
    return length_parse(text)


@lru_cache(maxsize=256)
def _with_panels(sheet: Sheet, rules: tuple[PanelRule, ...]) -> Sheet:
    """Return a sheet with these panels; one for the same, so that what is kept by it is found."""
    return replace(sheet, panels=rules)

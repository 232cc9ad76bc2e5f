"""Which opening, which sheet and which settings is a question about?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fitcheck.rules.backing import backing_setbacks
from fitcheck.rules.cuts import cuts
from fitcheck.rules.finding import Finding, State
from fitcheck.rules.holes import fastener_schedule
from fitcheck.rules.readings import Readings
from fitcheck.rules.sheet import Sheet, Size
from fitcheck.rules.sheet_agrees import agree_findings, contradicted, sheet_to_write
from fitcheck.rules.strict import InputError, InputErrors, Strict
from fitcheck.rules.substrates import spots, stands_on, substrates
from fitcheck.rules.survey import House, Survey, house_read, survey_read
from fitcheck.rules.walls import (
    ceiling_height,
    curb,
    sill_fall,
    sill_level,
    surround_height,
    wall_lean,
)
from fitcheck.rules.widths import size_chosen, width_difference, width_windows

CASE = ("opening", "readings", "zones", "sheet", "size", "house")
AGREES_FROM = 5  # rules before took a sheet's word for everything


@dataclass(frozen=True, slots=True)
class Case:
    """One survey and one sheet, read and found to be well formed; a size when one is settled."""

    survey: Survey
    sheet: Sheet
    size: Size | None
    house: House


def case_read(own: Strict) -> Case | None:
    """Read survey, sheet, size and settings; mistakes are noted on `own`.

    Without a size the one that the widths choose is settled.

    Args:
        own: the opened inputs [-].

    Returns:
        The case, or None when a mistake was noted [-].
    """
    survey, house = survey_read(own), house_read(own)
    sheet = sheet_from(own, "sheet", own.members.get("sheet"))
    if sheet is None or own.errors:
        return None
    size = _size(own, sheet) if own.has("size") else size_chosen(sheet, Readings(survey, house))
    return None if own.errors else Case(survey, sheet, size, house)


def sheet_from(own: Strict, name: str, body: object) -> Sheet | None:
    """Read a rule sheet that stands at a member; its mistakes are noted on `own` at their place.

    A sheet that contradicts itself is a mistake as well.

    Args:
        own: the opened inputs [-].
        name: the path of the member, without its first slash [-].
        body: the sheet as plain JSON [-].

    Returns:
        The sheet, or None when it has mistakes [-].
    """
    try:
        return sheet_to_write(body)
    except InputErrors as wrong:
        own.errors += [
            InputError(f"{own.pointer}/{name}{e.pointer}", e.code, e.detail, e.hint)
            for e in wrong.errors
        ]
    return None


def _size(own: Strict, sheet: Sheet) -> Size | None:
    code = own.text("size")
    size = sheet.size(code)
    if code and size is None:
        known = ", ".join(each.code for each in sheet.sizes)
        own.refuse("size", "size_unknown", f"{code} is no size of this sheet.", f"sizes: {known}")
    return size


def read_findings(case: Case) -> list[Finding]:
    """Return every finding that compares a reading with a limit.

    Args:
        case: survey, sheet, size and settings [-].

    Returns:
        The findings of widths, walls, sill, heights, curb, backing and cuts [-].
    """
    sheet, survey, house, size = case.sheet, case.survey, case.house, case.size
    readings = Readings(survey, house)
    found = contradicted(sheet, size) if house.rules >= AGREES_FROM else ()
    return [
        *agree_findings(sheet, found),
        *stands_on(sheet, survey.opening),
        *width_windows(sheet, size, readings, house),
        *width_difference(sheet, size, readings, house),
        *wall_lean(sheet, readings, house),
        *sill_level(sheet, readings, house),
        *sill_fall(sheet, readings, house),
        *ceiling_height(sheet, readings, house),
        *surround_height(sheet, survey, readings, house),
        *curb(sheet, readings, house),
        *backing_setbacks(sheet, readings, house),
        *(found for one in cuts(sheet, size, readings, house) for found in one.findings),
    ]


def wall_findings(case: Case) -> tuple[list[Finding], tuple[State, ...]]:
    """Return every finding about what the walls are made of, and the state of each fixing.

    Args:
        case: survey, sheet, size and settings [-].

    Returns:
        The findings, and the states of the fixings [-].
    """
    sheet, house = case.sheet, case.house
    found = spots(sheet, case.survey)
    setbacks = backing_setbacks(sheet, Readings(case.survey, house), house)
    fixed = fastener_schedule(sheet, found, setbacks, house)
    findings = [*substrates(sheet, found), *(f for one in fixed for f in one.findings)]
    return findings, tuple(one.fixing.state for one in fixed)


def failed(findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings that do not pass, failures first.

    Args:
        findings: any findings [-].

    Returns:
        Those that fail, then those that are unknown [-].
    """
    kept = list(findings)
    return [f for state in ("fails", "unknown") for f in kept if f.state == state]


def inputs_opened(inputs: Mapping[str, object], extra: tuple[str, ...] = ()) -> Strict:
    """Open the body of a question that holds a case.

    Args:
        inputs: the body as plain JSON [-].
        extra: members that the question has besides [-].

    Returns:
        The opened body [-].
    """
    return Strict.open(inputs, (*CASE, *extra), "", [])

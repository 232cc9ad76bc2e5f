"""Given readings and a rule sheet, does the kit fit, and what follows from that?"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from fitcheck.rules import RULES_VERSION
from fitcheck.rules.backing import backing_setbacks
from fitcheck.rules.cautions import cautions
from fitcheck.rules.cuts import cuts
from fitcheck.rules.finding import Finding, worst
from fitcheck.rules.holes import fastener_schedule, fixing_questions
from fitcheck.rules.panels import panels
from fitcheck.rules.readings import Readings
from fitcheck.rules.sealant import beads
from fitcheck.rules.sheet import Sheet, Size
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.strict import InputError, InputErrors, Strict
from fitcheck.rules.substrates import spots, stands_on, substrates
from fitcheck.rules.summary import missing_readings, summary
from fitcheck.rules.survey import House, Survey, house_read, survey_read
from fitcheck.rules.verdict import Verdict
from fitcheck.rules.walls import (
    ceiling_height,
    curb,
    sill_fall,
    sill_level,
    surround_height,
    wall_lean,
)
from fitcheck.rules.widths import size_chosen, width_difference, width_windows

__all__ = ["InputError", "InputErrors", "Verdict", "check", "inputs_digest", "sheet_parse"]

_INPUTS = ("opening", "readings", "zones", "sheet", "size", "house")


def check(
    inputs: Mapping[str, object], sheet: Sheet | None = None, read: Survey | None = None
) -> Verdict:
    """Answer for one opening and one kit: state, findings, cuts, fixings, panels, cautions.

    Args:
        inputs: opening, readings, zones, sheet, size and house as plain JSON [-].
        sheet: the sheet of the inputs already parsed, to save parsing it again; the digest and
            a later replay go by the inputs alone [-].
        read: rows of the inputs already read, likewise [-].

    Returns:
        The verdict; the same inputs give the same verdict, byte for byte [-].

    Raises:
        InputErrors: the inputs themselves are malformed; one entry per mistake.
    """
    case = _case(inputs, sheet, read)
    readings = Readings(case.survey, case.house)
    size = case.size or size_chosen(case.sheet, readings)
    found = spots(case.sheet, case.survey)
    setbacks = backing_setbacks(case.sheet, readings, case.house)
    cut = cuts(case.sheet, size, readings, case.house)
    fixed = fastener_schedule(case.sheet, found, setbacks, case.house)
    pane = panels(case.sheet, size, case.survey.opening, case.house)
    findings = [
        *_opening_findings(case, size, readings),
        *setbacks,
        *substrates(case.sheet, found),
        *(finding for answer in cut for finding in answer.findings),
        *(finding for answer in fixed for finding in answer.findings),
    ]
    state = worst(
        [*(finding.state for finding in findings), *(answer.fixing.state for answer in fixed)]
    )
    return Verdict(
        rules_version=RULES_VERSION,
        inputs_digest=inputs_digest(inputs),
        state=state,
        size=size.code if size else None,
        summary=summary(state, size, findings, case.house.mark),
        findings=tuple(findings),
        missing=missing_readings(findings, readings.disagreements),
        disagreements=tuple(readings.disagreements),
        cuts=tuple(answer.cut for answer in cut),
        fixings=tuple(answer.fixing for answer in fixed),
        panels=pane.panels,
        hands_needed=pane.hands,
        sealant=tuple(beads(case.sheet, readings, case.house)),
        cure_hours=case.sheet.cure.amount if case.sheet.cure else None,
        cautions=cautions(case.survey, case.house),
        questions=(*fixing_questions(fixed), *pane.questions),
    )


@dataclass(frozen=True, slots=True)
class _Case:
    """One survey and one sheet, read and found to be well formed."""

    survey: Survey
    sheet: Sheet
    size: Size | None
    house: House


def _case(inputs: Mapping[str, object], sheet: Sheet | None, read: Survey | None) -> _Case:
    errors: list[InputError] = []
    own = Strict.open(inputs, _INPUTS, "", errors)
    survey = survey_read(own, read)
    house = house_read(own)
    sheet = sheet or _sheet(own)
    size = _size(own, sheet) if sheet and own.has("size") else None
    if errors or sheet is None:
        raise InputErrors(errors)
    return _Case(survey, sheet, size, house)


def _size(own: Strict, sheet: Sheet) -> Size | None:
    code = own.text("size")
    size = sheet.size(code)
    if code and size is None:
        known = ", ".join(each.code for each in sheet.sizes)
        own.refuse("size", "size_unknown", f"{code} is no size of this sheet.", f"sizes: {known}")
    return size


def _opening_findings(case: _Case, size: Size | None, readings: Readings) -> list[Finding]:
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


def inputs_digest(inputs: Mapping[str, object]) -> str:
    """Return the digest of the inputs in canonical JSON.

    Args:
        inputs: plain JSON [-].

    Returns:
        "sha256:" and 64 hexadecimal digits [-].
    """
    return "sha256:" + hashlib.sha256(_canonical(inputs).encode()).hexdigest()


def _canonical(value: object) -> str:
    return json.dumps(value, sort_keys=True, separators=(",", ":"))


def _sheet(own: Strict) -> Sheet | None:
    try:
        return _sheet_cached(_canonical(own.members.get("sheet")))
    except InputErrors as wrong:
        own.errors += [
            InputError(f"{own.pointer}/sheet{e.pointer}", e.code, e.detail, e.hint)
            for e in wrong.errors
        ]
    return None


@lru_cache(maxsize=256)
def _sheet_cached(canonical: str) -> Sheet:
    return sheet_parse(json.loads(canonical))

"""Given readings and a rule sheet, does the kit fit, and what follows from that?"""

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import lru_cache

from fitcheck.rules import RULES_VERSION
from fitcheck.rules.asked_case import CASE, Case
from fitcheck.rules.sheet import Sheet, Size
from fitcheck.rules.sheet_agrees import refusals
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.strict import InputError, InputErrors, Strict
from fitcheck.rules.survey import House, Survey, house_read, survey_read
from fitcheck.rules.verdict import Verdict
from fitcheck.rules.version_1 import verdict_1
from fitcheck.rules.version_2 import verdict_2
from fitcheck.rules.version_3 import verdict_3
from fitcheck.rules.version_4 import verdict_4
from fitcheck.rules.version_5 import verdict_5

__all__ = ["InputError", "InputErrors", "Verdict", "check", "depth", "inputs_digest", "sheet_parse"]

_WRITER = json.JSONEncoder(sort_keys=True, separators=(",", ":"))
VERSIONS: Mapping[str, Callable[[Case, str], Verdict]] = {
    "1": verdict_1,
    "2": verdict_2,
    "3": verdict_3,
    "4": verdict_4,
    "5": verdict_5,
}
SAY_MORE = ("2", "3", "4", "5")  # versions with a depth, as in `depth.py`, which needs arrays


def check(
    inputs: Mapping[str, object],
    sheet: Sheet | None = None,
    read: Survey | None = None,
    version: str = RULES_VERSION,
    *,
    sent: bool = False,
) -> Verdict:
    """Answer for one opening and one kit: state, findings, cuts, fixings, panels, cautions.

    Args:
        inputs: opening, readings, zones, sheet, size and house as plain JSON [-].
        sheet: the sheet of the inputs already parsed, to save parsing it again; the digest and
            a later replay go by the inputs alone [-].
        read: rows of the inputs already read, likewise [-].
        version: the rules to answer by; a kept verdict is worked out again by its own [-].
        sent: the sheet of the inputs came with the question: where it contradicts itself is a mistake,
            where a published one does is a finding [-].

    Returns:
        The verdict; the same inputs give the same verdict, byte for byte [-].

    Raises:
        InputErrors: the inputs themselves are malformed; one entry per mistake.
        KeyError: no such version of the rules.
    """
    case = _case(inputs, sheet, read, version)
    if sent and sheet is None:
        _refuse_contradictions(inputs, case.sheet)
    return VERSIONS[version](case, inputs_digest(inputs))


def depth(
    inputs: Mapping[str, object], sheet: Sheet | None = None, version: str = RULES_VERSION
) -> dict[str, object]:
    """Answer at length: every reading judged, the one more reading that helps most, the chance of the
    whole, and the least change when it does not fit.

    Args:
        inputs: as for `check` [-].
        sheet: the sheet of the inputs already parsed, likewise [-].
        version: the rules to answer by, likewise; the first ones say no more [-].

    Returns:
        Plain JSON; the same inputs give the same answer, byte for byte [-].

    Raises:
        InputErrors: the inputs themselves are malformed; one entry per mistake.
        KeyError: the rules of this version say no more than the verdict, or there are none.
    """
    from fitcheck.rules.depth import depth_of

    case = _case(inputs, sheet, None, version)
    verdict = VERSIONS[version](case, inputs_digest(inputs))
    size = case.sheet.size(verdict.size) if verdict.size else None
    return depth_of(replace(case, size=size), verdict)


def _case(
    inputs: Mapping[str, object], sheet: Sheet | None, read: Survey | None, version: str
) -> Case:
    errors: list[InputError] = []
    own = Strict.open(inputs, CASE, "", errors)
    survey = survey_read(own, read)
    house = _by_rules(house_read(own), int(version))
    sheet = sheet or _sheet(own)
    size = _size(own, sheet) if sheet and own.has("size") else None
    if errors or sheet is None:
        raise InputErrors(errors)
    return Case(survey, sheet, size, house)


def _refuse_contradictions(inputs: Mapping[str, object], sheet: Sheet) -> None:
    refused = refusals(sheet, inputs["sheet"])
    if refused:
        raise InputErrors([replace(one, pointer=f"/sheet{one.pointer}") for one in refused])


@lru_cache(maxsize=256)
def _by_rules(house: House, rules: int) -> House:
    """Return the same settings by a version of the rules, as one house: what is kept by it is found again."""
    return house if house.rules == rules else replace(house, rules=rules)


def _size(own: Strict, sheet: Sheet) -> Size | None:
    code = own.text("size")
    size = sheet.size(code)
    if code and size is None:
        known = ", ".join(each.code for each in sheet.sizes)
        own.refuse("size", "size_unknown", f"{code} is no size of this sheet.", f"sizes: {known}")
    return size


def inputs_digest(inputs: Mapping[str, object]) -> str:
    """Return the digest of the inputs in canonical JSON.

    Args:
        inputs: plain JSON [-].

    Returns:
        "sha256:" and 64 hexadecimal digits [-].
    """
    return "sha256:" + hashlib.sha256(_canonical(inputs).encode()).hexdigest()


def _canonical(value: object) -> str:
    return _WRITER.encode(value)


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

"""How long is each part to be cut, is there stock enough, and is the reading sure enough?"""

from dataclasses import dataclass, replace
from functools import lru_cache

from fitcheck.rules.compare import Asked, advised, compared, guard_of, not_known
from fitcheck.rules.finding import Finding, Measured, worst
from fitcheck.rules.readings import Absent, Readings
from fitcheck.rules.sheet import CutRule, Sheet, Size, applies
from fitcheck.rules.survey import House
from fitcheck.rules.tables_saw import LEAST_PART
from fitcheck.rules.verdict import Cut

PREDICTED = "predicted"
AS_FIXED = "as fixed"
NOTHING_LEFT = Absent(())


@dataclass(frozen=True, slots=True)
class CutAnswer:
    """A cut with the findings that it rests on, and whom to ask before the saw; empty when nobody."""

    cut: Cut
    findings: tuple[Finding, ...]
    waits: str = ""


def cuts(sheet: Sheet, size: Size | None, readings: Readings, house: House) -> list[CutAnswer]:
    """Work out every cut from the distance at the height where the part sits.

    A cut between brackets is predicted from the width until the as-fixed distance was read. The
    length is the distance less the sheet's deduction, and is never rounded long. What leaves no inch
    of the part fails, and has no length.

    Source: the kit's own sheet. Common practice, no source: rail, distance less 1/4 in;
    threshold, width at the sill less 7/8 in.

    Args:
        sheet: the rule sheet [-].
        size: the size, if one is chosen [-].
        readings: the readings of the survey [-].
        house: the firm's settings [-].

    Returns:
        One answer per part [-].
    """
    return [
        _answer(rule, sheet, readings, house) for rule in sheet.cuts if applies(rule.sizes, size)
    ]


def cut_distance(rule: CutRule, readings: Readings) -> tuple[Measured | Absent, str]:
    """Return the distance that a part is cut to, and whether it was predicted or read as fixed.

    Args:
        rule: the sheet's rule for the part [-].
        readings: the readings of the survey [-].

    Returns:
        The distance before any deduction, or why there is none, and its status [nm].
    """
    if rule.measured == "between_brackets":
        fixed = readings.near("between_brackets", "none", rule.height)
        if isinstance(fixed, Measured) or fixed.apart_nm is not None:
            return fixed, AS_FIXED
    width = readings.at("width", rule.height)
    if isinstance(width, Measured) and rule.measured == "between_brackets" and rule.brackets_take:
        taken = rule.brackets_take.nm
        low, high = width.low_nm - taken, width.high_nm - taken
        return Measured(low, high, width.u_mm, width.readings), PREDICTED
    return width, PREDICTED


def _answer(rule: CutRule, sheet: Sheet, readings: Readings, house: House) -> CutAnswer:
    distance, status = cut_distance(rule, readings)
    length: Measured | Absent = distance
    if isinstance(distance, Measured):
        length = Measured(
            distance.low_nm - rule.deduct.nm,
            distance.high_nm - rule.deduct.nm,
            distance.u_mm,
            distance.readings,
        )
    findings = (*_lengths(rule, sheet, length, house), *_cover(rule, sheet, length, house))
    if nothing_left(length, house):
        length = NOTHING_LEFT
    if isinstance(distance, Measured) and distance.low_nm <= 0 and house.rules >= 5:
        distance = NOTHING_LEFT
    cut = Cut(
        part=rule.part,
        count=rule.count,
        measured=rule.measured,
        height=rule.height.entered,
        distance=distance if isinstance(distance, Measured) else None,
        deduct=rule.deduct,
        length=length if isinstance(length, Measured) else None,
        allowance=rule.allowance,
        stock=rule.stock,
        end=rule.end,
        status=status,
        state=worst(finding.state for finding in findings),
        source=sheet.source(rule.page),
        mark=house.mark,
    )
    return CutAnswer(cut, findings)


def nothing_left(length: Measured | Absent | None, house: House) -> bool:
    """Return whether a part would be cut to less than can be sawn at a mark; asked from version 5 on.

    Source: house setting.

    Args:
        length: the length worked out [nm].
        house: the firm's settings [-].

    Returns:
        Whether nothing that can be sawn is left [-].
    """
    short = isinstance(length, Measured) and length.low_nm < LEAST_PART.value
    return short and house.rules >= 5


def _lengths(rule: CutRule, sheet: Sheet, length: Measured | Absent, house: House) -> list[Finding]:
    findings = [compared(_long_enough(sheet, rule), length, house, most_nm=rule.stock.nm)]
    if nothing_left(length, house) and (rule.least is None or rule.least.nm < LEAST_PART.value):
        asked = replace(_cut_to(sheet, rule, "least", "1 in or more"), source=LEAST_PART.source)
        findings.append(compared(asked, length, house, least_nm=LEAST_PART.value))
    elif rule.least is not None:
        asked = _cut_to(sheet, rule, "least", f"{rule.least} or more")
        findings.append(compared(asked, length, house, least_nm=rule.least.nm))
    if rule.most is not None:
        asked = _cut_to(sheet, rule, "most", f"{rule.most} or less")
        findings.append(compared(asked, length, house, most_nm=rule.most.nm))
    return findings


@lru_cache(maxsize=256)
def _long_enough(sheet: Sheet, rule: CutRule) -> Asked:
    return Asked(
        "cut.stock",
        f"Is the {rule.part} in the box long enough ({rule.stock})?",
        _place(rule),
        sheet.source(rule.page),
        f"Do not cut: the {rule.part} in the box is too short; choose a larger size.",
    )


@lru_cache(maxsize=256)
def _cut_to(sheet: Sheet, rule: CutRule, name: str, limit: str) -> Asked:
    return Asked(
        f"cut.{name}",
        f"Is the {rule.part} to be cut to {limit}?",
        _place(rule),
        sheet.source(rule.page),
        f"Do not cut the {rule.part}: choose another size.",
    )


def _place(rule: CutRule) -> str:
    return f"{rule.part}, {rule.height} above the sill"


def _cover(rule: CutRule, sheet: Sheet, length: Measured | Absent, house: House) -> list[Finding]:
    """Compare how far the readings may be off with what the part's end covers can hide."""
    if rule.allowance is None:
        return []
    asked = _hides(sheet, rule)
    if isinstance(length, Absent):
        return [not_known(asked, length, house, most_nm=rule.allowance.nm)]
    band_nm = guard_of(length.u_mm, house)
    return [advised(asked, band_nm, house, most_nm=rule.allowance.nm, readings=length.readings)]


@lru_cache(maxsize=256)
def _hides(sheet: Sheet, rule: CutRule) -> Asked:
    return Asked(
        "cut.cover",
        f"Can the end covers of the {rule.part} hide what the readings may be off "
        f"({rule.allowance})?",
        rule.part,
        sheet.source(rule.page),
        "Read it again with a better tool before the saw.",
    )

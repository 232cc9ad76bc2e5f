"""Are the walls plumb, the sill level and draining, and everything high and deep enough?"""

from functools import lru_cache

from fitcheck.rules.compare import Asked, compared
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.part_of_run import fall_over_all, level_over_all
from fitcheck.rules.readings import Absent, Readings
from fitcheck.rules.sheet import Between, CurbRule, LeanRule, Least, Most, Sheet
from fitcheck.rules.survey import House, Survey

BOTH = ("left", "right")
SURROUND_FINISHES = ("acrylic", "fibreglass")


def wall_lean(sheet: Sheet, readings: Readings, house: House) -> list[Finding]:
    """Compare each wall's lean, scaled to the height of the sheet's limit, with that limit.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        readings: the readings; a lean is positive into the opening [nm].
        house: the firm's settings [-].

    Returns:
        One finding per wall, or none when the sheet has no such rule [-].
    """
    limit = sheet.lean
    if limit is None:
        return []
    return [_lean(limit, side, sheet, readings, house) for side in BOTH]


@lru_cache(maxsize=256)
def _plumb(sheet: Sheet, limit: LeanRule, side: str) -> Asked:
    return Asked(
        "wall.lean",
        f"Is the {side} wall out of plumb by {limit.most} or less over {limit.over}?",
        f"{side} wall",
        sheet.source(limit.page),
        "Correct or pack the wall before this kit goes in.",
    )


def _lean(limit: LeanRule, side: str, sheet: Sheet, readings: Readings, house: House) -> Finding:
    value = lean_over(readings, side, limit.over.nm)
    return compared(_plumb(sheet, limit, side), value, house, most_nm=limit.most.nm)


def lean_over(readings: Readings, side: str, over_nm: int) -> Measured | Absent:
    """Return the size of a wall's lean over a height, the largest of those read.

    Args:
        readings: the readings of the survey [-].
        side: "left" or "right" [-].
        over_nm: the height over which the lean is told [nm].

    Returns:
        The lean, or why there is none [nm].
    """
    groups = readings.groups("lean", side)
    any_lean = groups[0].value if len(groups) == 1 else readings.single("lean", side)
    if isinstance(any_lean, Absent):
        return any_lean
    scaled = [
        _scaled(group.value, group.over_nm, over_nm)
        for group in groups
        if isinstance(group.value, Measured)
    ]
    return scaled[0] if len(scaled) == 1 else max(scaled, key=lambda lean: lean.high_nm)


def _scaled(lean: Measured, read_over_nm: int, over_nm: int) -> Measured:
    """Return the size of a lean as it would be over the height of the limit."""
    least, most = _sizes(lean.low_nm, lean.high_nm)
    low = least * over_nm // read_over_nm
    high = -(-most * over_nm // read_over_nm)
    return Measured(low, high, lean.u_mm * over_nm / read_over_nm, lean.readings)


def sill_level(sheet: Sheet, readings: Readings, house: House) -> list[Finding]:
    """Compare how far the sill is out of level over its run with what the sheet allows.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        readings: the readings; positive when the right end is higher [nm].
        house: the firm's settings [-].

    Returns:
        One finding, or none when the sheet has no such rule [-].
    """
    limit = sheet.level
    if limit is None:
        return []
    value = out_of_level(readings, house)
    return [compared(_level(sheet, limit), value, house, most_nm=limit.most.nm)]


def out_of_level(readings: Readings, house: House) -> Measured | Absent:
    """Return how far the sill is out of level over its run, whichever end is higher.

    Args:
        readings: the readings of the survey [-].
        house: the firm's settings [-].

    Returns:
        The size, or why there is none [nm].
    """
    value = level_over_all(readings, house)
    return _size_of(value) if isinstance(value, Measured) else value


@lru_cache(maxsize=256)
def _level(sheet: Sheet, limit: Most) -> Asked:
    return Asked(
        "sill.level",
        f"Is the sill level to {limit.most} over its run?",
        "sill, end to end",
        sheet.source(limit.page),
        "Level the sill before this kit goes in.",
    )


def _size_of(value: Measured) -> Measured:
    return Measured(*_sizes(value.low_nm, value.high_nm), value.u_mm, value.readings)


def _sizes(low_nm: int, high_nm: int) -> tuple[int, int]:
    """Return the least and the most that a value between two numbers can be from zero."""
    low, high = sorted((abs(low_nm), abs(high_nm)))
    return 0 if low_nm < 0 < high_nm else low, high


def sill_fall(sheet: Sheet, readings: Readings, house: House) -> list[Finding]:
    """Compare the sill's fall across its depth with the least and the most of the sheet.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        readings: the readings; positive when the sill drains inward [nm].
        house: the firm's settings [-].

    Returns:
        One finding, or none when the sheet has no such rule [-].
    """
    limit = sheet.sill_fall
    if limit is None:
        return []
    asked, value = _drains(sheet, limit), fall_over_all(readings, house)
    return [compared(asked, value, house, least_nm=limit.least.nm, most_nm=limit.most.nm)]


@lru_cache(maxsize=256)
def _drains(sheet: Sheet, limit: Between) -> Asked:
    return Asked(
        "sill.fall",
        f"Does the sill drain inward by {limit.least} to {limit.most} across its depth?",
        "sill, front to back",
        sheet.source(limit.page),
        "Do not set a threshold on this sill: it must drain inward; correct its fall first.",
    )


def ceiling_height(sheet: Sheet, readings: Readings, house: House) -> list[Finding]:
    """Compare the height to the ceiling or soffit on both sides with the least of the sheet.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        readings: the readings of the survey [-].
        house: the firm's settings [-].

    Returns:
        One finding per side, or none when the sheet has no such rule [-].
    """
    limit = sheet.ceiling_height
    if limit is None:
        return []
    findings = []
    for side in BOTH:
        asked, value = _head_room(sheet, limit, side), readings.single("ceiling_height", side)
        findings.append(compared(asked, value, house, least_nm=limit.least.nm))
    return findings


@lru_cache(maxsize=256)
def _head_room(sheet: Sheet, limit: Least, side: str) -> Asked:
    return Asked(
        "ceiling.height",
        f"Are there {limit.least} or more from the sill to the ceiling on the {side}?",
        f"{side}, sill to ceiling",
        sheet.source(limit.page),
        "Choose a lower kit: the panels cannot be lifted in under this ceiling.",
    )


def surround_height(
    sheet: Sheet, survey: Survey, readings: Readings, house: House
) -> list[Finding]:
    """Compare the height of an acrylic or fibreglass surround with the least of the sheet.

    A wall that is known to have no surround is not asked; a wall whose finish is not known is.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        survey: the survey with its zones [-].
        readings: the readings of the survey [-].
        house: the firm's settings [-].

    Returns:
        One finding per wall that has, or may have, a surround [-].
    """
    limit = sheet.surround_height
    if limit is None:
        return []
    findings = []
    for side in BOTH:
        if surround_possible(survey, side):
            asked, value = _surround(sheet, limit, side), readings.single("surround_height", side)
            findings.append(compared(asked, value, house, least_nm=limit.least.nm))
    return findings


def surround_possible(survey: Survey, side: str) -> bool:
    """Return whether a wall has, or for all that is known may have, a surround.

    Args:
        survey: the survey with its zones [-].
        side: "left" or "right" [-].

    Returns:
        False when another finish is known [-].
    """
    finishes = {z.finish for z in survey.zones if z.surface == f"{side}_wall"}
    return not finishes or bool(finishes & {"unknown", *SURROUND_FINISHES})


@lru_cache(maxsize=256)
def _surround(sheet: Sheet, limit: Least, side: str) -> Asked:
    return Asked(
        "surround.height",
        f"Is the surround on the {side} {limit.least} high or higher?",
        f"{side} wall",
        sheet.source(limit.page),
        "Choose a kit whose rail sits on this surround, or finish the wall above it.",
    )


def curb(sheet: Sheet, readings: Readings, house: House) -> list[Finding]:
    """Compare the depth and the flat width of the curb or deck with the least of the sheet.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        readings: the readings of the survey [-].
        house: the firm's settings [-].

    Returns:
        One finding per dimension that the sheet limits [-].
    """
    rule = sheet.curb
    if rule is None:
        return []
    limits = (("curb_depth", "deep", rule.depth_least), ("curb_flat", "flat", rule.flat_least))
    findings = []
    for quantity, word, least in limits:
        if least is not None:
            asked = _wide_enough(sheet, rule, quantity, least.entered, word)
            findings.append(compared(asked, readings.single(quantity), house, least_nm=least.nm))
    return findings


@lru_cache(maxsize=256)
def _wide_enough(sheet: Sheet, rule: CurbRule, quantity: str, least: str, word: str) -> Asked:
    return Asked(
        quantity.replace("_", "."),
        f"Is the curb or deck {least} {word} or more?",
        "curb or deck",
        sheet.source(rule.page),
        "Choose a kit for a narrower curb, or have the curb rebuilt.",
    )

"""Is there a stud or blocking where the brackets go?"""

from functools import lru_cache

from fitcheck.rules import tables
from fitcheck.rules.compare import Asked, compared
from fitcheck.rules.drilling import MASONRY
from fitcheck.rules.finding import Finding, State, worst
from fitcheck.rules.length import Length
from fitcheck.rules.readings import Readings
from fitcheck.rules.sheet import BackingRule, Sheet
from fitcheck.rules.survey import House, Survey, Zone

RULE = "backing.setback"


def backing_setbacks(sheet: Sheet, readings: Readings, house: House) -> list[Finding]:
    """Compare where the backing's centre lies, per place and side, with the sheet's setbacks.

    Source: the kit's own sheet. Common practice, no source: 2 1/2 in for the outer holes.

    Args:
        sheet: the rule sheet [-].
        readings: the readings; measured from the sill's outer edge [nm].
        house: the firm's settings [-].

    Returns:
        One finding per place and side [-].
    """
    return [
        _setback(rule, side, sheet, readings, house)
        for rule in sheet.backing
        for side in rule.sides
    ]


def backing_in_frames(
    sheet: Sheet, survey: Survey, readings: Readings, house: House
) -> list[Finding]:
    """Compare the setbacks as `backing_setbacks`, but not where the wall is masonry through and through.

    Such a wall has no stud to be found; what an anchor asks of it stands with the anchor.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        survey: the survey with its zones [-].
        readings: the readings; measured from the sill's outer edge [nm].
        house: the firm's settings [-].

    Returns:
        One finding per place and side that has a frame, or may have one [-].
    """
    return [
        _setback(rule, side, sheet, readings, house)
        for rule in sheet.backing
        for side in rule.sides
        if not is_masonry(survey.zones, f"{side}_wall", rule.height)
    ]


def is_masonry(zones: tuple[Zone, ...], surface: str, height: Length) -> bool:
    """Return whether a surface is known to be block, brick or concrete at a height.

    Args:
        zones: the zones of the survey [-].
        surface: the wall [-].
        height: height above the sill [nm].

    Returns:
        True when every zone that covers the place says so [-].
    """
    there = [zone for zone in zones if zone.surface == surface and zone.covers(height)]
    return bool(there) and all(zone.structure in MASONRY for zone in there)


def _setback(
    rule: BackingRule, side: str, sheet: Sheet, readings: Readings, house: House
) -> Finding:
    asked, value = _asked(sheet, rule, side), readings.near("backing_centre", side, rule.height)
    most_nm = rule.setback_most.nm if rule.setback_most else None
    return compared(asked, value, house, least_nm=rule.setback_least.nm, most_nm=most_nm)


@lru_cache(maxsize=256)
def _asked(sheet: Sheet, rule: BackingRule, side: str) -> Asked:
    least, most = rule.setback_least, rule.setback_most
    within = f"between {least} and {most}" if most else f"{least} or more"
    return Asked(
        RULE,
        f"Does the {side} backing for the {rule.place} lie {within} from the sill's outer edge?",
        setback_place(rule.place, side, rule.height),
        sheet.source(rule.page),
        f"Fit blocking on the {side} at {rule.height}, or choose a kit that fixes elsewhere.",
    )


def setback_place(place: str, side: str, height: Length) -> str:
    """Return where a backing rule looks, in words.

    Args:
        place: what is fixed there [-].
        side: "left" or "right" [-].
        height: height above the sill [nm].

    Returns:
        A text such as "rail bracket, left, 72 in above the sill" [-].
    """
    return f"{place}, {side}, {height} above the sill"


def backing_state(side: str, height: Length, sheet: Sheet, setbacks: list[Finding]) -> State | None:
    """Return what the sheet's backing rules said about a fixing, None when they are silent.

    A rule speaks for a fixing on its side that sits within the height tolerance of the rule.

    Args:
        side: "left" or "right" [-].
        height: height of the fixing above the sill [nm].
        sheet: the rule sheet [-].
        setbacks: what `backing_setbacks` found [-].

    Returns:
        The worst state of the rules that speak for it [-].
    """
    places = _places(sheet, side, height.nm)
    states = [finding.state for finding in setbacks if finding.place in places]
    return worst(states) if states else None


@lru_cache(maxsize=1024)
def _places(sheet: Sheet, side: str, height_nm: int) -> frozenset[str]:
    """Return the places whose rules speak for a fixing on this side at this height."""
    return frozenset(
        setback_place(rule.place, side, rule.height)
        for rule in sheet.backing
        if side in rule.sides and abs(rule.height.nm - height_nm) <= tables.SAME_HEIGHT.value
    )

"""Does the kit allow what the walls are made of, and on what does the opening stand?"""

from dataclasses import dataclass
from functools import lru_cache

from fitcheck.rules.compare import Asked, one_of, words
from fitcheck.rules.finding import Finding
from fitcheck.rules.length import Length
from fitcheck.rules.sheet import FixingRule, Sheet
from fitcheck.rules.survey import Opening, Survey, Zone


@dataclass(frozen=True, slots=True)
class Spot:
    """One height on one surface where a fixing goes, with the zones found there."""

    fixing: FixingRule
    surface: str
    height: Length
    zones: tuple[Zone, ...]

    @property
    def zone(self) -> Zone | None:
        """Return the zone, if exactly one build-up is known there."""
        return self.zones[0] if len(self.zones) == 1 else None


def spots(sheet: Sheet, survey: Survey) -> list[Spot]:
    """Return every height on every surface where the sheet puts a fixing.

    Args:
        sheet: the rule sheet [-].
        survey: the survey with its zones [-].

    Returns:
        The spots, in the sheet's order [-].
    """
    return [
        Spot(fixing, surface, height, _zones_at(survey, surface, height))
        for fixing in sheet.fixings
        for surface in fixing.surfaces
        for height in fixing.heights
    ]


def _zones_at(survey: Survey, surface: str, height: Length) -> tuple[Zone, ...]:
    """Zones there, one for each build-up: two people who saw the same do not contradict each other."""
    there = [
        zone
        for zone in survey.zones
        if zone.surface == surface and (surface == "sill" or zone.covers(height))
    ]
    if len(there) < 2:
        return tuple(there)
    alike: dict[object, Zone] = {}
    for zone in there:
        alike.setdefault(zone.build_up, zone)
    return tuple(alike.values())


def stands_on(sheet: Sheet, opening: Opening) -> list[Finding]:
    """Compare what the opening stands on with what the sheet allows.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        opening: the opening [-].

    Returns:
        One finding [-].
    """
    return [_stands_on(sheet, opening.stands_on)]


@lru_cache(maxsize=256)
def _stands_on(sheet: Sheet, what: str) -> Finding:
    allowed = " or ".join(words(each) for each in sheet.stands_on)
    asked = Asked(
        "opening.stands_on",
        f"Does the opening stand on a {allowed}?",
        "sill",
        sheet.source(sheet.page),
        f"Choose a kit that stands on a {words(what)}.",
    )
    return one_of(asked, what, sheet.stands_on)


def substrates(sheet: Sheet, found: list[Spot]) -> list[Finding]:
    """Compare finish, structure and fit of every zone that holds a fixing with the sheet.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        found: the spots of the sheet's fixings [-].

    Returns:
        Three findings per zone, or none when the sheet has no such rule [-].
    """
    if sheet.substrates is None:
        return []
    zones = {zone.id: zone for spot in found for zone in spot.zones}
    findings = []
    for zone in zones.values():
        at = (zone.surface, zone.from_height.entered, zone.to_height.entered)
        findings += [
            _allowed(sheet, "finish", zone.finish, *at),
            _allowed(sheet, "structure", zone.structure, *at),
            _allowed(sheet, "fit", zone.fit, *at),
        ]
    return findings


@lru_cache(maxsize=1024)
def _allowed(sheet: Sheet, what: str, value: str, surface: str, low: str, high: str) -> Finding:
    """Compare one thing that a wall is made of with the sheet's words for it."""
    rule = sheet.substrates
    assert rule is not None  # noqa: S101
    asked = Asked(
        f"substrate.{what}",
        f"Is the {what} of the {words(surface)} from {low} to {high} one that the kit allows?",
        f"{words(surface)}, {low} to {high}",
        sheet.source(rule.page),
        f"Do not fix this kit to a {words(value)} {what}: change the wall or the kit.",
    )
    allowed = {"finish": rule.finishes, "structure": rule.structures, "fit": rule.fit}
    return one_of(asked, value, allowed[what])

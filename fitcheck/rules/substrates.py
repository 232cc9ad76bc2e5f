"""Does the kit allow what the walls are made of, and on what does the opening stand?"""

from dataclasses import dataclass

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
    alike: dict[object, Zone] = {}
    for zone in survey.zones:
        if zone.surface == surface and (surface == "sill" or zone.covers(height)):
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
    allowed = " or ".join(words(each) for each in sheet.stands_on)
    asked = Asked(
        "opening.stands_on",
        f"Does the opening stand on a {allowed}?",
        "sill",
        sheet.source(sheet.page),
        f"Choose a kit that stands on a {words(opening.stands_on)}.",
    )
    return [one_of(asked, opening.stands_on, sheet.stands_on)]


def substrates(sheet: Sheet, found: list[Spot]) -> list[Finding]:
    """Compare finish, structure and fit of every zone that holds a fixing with the sheet.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        found: the spots of the sheet's fixings [-].

    Returns:
        Three findings per zone, or none when the sheet has no such rule [-].
    """
    rule = sheet.substrates
    if rule is None:
        return []
    zones = {zone.id: zone for spot in found for zone in spot.zones}
    findings = []
    for zone in zones.values():
        for what, value, allowed in (
            ("finish", zone.finish, rule.finishes),
            ("structure", zone.structure, rule.structures),
            ("fit", zone.fit, rule.fit),
        ):
            asked = Asked(
                f"substrate.{what}",
                f"Is the {what} of the {words(zone.surface)} from {zone.from_height} to "
                f"{zone.to_height} one that the kit allows?",
                f"{words(zone.surface)}, {zone.from_height} to {zone.to_height}",
                sheet.source(rule.page),
                f"Do not fix this kit to a {words(value)} {what}: change the wall or the kit.",
            )
            findings.append(one_of(asked, value, allowed))
    return findings

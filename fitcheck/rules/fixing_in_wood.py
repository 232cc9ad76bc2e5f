"""Does the screw of a bracket hold in wood, and does it hit the stud?"""

from dataclasses import replace
from functools import lru_cache

from fitcheck.rules.demand import Case
from fitcheck.rules.finding import Finding
from fitcheck.rules.fixing_apart import apart_in_wood, outer_screw
from fitcheck.rules.fixing_seat import (
    DURATION,
    NO_WALL,
    TOO_SHORT,
    Asking,
    FixingLoad,
    Seat,
    off_centre,
)
from fitcheck.rules.holding_wood import WoodAsked, wood_findings, wood_source, wood_used
from fitcheck.rules.locating import stud_hit
from fitcheck.rules.screws import screw_number
from fitcheck.rules.sheet_more import BracketRule
from fitcheck.rules.sources import Source
from fitcheck.rules.survey import House
from fitcheck.rules.tables import SCREW_ROOT
from fitcheck.rules.tables_fixings import (
    DOWEL_BEARING_BRACKET,
    LOAD_DURATION,
)
from fitcheck.rules.wood_screw import WoodJoint, gravity_of


def in_wood(told: FixingLoad, seat: Seat, asking: Asking) -> tuple[FixingLoad, tuple[Finding, ...]]:
    """Hold the worst screw against its cases in wood, and its place against the stud's middle.

    Source: NDS 2018, chapter 12, and TR12 for the stack; an unknown species is taken as weak.

    Args:
        told: the row with its cases [-].
        seat: the bracket on its wall [-].
        asking: readings and settings [-].

    Returns:
        The row with its capacity, and the findings [-].
    """
    size, length_nm = seat.fixing.screw_size, seat.fixing.depth_nm
    if size is None or length_nm is None:
        return replace(told, why=NO_WALL), ()
    species, screw = seat.zone.species, (size, length_nm)
    found, capacity, settings = _wood(
        seat.where, seat.bracket, screw, seat.stack_nm, species, told.cases, asking.house
    )
    row = replace(told, capacity=capacity, settings=settings)
    known = asking.house.rules >= 5 and screw_number(size) in SCREW_ROOT.value
    apart = apart_in_wood(seat, size, asking.house) if known else ()
    return row, (*_hit(seat, size, asking), *apart, *found)


@lru_cache(maxsize=256)
def _wood(
    where: str,
    bracket: BracketRule,
    screw: tuple[str, int],
    stack_nm: int,
    species: str,
    cases: tuple[Case, ...],
    house: House,
) -> tuple[tuple[Finding, ...], dict[str, object] | None, dict[str, object]]:
    """Hold a joint against its cases once; the schedule already speaks of services and species."""
    asked = WoodAsked(_joint(bracket, screw, stack_nm, species), species, DURATION)
    found, capacity, settings = wood_findings(where, asked, cases, house)
    kept = [
        replace(one, rule=TOO_SHORT) if one.rule == "fixing.embedment" else one
        for one in found
        if one.rule not in ("fixing.services", "fixing.species")
        and not (one.rule == "fixing.root" and one.state == "fits")
    ]
    return tuple(kept), capacity, settings


def _joint(bracket: BracketRule, screw: tuple[str, int], stack_nm: int, species: str) -> WoodJoint:
    return WoodJoint(
        *screw,
        bracket.thickness.nm,
        DOWEL_BEARING_BRACKET.value[bracket.metal],
        stack_nm,
        gravity_of(species),
        LOAD_DURATION.value[DURATION],
    )


def used_in_wood(told: FixingLoad, seat: Seat, rules: int) -> tuple[float | None, Source | None]:
    """Return the greatest share of a screw in wood that is used, and who says what it holds.

    Source: NDS 2018, chapter 12, and TR12 for the stack.

    Args:
        told: the row with its cases [-].
        seat: the bracket on its wall [-].
        rules: the version of the rules [-].

    Returns:
        The share and the source; nothing where the screw is not known or does not count [-].
    """
    size, length_nm = seat.fixing.screw_size, seat.fixing.depth_nm
    if size is None or length_nm is None:
        return None, None
    screw = (size, length_nm)
    return _used(seat.bracket, screw, seat.stack_nm, seat.zone.species, told.cases, rules)


@lru_cache(maxsize=256)
def _used(
    bracket: BracketRule,
    screw: tuple[str, int],
    stack_nm: int,
    species: str,
    cases: tuple[Case, ...],
    rules: int,
) -> tuple[float | None, Source | None]:
    joint = _joint(bracket, screw, stack_nm, species)
    return wood_used(joint, cases), wood_source(joint, rules)


def _hit(seat: Seat, size: str, asking: Asking) -> tuple[Finding, ...]:
    """Compare the screws' place with the stud's middle; blocking is wide enough anywhere.

    A screw of which no diameter is known has no edge distance; its row already says so.
    """
    if seat.zone.structure == "blocking":
        return ()
    if screw_number(size) not in SCREW_ROOT.value:
        return ()
    off = off_centre(seat, asking.readings)
    if off is None:
        return ()
    if asking.house.rules >= 5:
        off = outer_screw(seat, off)
    return (stud_hit(seat.where, size, off, asking.house),)

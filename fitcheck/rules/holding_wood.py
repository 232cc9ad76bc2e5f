"""Does a wood screw or lag hold what it gets, deep enough and with the stack as a gap?"""

from dataclasses import dataclass
from math import hypot

from fitcheck.rules import tables
from fitcheck.rules.compare import Asked, advised
from fitcheck.rules.demand import Bracket, Case
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.force import Share, force_json, holds, spoken_finding
from fitcheck.rules.length import NM_PER_MM, inch_text, mm_text
from fitcheck.rules.locating import edge_distance_nm, locating_tolerance_nm, stud_hit
from fitcheck.rules.services import services_source
from fitcheck.rules.sources import Source, Status
from fitcheck.rules.sources_structure import structure_source
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import SPECIES, House
from fitcheck.rules.tables_fixings import (
    DOWEL_BEARING_BRACKET,
    EDGE_DIAMETERS_LAG_ACROSS,
    END_GRAIN_WOOD_SCREW,
    GRAVITY_WHEN_UNKNOWN,
    LAG_SCREWS,
    LOAD_DURATION,
    ROOT_TENSION_SHARE,
    STUD_FACE,
)
from fitcheck.rules.wood_screw import (
    WoodCapacity,
    WoodJoint,
    gravity_of,
    nominal_nm,
    wood_holds,
)

WOOD = ("kind", "species", "screw", "wet", "duration", "stud", "grain")
GRAINS = ("side", "end")
_ACROSS = 90.0
_STUD = ("off_centre", "uncertainty", "face")
DURATIONS = tuple(LOAD_DURATION.value)


@dataclass(frozen=True, slots=True)
class WoodAsked:
    """A joint in wood, with the words it was asked in, and where the stud was found."""

    joint: WoodJoint
    species: str
    duration: str
    stud: "StudFound | None" = None


@dataclass(frozen=True, slots=True)
class StudFound:
    """How far the hole is off the stud's middle, how surely, and how wide the stud's face is."""

    off_centre: Measured
    face_nm: int


def wood_read(own: Strict, bracket: Bracket, stack_nm: int) -> WoodAsked:
    """Read a screw in wood; mistakes are noted on `own`.

    A lag takes its lower value across the grain: blocking lies level, and an open door pulls
    sideways. A wood screw's value knows no direction.

    Args:
        own: the opened base [-].
        bracket: the bracket that the screw goes through [-].
        stack_nm: finish, mortar and board over the wood [nm].

    Returns:
        The joint [-].
    """
    screw = own.child("screw", ("size", "length"))
    size = screw.text("size")
    length = screw.length("length")
    try:
        nominal_nm(size)
    except ValueError as error:
        lags = ", ".join(LAG_SCREWS.value)
        screw.refuse("size", "not_a_choice", str(error), f'write "#10", or a lag: {lags}')
    species = own.choice("species", SPECIES, "unknown")
    duration = own.choice("duration", DURATIONS, "permanent")
    joint = WoodJoint(
        size,
        length.nm,
        bracket.thickness_nm,
        DOWEL_BEARING_BRACKET.value[bracket.metal],
        stack_nm,
        gravity_of(species),
        LOAD_DURATION.value[duration],
        own.flag("wet", default=False),
        _ACROSS if size in LAG_SCREWS.value else 0.0,
        own.choice("grain", GRAINS, "side") == "end",
    )
    return WoodAsked(joint, species, duration, own.optional("stud", _STUD, _stud))


def wood_findings(
    place: str, asked: WoodAsked, cases: tuple[Case, ...], house: House
) -> tuple[tuple[Finding, ...], dict[str, object] | None, dict[str, object]]:
    """Compare what the worst screw gets with what it holds in wood.

    Source: NDS 2018, chapter 12; TR12 for the stack.

    Args:
        place: the fixing [-].
        asked: the joint [-].
        cases: what the worst screw gets [-].
        house: the firm's settings [-].

    Returns:
        The findings, the capacity and the settings that were used [-].
    """
    settings: dict[str, object] = {
        "species": asked.species,
        "gravity": f"{asked.joint.gravity:g}",
        "duration_factor": f"{asked.joint.duration:g}",
        "duration": asked.duration,
    }
    if asked.joint.end_grain:
        settings["grain"] = "end"
        if asked.joint.size not in LAG_SCREWS.value:
            return (_in_end_grain(place, asked.joint.size),), None, settings
    try:
        capacity = wood_holds(asked.joint)
    except ValueError as error:
        return (_too_short(place, asked.joint, str(error)),), None, settings
    findings: list[Finding | None] = [
        _species(place, asked.species),
        _services(place, asked.joint, capacity, house),
        _edge(place, asked, cases, house),
    ]
    findings += [
        one for case in cases for one in _case(place, asked.joint, case, capacity, house.rules)
    ]
    return tuple(one for one in findings if one), _capacity_json(asked.joint, capacity), settings


def wood_used(joint: WoodJoint, cases: tuple[Case, ...]) -> float | None:
    """Return the greatest share that any case uses, of the wood or of the screw's own root.

    Source: NDS 2018, 12.4.1; TR12 for the stack.

    Args:
        joint: the joint [-].
        cases: what the worst screw gets [lbf].

    Returns:
        The share, one or less holds; None where the screw does not reach far enough to count [-].
    """
    try:
        capacity = wood_holds(joint)
    except ValueError:
        return None
    return max(
        share.used
        for case in cases
        for share in (
            Share(hypot(case.pull_lbf, case.shear_lbf), capacity.at(case.pull_lbf, case.shear_lbf)),
            Share(case.pull_lbf, capacity.root_lbf),
        )
    )


def _in_end_grain(place: str, size: str) -> Finding:
    asked = Asked(
        "fixing.grain",
        f"Does the {size} screw go into the side of the wood, not into its end?",
        place,
        END_GRAIN_WOOD_SCREW.source,
        "",
    )
    do = "Move the hole to the side of a stud or of blocking: end grain lets a wood screw go."
    return spoken_finding(asked, "end grain", "side grain", "fails", do)


def _edge(place: str, asked: WoodAsked, cases: tuple[Case, ...], house: House) -> Finding | None:
    """Compare the edge distance; a lag that an open door pulls sideways has one to tell in any case."""
    size, stud = asked.joint.size, asked.stud
    across = size in LAG_SCREWS.value and any(case.across for case in cases)
    if stud:
        return stud_hit(place, size, stud.off_centre, house, stud.face_nm, across=across)
    if not across:
        return None
    least = inch_text(edge_distance_nm(size, across=True), house.mark, "up")
    told = Asked(
        "fixing.stud_hit",
        f"Does the {size} lag go in far enough from the edge that an open door pulls it to?",
        place,
        EDGE_DIAMETERS_LAG_ACROSS.source,
        "",
    )
    do = (
        f"How wide is the face of the wood, and how far off its middle is the hole? Across the grain a lag "
        f"stays {least} from the edge, which no stud of 1 1/2 in gives: fit blocking."
    )
    return spoken_finding(told, None, f"{least} from the edge", "unknown", do)


def _stud(own: Strict) -> StudFound:
    off = own.length("off_centre", zero=True).nm
    u_mm = own.length("uncertainty", zero=True).nm / NM_PER_MM
    face = own.length("face").nm if own.has("face") else STUD_FACE.value
    return StudFound(Measured(off, off, u_mm), face)


def _case(
    place: str, joint: WoodJoint, case: Case, capacity: WoodCapacity, rules: int
) -> list[Finding]:
    where = f"{place}, {case.name}"
    together = Asked(
        "fixing.together",
        "Does the worst screw hold pull and shear at once?",
        where,
        wood_source(joint, rules),
        "Use longer or more screws, a taller bracket or a thinner stack, or fit blocking.",
    )
    root = Asked(
        "fixing.root",
        "Is the screw itself strong enough for the pull?",
        where,
        ROOT_TENSION_SHARE.source,
        "Use a thicker screw.",
    )
    load = hypot(case.pull_lbf, case.shear_lbf)
    held = Share(load, capacity.at(case.pull_lbf, case.shear_lbf))
    return [holds(together, held), holds(root, Share(case.pull_lbf, capacity.root_lbf))]


def wood_source(joint: WoodJoint, rules: int) -> Source:
    """Return who says what a joint holds: a stack is a gap, which the specification's own do not know.

    Args:
        joint: the joint [-].
        rules: the version of the rules; those before 5 called published what is from memory [-].

    Returns:
        The source [-].
    """
    if joint.stack_nm > 0:
        return structure_source("tr12", "from memory", "general dowel equations with a gap")
    status: Status = "from memory" if rules >= 5 else "published"
    return structure_source("nds", status, "table 12.3.1A, 12.4.1")


def _species(place: str, species: str) -> Finding | None:
    if species != "unknown":
        return None
    asked = Asked(
        "fixing.species",
        "Which wood is the stud?",
        place,
        GRAVITY_WHEN_UNKNOWN.source,
        "",
    )
    do = (
        "Nothing to do: it is taken as weak as the weakest common group of studs, spruce-pine-fir (south), "
        f"{_gravity()}. Name the species if it is a lighter one."
    )
    return spoken_finding(asked, "not known", "a species of the table, or weak", "fits", do)


def _gravity() -> str:
    return f"specific gravity {GRAVITY_WHEN_UNKNOWN.value:g}"


def _services(place: str, joint: WoodJoint, capacity: WoodCapacity, house: House) -> Finding:
    reach = inch_text(capacity.penetration_nm, house.mark, "up")
    asked = Asked(
        "fixing.services",
        f"Does the {joint.size} screw stay within {house.safe_reach} of the stud's face?",
        place,
        services_source(house),
        f"Locate pipes and cables first: the screw goes {reach} into the stud. A steel nail plate "
        "means stop.",
    )
    return advised(asked, capacity.penetration_nm, house, most_nm=house.safe_reach.nm)


def _too_short(place: str, joint: WoodJoint, why: str) -> Finding:
    asked = Asked(
        "fixing.embedment",
        f"Does the {joint.size} screw go far enough into the wood to count?",
        place,
        tables.LEAST_PENETRATION_DIAMETERS.source,
        "",
    )
    left = joint.length_nm - joint.bracket_nm - joint.stack_nm
    reading = mm_text(left) if left > 0 else "it never reaches the wood"
    return spoken_finding(
        asked, reading, "six diameters, lags four", "fails", f"Use a longer screw: {why}."
    )


def _capacity_json(joint: WoodJoint, capacity: WoodCapacity) -> dict[str, object]:
    return {
        "penetration": mm_text(capacity.penetration_nm),
        "withdrawal": force_json(capacity.out_lbf, "down"),
        "lateral": force_json(capacity.lateral_lbf, "down"),
        "lateral_modes": capacity.lateral.as_json(),
        "root": force_json(capacity.root_lbf, "down"),
        "locating_tolerance": mm_text(locating_tolerance_nm(joint.size)),
    }

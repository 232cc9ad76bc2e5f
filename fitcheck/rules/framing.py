"""Does a fixing that carries the door reach wood, deep enough and clear of pipes and cables?"""

from fitcheck.rules import tables
from fitcheck.rules.compare import Asked, advised, compared, words
from fitcheck.rules.drilling import MASONRY
from fitcheck.rules.finding import Finding, Measured, State
from fitcheck.rules.length import length_parse
from fitcheck.rules.plan import Plan, finish_questioned, plan_screw_holes
from fitcheck.rules.screws import least_penetration_nm, screw_number, stock_length
from fitcheck.rules.services import flat_stud_cautions, services_source, tip_care, tip_cautions
from fitcheck.rules.sheet import Screw
from fitcheck.rules.stack import stack_of
from fitcheck.rules.survey import House, Zone
from fitcheck.rules.wood_screw import gravity_of

WOOD = frozenset({"wood_stud", "blocking"})
THICKNESS = "How thick are finish and backing together? Probe or measure."


def plan_backing(plan: Plan, zone: Zone, state: State | None, house: House) -> None:
    """Plan a fixing that carries load and so must reach wood; writes on the plan.

    Source: NDS 2018 12.1.5 for the penetration; NEC 300.4 for the zone kept for services.

    Args:
        plan: what is known so far [-].
        zone: the build-up at the hole [-].
        state: what the sheet's backing rules say of this place, None when they are silent [-].
        house: the firm's settings [-].
    """
    _plan_hit(plan, zone, state)
    if zone.structure == "none":
        plan.refusals.append(
            "Nothing behind the finish can carry this: fit blocking before the kit goes in."
        )
    elif zone.structure in WOOD:
        _plan_wood(plan, zone, house)
    else:
        plan.questions.append(STRUCTURE_QUESTIONS[zone.structure])


_MASONRY_QUESTION = (
    "Which masonry anchor will be used? Hole, depth and edge distance come from its own data "
    "sheet and evaluation report, not from here."
)
STRUCTURE_QUESTIONS = {
    "unknown": "What is behind the wall: wood stud, blocking, steel, masonry or nothing?",
    "steel_stud": "How many mils is the steel stud? Fit wood blocking, or let an engineer say "
    "that the stud holds a door.",
    **dict.fromkeys(MASONRY, _MASONRY_QUESTION),
}


def _plan_hit(plan: Plan, zone: Zone, state: State | None) -> None:
    if zone.structure in {"none", "unknown"}:
        plan.backing_hit = "missed" if zone.structure == "none" else "unknown"
    elif state is None:
        plan.backing_hit = "unknown" if zone.structure in {"wood_stud", "steel_stud"} else "hit"
    else:
        plan.backing_hit = {"fails": "missed", "unknown": "unknown"}.get(state, "hit")
    if plan.backing_hit == "unknown" and state is None:
        plan.questions.append(
            "Where is the centre of the stud? Find it and mark it before drilling."
        )


def _plan_wood(plan: Plan, zone: Zone, house: House) -> None:
    if zone.fit == "hollow":
        plan.questions.append(
            "The finish bridges a gap to the wood: back or space it solid, then record the zone "
            "as solid with its full thickness."
        )
    if plan.stack_nm is None:
        if zone.fit != "hollow" and stack_of(zone) is None:
            plan.questions.append(THICKNESS)
        return
    if finish_questioned(zone):
        return
    screw = plan.spot.fixing.screw or _own_screw(plan.stack_nm + plan.bracket_nm)
    if screw is None:
        plan.questions.append(
            "No stock screw is long enough for this wall: which one will be used?"
        )
        return
    plan.screw = screw
    plan.reach_nm = screw.length.nm - plan.stack_nm - plan.bracket_nm
    dense = house.rules >= 5 and is_dense(zone)
    plan_screw_holes(plan, screw, words(zone.finish), "wood", dense=dense)
    plan.findings += [_embedment(plan, screw, house), *_services(plan, house)]


def is_dense(zone: Zone) -> bool:
    """Return whether the wood behind a wall wants the wider lead hole of dense wood.

    Source: NDS 2018, 12.1.5 (from memory): specific gravity above 0.60.

    Args:
        zone: the build-up at the hole [-].

    Returns:
        True for wood of a species that is so dense [-].
    """
    return zone.structure in WOOD and gravity_of(zone.species) > tables.DENSE_WOOD.value


def _own_screw(grip_nm: int) -> Screw | None:
    size = tables.SCREW_WHEN_THE_BOX_HOLDS_NONE.value
    text = stock_length(grip_nm + least_penetration_nm(screw_number(size)))
    return Screw(size, length_parse(text)) if text else None


def _embedment(plan: Plan, screw: Screw, house: House) -> Finding:
    """Compare the reach with six diameters; less asks for care, none at all fails."""
    least = least_penetration_nm(screw_number(screw.size))
    longer = stock_length((plan.stack_nm or 0) + plan.bracket_nm + least)
    remedy = "No stock screw reaches far enough: ask the kit's maker."
    if longer:
        remedy = f"Use a {screw.size} screw {longer} long, if the kit's maker agrees."
    asked = Asked(
        "fixing.embedment",
        f"Does the {screw.size} x {screw.length} screw go six diameters into the wood?",
        plan.place,
        tables.LEAST_PENETRATION_DIAMETERS.source,
        remedy,
    )
    reach = plan.reach_nm or 0
    if reach > 0:
        return advised(asked, reach, house, least_nm=least)
    return compared(asked, Measured(reach, reach, 0.0), house, least_nm=least)


def _services(plan: Plan, house: House) -> list[Finding]:
    """Compare the reach with the zone kept for services.

    Beyond it the answer is a caution at the hole, not a doubt about the kit: whether a pipe or cable
    lies there is found out on site before drilling, and most walls ask for that depth.
    """
    reach = plan.reach_nm or 0
    if reach > house.safe_reach.nm:
        plan.cautions += tip_cautions(reach, house, sure=True)
    if plan.spot.zone is not None and plan.spot.zone.structure == "wood_stud":
        plan.cautions += flat_stud_cautions(reach, house)
    if reach > house.safe_reach.nm or (reach <= 0 and house.rules >= 5):
        return []
    asked = Asked(
        "fixing.services",
        f"Does the screw stay within {house.safe_reach} of the stud's face?",
        plan.place,
        services_source(house),
        tip_care(reach, house),
    )
    return [advised(asked, reach, house, most_nm=house.safe_reach.nm)]

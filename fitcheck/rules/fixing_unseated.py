"""Does a screw in wood hold the load of a sheet that does not say how its bracket sits?"""

from dataclasses import replace
from decimal import Decimal

from fitcheck.rules.compare import Asked, words
from fitcheck.rules.demand import Case
from fitcheck.rules.finding import Finding, State
from fitcheck.rules.fixing_held import FixingHeld, settled_in_wood
from fitcheck.rules.fixing_seat import DURATION, FixingLoad
from fitcheck.rules.force import force_json, newton_to_lbf, share_text, spoken_finding
from fitcheck.rules.holding_wood import wood_source
from fitcheck.rules.holes import FixingAnswer
from fitcheck.rules.screws import screw_number
from fitcheck.rules.substrates import Spot
from fitcheck.rules.survey import House
from fitcheck.rules.tables import SCREW_ROOT
from fitcheck.rules.tables_fixings import (
    BRACKET_WHEN_NOT_TOLD,
    DOWEL_BEARING_BRACKET,
    LOAD_DURATION,
    SLAM_FACTOR,
    TIGHT_FROM,
)
from fitcheck.rules.wood_screw import WoodCapacity, WoodJoint, gravity_of, wood_holds

EITHER_WAY = (
    "The sheet does not say how its bracket sits nor which way its load acts: it is held against the "
    "weaker of pull and shear."
)
ADD_IT = (
    "Have the office add the bracket to the sheet, its reach, screw row and thickness: {share} of what "
    "the weaker way holds is used."
)
TOO_SHORT = "The screw goes less than six diameters into the wood: it counts for nothing."
MORE = "Use longer or more screws, a taller bracket or a thinner stack, or fit blocking."
USE_LONGER = "Use a longer screw, if the kit's maker agrees."


def in_wood_unseated(
    spot: Spot, answer: FixingAnswer, told: FixingLoad, house: House
) -> FixingHeld:
    """Hold a sheet's load, shared by the screws of its place, against the weaker of pull and shear.

    What the weaker way does not hold but the other would stays unknown; what neither holds fails. The
    pull of a lever is not in it, for nobody has told the lever.

    Source: NDS 2018, chapter 12, and TR12 for the stack; the bracket's thickness is a house setting, and
    is not taken off the screw.

    Args:
        spot: the place with its zone, of wood [-].
        answer: its row of the fastener schedule [-].
        told: the row of loads without a load [-].
        house: the firm's settings [-].

    Returns:
        The place with its load, share and finding; as it was where no screw or no stack is known [-].
    """
    row, rule, zone = answer.fixing, spot.fixing, spot.zone
    size, length_nm, stack_nm = row.screw_size, row.depth_nm, row.stack_nm
    if zone is None or rule.load_n is None or size is None or length_nm is None or stack_nm is None:
        return FixingHeld(told, answer)
    if screw_number(size) not in SCREW_ROOT.value:
        return FixingHeld(told, answer)
    joint = _joint(size, length_nm, stack_nm, zone.species)
    each = newton_to_lbf(rule.load_n or Decimal(0)) * float(SLAM_FACTOR.value) / rule.count
    where = f"{rule.place}, {words(spot.surface)}, {spot.height} above the sill"
    asked = _asked(where, joint, house)
    case = Case("load of the sheet, pull or shear", each, each)
    bears = replace(told, bears="the sheet's load", cases=(case,), why=EITHER_WAY)
    try:
        capacity = wood_holds(joint)
    except ValueError:
        found = (_found(asked, None, "fails", f"{TOO_SHORT} {USE_LONGER}"),)
        return FixingHeld(bears, settled_in_wood(answer, found), found)
    return _held(bears, answer, _judged(asked, capacity, each), capacity, each)


def _joint(size: str, length_nm: int, stack_nm: int, species: str) -> WoodJoint:
    bracket_nm, metal = BRACKET_WHEN_NOT_TOLD.value
    return WoodJoint(
        size,
        length_nm + bracket_nm,
        bracket_nm,
        DOWEL_BEARING_BRACKET.value[metal],
        stack_nm,
        gravity_of(species),
        LOAD_DURATION.value[DURATION],
    )


def _judged(asked: Asked, capacity: WoodCapacity, each: float) -> Finding:
    weaker, stronger = sorted((capacity.out_lbf, capacity.lateral_lbf))
    share = each / weaker
    if share <= TIGHT_FROM.value:
        done = f"Nothing to do: {share_text(share)} of it is used."
        return _found(asked, share, "fits", done)
    if share <= 1:
        do = f"Have it looked at by the crew lead: {share_text(share)} of it is used."
        return _found(asked, share, "tight", do)
    if each > stronger:
        return _found(asked, share, "fails", MORE)
    return _found(asked, share, "unknown", ADD_IT.format(share=share_text(share)))


def _asked(where: str, joint: WoodJoint, house: House) -> Asked:
    return Asked(
        "fixing.load",
        "Does the screw hold its part of the sheet's load, whichever way that acts?",
        where,
        wood_source(joint, house.rules),
        "",
    )


def _found(asked: Asked, share: float | None, state: State, do: str) -> Finding:
    return spoken_finding(asked, None if share is None else share_text(share), "1.00", state, do)


def _held(
    bears: FixingLoad,
    answer: FixingAnswer,
    finding: Finding,
    capacity: WoodCapacity,
    each: float,
) -> FixingHeld:
    told: dict[str, object] = {
        "withdrawal": force_json(capacity.out_lbf, "down"),
        "lateral": force_json(capacity.lateral_lbf, "down"),
    }
    used = each / min(capacity.out_lbf, capacity.lateral_lbf)
    row = settled_in_wood(answer, (finding,))
    return FixingHeld(replace(bears, capacity=told), row, (finding,), used, finding.source)

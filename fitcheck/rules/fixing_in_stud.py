"""Does the screw of a bracket hold in the steel stud that was found, and does it hit it?"""

from dataclasses import dataclass, replace

from fitcheck.rules.compare import Asked, compared
from fitcheck.rules.finding import Finding, exactly
from fitcheck.rules.fixing_held import FixingHeld, settled
from fitcheck.rules.fixing_seat import NO_STEEL_SCREW, Asking, FixingLoad, Seat, off_centre
from fitcheck.rules.force import Share, holds, spoken_finding
from fitcheck.rules.holding_steel import SteelAsked, steel_findings, steel_length, stud_refused
from fitcheck.rules.holes import FixingAnswer
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.screws import screw_major_nm, screw_number
from fitcheck.rules.services import tip_cautions
from fitcheck.rules.steel_stud import (
    GaugeError,
    SteelCapacity,
    mils_parse,
    steel_holds,
    steel_spacing_nm,
    steel_strength,
    steel_used,
)
from fitcheck.rules.survey import House
from fitcheck.rules.tables_fixings import (
    ALUMINIUM_ULTIMATE,
    STEEL_FLANGE,
    STEEL_HEAD,
    STEEL_INTERACTION,
    STEEL_PULL_OUT,
    STEEL_SPACING,
)
from fitcheck.rules.verdict import Fixing

NO_MILS = (
    "how many mils is the steel stud? It is printed on it, gauge does not tell: until then no load "
    "is worked out, and wood blocking is the way"
)
THROUGH = (
    "The bracket does not lie on the steel: fit wood blocking, or let an engineer say what the screw "
    "holds through this stack."
)
SELF_DRILLING = (
    "Into steel goes a self-drilling screw of this number; three threads show beyond the stud "
    "(AISI S100, J4)."
)


@dataclass(frozen=True, slots=True)
class _Strength:
    asked: SteelAsked
    capacity: SteelCapacity
    used: float


def in_stud(told: FixingLoad, seat: Seat, answer: FixingAnswer, asking: Asking) -> FixingHeld:
    """Hold the worst screw against its cases in a steel stud, and its place against the stud's middle.

    Through a stack the shear formula does not speak: what would fail in contact fails, the pull is
    compared, and all else stays a question.

    Source: AISI S100-16, J4; mils as printed on the stud, never gauge.

    Args:
        told: the row with its cases [-].
        seat: the bracket on its wall [-].
        answer: its row of the fastener schedule [-].
        asking: readings and settings [-].

    Returns:
        The place with capacity, findings and its row; no capacity where it cannot be told [-].
    """
    number = screw_number(seat.rule.screw.size) if seat.rule.screw else 0
    try:
        mils = mils_parse(seat.zone.mils) if seat.zone.mils else 0
    except GaugeError as error:
        return _refused(told, seat, answer, str(error))
    if not mils:
        return _refused(told, seat, answer, NO_MILS)
    if number not in STEEL_HEAD.value:
        found = (_no_screw(seat),)
        row = settled(answer, found, "steel", NO_STEEL_SCREW, answer.fixing)
        return FixingHeld(replace(told, why=NO_STEEL_SCREW), row, found)
    return _held(told, seat, answer, asking, _strength(mils, number, told, seat))


def _refused(told: FixingLoad, seat: Seat, answer: FixingAnswer, why: str) -> FixingHeld:
    finding = stud_refused(seat.where, why)
    row = settled(answer, (finding,), "steel", finding.do, answer.fixing)
    return FixingHeld(replace(told, why=finding.do), row, (finding,))


def _strength(mils: int, number: int, told: FixingLoad, seat: Seat) -> _Strength:
    metal = seat.bracket.metal
    psi = ALUMINIUM_ULTIMATE.value if metal == "aluminium" else steel_strength(mils)
    thickness = seat.bracket.thickness.nm / NM_PER_INCH
    asked = SteelAsked(mils, "", number, thickness, psi, seat.stack_nm, off_centre=True)
    capacity = steel_holds(asked.sheets(), number, off_centre=True)
    used = max(steel_used(capacity, case.pull_lbf, case.shear_lbf) for case in told.cases)
    return _Strength(asked, capacity, used)


def _held(
    told: FixingLoad, seat: Seat, answer: FixingAnswer, asking: Asking, strength: _Strength
) -> FixingHeld:
    found, capacity, settings = steel_findings(seat.where, strength.asked, told.cases)
    contact = seat.stack_nm == 0
    kept = [
        one for one in found if contact or one.rule != "fixing.together" or one.state == "fails"
    ]
    if not contact:
        kept += _pulls(told, seat, strength.capacity)
    findings = (
        *_hit(seat, strength.asked.number, asking),
        *_apart(seat, asking),
        *_through(seat, strength.asked, asking),
        *kept,
    )
    question = "" if contact else THROUGH
    drilled = _drilled(answer.fixing, seat, asking.house) if contact else answer.fixing
    row = settled(answer, findings, "steel", question, drilled)
    load = replace(told, capacity=capacity, settings=settings, why=question or None)
    if contact or strength.used > 1:
        return FixingHeld(load, row, findings, strength.used, STEEL_INTERACTION.source)
    return FixingHeld(load, row, findings, None, STEEL_PULL_OUT.source)


def _pulls(told: FixingLoad, seat: Seat, capacity: SteelCapacity) -> list[Finding]:
    """Compare the pull alone, which asks nothing of what lies between bracket and steel."""
    return [
        holds(
            Asked(
                "fixing.pull",
                "Does the worst screw hold the pull alone in the steel?",
                f"{seat.where}, {case.name}",
                STEEL_PULL_OUT.source,
                "Use more screws, or fit wood blocking between the studs.",
            ),
            Share(case.pull_lbf, capacity.tension),
        )
        for case in told.cases
    ]


def _hit(seat: Seat, number: int, asking: Asking) -> tuple[Finding, ...]:
    off = off_centre(seat, asking.readings)
    if off is None:
        return ()
    most_nm = STEEL_FLANGE.value // 2 - steel_spacing_nm(screw_major_nm(number))[1]
    asked = Asked(
        "fixing.stud_hit",
        f"Does the #{number} screw go in near enough to the middle of the steel stud?",
        seat.where,
        STEEL_SPACING.source,
        "Move the hole, or fit blocking: the screw would stand too near the steel's edge or miss it.",
    )
    return (compared(asked, off, asking.house, most_nm=most_nm),)


def _apart(seat: Seat, asking: Asking) -> tuple[Finding, ...]:
    """Compare the bracket's holes with the least spacing in steel, where the sheet tells them."""
    spacing, screw = seat.bracket.spacing, seat.rule.screw
    if spacing is None or screw is None:
        return ()
    least_nm = steel_spacing_nm(screw_major_nm(screw_number(screw.size)))[0]
    asked = Asked(
        "fixing.spacing",
        "Are the bracket's screws far enough apart in the steel?",
        seat.where,
        STEEL_SPACING.source,
        "Fit wood blocking: the screws stand too close for steel.",
    )
    return (compared(asked, exactly(spacing.nm), asking.house, least_nm=least_nm),)


def _through(seat: Seat, asked: SteelAsked, asking: Asking) -> tuple[Finding, ...]:
    """Compare the screw's length with all that it must pass, from version 5 of the rules on."""
    screw = seat.rule.screw
    if screw is None or asking.house.rules < 5:
        return ()
    of_sheet = replace(asked, length_nm=screw.length.nm)
    return (steel_length(seat.where, of_sheet, seat.bracket.thickness.nm, asking.house),)


def _no_screw(seat: Seat) -> Finding:
    known = " or ".join(f"#{number}" for number in STEEL_HEAD.value)
    asked = Asked(
        "fixing.screw",
        "Is it known what this screw holds in steel?",
        seat.where,
        STEEL_HEAD.source,
        "",
    )
    named = f"{seat.rule.screw.size} screw" if seat.rule.screw else None
    return spoken_finding(asked, named, known, "unknown", NO_STEEL_SCREW)


def _drilled(fixing: Fixing, seat: Seat, house: House) -> Fixing:
    screw = seat.rule.screw
    if screw is None:
        return fixing
    if house.rules >= 5:
        reach_nm = max(screw.length.nm - seat.bracket.thickness.nm - seat.stack_nm, 0)
        cautions = (*fixing.cautions, *tip_cautions(reach_nm, house, sure=True))
        fixing = replace(fixing, reach_nm=reach_nm, cautions=cautions)
    return replace(
        fixing,
        screw_size=screw.size,
        screw_length=screw.length.entered,
        depth_nm=screw.length.nm,
        cautions=(*fixing.cautions, SELF_DRILLING),
    )

"""How is each hole drilled, what goes into it, and does it hold where it must?"""

from dataclasses import dataclass, replace
from functools import lru_cache
from operator import attrgetter
from typing import Any

from fitcheck.rules import tables
from fitcheck.rules.backing import backing_state
from fitcheck.rules.compare import words
from fitcheck.rules.drilling import SHEET, TILE, WET_POWER, bit_for, drilling_cautions
from fitcheck.rules.finding import Finding, State, worst
from fitcheck.rules.framing import is_dense, plan_backing
from fitcheck.rules.length import Length
from fitcheck.rules.plan import Plan, finish_questioned, plan_screw_holes
from fitcheck.rules.services import tip_cautions
from fitcheck.rules.sheet import FixingRule, Sheet
from fitcheck.rules.stack import least_stack_nm, stack_doubts, stack_of
from fitcheck.rules.strict import NOTHING
from fitcheck.rules.substrates import Spot
from fitcheck.rules.survey import House, Zone
from fitcheck.rules.verdict import Fixing, Hole, Layer, Question

DRILL = "Drill as the fastener schedule says."
WAIT = "Do not drill yet: what else is said of this place does not pass."
SEAL = "Fill the hole with ASTM C920 neutral-cure sealant before the screw goes in."


@dataclass(frozen=True, slots=True)
class FixingAnswer:
    """A row of the fastener schedule with the findings that it rests on."""

    fixing: Fixing
    findings: tuple[Finding, ...]


def fastener_schedule(
    sheet: Sheet, found: list[Spot], setbacks: list[Finding], house: House
) -> list[FixingAnswer]:
    """Work out every hole by the build-up of the zone it goes into.

    A finish, structure or thickness that is not known is a question, never a guess; what
    carries load must reach wood, for no finish and no hollow anchor carries a door.

    Source: the kit's own sheet; NDS 2018 12.1.5; NEC 300.4; common practice where it says so.

    Args:
        sheet: the rule sheet [-].
        found: the spots of the sheet's fixings [-].
        setbacks: findings of the backing rules [-].
        house: the firm's settings [-].

    Returns:
        One answer per spot, in the sheet's order [-].
    """
    zones = {id(zone): zone for spot in found if (zone := spot.zone)}
    bare = {key: _bare(zone.surface, *_made_of(zone)) for key, zone in zones.items()}
    return [_answer(spot, bare.get(id(spot.zone)), sheet, setbacks, house) for spot in found]


def fixing_questions(answers: list[FixingAnswer]) -> tuple[Question, ...]:
    """Return everything that a person must find out before the holes are drilled, each once.

    Args:
        answers: the fastener schedule [-].

    Returns:
        The questions [-].
    """
    asked = (
        Question(f"{row.place}, {words(row.surface)}, {row.height} above the sill", text)
        for row in (answer.fixing for answer in answers)
        for text in row.questions
    )
    return tuple(dict.fromkeys(asked))


_MADE_OF = Zone.__slots__[Zone.__slots__.index("finish") :]
_made_of = attrgetter(*_MADE_OF)


@lru_cache(maxsize=256)
def _bare(surface: str, *made_of: Any) -> Zone:
    """Return the one zone that is made so, without a name and without limits."""
    return Zone("", surface, NOTHING, NOTHING, *made_of)


def _answer(
    spot: Spot, bare: Zone | None, sheet: Sheet, setbacks: list[Finding], house: House
) -> FixingAnswer:
    """Answer for a spot; the same build-up at the same place of a sheet is worked out once."""
    zone = spot.zone
    if zone is None or bare is None:
        return _worked_out(spot, sheet, None, house)
    hit = None
    if spot.fixing.carries_by(house.rules):
        hit = backing_state(zone.surface.removesuffix("_wall"), spot.height, sheet, setbacks)
    answer = _kept(spot.fixing, spot.surface, spot.height, bare, sheet, hit, house)
    return FixingAnswer(answer.fixing.in_zone(zone.id), answer.findings)


@lru_cache(maxsize=1024)
def _kept(
    fixing: FixingRule,
    surface: str,
    height: Length,
    bare: Zone,
    sheet: Sheet,
    hit: State | None,
    house: House,
) -> FixingAnswer:
    return _worked_out(Spot(fixing, surface, height, (bare,)), sheet, hit, house)


def _worked_out(spot: Spot, sheet: Sheet, hit: State | None, house: House) -> FixingAnswer:
    rule = spot.fixing
    place = f"{rule.place}, {words(spot.surface)}, {spot.height} above the sill"
    plan = Plan(spot, rule.carries_by(house.rules), place)
    if house.rules >= 5 and rule.bracket:
        plan.bracket_nm = rule.bracket.thickness.nm
    if spot.zone is None:
        plan.questions.append(_zone_question(spot))
    else:
        _plan_zone(plan, spot.zone, hit, house)
    hole = _hole_finding(plan, sheet)
    row = _row(plan, sheet, house, (hole, *plan.findings))
    return held_back(FixingAnswer(row, (hole, *plan.findings)), house)


def held_back(answer: FixingAnswer, house: House) -> FixingAnswer:
    """Return a row that tells nobody to drill while something said of its place does not pass.

    Source: house setting; before version 5 of the rules the hole alone decided.

    Args:
        answer: the row and its findings, the one on the hole first [-].
        house: the firm's settings [-].

    Returns:
        The same row; its first finding says to wait where the row does not pass [-].
    """
    hole = answer.findings[0]
    passes = answer.fixing.state in ("fits", "tight")
    if house.rules < 5 or passes or hole.do != DRILL:
        return answer
    return replace(answer, findings=(replace(hole, do=WAIT), *answer.findings[1:]))


def _zone_question(spot: Spot) -> str:
    where = f"{words(spot.surface)} at {spot.height}"
    if spot.zones:
        return (
            f"Two build-ups meet on the {where}: on which of them does the {spot.fixing.place} sit?"
        )
    return f"What is the {where} made of: finish, backing and structure?"


def _plan_zone(plan: Plan, zone: Zone, hit: State | None, house: House) -> None:
    doubts = stack_doubts(zone) if house.rules >= 5 else ()
    plan.stack_nm = None if doubts else stack_of(zone)
    plan.questions += doubts
    plan.cautions += drilling_cautions(zone.finish, zone.structure)
    if house.rules >= 5 and zone.finish in TILE:
        plan.cautions.append(WET_POWER)
    _ask_finish(plan, zone)
    _mind_membrane(plan, zone)
    if plan.carries:
        plan_backing(plan, zone, hit, house)
        return
    _plan_finish(plan, zone, dense=house.rules >= 5 and is_dense(zone))
    if house.rules >= 5 and plan.screw:
        _mind_tip(plan, plan.screw.length, zone, house)


def _mind_tip(plan: Plan, length: Length, zone: Zone, house: House) -> None:
    """Say how far the screw of a light fixing reaches behind the layers, and mind what may lie there."""
    sure = plan.stack_nm is not None
    most_nm = max(length.nm - plan.bracket_nm - least_stack_nm(zone), 0)
    plan.reach_nm = most_nm if sure else None
    plan.cautions += tip_cautions(most_nm, house, sure=sure)


def _ask_finish(plan: Plan, zone: Zone) -> None:
    if zone.finish == "unknown":
        plan.questions.append("Which finish is it? No bit is named until that is known.")
    if zone.finish in SHEET and zone.fit == "unknown":
        plan.questions.append("Is the surround solid or hollow behind the hole? Knock and probe.")


def _mind_membrane(plan: Plan, zone: Zone) -> None:
    if zone.surface != "sill" or plan.spot.fixing.through_membrane:
        return
    if zone.membrane == "yes":
        plan.refusals.append(
            "Do not drill the top of the curb over its membrane: bed the part in sealant, or get "
            "the maker's leave in writing."
        )
    if zone.membrane == "unknown":
        plan.questions.append("Is there a membrane under the top of the curb? If so, no hole.")


def _plan_finish(plan: Plan, zone: Zone, *, dense: bool) -> None:
    """Plan a light fixing that holds in the finish itself."""
    plan.screw = plan.spot.fixing.screw
    if zone.finish in TILE:
        through = words(zone.finish)
        plan.pilot = Hole(tables.TILE_PILOT.value, through, tables.TILE_PILOT.source)
        plan.final_hole = Hole(tables.TILE_FINAL.value, through, tables.TILE_FINAL.source)
        plan.anchor = tables.TILE_ANCHOR.value
    elif zone.finish in SHEET and zone.fit == "hollow":
        through = f"hollow {words(zone.finish)}"
        plan.pilot = Hole(tables.HOLLOW_PILOT.value, through, tables.HOLLOW_PILOT.source)
        plan.final_hole = Hole(tables.HOLLOW_FINAL.value, through, tables.HOLLOW_FINAL.source)
        plan.anchor = tables.HOLLOW_ANCHOR.value
    elif zone.finish in SHEET and zone.fit == "solid" and plan.screw:
        plan_screw_holes(plan, plan.screw, words(zone.finish), "solid backing", dense=dense)
    elif zone.finish not in {"unknown", *SHEET} or zone.fit == "solid":
        plan.questions.append(
            f"Which screw or anchor does the kit's sheet allow in {words(zone.finish)}?"
        )


def _hole_finding(plan: Plan, sheet: Sheet) -> Finding:
    state: State = "fails" if plan.refusals else "unknown" if plan.questions else "fits"
    zone = plan.spot.zone
    build_up = None if zone is None else ", ".join(words(each) for each in _materials(zone))
    reach = "reaches wood" if plan.carries else "holds in the finish"
    return Finding(
        rule="fixing.hole",
        question=f"Is it known how the {plan.spot.fixing.place} is drilled, and that it {reach}?",
        place=plan.place,
        reading=build_up,
        limit_nm=None,
        limit_text=f"a known build-up that {reach}",
        sense="one_of",
        margin=None,
        guard_nm=None,
        chance=None,
        state=state,
        source=sheet.source(plan.spot.fixing.page),
        do=" ".join(plan.refusals + plan.questions) or DRILL,
    )


def _materials(zone: Zone) -> tuple[str, ...]:
    return zone.finish, zone.backing, zone.structure


def _row(plan: Plan, sheet: Sheet, house: House, findings: tuple[Finding, ...]) -> Fixing:
    rule, zone = plan.spot.fixing, plan.spot.zone
    if plan.refusals and house.rules >= 5:
        plan.pilot = plan.final_hole = plan.anchor = plan.screw = plan.reach_nm = None
    diameter = plan.final_hole.text if plan.final_hole else tables.TILE_FINAL.value
    named = zone is not None and not plan.refusals and not finish_questioned(zone)
    bit = bit_for(zone.finish, diameter) if zone and named else None
    drilled = plan.carries and plan.screw is not None
    return Fixing(
        place=rule.place,
        surface=plan.spot.surface,
        height=plan.spot.height.entered,
        count=rule.count,
        zone=zone.id if zone else None,
        build_up=_build_up(zone) if zone else (),
        stack_nm=plan.stack_nm,
        bit=bit.name if bit else None,
        speed=bit.speed if bit else None,
        cooling=bit.cooling if bit else None,
        pilot=plan.pilot,
        final_hole=plan.final_hole,
        depth_nm=plan.screw.length.nm if plan.screw and drilled else None,
        anchor=plan.anchor,
        screw_size=plan.screw.size if plan.screw else None,
        screw_length=plan.screw.length.entered if plan.screw else None,
        reach_nm=_reach_nm(plan, house),
        backing_hit=plan.backing_hit,
        seal=SEAL if not plan.refusals else "No hole here.",
        cautions=tuple(plan.cautions),
        questions=tuple(plan.questions),
        state=worst(_states(plan, findings)),
        source=sheet.source(rule.page),
        mark=house.mark,
    )


def _reach_nm(plan: Plan, house: House) -> int | None:
    """Return how far the screw reaches behind the layers; none less than nothing."""
    return max(plan.reach_nm, 0) if plan.reach_nm and house.rules >= 5 else plan.reach_nm


def _states(plan: Plan, findings: tuple[Finding, ...]) -> list[State]:
    hit: dict[str, State] = {"missed": "fails", "unknown": "unknown"}
    return [*(finding.state for finding in findings), hit.get(plan.backing_hit, "fits")]


def _build_up(zone: Zone) -> tuple[Layer, ...]:
    finish = zone.finish_thickness.entered if zone.finish_thickness else None
    backing = zone.backing_thickness.entered if zone.backing_thickness else None
    layers = [Layer(words(zone.finish), finish)]
    if zone.backing != "none":
        layers.append(Layer(words(zone.backing), backing))
    if zone.membrane == "yes":
        layers.append(Layer("membrane", None))
    return (*layers, Layer(words(zone.structure), None))

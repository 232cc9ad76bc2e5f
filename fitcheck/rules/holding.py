"""Does this fixing hold the door: what does each screw get, what can it carry, what is used?"""

from collections.abc import Mapping
from dataclasses import dataclass

from fitcheck.rules.compare import Asked
from fitcheck.rules.demand import BRACKET, HINGE_TWIST, Bracket, Case, bracket_read, demand_read
from fitcheck.rules.finding import Finding
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.holding_masonry import ANCHOR, anchor_read, masonry_findings
from fitcheck.rules.holding_steel import STEEL, SteelAsked, steel_findings, steel_length, steel_read
from fitcheck.rules.holding_wood import WOOD, wood_findings, wood_read
from fitcheck.rules.length import inch_text
from fitcheck.rules.rail import slam_read
from fitcheck.rules.sources_structure import structure_source
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import answered
from fitcheck.rules.survey import House, house_read
from fitcheck.rules.tables import LAYER_MOST
from fitcheck.rules.tables_fixings import TIGHT_FROM

_QUESTION = ("place", "demand", "bracket", "stack", "base", "slam_factor", "house")
MASONRY = ("block", "brick", "concrete")
BASES = ("wood", "steel_stud", *MASONRY, "hollow_anchor", "none", "unknown")
CAUTIONS = (
    "A planning aid: it never replaces the kit's sheet, the anchor's evaluation report or an "
    "engineer.",
    "Tile, board, acrylic and hollow-wall anchors carry no door weight: the load goes into the "
    "structure.",
)


@dataclass(frozen=True, slots=True)
class Held:
    """Findings on one base, what each screw may carry, and the settings that were used."""

    findings: tuple[Finding, ...]
    capacity: dict[str, object] | None
    settings: dict[str, object]


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer whether a fixing holds, with demand, capacity and the share that is used.

    Source: NDS 2018 and TR12 in wood, AISI S100 in steel, the evaluation report in masonry.

    Args:
        inputs: what hangs there, the bracket, the stack, the base, the slam factor [-].

    Returns:
        State, cases, capacity, settings and findings, as plain JSON [-].

    Raises:
        InputErrors: what was sent makes no sense; every mistake is named.
    """
    own = Strict.open(inputs, _QUESTION, "", [])
    house, slam = house_read(own), slam_read(own)
    place = own.text("place", "fixing")
    bracket = bracket_read(own.child("bracket", BRACKET))
    stack_nm = _stack_nm(own)
    cases = demand_read(own, bracket, stack_nm, slam)
    held = _held(own, place, cases, bracket, stack_nm, house)
    own.finish()
    settings = {"slam_factor": f"{slam:g}", "tight_from": f"{TIGHT_FROM.value:g}", **held.settings}
    return answered(
        held.findings,
        (*CAUTIONS, *_left_out(bracket, cases)),
        cases=[case.as_json() for case in cases],
        capacity=held.capacity,
        settings=settings,
    )


def _left_out(bracket: Bracket, cases: tuple[Case, ...]) -> tuple[str, ...]:
    """Say that an open door's turn of its hinge is not in the cases, where it is not."""
    turned = bracket.screw_width_in is None and any(case.across for case in cases)
    return (HINGE_TWIST,) if turned else ()


def _stack_nm(own: Strict) -> int:
    """Read what lies before the structure; what no wall has is refused."""
    stack, most_nm = own.length("stack", zero=True), 2 * LAYER_MOST.value
    if stack.nm > most_nm:
        most = inch_text(most_nm)
        own.refuse(
            "stack", "length_out_of_range", f"Finish and backing are never more than {most}."
        )
    return stack.nm


def _held(
    own: Strict,
    place: str,
    cases: tuple[Case, ...],
    bracket: Bracket,
    stack_nm: int,
    house: House,
) -> Held:
    kind = _base_kind(own)
    if kind == "wood":
        joint = wood_read(own.child("base", WOOD), bracket, stack_nm)
        return Held(*wood_findings(place, joint, cases, house)) if not own.errors else _NOTHING
    if kind == "steel_stud":
        stud = steel_read(own.child("base", STEEL), bracket, stack_nm)
        return _in_steel(place, stud, cases, bracket, house) if not own.errors else _NOTHING
    if kind in MASONRY:
        anchor = anchor_read(own.child("base", ANCHOR), stack_nm)
        return Held(*masonry_findings(place, anchor, cases, house)) if not own.errors else _NOTHING
    own.child("base", ("kind",))
    return Held((_no_base(place, kind),), None, {})


def _in_steel(
    place: str, stud: SteelAsked, cases: tuple[Case, ...], bracket: Bracket, house: House
) -> Held:
    findings, capacity, settings = steel_findings(place, stud, cases)
    if not stud.refusal:
        findings = (*findings, steel_length(place, stud, bracket.thickness_nm, house))
    return Held(findings, capacity, settings)


_NOTHING = Held((), None, {})


def _base_kind(own: Strict) -> str:
    base = own.members.get("base")
    named = base.get("kind") if isinstance(base, dict) else None
    return Strict({"kind": named}, f"{own.pointer}/base", own.errors).choice("kind", BASES)


def _no_base(place: str, kind: str) -> Finding:
    asked = Asked(
        "fixing.base",
        "Does the load reach wood, steel or masonry?",
        place,
        structure_source("trade", "common practice, no source", "common practice"),
        "",
    )
    limit = "a stud, blocking or masonry"
    if kind == "unknown":
        do = "Find out what is behind the finish before anything is drilled."
        return spoken_finding(asked, None, limit, "unknown", do)
    do = "Fit blocking: nothing behind the finish carries a door, and no hollow-wall anchor does."
    return spoken_finding(asked, kind.replace("_", " "), limit, "fails", do)

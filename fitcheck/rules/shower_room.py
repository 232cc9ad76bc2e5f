"""Does a shower keep what the model codes ask of its room, its way in, its curb and its floor?"""

from collections.abc import Mapping

from fitcheck.rules.compare import Asked, compared
from fitcheck.rules.finding import Finding, Measured, State
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, inch_text
from fitcheck.rules.shower_code import curb_top_fall_nm, floor_slopes_enough
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import answered
from fitcheck.rules.survey import House, house_read
from fitcheck.rules.tables_pane import (
    ACCESS_WIDTH,
    ADA_ROLL_IN,
    ADA_THRESHOLD,
    COMPARTMENT,
    CURB_BELOW_SIDES,
    CURB_HEIGHT,
    CURB_TOP_SLOPE,
    DOOR_SWINGS,
    FLOOR_SLOPE,
)

READ = (
    "width",
    "depth",
    "access",
    "curb_above_drain",
    "curb_below_sides",
    "curb_depth",
    "curb_fall",
    "threshold",
)
_FLOOR = ("fall", "run")
_QUESTION = (
    *READ,
    "door_swing",
    "floor",
    "existing_transfer",
    "roll_in",
    "uncertainty",
    "house",
)
_MAY_BE_ZERO = ("curb_fall", "threshold", "curb_above_drain", "curb_below_sides")
_PAIRS = (("width", "depth"), ("curb_depth", "curb_fall"))
CAUTIONS = (
    "Model codes as quoted; the code that is adopted on site, and its inspector, outrank them.",
    "Waterproofing is the plumber's and the tiler's: no hole goes through a curb's membrane.",
)


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer whether compartment, way in, curb and floor keep the model codes.

    Source: IRC P2708.1, P2708.1.1, P2709.1 as quoted; ADA 608.2.2, 608.7; tile handbook (from memory).

    Args:
        inputs: what was measured, any of it; the standard uncertainty of the readings [-].

    Returns:
        State, findings and cautions, as plain JSON [-].

    Raises:
        InputErrors: what was sent makes no sense, or nothing was measured.
    """
    own = Strict.open(inputs, _QUESTION, "", [])
    house = house_read(own)
    u = own.length_or_none("uncertainty", zero=True)
    u_mm = u.nm / NM_PER_MM if u else 0.0
    read = {
        name: Measured(length.nm, length.nm, u_mm)
        for name in READ
        if (length := own.length_or_none(name, zero=name in _MAY_BE_ZERO)) is not None
    }
    floor = own.optional("floor", _FLOOR, _floor)
    existing = own.flag("existing_transfer", default=False)
    roll_in = own.flag("roll_in", default=False)
    swing = own.choice("door_swing", tuple(DOOR_SWINGS.value)) if own.has("door_swing") else None
    _refuse_halves(own, nothing=not read and floor is None and swing is None)
    _refuse_without_room(own, roll_in=roll_in)
    own.finish()
    findings = [*_room(read, house), *_curb(read, house), *_threshold(read, house, existing)]
    findings += [_swing(swing)] if swing else []
    findings += _roll_in(read, house) if roll_in else []
    return answered((*findings, *(_slope(*floor) if floor else ())), CAUTIONS)


def _floor(own: Strict) -> tuple[int, int]:
    return own.length("fall", zero=True).nm, own.length("run").nm


def _refuse_halves(own: Strict, *, nothing: bool) -> None:
    for one, other in _PAIRS:
        for here, gone in ((one, other), (other, one)):
            if own.has(here) and not own.has(gone):
                own.refuse(gone, "missing", f"{here} says nothing without {gone}.")
    if nothing and not own.errors:
        own.refuse("width", "missing", "Send at least one measure.", f"known: {', '.join(READ)}")


def _refuse_without_room(own: Strict, *, roll_in: bool) -> None:
    for name in ("width", "depth", "access") if roll_in else ():
        if not own.has(name):
            own.refuse(name, "missing", f"A roll-in shower is told by its {name} too.")


def _room(read: Mapping[str, Measured], house: House) -> list[Finding]:
    found = []
    if "width" in read:
        narrow = min(read["width"], read["depth"], key=lambda one: one.low_nm)
        up_to = inch_text(COMPARTMENT.value["kept_up_to"])
        what = f"Is the compartment 30 in wide both ways, up to {up_to} above the drain?"
        rebuild = "The compartment is too narrow: ask the code official before anything is ordered."
        asked = Asked("code.compartment", what, "compartment", COMPARTMENT.source, rebuild)
        found.append(compared(asked, narrow, house, least_nm=COMPARTMENT.value["disc"]))
        found.append(_area(read))
    if "access" in read:
        what = "Is the way in at least 22 in wide with the door open?"
        wider = "Choose a door, or a layout of panels, that leaves a wider way in."
        asked = Asked("code.access", what, "way in", ACCESS_WIDTH.source, wider)
        found.append(compared(asked, read["access"], house, least_nm=ACCESS_WIDTH.value))
    return found


def _area(read: Mapping[str, Measured]) -> Finding:
    least = COMPARTMENT.value["square_inches"]
    has = read["width"].low_nm * read["depth"].low_nm
    enough = has >= least * NM_PER_INCH**2
    what = "Is the compartment large enough?"
    asked = Asked("code.area", what, "compartment", COMPARTMENT.source, "")
    told = f"{has // NM_PER_INCH**2} in2"
    do = "It is." if enough else "Too small: ask the code official before anything is ordered."
    return spoken_finding(asked, told, f"at least {least} in2", "fits" if enough else "fails", do)


def _curb(read: Mapping[str, Measured], house: House) -> list[Finding]:
    found = []
    if "curb_above_drain" in read:
        low, high = CURB_HEIGHT.value
        what = "Is the curb neither too low nor too high above the drain?"
        rebuild = "Have the curb rebuilt by the tiler before anything is fixed on it."
        asked = Asked("code.curb", what, "curb", CURB_HEIGHT.source, rebuild)
        height = read["curb_above_drain"]
        found.append(compared(asked, height, house, least_nm=low, most_nm=high))
    if "curb_below_sides" in read:
        what = "Does the curb lie at least 1 in below the sides and back of the receptor?"
        lower = "Have the receptor looked at by the tiler: water must leave over the curb first."
        asked = Asked("code.curb_below_sides", what, "curb", CURB_BELOW_SIDES.source, lower)
        below = read["curb_below_sides"]
        found.append(compared(asked, below, house, least_nm=CURB_BELOW_SIDES.value))
    if "curb_depth" in read:
        what = "Does the top of the curb fall towards the shower?"
        rebuild = "Have the top of the curb sloped; water would stand under the threshold."
        asked = Asked("code.curb_top", what, "curb", CURB_TOP_SLOPE.source, rebuild)
        least = curb_top_fall_nm(read["curb_depth"].high_nm)
        found.append(compared(asked, read["curb_fall"], house, least_nm=least))
    return found


def _threshold(read: Mapping[str, Measured], house: House, existing: bool) -> list[Finding]:
    if "threshold" not in read:
        return []
    what = "Is the threshold low enough for an accessible shower?"
    lower = "Only where the shower must be accessible: choose a lower threshold."
    asked = Asked("code.threshold", what, "threshold", ADA_THRESHOLD.source, lower)
    most = ADA_THRESHOLD.value["existing_transfer" if existing else "new"]
    return [compared(asked, read["threshold"], house, most_nm=most)]


def _swing(swing: str) -> Finding:
    what = "Does a hinged door open outward, so that one who has fallen can be reached?"
    turn = "Hang the door so that it opens outward, or both ways: ask the code official before."
    asked = Asked("code.door_swing", what, "way in", DOOR_SWINGS.source, turn)
    enough = DOOR_SWINGS.value[swing]
    state: State = "fits" if enough else "fails"
    do = "It does." if enough else turn
    return spoken_finding(asked, swing, "outward, both ways, or a door that slides", state, do)


def _roll_in(read: Mapping[str, Measured], house: House) -> list[Finding]:
    """Compare the clear room and the way in with what a wheelchair needs."""
    longer, shorter = sorted((read["width"], read["depth"]), key=lambda one: -one.low_nm)
    least, remedy = (
        ADA_ROLL_IN.value,
        "Only where it must be a roll-in shower: ask who designed it.",
    )
    rows = (
        ("code.roll_in_width", "Is the shower 60 in wide clear?", longer, "width"),
        ("code.roll_in_depth", "Is the shower 30 in deep clear?", shorter, "depth"),
        ("code.roll_in_entry", "Is the way in 60 in wide clear?", read["access"], "entry"),
    )
    return [
        compared(
            Asked(rule, what, "roll-in shower", ADA_ROLL_IN.source, remedy),
            has,
            house,
            least_nm=least[name],
        )
        for rule, what, has, name in rows
    ]


def _slope(fall_nm: int, run_nm: int) -> tuple[Finding]:
    what = "Does the floor fall to its drain, neither too little nor too much?"
    asked = Asked("code.floor", what, "floor", FLOOR_SLOPE.source, "")
    enough = floor_slopes_enough(fall_nm, run_nm)
    told = f"{fall_nm * 12 / run_nm:.3f} in in 12 in"
    do = (
        "It does."
        if enough
        else "Have the floor looked at by the tiler: water must reach the drain."
    )
    state: State = "fits" if enough else "fails"
    return (spoken_finding(asked, told, "1/4 in to 1/2 in in 12 in", state, do),)

"""What pull and shear does the worst screw of a bracket or hinge get from the door it carries?"""

import math
from dataclasses import dataclass

from fitcheck.rules.brackets import Hinges, group_shears, heel_tension, hinge_couple, stack_lever
from fitcheck.rules.force import force_json, weight_lbf
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.rail import RAIL, rail_read
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import force_of, inches_of, mass_of

BRACKET = (
    *("reach", "screw_height", "screws", "top_row", "thickness", "metal", "layout", "screw_width"),
)
_LAYOUT = ("screws", "load")
_PLACE = ("right", "up")
_HINGE = ("kind", "mass", "width", "hinge_centres", "offset", "hinges")
_LOAD = ("kind", "down", "outward")
KINDS = ("rail", "hinge", "load")
HINGE_TWIST = (
    "Not reckoned: what an open door adds by turning the hinge about its upright edge and by twisting it in "
    "the wall's own plane, for nobody has said how wide its screws stand."
)


@dataclass(frozen=True, slots=True)
class Bracket:
    """How a bracket or hinge leaf sits on the wall and how many screws hold it."""

    reach_in: float
    screw_height_in: float
    screws: int
    top_row: int
    thickness_nm: int
    metal: str
    layout: "Layout | None" = None
    screw_width_in: float | None = None

    @property
    def column(self) -> int:
        """Return how many screws stand in its outer upright row [-]."""
        return max(self.screws // self.top_row, 1)

    def shear_lbf(self, across_lbf: float, down_lbf: float) -> float:
        """Return the shear of the worst screw; a layout adds the twist of an eccentric load."""
        if self.layout is None:
            return math.hypot(across_lbf, down_lbf) / self.screws
        return max(group_shears((across_lbf, -down_lbf), self.layout.load, self.layout.screws))


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the screws are on the wall and where the load acts beside them [in]."""

    screws: tuple[tuple[float, float], ...]
    load: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Case:
    """The pull and the shear of the worst screw, when they occur, and whether the shear is sideways too."""

    name: str
    pull_lbf: float
    shear_lbf: float
    across: bool = False

    def as_json(self) -> dict[str, object]:
        """Return the case as plain JSON, loads rounded up."""
        return {
            "case": self.name,
            "pull": force_json(self.pull_lbf, "up"),
            "shear": force_json(self.shear_lbf, "up"),
        }


def bracket_read(own: Strict) -> Bracket:
    """Read a bracket; mistakes are noted on `own`.

    Args:
        own: the opened bracket [-].

    Returns:
        The bracket [-].
    """
    screws = own.integer("screws", 1, 20)
    top_row = own.integer("top_row", 1, 20) if own.has("top_row") else 1
    if top_row > screws:
        own.refuse("top_row", "not_in_range", "The top row has no more screws than the bracket.")
    return Bracket(
        inches_of(own, "reach", zero=True),
        inches_of(own, "screw_height"),
        screws,
        top_row,
        own.length("thickness").nm,
        own.choice("metal", ("steel", "aluminium"), "aluminium"),
        _layout(own, screws) if own.has("layout") else None,
        inches_of(own, "screw_width") if own.has("screw_width") else None,
    )


def demand_read(outer: Strict, bracket: Bracket, stack_nm: int, slam: float) -> tuple[Case, ...]:
    """Read what hangs there and work out what the worst screw gets; mistakes are noted.

    Source: equilibrium; the stack is added to the lever, for tile and board hold no moment.

    Args:
        outer: the opened question, with its member "demand" [-].
        bracket: the bracket [-].
        stack_nm: finish, mortar and board over the structure [nm].
        slam: factor on the moving weight [-].

    Returns:
        The cases; none when a mistake was noted [-].
    """
    before = len(outer.errors)
    kind = _kind(outer)
    cases = {"rail": _rail, "hinge": _hinge, "load": _load}[kind](outer, bracket, stack_nm, slam)
    return () if len(outer.errors) > before else cases


def bracket_case(
    name: str, down_lbf: float, out_lbf: float, bracket: Bracket, stack_nm: int
) -> Case:
    """Return the worst screw of a bracket under a load down and a pull out.

    Source: equilibrium about the heel; only the top row holds the pull, all screws the shear.

    Args:
        name: when it occurs [-].
        down_lbf: load down [lbf].
        out_lbf: pull straight out [lbf].
        bracket: the bracket [-].
        stack_nm: finish, mortar and board over the structure [nm].

    Returns:
        The case [lbf].
    """
    lever = stack_lever(bracket.reach_in, stack_nm / NM_PER_INCH)
    pull = heel_tension(down_lbf, lever, bracket.screw_height_in) / bracket.top_row
    return Case(name, pull + out_lbf / bracket.top_row, bracket.shear_lbf(0.0, down_lbf))


def hinge_cases(hinges: Hinges, bracket: Bracket, stack_nm: int, slam: float) -> tuple[Case, Case]:
    """Return the worst screw of the top hinge, door shut and door open.

    Shut, the couple pulls the screws of a side-wall jamb; open, it lies along the wall and shears
    them, and off the wall it turns the leaf about its upright edge, which pulls the outer upright row:
    that is in it where the width of the screws is known. One hinge is taken to carry the whole weight,
    and a third hinge does not share the pull.

    Source: equilibrium; about the upright edge as about the heel.

    Args:
        hinges: the door [-].
        bracket: the hinge's wall leaf [-].
        stack_nm: finish, mortar and board over the structure [nm].
        slam: factor on the door's weight [-].

    Returns:
        The two cases [lbf].
    """
    couple, weight = hinge_couple(hinges) * slam, hinges.weight_lbf * slam
    hung = bracket_case("", weight, 0.0, bracket, stack_nm)
    return (
        Case("door shut", hung.pull_lbf + couple / bracket.screws, hung.shear_lbf),
        Case(
            "door open",
            hung.pull_lbf + _turned_lbf(couple, bracket, stack_nm),
            bracket.shear_lbf(couple, weight),
            across=True,
        ),
    )


def _turned_lbf(along_lbf: float, bracket: Bracket, stack_nm: int) -> float:
    """Return what a pull along the wall adds to each screw of the outer upright row [lbf]."""
    if bracket.screw_width_in is None:
        return 0.0
    lever = stack_lever(bracket.reach_in, stack_nm / NM_PER_INCH)
    return heel_tension(along_lbf, lever, bracket.screw_width_in) / bracket.column


def _layout(outer: Strict, count: int) -> Layout:
    """Read where the screws are; as many as the bracket has, and not all at one point."""
    own = outer.child("layout", _LAYOUT)
    screws = tuple(_place(each) for each in own.children("screws", _PLACE, least=1, most=20))
    if len(screws) != count or (count > 1 and len(set(screws)) == 1):
        own.refuse("screws", "not_in_range", "There is a place for every screw of the bracket.")
    load = _place(own.child("load", _PLACE))
    if count == 1 and screws and screws[0] != load:
        own.refuse("load", "not_in_range", "One screw cannot hold a load beside it.")
    return Layout(screws, load)


def _place(own: Strict) -> tuple[float, float]:
    right, up = own.length("right", signed=True), own.length("up", signed=True)
    return right.nm / NM_PER_INCH, up.nm / NM_PER_INCH


def _kind(outer: Strict) -> str:
    demand = outer.members.get("demand")
    named = demand.get("kind") if isinstance(demand, dict) else None
    probe = Strict({"kind": named}, f"{outer.pointer}/demand", outer.errors)
    return probe.choice("kind", KINDS)


def _rail(outer: Strict, bracket: Bracket, stack_nm: int, slam: float) -> tuple[Case, ...]:
    rail = rail_read(outer.child("demand", ("kind", *RAIL)))
    if rail is None or outer.errors:
        return ()
    reaction = rail.worst(slam).reaction
    return (bracket_case("panels at this end", reaction, 0.0, bracket, stack_nm),)


def _hinge(outer: Strict, bracket: Bracket, stack_nm: int, slam: float) -> tuple[Case, ...]:
    own = outer.child("demand", _HINGE)
    own.integer("hinges", 2, 6)
    hinges = Hinges(
        weight_lbf(mass_of(own, "mass")),
        inches_of(own, "width"),
        inches_of(own, "offset", zero=True),
        inches_of(own, "hinge_centres"),
    )
    return () if outer.errors else hinge_cases(hinges, bracket, stack_nm, slam)


def _load(outer: Strict, bracket: Bracket, stack_nm: int, slam: float) -> tuple[Case, ...]:
    own = outer.child("demand", _LOAD)
    down, out = force_of(own, "down") * slam, force_of(own, "outward", "0 N") * slam
    if outer.errors:
        return ()
    return (bracket_case("load as given", down, out, bracket, stack_nm),)

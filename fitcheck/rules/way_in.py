"""Can the panel get in, which place is the tightest, and by how much does it pass?"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from fitcheck.rules.finding import State
from fitcheck.rules.length import NM_PER_MM, computed
from fitcheck.rules.sources import Status
from fitcheck.rules.sources_site import site_source
from fitcheck.rules.tables_carrying import SMALLEST_STEP, WIDEST_SEARCH
from fitcheck.rules.way_in_shapes import (
    greatest,
    longest_in,
    longest_round_corner,
    rectangle_fits,
    shortest_plan,
)
from fitcheck.rules.way_in_steps import Tilt, lifted_over_steps, tilts


@dataclass(frozen=True, slots=True)
class Slab:
    """A panel as it is carried, packing included [mm]."""

    side: float
    upright: float
    thick: float


@dataclass(frozen=True, slots=True)
class Place:
    """A place on the way in: its kind, its name and its clear sizes [mm].

    doorway: width, height. corner: from, to, height. stairs: width, headroom; rise and going of a
    step beside them. stair_turn: flight, landing, height, and across for a half turn; rise and going
    beside them, where somebody has told them. lift_car: width, depth, height, door_width, door_height.
    """

    kind: str
    name: str
    sizes: dict[str, float]
    rise: float = 0.0
    going: float = 1.0
    steps_told: bool = True


Passes = Callable[[Slab, Place], bool]
UPRIGHT, ON_ITS_SIDE = "upright", "on its side"
TILTED, LEANING, ALONG = "tilted in its own plane", "leaning sideways", "along the slope"
ROUNDING = 1e-6
_ANY_RISE = 1e9  # mm: no step so high is ever hung over


@dataclass(frozen=True, slots=True)
class Passage:
    """Whether the panel passes one place, how, and how much smaller the place could be."""

    kind: str
    name: str
    pose: str | None
    margin_nm: int
    state: State
    needs_nm: int
    mark: int = 16

    def as_json(self) -> dict[str, object]:
        """Return the passage as plain JSON."""
        return {
            "kind": self.kind,
            "name": self.name,
            "pose": self.pose,
            "margin": computed(self.margin_nm, "down", self.mark),
            "room_for_hands": computed(self.needs_nm, "up", self.mark),
            "state": self.state,
            "do": self.do,
            "source": site_source(*_SOURCES[self.kind]).as_json(),
        }

    @property
    def do(self) -> str:
        """Return what to do about the place."""
        if self.state == "unknown":
            return (
                f"Measure rise and going of the steps at {self.name}: the panel hangs over them as "
                "it turns."
            )
        if self.state == "fails":
            short = computed(-self.margin_nm, "up", self.mark)["inch"]
            return (
                f"Find another way in: in none of the poses tried does the panel pass {self.name}; "
                f"every clear size would have to be {short} larger."
            )
        rehearse = "rehearse it with a cardboard template first, then " * (self.state == "tight")
        return f"At {self.name}: {rehearse}carry it {self.pose}."


_SOURCES: dict[str, tuple[str, Status, str]] = {
    "doorway": ("carver", "from memory", "condition for p > a"),
    "corner": ("ladder", "derived", "with thickness"),
    "stairs": ("cylinder", "derived", "width of a body between parallels"),
    "stair_turn": ("ladder", "derived", "with thickness, once or twice"),
    "lift_car": ("carver", "from memory", "condition for p > a, in two planes"),
}


def passages(
    slab: Slab, places: tuple[Place, ...], needs_nm: int, mark: int = 16
) -> tuple[Passage, ...]:
    """Return how the panel passes each place of the way in.

    Only the poses named are tried: upright, on its side, tilted in its own plane, leaning
    sideways. A margin below zero means that none of those passes.

    Source: `goes_through`, `goes_round`, `goes_up`, `stands_in`, `leans_over`.

    Args:
        slab: the panel with its packing [mm].
        places: the places in their order [-].
        needs_nm: room that hands need at every place [nm].
        mark: parts of an inch that inches are printed to [-].

    Returns:
        One passage per place [-].
    """
    return tuple(_passage(slab, place, needs_nm, mark) for place in places)


def tightest(found: tuple[Passage, ...]) -> Passage | None:
    """Return the passage with the least margin; the first of equals.

    Args:
        found: the passages of the whole way in [-].

    Returns:
        The tightest of those that are known, or None when there is none [-].
    """
    known = [passage for passage in found if passage.state != "unknown"]
    return min(known, key=lambda passage: passage.margin_nm, default=None)


def _passage(slab: Slab, place: Place, needs_nm: int, mark: int) -> Passage:
    """Take the first pose that leaves hands their room, else the one with the most room."""
    margins = [(_margin_nm(passes, slab, place), pose) for pose, passes in POSES[place.kind]]
    easy = next((each for each in margins if each[0] >= needs_nm), None)
    margin_nm, pose = easy or max(margins, key=lambda each: each[0])
    state: State = "fails" if margin_nm < 0 else "tight" if margin_nm < needs_nm else "fits"
    named = None if state == "fails" else pose
    found = Passage(place.kind, place.name, named, margin_nm, state, needs_nm, mark)
    if place.steps_told or state == "fails":
        return found
    clear = _passage(slab, replace(place, rise=_ANY_RISE, steps_told=True), needs_nm, mark)
    return replace(clear, state="unknown") if clear.state == "fails" else clear


def _margin_nm(passes: Passes, slab: Slab, place: Place) -> int:
    reach = WIDEST_SEARCH.value / NM_PER_MM
    margin = greatest(lambda less: passes(slab, _smaller(place, less)), -reach, reach)
    step = SMALLEST_STEP.value
    return math.floor(margin * NM_PER_MM / step + ROUNDING) * step


def _smaller(place: Place, less: float) -> Place:
    sizes = {name: size - less for name, size in place.sizes.items()}
    return replace(place, sizes=sizes)


def goes_through(slab: Slab, place: Place, *, tall: float, leaning: bool) -> bool:
    """Return whether a panel goes through a doorway, edge first.

    Source: `rectangle_fits` when it leans sideways: what the opening must pass is one side by
    the thickness.

    Args:
        slab: the panel [mm].
        place: clear width and height [mm].
        tall: the side that is held plumb [mm].
        leaning: whether it may lean sideways across the opening [-].

    Returns:
        True when it does [-].
    """
    width, height = place.sizes["width"], place.sizes["height"]
    if leaning:
        return rectangle_fits(tall, slab.thick, height, width)
    return slab.thick <= width and tall <= height


def goes_round(
    slab: Slab, place: Place, *, widths: tuple[str, str], level: float, tall: float
) -> bool:
    """Return whether a panel goes round a right-angled corner with one side held level.

    On a landing with a half turn the level side must also lie along the landing: one way that
    works, so that another may exist where this one fails. What hangs over the flight going up is
    lifted over its steps, and the height above the landing is less by that.

    Source: `longest_round_corner`; `lifted_over_steps`.

    Args:
        slab: the panel [mm].
        place: clear widths of both corridors and the least clear height; of a stair also rise and
            going of a step [mm].
        widths: the names of the two widths [-].
        level: length in plan [mm].
        tall: height then [mm].

    Returns:
        True when it does [-].
    """
    lifted = _lifted(place, Tilt(0.0, level, tall))
    return level <= _longest_round(slab, place, widths) and tall + lifted <= place.sizes["height"]


def goes_round_tilted(slab: Slab, place: Place, *, widths: tuple[str, str]) -> bool:
    """Return whether a panel goes round a corner when it is tilted in its own plane.

    On a stair the tilts are tried degree by degree, for what hangs over the steps clears the more of
    them the steeper it rises.

    Source: `shortest_plan` with `longest_round_corner`; on a stair `tilts`, `lifted_over_steps`.

    Args:
        slab: the panel [mm].
        place: clear widths of both corridors and the least clear height; of a stair also rise and
            going of a step [mm].
        widths: the names of the two widths [-].

    Returns:
        True when it does [-].
    """
    longest, height = _longest_round(slab, place, widths), place.sizes["height"]
    if not place.rise:
        plan = shortest_plan(slab.side, slab.upright, height)
        return plan is not None and plan <= longest
    return any(
        tilt.high <= height and tilt.plan <= longest and tilt.high + _lifted(place, tilt) <= height
        for side, upright in ((slab.side, slab.upright), (slab.upright, slab.side))
        for tilt in tilts(side, upright)
    )


def _longest_round(slab: Slab, place: Place, widths: tuple[str, str]) -> float:
    sizes = place.sizes
    longest = longest_round_corner(sizes[widths[0]], sizes[widths[1]], slab.thick)
    return min(longest, sizes.get("across", math.inf))


def _lifted(place: Place, tilt: Tilt) -> float:
    """Return the lift over the steps of a turn; a quarter landing is as short as its shorter side."""
    if not place.rise:
        return 0.0
    sizes = place.sizes
    floor = sizes["landing"] if "across" in sizes else min(sizes["landing"], sizes["flight"])
    return lifted_over_steps(tilt, floor, place.rise, place.going)


def goes_up(slab: Slab, place: Place, *, across: float) -> bool:
    """Return whether a panel goes up a straight flight, tilted along the slope.

    Source: geometry of rigid bodies: between two parallels passes whatever is no wider than
    their distance, headroom x cos(slope).

    Args:
        slab: the panel [mm].
        place: clear width, headroom plumb above the nosings, rise and going of a step [mm].
        across: the side that stands square to the slope [mm].

    Returns:
        True when it does [-].
    """
    between = place.sizes["headroom"] * place.going / math.hypot(place.rise, place.going)
    return slab.thick <= place.sizes["width"] and across <= between


def stands_in(slab: Slab, place: Place, *, level: float, tall: float) -> bool:
    """Return whether a panel stands plumb in a lift car, along a wall or across the floor.

    Source: `longest_in` for the floor.

    Args:
        slab: the panel [mm].
        place: width, depth and height of the car, and its door [mm].
        level: the side that is level [mm].
        tall: the side that is plumb [mm].

    Returns:
        True when it does, and the panel goes through the door of the car [-].
    """
    sizes = place.sizes
    longest = longest_in(sizes["width"], sizes["depth"], slab.thick)
    return level <= longest and tall <= sizes["height"] and _goes_in(slab, place)


def stands_tilted(slab: Slab, place: Place) -> bool:
    """Return whether a panel stands plumb in a lift car, tilted in its own plane.

    Source: `rectangle_fits` in the plumb plane across the floor.

    Args:
        slab: the panel [mm].
        place: width, depth and height of the car, and its door [mm].

    Returns:
        True when it does, and the panel goes through the door of the car [-].
    """
    sizes = place.sizes
    longest = longest_in(sizes["width"], sizes["depth"], slab.thick)
    plumb = rectangle_fits(slab.side, slab.upright, longest, sizes["height"])
    return plumb and _goes_in(slab, place)


def leans_over(slab: Slab, place: Place) -> bool:
    """Return whether a panel stands in a lift car with one side level and leaning over.

    Source: `rectangle_fits` in the plumb plane square to the level side.

    Args:
        slab: the panel [mm].
        place: width, depth and height of the car, and its door [mm].

    Returns:
        True when it does, and the panel goes through the door of the car [-].
    """
    width, depth, height = (place.sizes[name] for name in ("width", "depth", "height"))
    return _goes_in(slab, place) and any(
        level <= along and rectangle_fits(other, slab.thick, height, across)
        for level, other in ((slab.side, slab.upright), (slab.upright, slab.side))
        for along, across in ((width, depth), (depth, width))
    )


def _goes_in(slab: Slab, place: Place) -> bool:
    sizes = {"width": place.sizes["door_width"], "height": place.sizes["door_height"]}
    door = Place("doorway", place.name, sizes)
    return any(passes(slab, door) for _, passes in POSES["doorway"])


def _round(widths: tuple[str, str]) -> tuple[tuple[str, Passes], ...]:
    return (
        (UPRIGHT, lambda s, p: goes_round(s, p, widths=widths, level=s.side, tall=s.upright)),
        (ON_ITS_SIDE, lambda s, p: goes_round(s, p, widths=widths, level=s.upright, tall=s.side)),
        (TILTED, lambda s, p: goes_round_tilted(s, p, widths=widths)),
    )


POSES: dict[str, tuple[tuple[str, Passes], ...]] = {
    "doorway": (
        (UPRIGHT, lambda s, p: goes_through(s, p, tall=s.upright, leaning=False)),
        (ON_ITS_SIDE, lambda s, p: goes_through(s, p, tall=s.side, leaning=False)),
        (f"{UPRIGHT}, {LEANING}", lambda s, p: goes_through(s, p, tall=s.upright, leaning=True)),
        (f"{ON_ITS_SIDE}, {LEANING}", lambda s, p: goes_through(s, p, tall=s.side, leaning=True)),
    ),
    "corner": _round(("from", "to")),
    "stairs": (
        (f"{UPRIGHT}, {ALONG}", lambda s, p: goes_up(s, p, across=s.upright)),
        (f"{ON_ITS_SIDE}, {ALONG}", lambda s, p: goes_up(s, p, across=s.side)),
    ),
    "stair_turn": _round(("flight", "landing")),
    "lift_car": (
        (UPRIGHT, lambda s, p: stands_in(s, p, level=s.side, tall=s.upright)),
        (ON_ITS_SIDE, lambda s, p: stands_in(s, p, level=s.upright, tall=s.side)),
        (TILTED, stands_tilted),
        ("leaning over", leans_over),
    ),
}

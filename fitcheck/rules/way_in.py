"""Can the panel get in, which place is the tightest, and by how much does it pass?"""

import math
from collections.abc import Callable
from dataclasses import dataclass

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
    step beside them. stair_turn: flight, landing, height, and across for a half turn.
    lift_car: width, depth, height, door_width, door_height.
    """

    kind: str
    name: str
    sizes: dict[str, float]
    rise: float = 0.0
    going: float = 1.0


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

    Source: `doorway_pose`, `corner_pose`, `stairs_pose`, `stair_turn_pose`, `lift_car_pose`.

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
        The tightest, or None when there is no place to pass [-].
    """
    return min(found, key=lambda passage: passage.margin_nm, default=None)


def _passage(slab: Slab, place: Place, needs_nm: int, mark: int) -> Passage:
    pose_at = POSES[place.kind]
    reach = WIDEST_SEARCH.value / NM_PER_MM
    margin = greatest(lambda less: pose_at(slab, _smaller(place, less)) is not None, -reach, reach)
    step = SMALLEST_STEP.value
    margin_nm = math.floor(margin * NM_PER_MM / step + 1e-6) * step
    state: State = "fails" if margin_nm < 0 else "tight" if margin_nm < needs_nm else "fits"
    pose = pose_at(slab, _smaller(place, margin)) if margin_nm >= 0 else None
    return Passage(place.kind, place.name, pose, margin_nm, state, needs_nm, mark)


def _smaller(place: Place, less: float) -> Place:
    sizes = {name: size - less for name, size in place.sizes.items()}
    return Place(place.kind, place.name, sizes, place.rise, place.going)


def doorway_pose(slab: Slab, place: Place) -> str | None:
    """Return how a panel goes through a doorway, edge first.

    Upright or on its side when it is low enough, else leaning sideways across the opening.

    Source: `rectangle_fits`: what the opening must pass is one side by the thickness.

    Args:
        slab: the panel [mm].
        place: clear width and height [mm].

    Returns:
        The pose, or None [-].
    """
    width, height = place.sizes["width"], place.sizes["height"]
    sides = ((slab.upright, "upright"), (slab.side, "on its side"))
    if slab.thick <= width:
        for side, pose in sides:
            if side <= height:
                return pose
    for side, pose in sides:
        if rectangle_fits(side, slab.thick, height, width):
            return f"{pose}, leaning sideways"
    return None


def corner_pose(slab: Slab, place: Place) -> str | None:
    """Return how a panel goes round a right-angled corner of a corridor.

    Source: `longest_round_corner` against `shortest_plan`.

    Args:
        slab: the panel [mm].
        place: clear widths of both corridors and the least clear height [mm].

    Returns:
        The pose, or None [-].
    """
    plan = shortest_plan(slab.side, slab.upright, place.sizes["height"])
    longest = longest_round_corner(place.sizes["from"], place.sizes["to"], slab.thick)
    return plan[1] if plan and plan[0] <= longest else None


def stairs_pose(slab: Slab, place: Place) -> str | None:
    """Return how a panel goes up a straight flight, its lower side along the slope.

    Source: geometry of rigid bodies: between two parallels passes whatever is no wider than
    their distance, headroom x cos(slope).

    Args:
        slab: the panel [mm].
        place: clear width, headroom plumb above the nosings, rise and going of a step [mm].

    Returns:
        The pose, or None [-].
    """
    between = place.sizes["headroom"] * place.going / math.hypot(place.rise, place.going)
    if slab.thick > place.sizes["width"]:
        return None
    if slab.upright <= slab.side and slab.upright <= between:
        return "upright, along the slope"
    return "on its side, along the slope" if slab.side <= between else None


def stair_turn_pose(slab: Slab, place: Place) -> str | None:
    """Return how a panel turns on a landing: a quarter turn, or two of them.

    A half turn is taken as two quarter turns with the panel along the landing in between: one
    way that works, so that another may exist where this one fails.

    Source: `corner_pose`, once or twice.

    Args:
        slab: the panel [mm].
        place: flight width, landing depth, headroom, and for a half turn the landing across [mm].

    Returns:
        The pose, or None [-].
    """
    sizes = place.sizes
    plan = shortest_plan(slab.side, slab.upright, sizes["height"])
    longest = longest_round_corner(sizes["flight"], sizes["landing"], slab.thick)
    longest = min(longest, sizes.get("across", math.inf))
    return plan[1] if plan and plan[0] <= longest else None


def lift_car_pose(slab: Slab, place: Place) -> str | None:
    """Return how a panel stands in a lift car that it must also enter by the door.

    Plumb along or across the car, tilted if need be; or leaning over with one side level.
    Nothing longer than the car's space diagonal can ever stand in it.

    Source: `rectangle_fits` in plan and in the plumb plane.

    Args:
        slab: the panel [mm].
        place: width, depth and height of the car, width and height of its door [mm].

    Returns:
        The pose, or None [-].
    """
    sizes = place.sizes
    door = Place("doorway", "", {"width": sizes["door_width"], "height": sizes["door_height"]})
    if doorway_pose(slab, door) is None:
        return None
    width, depth, height = sizes["width"], sizes["depth"], sizes["height"]
    longest = longest_in(width, depth, slab.thick)
    for level, plumb, pose in (
        (slab.side, slab.upright, "upright"),
        (slab.upright, slab.side, "on its side"),
    ):
        if level <= longest and plumb <= height:
            return pose
    if longest and rectangle_fits(slab.side, slab.upright, longest, height):
        return "tilted in its own plane"
    return _leaning(slab, (width, depth), height)


def _leaning(slab: Slab, floor: tuple[float, float], height: float) -> str | None:
    for level, other in ((slab.side, slab.upright), (slab.upright, slab.side)):
        for along, across in (floor, floor[::-1]):
            if level <= along and rectangle_fits(other, slab.thick, height, across):
                return "leaning over"
    return None


POSES: dict[str, Callable[[Slab, Place], str | None]] = {
    "doorway": doorway_pose,
    "corner": corner_pose,
    "stairs": stairs_pose,
    "stair_turn": stair_turn_pose,
    "lift_car": lift_car_pose,
}

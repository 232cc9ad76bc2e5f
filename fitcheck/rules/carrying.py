"""Can people handle this panel: who lifts it, which way in, where does it rest, what protects it?"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from fitcheck.rules.finding import State, worst
from fitcheck.rules.glass import glass_mass_ug
from fitcheck.rules.handling import Coupling, hands_for, team_capability_kg
from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, Length
from fitcheck.rules.lifting import (
    Hold,
    LiftLimits,
    LiftTask,
    duration_hours,
    lift_limits,
    lifting_index,
    team_for,
    tenth_pounds,
    tenth_text,
)
from fitcheck.rules.quantity import UG_PER_KG, kg_text, lb_text, mass_parse
from fitcheck.rules.sources import Status, source
from fitcheck.rules.strict import InputError, Strict
from fitcheck.rules.tables_carrying import (
    CARRY_BETWEEN_RESTS,
    INDEX_FOR_NEARLY_ALL,
    LEAST_OF_GLASS_MASS,
    OUTSIDE_THE_METHOD,
    PROTECTION,
    ROOM_FOR_HANDS,
)
from fitcheck.rules.way_in import Passage, Place, Slab, passages, tightest

_CONVENTIONS = ("hse_l23", "iso_11228_1")
_MEMBERS = (
    "panel",
    "people",
    "convention",
    "lift",
    "conditions",
    "way",
    "carry",
    "room_for_hands",
)
_LIFT = ("origin", "destination", "per_minute", "work_minutes", "rest_minutes", "coupling")
_HOLD = ("horizontal", "height", "asymmetry_deg")
_SIZES: dict[str, tuple[str, ...]] = {
    "doorway": ("width", "height"),
    "corner": ("from", "to", "height"),
    "stairs": ("width", "headroom", "rise", "going"),
    "stair_turn": ("flight", "landing", "height"),
    "lift_car": ("width", "depth", "height", "door_width", "door_height"),
}
_OF_A_TURN = ("across", "rise", "going")
_RESTS_BEFORE = ("stairs", "stair_turn", "lift_car")
_NM_PER_CM = 10 * NM_PER_MM
NM_PER_M = 1000 * NM_PER_MM
NM_PER_FOOT = 12 * NM_PER_INCH
TEAM_SOURCES: dict[str, tuple[str, Status, str]] = {
    "hse_l23": ("hse_l23", "published", "120"),
    "iso_11228_1": ("iso11228", "from memory", "annex C; two-person lift"),
}


@dataclass(frozen=True, slots=True)
class LiftScreen:
    """What the lifting equation says of a team and a panel."""

    limits: LiftLimits
    people: int
    convention: str
    mass_ug: int
    outside: tuple[str, ...]
    stretched: bool = False

    @property
    def team_kg(self) -> float:
        """Return what the team may lift together in this posture [kg]."""
        each = self.limits.governing
        return team_capability_kg(self.people, each, self.convention, stretched=self.stretched)

    @property
    def index(self) -> float:
        """Return the load over what the team may lift [-]."""
        return lifting_index(self.mass_ug / UG_PER_KG, self.team_kg)

    @property
    def enough(self) -> int | None:
        """Return the smallest team that may lift it, None where it takes an aid [-]."""
        load, each = self.mass_ug / UG_PER_KG, self.limits.governing
        return team_for(load, each, self.convention, stretched=self.stretched)

    @property
    def state(self) -> State:
        """Return "fits" up to an index of 1; outside the method nothing is known [-]."""
        if self.index > INDEX_FOR_NEARLY_ALL.value:
            return "fails"
        return "unknown" if self.outside else "fits"

    def as_json(self) -> dict[str, object]:
        """Return the screen as plain JSON; the index is rounded up."""
        finite = self.limits.governing > 0 and self.index != float("inf")
        return {
            "method": "a screen of the lift only; carrying, stairs and pushing lie outside it",
            "limit_each": self.limits.as_json(),
            "people": self.people,
            "convention": self.convention,
            "team_may_lift": tenth_text(self.team_kg),
            "team_may_lift_lb": tenth_pounds(self.team_kg),
            "mass": kg_text(self.mass_ug),
            "mass_lb": lb_text(self.mass_ug),
            "index": f"{-int(-self.index * 100 // 1) / 100:.2f}" if finite else None,
            "people_enough": self.enough,
            "outside": list(self.outside),
            "state": self.state,
            "do": self._do(),
            "source": source("niosh", "published", "p. 7, tables 1 to 7").as_json(),
        }

    def _do(self) -> str:
        if self.enough is None:
            return "Use a lifting aid: no team may lift this by hand in this posture."
        if self.state == "fails":
            return f"Lift it with {self.enough} people, or closer to the body, or with an aid."
        if self.outside:
            return "Ask a competent person: part of the work lies outside the method."
        return f"Lift it with {self.people} people; hold it close and do not twist."


@dataclass(frozen=True, slots=True)
class Team:
    """Whether as many people come as the panel takes."""

    people: int
    needed: int
    by_hand: bool
    convention: str
    lift_told: bool

    @property
    def state(self) -> State:
        """Return "fails" with too few people; "unknown" while nobody said how it is lifted [-]."""
        if self.people < self.needed or not self.by_hand:
            return "fails"
        return "fits" if self.lift_told else "unknown"

    def as_json(self) -> dict[str, object]:
        """Return the team as plain JSON."""
        named = TEAM_SOURCES[self.convention]
        return {
            "people": self.people,
            "needed": self.needed,
            "state": self.state,
            "do": self._do(),
            "source": source(*named).as_json(),
        }

    def _do(self) -> str:
        if not self.by_hand:
            return "Use a lifting aid: no team may lift this by hand."
        if self.state == "fails":
            return f"Bring {self.needed} people, or a lifting aid."
        if self.state == "unknown":
            return "Say how it is lifted: the mass alone does not tell whether they may."
        return f"Lift it with {self.people} people."


@dataclass(frozen=True, slots=True)
class Handled:
    """The whole answer about one panel."""

    mass_ug: int
    team: Team
    screen: LiftScreen | None
    way: tuple[Passage, ...]
    rests: tuple[str, ...]
    protection: tuple[str, ...]

    @property
    def state(self) -> State:
        """Return the worst state of the team, the lift and the way in [-]."""
        states = [self.team.state, *(passage.state for passage in self.way)]
        states += [self.screen.state] if self.screen else []
        return worst(states)

    def as_json(self) -> dict[str, object]:
        """Return the answer as plain JSON."""
        narrow = tightest(self.way)
        return {
            "state": self.state,
            "mass": kg_text(self.mass_ug),
            "mass_lb": lb_text(self.mass_ug),
            "hands_needed": self.team.needed,
            "by_hand": self.team.by_hand,
            "team": self.team.as_json(),
            "lift": self.screen.as_json() if self.screen else None,
            "way": [passage.as_json() for passage in self.way],
            "tightest": narrow.as_json() if narrow else None,
            "rests": list(self.rests),
            "protection": list(self.protection),
            "cautions": [
                "Two people carry every panel; keep out of its fall path; tempered glass can "
                "break without warning when an edge or a hole is hit.",
                "These figures are aids: the kit's sheet, the firm's own risk assessment and the "
                "law outrank them.",
            ],
        }


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer whether people can handle a panel and get it in.

    Source: `lift_limits`, `team_capability_kg`, `passages`; hands by `hands_for`.

    Args:
        inputs: panel, people, convention, lift, conditions, way, carry, room_for_hands [-].

    Returns:
        State, hands, lift screen, way in with the tightest place, rests, protection [-].

    Raises:
        InputErrors: the inputs are malformed; one entry per mistake.
    """
    errors: list[InputError] = []
    own = Strict.open(inputs, _MEMBERS, "", errors)
    convention = own.choice("convention", _CONVENTIONS)
    panel = own.child("panel", ("width", "height", "thickness", "packing", "mass"))
    slab, mass_ug = _slab(panel), _mass(panel)
    _contradicts(panel, mass_ug)
    people = own.integer("people", 2, 4)
    outside = (
        own.choices("conditions", tuple(OUTSIDE_THE_METHOD.value)) if own.has("conditions") else ()
    )
    task = own.optional("lift", _LIFT, _task)
    places = tuple(_place(own, index, one) for index, one in enumerate(own.items("way", most=50)))
    room = own.length_or_none("room_for_hands", zero=True)
    carry = own.length_or_none("carry", zero=True)
    own.finish()
    hands, by_hand = hands_for(mass_ug, 2, convention)
    screen = None
    if task is not None:
        screen = LiftScreen(lift_limits(task), people, convention, mass_ug, _named(outside))
        hands, by_hand = max(hands, screen.enough or hands), by_hand and screen.enough is not None
    needs_nm = ROOM_FOR_HANDS.value if room is None else room.nm
    way = passages(slab, places, needs_nm)
    team = Team(people, hands, by_hand, convention, screen is not None)
    rests, protection = _rests(places, carry), _protection(places)
    return Handled(mass_ug, team, screen, way, rests, protection).as_json()


def _named(outside: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(OUTSIDE_THE_METHOD.value[word] for word in outside)


def _slab(panel: Strict) -> Slab:
    packing = panel.length_or_none("packing", zero=True)
    thick = panel.length("thickness").nm + (packing.nm if packing else 0)
    return Slab(_mm(panel.length("width")), _mm(panel.length("height")), thick / NM_PER_MM)


def _mass(panel: Strict) -> int:
    try:
        mass_ug = mass_parse(panel.members.get("mass"))
    except ValueError as error:
        panel.refuse("mass", "mass_not_understood", str(error), 'write "34.4 kg"')
        return UG_PER_KG
    if mass_ug == 0:
        panel.refuse("mass", "not_in_range", "mass is more than zero.")
    return mass_ug


def _contradicts(panel: Strict, mass_ug: int) -> None:
    """Refuse a mass that no glass of this size can have."""
    if panel.errors:
        return
    sides = [panel.length(name).nm for name in ("width", "height", "thickness")]
    glass = glass_mass_ug(*sides)
    share = LEAST_OF_GLASS_MASS.value
    if mass_ug < share * glass:
        told = f"{kg_text(mass_ug)}; glass of this size has {kg_text(glass)} (2500 kg/m3)."
        hint = "weigh it, or read its label: mass, width, height and thickness disagree"
        panel.refuse("mass", "mass_contradicts_size", told, hint)


def _task(lift: Strict) -> LiftTask:
    origin = _hold(lift.child("origin", _HOLD))
    destination = lift.optional("destination", _HOLD, _hold)
    hours = duration_hours(
        lift.integer("work_minutes", 0, 480), lift.integer("rest_minutes", 0, 1440)
    )
    return LiftTask(
        origin,
        destination or origin,
        float(lift.number("per_minute", "0", "60", "0.2")),
        hours,
        lift.choice("coupling", get_args(Coupling)),
        control=True,
    )


def _hold(hold: Strict) -> Hold:
    return Hold(
        hold.length("horizontal").nm / _NM_PER_CM,
        hold.length("height", zero=True).nm / _NM_PER_CM,
        float(hold.number("asymmetry_deg", "0", "180", "0")),
    )


def _place(own: Strict, index: int, value: object) -> Place:
    named = value.get("kind") if isinstance(value, dict) else None
    kind = named if isinstance(named, str) and named in _SIZES else "doorway"
    wanted, more = _SIZES[kind], _OF_A_TURN if kind == "stair_turn" else ()
    known = ("kind", "name", *wanted, *more)
    place = Strict.open(value, known, f"{own.pointer}/way/{index}", own.errors)
    place.choice("kind", tuple(_SIZES))
    read = {name: _mm(place.length(name)) for name in wanted}
    steps = any(place.has(name) for name in ("rise", "going"))
    asked = [name for name in more if place.has(name) or (steps and name != "across")]
    read |= {name: _mm(place.length(name)) for name in asked}
    rise, going = read.pop("rise", 0.0), read.pop("going", 1.0)
    told = kind != "stair_turn" or steps
    return Place(kind, place.text("name", kind.replace("_", " ")), read, rise, going, told)


def _mm(length: Length) -> float:
    return length.nm / NM_PER_MM


def _rests(places: tuple[Place, ...], carry: Length | None) -> tuple[str, ...]:
    rests = [f"Before {place.name}." for place in places if place.kind in _RESTS_BEFORE]
    every = CARRY_BETWEEN_RESTS.value
    if carry and carry.nm > every:
        stops = -(-carry.nm // every) - 1
        each = f"{every // NM_PER_M} m ({every // NM_PER_FOOT} ft)"
        rests.append(f"On the level: {stops} more, one at least every {each}.")
    return tuple(rests)


def _protection(places: tuple[Place, ...]) -> tuple[str, ...]:
    kinds = dict.fromkeys(["always", *(place.kind for place in places)])
    return tuple(line for kind in kinds for line in PROTECTION.value[kind])

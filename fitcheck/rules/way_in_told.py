"""What is told of a site's way in, what is still to be asked, and which of a verdict's panels get in?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from fitcheck.rules.finding import State, worst
from fitcheck.rules.length import NM_PER_MM, LengthError, computed, length_parse, mm_text
from fitcheck.rules.tables_carrying import PACKING_EACH_SIDE, ROOM_FOR_HANDS
from fitcheck.rules.way_in import Passage, Place, Slab, passages, tightest

STRAIGHT_IN = "straight_in"
PASSES: dict[str, str] = {
    STRAIGHT_IN: "straight in on one level: nothing but the door",
    "corridor": "a straight corridor",
    "corner": "a corner of a corridor",
    "lift": "a lift",
    "stairs": "a straight flight of stairs",
    "quarter_turn": "stairs with a quarter turn",
    "half_turn": "stairs with a half turn",
}
SIZES: dict[str, str] = {
    "door_width": "door width",
    "door_height": "door height",
    "corridor_width": "corridor width",
    "corridor_beyond": "corridor width beyond the corner",
    "corridor_height": "corridor height",
    "lift_width": "lift width",
    "lift_depth": "lift depth",
    "lift_height": "lift height",
    "lift_door_width": "lift door width",
    "lift_door_height": "lift door height",
    "stair_width": "stair width",
    "stair_headroom": "headroom over the stair",
    "stair_rise": "rise of a step",
    "stair_going": "going of a step",
    "landing_depth": "landing depth",
    "landing_width": "landing width across both flights",
    "landing_height": "height over the landing",
}
DOOR = ("door_width", "door_height")
_STEP = {"rise": "stair_rise", "going": "stair_going"}
_TURN = {"flight": "stair_width", "landing": "landing_depth", "height": "landing_height"}
_CORRIDOR = {"width": "corridor_width", "height": "corridor_height"}
_DOOR = ("doorway", "Door", {"width": "door_width", "height": "door_height"})
_STAIR = ("stairs", "Stair", {"width": "stair_width", "headroom": "stair_headroom", **_STEP})
_KINDS: dict[str, tuple[tuple[str, str, dict[str, str]], ...]] = {
    STRAIGHT_IN: (),
    "corridor": (("doorway", "Corridor", _CORRIDOR),),
    "corner": (
        (
            "corner",
            "Corner of the corridor",
            {"from": "corridor_width", "to": "corridor_beyond", "height": "corridor_height"},
        ),
    ),
    "lift": (
        (
            "lift_car",
            "Lift car",
            {
                name: f"lift_{name}"
                for name in ("width", "depth", "height", "door_width", "door_height")
            },
        ),
    ),
    "stairs": (_STAIR,),
    "quarter_turn": (_STAIR, ("stair_turn", "Turn of the stair", {**_TURN, **_STEP})),
    "half_turn": (
        _STAIR,
        ("stair_turn", "Turn of the stair", {**_TURN, **_STEP, "across": "landing_width"}),
    ),
}
# Where sizes are told and no kind is, the harder one is reckoned with.
_FAMILIES = (
    ("corridor_", ("corner", "corridor")),
    ("lift_", ("lift",)),
    ("stair_", ("quarter_turn", "half_turn", "stairs")),
    ("landing_", ("quarter_turn", "half_turn")),
)
NOTHING_TOLD = (
    "Nobody has told how the glass gets in: say that it goes straight in on one level, or what it "
    "passes (corridor, corner, lift, stairs), with clear sizes."
)
NOTHING_BEYOND = (
    "Nobody has told what the glass passes beyond the door: say that it goes straight in on one "
    "level, or what it passes (corridor, corner, lift, stairs), with clear sizes."
)


@dataclass(frozen=True, slots=True)
class Told:
    """A place of a site's way in: its sizes as they were told, and those that are missing."""

    kind: str
    name: str
    sizes: Mapping[str, str]
    missing: tuple[str, ...]

    def as_json(self) -> dict[str, str]:
        """Return the place with its sizes, each with its unit."""
        return {"kind": self.kind, "name": self.name, **self.sizes}

    def place(self) -> Place:
        """Return the place as the rules take it [mm]."""
        sizes = {name: _nm(text) / NM_PER_MM for name, text in self.sizes.items()}
        rise, going = sizes.pop("rise", 0.0), sizes.pop("going", 1.0)
        return Place(self.kind, self.name, sizes, rise, going)


@dataclass(frozen=True, slots=True)
class Way:
    """A site's way in: its places in their order, and what is still to be asked."""

    places: tuple[Told, ...]
    asks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PanelWay:
    """How one panel gets in: each place that is told whole, and whether anything is to be asked."""

    name: str
    size: str
    found: tuple[Passage, ...]
    is_asked: bool
    is_unsized: bool = False

    @property
    def tightest(self) -> Passage | None:
        """Return the tightest place that is known, None where there is none [-]."""
        return tightest(self.found)

    @property
    def state(self) -> State:
        """Return the worst state; a way told whole without a place to pass fits [-]."""
        states = [each.state for each in self.found]
        states += ["unknown"] if self.is_asked else [] if states else ["fits"]
        return worst(states)

    def as_json(self) -> dict[str, object]:
        """Return the panel's way as plain JSON."""
        narrow = self.tightest
        return {
            "name": self.name,
            "size": self.size,
            "state": self.state,
            "tightest": narrow.as_json() if narrow else None,
            "says": self.says,
        }

    @property
    def says(self) -> str:
        """Return in a sentence how the panel gets in, or why not."""
        narrow = self.tightest
        packing = mm_text(PACKING_EACH_SIDE.value)
        what = (
            f"Panel {self.name} ({self.size}, with {packing} of packing all round, a house setting)"
        )
        if self.is_unsized:
            return f"The size of panel {self.name} is not known."
        if narrow is None:
            return f"{what}: not known." if self.state == "unknown" else f"{what}: straight in."
        where = f"the tightest place is {narrow.name}"
        if narrow.state == "fails":
            short = _inch(-narrow.margin_nm, "up", narrow.mark)
            return f"{what} does not get in: {where}, short by {short} in every pose tried."
        spare = _inch(narrow.margin_nm, "down", narrow.mark)
        return f"{what}: {where}, {spare} to spare, carried {narrow.pose}."


def way_told(site: Mapping[str, object]) -> Way:
    """Return the places of a site's way in, and what is to be asked of it.

    A kind of place is there when it is said to be, or when a size of it is told. Nothing told is one
    question; a size that is missing is asked for by its name.

    Args:
        site: `passes`, kinds of `PASSES`, and sizes of `SIZES`, empty where nobody told them [-].

    Returns:
        The places in the order door, corridor, lift, stair, and the questions [-].
    """
    sizes = {name: str(site[name]) for name in SIZES if site.get(name)}
    kinds = _kinds(_listed(site), sizes)
    if not kinds:
        return Way(_places((_DOOR,), sizes) if sizes else (), (_first(sizes),))
    rows = () if STRAIGHT_IN in kinds and not sizes else (_DOOR,)
    rows = (*rows, *(row for kind in PASSES if kind in kinds for row in _KINDS[kind]))
    places = _places(rows, sizes)
    missing = {name for place in places for name in place.missing}
    asks = (f"Measure on the way in: {', '.join(SIZES[n] for n in SIZES if n in missing)}.",)
    return Way(places, asks if missing else ())


def panels_in(
    panels: Iterable[Mapping[str, object]], way: Way, mark: int = 16
) -> tuple[PanelWay, ...]:
    """Return how each panel of a verdict gets in, packed all round.

    Source: `passages`; packing and room for hands are house settings.

    Args:
        panels: with name, width, height and thickness as lengths [-].
        way: the site's way in [-].
        mark: parts of an inch that inches are printed to [-].

    Returns:
        One answer per panel; a panel without its sizes is unknown [-].
    """
    places = tuple(told.place() for told in way.places if not told.missing)
    seen: dict[Slab, tuple[Passage, ...]] = {}
    return tuple(_panel_in(panel, places, way, mark, seen) for panel in panels)


def packed(panel: Mapping[str, object]) -> Slab | None:
    """Return a panel as it is carried, packed all round; None without its sizes [mm].

    Args:
        panel: width, height and thickness as lengths [-].

    Returns:
        The panel with its packing [mm].
    """
    try:
        width, height, thick = (_nm(panel.get(n)) for n in ("width", "height", "thickness"))
    except LengthError:
        return None
    more = 2 * PACKING_EACH_SIDE.value
    return Slab(*((size + more) / NM_PER_MM for size in (width, height, thick)))


def _panel_in(
    panel: Mapping[str, object],
    places: tuple[Place, ...],
    way: Way,
    mark: int,
    seen: dict[Slab, tuple[Passage, ...]],
) -> PanelWay:
    slab = packed(panel)
    if slab is not None and slab not in seen:  # both panels of a slider may be alike
        seen[slab] = passages(slab, places, ROOM_FOR_HANDS.value, mark)
    size = " × ".join(str(panel[n]) for n in ("width", "height") if panel.get(n))
    found = seen[slab] if slab else ()
    asked = bool(way.asks) or slab is None
    return PanelWay(str(panel.get("name") or ""), size, found, asked, slab is None)


def _kinds(listed: Sequence[str], sizes: Mapping[str, str]) -> set[str]:
    """Return the kinds that are there: those said, and the harder one where only sizes are told."""
    kinds = set(listed)
    for start, family in _FAMILIES:
        if any(name.startswith(start) for name in sizes) and not kinds & set(family):
            kinds.add(family[0])
    return kinds


def _listed(site: Mapping[str, object]) -> list[str]:
    listed = site.get("passes")
    return [str(kind) for kind in listed if kind in PASSES] if isinstance(listed, list) else []


def _first(sizes: Mapping[str, str]) -> str:
    return NOTHING_BEYOND if sizes else NOTHING_TOLD


def _places(
    rows: Iterable[tuple[str, str, dict[str, str]]], sizes: Mapping[str, str]
) -> tuple[Told, ...]:
    """Return each place once; beyond a corner the corridor is as wide as before it unless told."""
    wide = sizes.get("corridor_width")
    known = {**({"corridor_beyond": wide} if wide else {}), **sizes}
    found = {}
    for kind, name, fields in rows:
        told = {size: known[field] for size, field in fields.items() if field in known}
        missing = tuple(f for f in fields.values() if f not in known and f != "corridor_beyond")
        found[name] = Told(kind, name, told, missing)
    return tuple(found.values())


def _nm(text: object) -> int:
    return length_parse(text).nm


def _inch(nm: int, way: str, mark: int) -> str:
    told = computed(nm, "up" if way == "up" else "down", mark)
    return f"{told['inch']} ({told['mm']})"

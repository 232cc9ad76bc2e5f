"""What is told of a site's way in, and what is still to be asked of it?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from fitcheck.rules.length import NM_PER_MM, length_parse
from fitcheck.rules.way_in import Place
from fitcheck.rules.way_in_kinds import DOORWAY, FAMILIES, PASSES, PLACES_OF, SIZES, STRAIGHT_IN

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
        sizes = {name: length_parse(text).nm / NM_PER_MM for name, text in self.sizes.items()}
        rise, going = sizes.pop("rise", 0.0), sizes.pop("going", 1.0)
        return Place(self.kind, self.name, sizes, rise, going)


@dataclass(frozen=True, slots=True)
class Way:
    """A site's way in: its places in their order, and what is still to be asked."""

    places: tuple[Told, ...]
    asks: tuple[str, ...]


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
        beyond = NOTHING_BEYOND if sizes else NOTHING_TOLD
        return Way(_places((DOORWAY,), sizes) if sizes else (), (beyond,))
    rows = () if STRAIGHT_IN in kinds and not sizes else (DOORWAY,)
    rows = (*rows, *(row for kind in PASSES if kind in kinds for row in PLACES_OF[kind]))
    places = _places(rows, sizes)
    missing = {name for place in places for name in place.missing}
    asks = (f"Measure on the way in: {', '.join(SIZES[n] for n in SIZES if n in missing)}.",)
    return Way(places, asks if missing else ())


def _kinds(listed: Sequence[str], sizes: Mapping[str, str]) -> set[str]:
    """Return the kinds that are there: those said, and the harder one where only sizes are told."""
    kinds = set(listed)
    for start, family in FAMILIES:
        if any(name.startswith(start) for name in sizes) and not kinds & set(family):
            kinds.add(family[0])
    return kinds


def _listed(site: Mapping[str, object]) -> list[str]:
    listed = site.get("passes")
    return [str(kind) for kind in listed if kind in PASSES] if isinstance(listed, list) else []


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

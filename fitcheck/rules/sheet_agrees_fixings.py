"""Do the fixings and anchors of a sheet contradict each other, or the rail, the hinges and the sill?"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from fitcheck.rules.compare import words
from fitcheck.rules.length import Length
from fitcheck.rules.sheet import FixingRule, Sheet
from fitcheck.rules.sheet_agrees_cuts import BETWEEN
from fitcheck.rules.sheet_agrees_opening import height_at
from fitcheck.rules.sheet_more import AnchorRule
from fitcheck.rules.sheet_said import Contradiction, contradiction
from fitcheck.rules.tables_agrees import RAIL_PLACED_WITHIN

SILL = "sill"


def fixings_agree(sheet: Sheet) -> Iterator[Contradiction]:
    """Yield what contradicts itself of what is fixed to walls and sill.

    Source: the kit's own sheet. Common practice, no source: nothing but backing carries a door.

    Args:
        sheet: the rule sheet [-].

    Yields:
        The contradictions [-].
    """
    for index, fixing in enumerate(sheet.fixings):
        yield from _bears(index, fixing)
        yield from _sits(index, fixing)
    yield from _places_twice(sheet)
    brackets = _brackets(sheet)
    if sheet.rail_height:
        yield from _at_the_rail(sheet.rail_height, brackets)
    yield from _beside_brackets(sheet, brackets)
    for number, anchor in enumerate(sheet.anchors):
        yield from _anchor(sheet, number, anchor)
    yield from _anchors_twice(sheet)


def _bears(index: int, fixing: FixingRule) -> Iterator[Contradiction]:
    at, bears = f"/fixings/{index}", fixing.bracket.bears if fixing.bracket else "load"
    place, page = fixing.place, fixing.page
    load = None if fixing.load_n is None else f"{fixing.load_n.normalize():f} N"
    if fixing.must_reach == "finish":
        pointers = (f"{at}/must_reach", f"{at}/bracket/bears")
        if bears != "load":
            yield contradiction("bears_on_finish", pointers, page, place=place, what=bears)
        elif load:
            pointers = (f"{at}/must_reach", f"{at}/load")
            yield contradiction("load_on_finish", pointers, page, place=place, load=load)
    if load and fixing.load_n is not None and fixing.load_n <= 0:
        yield contradiction("load_of_nothing", (f"{at}/load",), page, place=place, load=load)
    if bears == "rail" and SILL in fixing.surfaces:
        pointers = (f"{at}/surface", f"{at}/bracket/bears")
        yield contradiction("rail_on_sill", pointers, page, place=place, what=bears)


def _sits(index: int, fixing: FixingRule) -> Iterator[Contradiction]:
    at, place, page, count = f"/fixings/{index}", fixing.place, fixing.page, len(fixing.heights)
    for (i, one), (j, other) in combinations(enumerate(fixing.heights), 2):
        if one.nm == other.nm:
            pointers = (f"{at}/heights/{j}", f"{at}/heights/{i}")
            yield contradiction("height_twice", pointers, page, place=place, height=other)
    if SILL in fixing.surfaces:
        for number, height in enumerate(fixing.heights):
            if height.nm > 0:
                pointers = (height_at(index, number, count), f"{at}/surface")
                yield contradiction("above_its_sill", pointers, page, place=place, height=height)
    if fixing.screw and fixing.bracket and fixing.screw.length.nm <= fixing.bracket.thickness.nm:
        yield contradiction(
            "screw_too_short",
            (f"{at}/screw/length", f"{at}/bracket/thickness"),
            page,
            place=place,
            length=fixing.screw.length,
            thickness=fixing.bracket.thickness,
        )


@dataclass(frozen=True, slots=True)
class _Bracket:
    """One height at which something that carries is fixed to a wall."""

    pointer: str
    fixing: FixingRule
    height: Length

    def apart_nm(self, height: Length) -> int:
        """Return how far it sits from a height [nm]."""
        return abs(self.height.nm - height.nm)

    @property
    def bears_rail(self) -> bool:
        """Return whether the sheet says that it bears the rail."""
        return self.fixing.bracket is not None and self.fixing.bracket.bears == "rail"


def _brackets(sheet: Sheet) -> list[_Bracket]:
    return [
        _Bracket(height_at(i, n, len(fixing.heights)), fixing, height)
        for i, fixing in enumerate(sheet.fixings)
        if SILL not in fixing.surfaces
        and (fixing.carries or (fixing.bracket and fixing.bracket.bears == "rail"))
        for n, height in enumerate(fixing.heights)
    ]


def _at_the_rail(rail: Length, brackets: list[_Bracket]) -> Iterator[Contradiction]:
    """Hold each bracket that bears the rail against its height, or the nearest when none is said to."""
    bear = [one for one in brackets if one.bears_rail]
    nearest = sorted(brackets, key=lambda one: one.apart_nm(rail))[:1]
    for one in bear or nearest:
        if one.apart_nm(rail) > RAIL_PLACED_WITHIN.value:
            yield contradiction(
                "rail_elsewhere",
                (one.pointer, "/rail_height"),
                one.fixing.page,
                rail=rail,
                what=one.fixing.place,
                height=one.height,
            )


def _places_twice(sheet: Sheet) -> Iterator[Contradiction]:
    for (i, one), (j, other) in combinations(enumerate(sheet.fixings), 2):
        surfaces = [surface for surface in one.surfaces if surface in other.surfaces]
        heights = {height.nm for height in one.heights}
        twice = [height for height in other.heights if height.nm in heights]
        if one.place == other.place and surfaces and twice:
            yield contradiction(
                "place_twice",
                (f"/fixings/{j}/place", f"/fixings/{i}/place"),
                other.page,
                place=one.place,
                surface=words(surfaces[0]),
                height=twice[0],
            )


def _beside_brackets(sheet: Sheet, brackets: list[_Bracket]) -> Iterator[Contradiction]:
    """Look for a bracket at the height of each part that is cut between brackets."""
    for index, cut in enumerate(sheet.cuts):
        if cut.measured != BETWEEN or not brackets:
            continue
        nearest = min(brackets, key=lambda one: one.apart_nm(cut.height))
        if nearest.apart_nm(cut.height) > RAIL_PLACED_WITHIN.value:
            yield contradiction(
                "brackets_elsewhere",
                (f"/cuts/{index}/height", nearest.pointer),
                cut.page,
                cut.sizes,
                part=cut.part,
                height=cut.height,
                place=nearest.fixing.place,
                other=nearest.height,
            )


def _anchor(sheet: Sheet, index: int, rule: AnchorRule) -> Iterator[Contradiction]:
    at, name, page = f"/anchors/{index}", rule.anchor, rule.page
    if rule.embedment.nm + rule.stack_most.nm > rule.length.nm:
        yield contradiction(
            "anchor_too_short",
            (f"{at}/length", f"{at}/embedment", f"{at}/stack_most"),
            page,
            anchor=name,
            length=rule.length,
            embedment=rule.embedment,
            stack=rule.stack_most,
        )
    rims = (("spacing", rule.spacing, 1), ("edge", rule.edge, 2))
    for member, length, share in rims:
        if length.nm * share <= rule.diameter.nm:
            yield contradiction(
                "anchor_rims_meet",
                (f"{at}/{member}", f"{at}/diameter"),
                page,
                anchor=name,
                diameter=rule.diameter,
                length=length,
            )
    if not rule.diameter.nm <= rule.bit.nm * 2 <= rule.diameter.nm * 4:
        pointers = (f"{at}/bit", f"{at}/diameter")
        yield contradiction(
            "anchor_bit", pointers, page, anchor=name, diameter=rule.diameter, bit=rule.bit
        )
    if sheet.substrates and rule.base not in sheet.substrates.structures:
        pointers = (f"{at}/base", "/substrates/structures")
        yield contradiction(
            "anchor_base_not_allowed", pointers, page, anchor=name, base=words(rule.base)
        )


def _anchors_twice(sheet: Sheet) -> Iterator[Contradiction]:
    for (i, one), (j, other) in combinations(enumerate(sheet.anchors), 2):
        if (one.anchor, one.base, one.grouted) == (other.anchor, other.base, other.grouted):
            pointers = (f"/anchors/{j}/anchor", f"/anchors/{i}/anchor")
            base = words(one.base)
            yield contradiction("anchor_twice", pointers, other.page, anchor=one.anchor, base=base)

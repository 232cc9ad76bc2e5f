"""Do the fixings of a sheet contradict each other, or the rail, the cuts between brackets and the sill?"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from fitcheck.rules.compare import words
from fitcheck.rules.length import NM_PER_INCH, Length
from fitcheck.rules.sheet import FixingRule, Sheet
from fitcheck.rules.sheet_agrees_cuts import BETWEEN, both_said, length_said
from fitcheck.rules.sheet_agrees_opening import height_at, narrowest
from fitcheck.rules.sheet_more import BracketRule
from fitcheck.rules.sheet_said import Contradiction, contradiction
from fitcheck.rules.tables_agrees import RAIL_PLACED_WITHIN, TALLEST_BRACKET, WIDEST_BEAD

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
        if fixing.bracket:
            yield from _bracket_large(sheet, index, fixing, fixing.bracket)
    yield from _places_twice(sheet)
    yield from _rail_high(sheet)
    brackets = _brackets(sheet)
    if sheet.rail_height:
        yield from _at_the_rail(sheet.rail_height, brackets)
    yield from _beside_brackets(sheet, brackets)
    for number, run in enumerate(sheet.sealant):
        if run.bead.nm > WIDEST_BEAD.value:
            yield contradiction(
                "bead_too_wide",
                (f"/sealant/{number}/bead",),
                run.page,
                run=run.run,
                bead=run.bead,
                most=both_said(WIDEST_BEAD.value),
            )


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


def _bracket_large(
    sheet: Sheet, index: int, fixing: FixingRule, bracket: BracketRule
) -> Iterator[Contradiction]:
    at, place, page = f"/fixings/{index}/bracket", fixing.place, fixing.page
    pointer, size, width = narrowest(sheet)
    if bracket.reach.nm * 2 >= width.nm:
        yield contradiction(
            "reaches_too_far",
            (f"{at}/reach", pointer),
            page,
            place=place,
            reach=bracket.reach,
            width=width,
            size=size.code,
        )
    if bracket.bears == "load":
        return
    for name, length in (("screw_height", bracket.screw_height), ("spacing", bracket.spacing)):
        if length and length.nm > TALLEST_BRACKET.value:
            yield contradiction(
                "bracket_too_large",
                (f"{at}/{name}",),
                page,
                place=place,
                length=length,
                most=both_said(TALLEST_BRACKET.value),
            )


def _rail_high(sheet: Sheet) -> Iterator[Contradiction]:
    """Compare how high the rail's section is, twice its second moment over its modulus, with any rail."""
    if sheet.rail is None:
        return
    section = sheet.rail.section
    high_nm = round(2 * section.inertia / section.modulus * NM_PER_INCH)
    if high_nm > TALLEST_BRACKET.value:
        yield contradiction(
            "rail_too_high",
            ("/rail/height",),
            sheet.rail.page,
            height=length_said(sheet, high_nm),
            most=both_said(TALLEST_BRACKET.value),
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

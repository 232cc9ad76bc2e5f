"""Do curb, backing and the screws that go into it lie where a sheet says?"""

from collections.abc import Iterator
from itertools import combinations

from fitcheck.rules.sheet import BackingRule, FixingRule, Sheet
from fitcheck.rules.sheet_agrees_opening import height_at
from fitcheck.rules.sheet_said import Contradiction, contradiction
from fitcheck.rules.tables import SAME_HEIGHT
from fitcheck.rules.tables_fixings import STUD_FACE


def backing_agrees(sheet: Sheet) -> Iterator[Contradiction]:
    """Yield what contradicts itself of curb and backing, within half a stud's face.

    Source: the kit's own sheet; geometry.

    Args:
        sheet: the rule sheet [-].

    Yields:
        The contradictions [-].
    """
    yield from _curb(sheet)
    yield from _backing(sheet)


def _curb(sheet: Sheet) -> Iterator[Contradiction]:
    curb = sheet.curb
    if curb is None or curb.depth_least is None:
        return
    depth = curb.depth_least
    if curb.flat_least and curb.flat_least.nm > depth.nm:
        yield contradiction(
            "flat_past_depth",
            ("/curb/flat_least", "/curb/depth_least"),
            curb.page,
            flat=curb.flat_least,
            depth=depth,
        )
    places = [
        (f"/backing/{i}/setback_least", rule.place, rule.setback_least, rule.page)
        for i, rule in enumerate(sheet.backing)
    ] + [
        (f"/fixings/{i}/bracket/setback", rule.place, rule.bracket.setback, rule.page)
        for i, rule in enumerate(sheet.fixings)
        if rule.bracket and rule.bracket.setback
    ]
    for pointer, place, setback, page in places:
        if setback.nm > depth.nm:
            yield contradiction(
                "off_the_curb",
                (pointer, "/curb/depth_least"),
                page,
                place=place,
                setback=setback,
                depth=depth,
            )


def _backing(sheet: Sheet) -> Iterator[Contradiction]:
    for (i, one), (j, other) in combinations(enumerate(sheet.backing), 2):
        same = one.place == other.place and set(one.sides) & set(other.sides)
        if same and one.height.nm == other.height.nm:
            yield contradiction(
                "backing_twice",
                (f"/backing/{j}/setback_least", f"/backing/{i}/setback_least"),
                other.page,
                place=one.place,
                height=one.height,
                one=one.setback_least,
                other=other.setback_least,
            )
    for i, rule in enumerate(sheet.backing):
        yield from _elsewhere(sheet, i, rule)
        yield from _screws_off(sheet, i, rule)


def _elsewhere(sheet: Sheet, index: int, rule: BackingRule) -> Iterator[Contradiction]:
    """Look for the fixing of the same name at the height of its backing."""
    there = [
        (height_at(i, n, len(fixing.heights)), height)
        for i, fixing in enumerate(sheet.fixings)
        if fixing.place == rule.place and _sides(fixing) & set(rule.sides)
        for n, height in enumerate(fixing.heights)
    ]
    if not there:
        return
    pointer, nearest = min(there, key=lambda each: abs(each[1].nm - rule.height.nm))
    if abs(nearest.nm - rule.height.nm) > SAME_HEIGHT.value:
        yield contradiction(
            "backing_elsewhere",
            (pointer, f"/backing/{index}/height"),
            rule.page,
            place=rule.place,
            height=nearest,
            other=rule.height,
        )


def _sides(fixing: FixingRule) -> set[str]:
    return {surface.removesuffix("_wall") for surface in fixing.surfaces}


def _screws_off(sheet: Sheet, index: int, rule: BackingRule) -> Iterator[Contradiction]:
    """Compare where a bracket's screws are with where its backing is to lie, within half a stud's face."""
    half = STUD_FACE.value // 2
    for i, fixing in enumerate(sheet.fixings):
        there = _sides(fixing) & set(rule.sides)
        near = any(abs(h.nm - rule.height.nm) <= SAME_HEIGHT.value for h in fixing.heights)
        setback = fixing.bracket.setback if fixing.bracket else None
        if not (there and near and setback):
            continue
        own, page = f"/fixings/{i}/bracket/setback", fixing.page
        if setback.nm < rule.setback_least.nm - half:
            yield contradiction(
                "off_its_backing",
                (own, f"/backing/{index}/setback_least"),
                page,
                place=fixing.place,
                setback=setback,
                least=rule.setback_least,
            )
        if rule.setback_most and setback.nm > rule.setback_most.nm + half:
            yield contradiction(
                "beyond_its_backing",
                (own, f"/backing/{index}/setback_most"),
                page,
                place=fixing.place,
                setback=setback,
                most=rule.setback_most,
            )

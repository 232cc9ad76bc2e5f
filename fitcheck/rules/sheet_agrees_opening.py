"""Do windows, heights, lean and fall of a sheet contradict each other?"""

from collections.abc import Iterator
from itertools import combinations

from fitcheck.rules.length import Length
from fitcheck.rules.sheet import Sheet, Size
from fitcheck.rules.sheet_said import Contradiction, contradiction

CEILING = "/ceiling_height/least"


def narrowest(sheet: Sheet) -> tuple[str, Size, Length]:
    """Return the least width that any size takes: its pointer, its size and itself [nm]."""
    return min(
        (
            (f"/sizes/{i}/windows/{j}/least", size, window.least)
            for i, size in enumerate(sheet.sizes)
            for j, window in enumerate(size.windows)
        ),
        key=lambda found: found[2].nm,
    )


def opening_agrees(sheet: Sheet) -> Iterator[Contradiction]:
    """Yield what contradicts itself of what the sheet asks of an opening.

    Source: the kit's own sheet; geometry.

    Args:
        sheet: the rule sheet [-].

    Yields:
        The contradictions [-].
    """
    for index, size in enumerate(sheet.sizes):
        yield from _windows(sheet, index, size)
    yield from _under_the_ceiling(sheet)
    yield from _shares(sheet)


def _windows(sheet: Sheet, index: int, size: Size) -> Iterator[Contradiction]:
    at, own = f"/sizes/{index}/windows", (size.code,)
    for (i, one), (j, other) in combinations(enumerate(size.windows), 2):
        if one.height.nm == other.height.nm:
            yield contradiction(
                "window_twice",
                (f"{at}/{j}/height", f"{at}/{i}/height"),
                size.page,
                own,
                size=size.code,
                height=one.height,
                one=f"{one.least} to {one.most}",
                other=f"{other.least} to {other.most}",
            )
            continue
        for (m, high), (n, low) in (((i, one), (j, other)), ((j, other), (i, one))):
            differ = sheet.width_difference
            if differ and high.least.nm - low.most.nm > differ.most.nm:
                yield contradiction(
                    "windows_apart",
                    (f"{at}/{m}/least", f"{at}/{n}/most", "/width_difference/most"),
                    size.page,
                    own,
                    size=size.code,
                    least=high.least,
                    height=high.height,
                    most=low.most,
                    other=low.height,
                    difference=differ.most,
                )


def _under_the_ceiling(sheet: Sheet) -> Iterator[Contradiction]:
    if sheet.ceiling_height is None:
        return
    ceiling = sheet.ceiling_height.least
    for pointer, what, height, page, sizes in _heights(sheet):
        if height.nm > ceiling.nm:
            yield contradiction(
                "above_the_ceiling",
                (pointer, CEILING),
                page,
                sizes,
                what=what,
                height=height,
                ceiling=ceiling,
            )


_High = tuple[str, str, Length, str, tuple[str, ...]]


def _heights(sheet: Sheet) -> Iterator[_High]:
    """Yield every height above the sill that the sheet names: pointer, what, itself, page, sizes."""
    yield from _heights_alone(sheet)
    for i, size in enumerate(sheet.sizes):
        for j, window in enumerate(size.windows):
            at = f"/sizes/{i}/windows/{j}/height"
            yield at, "width", window.height, size.page, (size.code,)
    for i, backing in enumerate(sheet.backing):
        yield f"/backing/{i}/height", backing.place, backing.height, backing.page, ()
    for i, cut in enumerate(sheet.cuts):
        yield f"/cuts/{i}/height", cut.part, cut.height, cut.page, cut.sizes
    for i, fixing in enumerate(sheet.fixings):
        for j, height in enumerate(fixing.heights):
            yield height_at(i, j, len(fixing.heights)), fixing.place, height, fixing.page, ()
    for i, panel in enumerate(sheet.panels):
        at = f"/panels/{i}/height"
        yield at, f"panel {panel.name}", panel.height, panel.page, panel.sizes


def _heights_alone(sheet: Sheet) -> Iterator[_High]:
    surround, lean, made = sheet.surround_height, sheet.lean, sheet.made_glass
    if sheet.rail_height:
        yield "/rail_height", "rail", sheet.rail_height, sheet.rail_height_page, ()
    if surround:
        yield "/surround_height/least", "surround", surround.least, surround.page, ()
    if lean:
        yield "/lean/over", "lean", lean.over, lean.page, ()
    if made and made.top:
        yield "/made_glass/top", "glass", made.top, made.page, ()


def height_at(fixing: int, index: int, count: int) -> str:
    """Return where a height of a fixing stands; one height alone may stand as `height` or `heights`."""
    return f"/fixings/{fixing}/heights/{index}" if count > 1 else f"/fixings/{fixing}/height"


def _shares(sheet: Sheet) -> Iterator[Contradiction]:
    """Compare what is small against a wall, a sill or a width with the wall, the sill and the width."""
    lean, fall, curb = sheet.lean, sheet.sill_fall, sheet.curb
    if lean and lean.most.nm >= lean.over.nm:
        yield contradiction(
            "lean_too_far",
            ("/lean/most", "/lean/over"),
            lean.page,
            most=lean.most,
            over=lean.over,
        )
    if fall and curb and curb.depth_least:
        for name, limit in (("least", fall.least), ("most", fall.most)):
            if abs(limit.nm) >= curb.depth_least.nm:
                yield contradiction(
                    "fall_too_far",
                    (f"/sill_fall/{name}", "/curb/depth_least"),
                    fall.page,
                    fall=limit,
                    depth=curb.depth_least,
                )
    at, size, width = narrowest(sheet)
    asked = (
        ("/width_difference/most", "difference of widths", sheet.width_difference),
        ("/level/most", "slope of the sill", sheet.level),
    )
    for pointer, what, rule in asked:
        if rule and rule.most.nm >= width.nm:
            yield contradiction(
                "wider_than_opening",
                (pointer, at),
                rule.page,
                what=what,
                length=rule.most,
                width=width,
                size=size.code,
            )

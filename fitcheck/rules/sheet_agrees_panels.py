"""Do the panels of a sheet go into its openings, under its rail, onto its tracks and hinges?"""

from collections.abc import Iterator
from itertools import combinations

from fitcheck.rules.compare import words
from fitcheck.rules.length import Length
from fitcheck.rules.panels import panel_rules
from fitcheck.rules.sheet import PanelRule, Sheet, Size
from fitcheck.rules.sheet_agrees_cuts import length_said, shared
from fitcheck.rules.sheet_more import WALLS
from fitcheck.rules.sheet_said import Contradiction, contradiction
from fitcheck.rules.tables_agrees import RAIL_PLACED_WITHIN, SIDES_TAKE

SLIDERS = ("bypass_slider", "single_slider")


def panels_agree(sheet: Sheet) -> Iterator[Contradiction]:
    """Yield what contradicts itself of the panels in the box, and of what they slide on.

    Source: the kit's own sheet; geometry, with what strips and posts beside panels take by house setting.

    Args:
        sheet: the rule sheet [-].

    Yields:
        The contradictions [-].
    """
    for index, panel in enumerate(sheet.panels):
        at = f"/panels/{index}"
        thinnest = min(panel.width, panel.height, key=lambda side: side.nm)
        if panel.thickness.nm >= thinnest.nm:
            yield contradiction(
                "panel_too_thick",
                (f"{at}/thickness", f"{at}/width", f"{at}/height"),
                panel.page,
                panel.sizes,
                panel=f"panel {panel.name}",
                thickness=panel.thickness,
                size=thinnest,
            )
        yield from _under_the_rail(sheet, at, panel)
    yield from _twice(sheet)
    for number, size in enumerate(sheet.sizes):
        yield from _of_size(sheet, number, size)
        yield from _in_opening(sheet, number, size)
    yield from _tracks(sheet)


def _under_the_rail(sheet: Sheet, at: str, panel: PanelRule) -> Iterator[Contradiction]:
    rail = sheet.rail_height
    hangs = sheet.rail.hangs if sheet.rail else ()
    if rail is None or (hangs and panel.name not in hangs):
        return
    limit = rail.nm + RAIL_PLACED_WITHIN.value
    clear = sheet.rail.clear_below if sheet.rail else None
    own = {"panel": f"panel {panel.name}", "height": panel.height, "rail": rail}
    both, page = (f"{at}/height", "/rail_height"), panel.page
    if panel.height.nm > limit:
        yield contradiction("panel_past_rail", both, page, panel.sizes, **own)
    elif clear and panel.height.nm + clear.nm > limit:
        pointers = (*both, "/rail/clear_below")
        yield contradiction("panel_drags", pointers, page, panel.sizes, **own, clear=clear)


def _twice(sheet: Sheet) -> Iterator[Contradiction]:
    for (i, one), (j, other) in combinations(enumerate(sheet.panels), 2):
        if one.name == other.name and (both := shared(one.sizes, other.sizes)) is not None:
            yield contradiction(
                "panel_twice",
                tuple(f"/panels/{n}/{name}" for name in ("name", "sizes") for n in (j, i)),
                other.page,
                both,
                panel=f"panel {one.name}",
                one=one.width,
                other=other.width,
            )


def _of_size(sheet: Sheet, number: int, size: Size) -> Iterator[Contradiction]:
    """Hold the panels that a size names against the sizes that its panels name."""
    if not size.panels:
        return
    for index, panel in enumerate(sheet.panels):
        named = panel.name in size.panels
        if panel.sizes and named != (size.code in panel.sizes):
            yield contradiction(
                "panel_of_other_sizes",
                (f"/panels/{index}/sizes", f"/sizes/{number}/panels"),
                panel.page,
                (size.code,),
                size=size.code,
                panel=f"panel {panel.name}",
            )


def _in_opening(sheet: Sheet, number: int, size: Size) -> Iterator[Contradiction]:
    own = panel_rules(sheet, size)
    rows = [(index, panel) for index, panel in enumerate(sheet.panels) if panel in own]
    windows, at = list(enumerate(size.windows)), f"/sizes/{number}/windows"
    n, narrow = min(windows, key=lambda each: each[1].least.nm)
    m, wide = max(windows, key=lambda each: each[1].most.nm)
    pointer, width = (f"{at}/{n}/least", narrow.least)
    if set(sheet.walls) != set(WALLS):
        pointer, width = (f"{at}/{m}/most", wide.most)
    for index, panel in rows:
        if panel.width.nm >= width.nm:
            yield contradiction(
                "panel_too_wide",
                (f"/panels/{index}/width", pointer),
                panel.page,
                (size.code,),
                panel=f"panel {panel.name}",
                length=panel.width,
                width=width,
                size=size.code,
            )
    if sheet.kind in SLIDERS and len(rows) > 1:
        yield from _closed(sheet, size, rows, (f"{at}/{m}/most", wide.most))
        yield from _overlapping(sheet, size, rows, (f"{at}/{n}/least", narrow.least))


def _closed(
    sheet: Sheet, size: Size, rows: list[tuple[int, PanelRule]], wide: tuple[str, Length]
) -> Iterator[Contradiction]:
    """Compare the panels side by side, and what strips beside them may fill, with the widest opening."""
    together, (pointer, width) = sum(panel.width.nm for _, panel in rows), wide
    if together + SIDES_TAKE.value < width.nm:
        yield contradiction(
            "panels_too_narrow",
            (*(f"/panels/{index}/width" for index, _ in rows), pointer),
            rows[0][1].page,
            (size.code,),
            size=size.code,
            together=length_said(sheet, together),
            width=width,
        )


def _overlapping(
    sheet: Sheet, size: Size, rows: list[tuple[int, PanelRule]], narrow: tuple[str, Length]
) -> Iterator[Contradiction]:
    """Compare how far two panels overlap in the narrowest opening with the least that they are to."""
    together, (pointer, width) = sum(panel.width.nm for _, panel in rows), narrow
    least = sheet.sliding.overlap_least if sheet.sliding else None
    if least and len(rows) == 2 and together - width.nm < least.nm:
        panels = (f"/panels/{index}/width" for index, _ in rows)
        yield contradiction(
            "panels_never_overlap",
            (*panels, pointer, "/sliding/overlap_least"),
            rows[0][1].page,
            (size.code,),
            size=size.code,
            together=length_said(sheet, together),
            width=width,
            overlap=least,
        )


def _tracks(sheet: Sheet) -> Iterator[Contradiction]:
    rule = sheet.sliding
    if rule is None:
        return
    if sheet.kind not in SLIDERS:
        yield contradiction(
            "nothing_slides", ("/sliding", "/kind"), rule.page, kind=words(sheet.kind)
        )
    depth = sheet.curb.depth_least if sheet.curb else None
    if depth and rule.tracks_apart.nm >= depth.nm:
        pointers = ("/sliding/tracks_apart", "/curb/depth_least")
        yield contradiction(
            "tracks_off_the_curb", pointers, rule.page, apart=rule.tracks_apart, depth=depth
        )
    for index, panel in enumerate(sheet.panels):
        at, name = f"/panels/{index}", f"panel {panel.name}"
        if panel.thickness.nm >= rule.tracks_apart.nm:
            yield contradiction(
                "tracks_too_near",
                ("/sliding/tracks_apart", f"{at}/thickness"),
                rule.page,
                panel.sizes,
                apart=rule.tracks_apart,
                panel=name,
                thickness=panel.thickness,
            )
        if rule.overlap_least and rule.overlap_least.nm >= panel.width.nm:
            yield contradiction(
                "overlap_past_panel",
                ("/sliding/overlap_least", f"{at}/width"),
                rule.page,
                panel.sizes,
                overlap=rule.overlap_least,
                panel=name,
                width=panel.width,
            )

"""Do hinges sit on the panel that hangs on them, as far apart as the sheet says?"""

from collections.abc import Iterator
from dataclasses import dataclass

from fitcheck.rules.length import Length
from fitcheck.rules.sheet import FixingRule, Sheet
from fitcheck.rules.sheet_agrees_cuts import length_said
from fitcheck.rules.sheet_agrees_opening import height_at
from fitcheck.rules.sheet_more import HingeRule
from fitcheck.rules.sheet_said import Contradiction, contradiction
from fitcheck.rules.tables import SAME_HEIGHT
from fitcheck.rules.tables_agrees import HINGES_WITHIN


@dataclass(frozen=True, slots=True)
class Hung:
    """A panel that hangs on hinges: its members on the sheet, its size, and the sizes that it is for."""

    high_at: tuple[str, ...]
    high_nm: int | None
    wide_at: str
    wide_nm: int | None
    sizes: tuple[str, ...]


def hinges_agree(sheet: Sheet) -> Iterator[Contradiction]:
    """Yield what contradicts itself of hinges and the panels on them.

    Source: the kit's own sheet; the centres are those of the outer hinges.

    Args:
        sheet: the rule sheet [-].

    Yields:
        The contradictions [-].
    """
    for index, fixing in enumerate(sheet.fixings):
        hinge = fixing.bracket.hinge if fixing.bracket else None
        if hinge is None:
            continue
        at = f"/fixings/{index}/bracket/hinge"
        yield from _as_far_apart(sheet, at, fixing, hinge)
        for panel in _hung(sheet, hinge.panel):
            yield from _on_panel(sheet, index, fixing, hinge, panel)


def _heights(sheet: Sheet, panel: str) -> list[tuple[Length, str]]:
    return [
        (height, height_at(i, n, len(fixing.heights)))
        for i, fixing in enumerate(sheet.fixings)
        if fixing.bracket and fixing.bracket.hinge and fixing.bracket.hinge.panel == panel
        for n, height in enumerate(fixing.heights)
    ]


def _as_far_apart(
    sheet: Sheet, at: str, fixing: FixingRule, hinge: HingeRule
) -> Iterator[Contradiction]:
    heights = sorted(_heights(sheet, hinge.panel), key=lambda each: each[0].nm)
    (low, low_at), (high, high_at) = heights[0], heights[-1]
    apart = high.nm - low.nm
    if apart and abs(apart - hinge.centres.nm) > HINGES_WITHIN.value:
        yield contradiction(
            "hinges_elsewhere",
            (f"{at}/centres", low_at, high_at),
            fixing.page,
            panel=f"panel {hinge.panel}",
            centres=hinge.centres,
            low=low,
            high=high,
        )


def _on_panel(
    sheet: Sheet, index: int, fixing: FixingRule, hinge: HingeRule, panel: Hung
) -> Iterator[Contradiction]:
    at, page, name = f"/fixings/{index}/bracket/hinge", fixing.page, f"panel {hinge.panel}"
    if panel.high_nm is not None:
        height = length_said(sheet, panel.high_nm)
        if hinge.centres.nm >= panel.high_nm:
            pointers = (f"{at}/centres", *panel.high_at)
            told = {"panel": name, "centres": hinge.centres, "height": height}
            yield contradiction("hinges_past_panel", pointers, page, panel.sizes, **told)
        for number, high in enumerate(fixing.heights):
            if high.nm >= panel.high_nm + SAME_HEIGHT.value:
                pointers = (height_at(index, number, len(fixing.heights)), *panel.high_at)
                told = {"panel": name, "high": high, "height": height}
                yield contradiction("hinges_above_panel", pointers, page, panel.sizes, **told)
    if panel.wide_nm is not None and hinge.offset.nm >= panel.wide_nm:
        pointers = (f"{at}/offset", panel.wide_at)
        width = length_said(sheet, panel.wide_nm)
        told = {"panel": name, "offset": hinge.offset, "width": width}
        yield contradiction("hinge_off_panel", pointers, page, panel.sizes, **told)


def _hung(sheet: Sheet, name: str) -> Iterator[Hung]:
    for i, panel in enumerate(sheet.panels):
        if panel.name == name:
            at = f"/panels/{i}"
            high, wide = panel.height.nm, panel.width.nm
            yield Hung((f"{at}/height",), high, f"{at}/width", wide, panel.sizes)
    made = sheet.made_glass
    if made is None:
        return
    high_at = ("/made_glass/top", "/made_glass/gaps/head", "/made_glass/gaps/foot")
    for i, one in enumerate(made.panels):
        if one.name == name:
            width = one.width or one.most
            at = f"/made_glass/panels/{i}/{'width' if one.width else 'most'}"
            yield Hung(high_at, made.height_nm, at, width.nm if width else None, ())

"""Do the panels that a sheet has cut to measure go into its openings, and their holes into them?"""

from collections.abc import Iterator

from fitcheck.rules.sheet import Sheet, Size
from fitcheck.rules.sheet_agrees_cuts import length_said
from fitcheck.rules.sheet_made import MadeGlass, MadeHole, MadeNotch, MadePanel
from fitcheck.rules.sheet_said import Contradiction, contradiction

MADE = "/made_glass"
UPRIGHT = ("left", "right")


def made_agrees(sheet: Sheet) -> Iterator[Contradiction]:
    """Yield what contradicts itself of glass made to measure.

    Source: the kit's own sheet; geometry.

    Args:
        sheet: the rule sheet [-].

    Yields:
        The contradictions; none when the sheet describes no such glass [-].
    """
    made = sheet.made_glass
    if made is None:
        return
    if made.top and made.height_nm is not None and made.height_nm <= 0:
        yield contradiction(
            "glass_too_low",
            (f"{MADE}/top", f"{MADE}/gaps/head", f"{MADE}/gaps/foot"),
            made.page,
            top=made.top,
            head=made.gaps.head,
            foot=made.gaps.foot,
        )
        return
    for index, panel in enumerate(made.panels):
        yield from _limits(index, panel)
        yield from _thick(made, index, panel)
        for n, hole in enumerate(panel.holes):
            at = f"{MADE}/panels/{index}/holes/{n}"
            yield from _hole(sheet, made, panel, hole, at)
        for n, notch in enumerate(panel.notches):
            at = f"{MADE}/panels/{index}/notches/{n}"
            yield from _notch(sheet, made, panel, notch, at)
    for number, size in enumerate(sheet.sizes):
        yield from _between_walls(sheet, made, number, size)


def _limits(index: int, panel: MadePanel) -> Iterator[Contradiction]:
    width, least, most = panel.width, panel.least, panel.most
    if width and ((least and width.nm < least.nm) or (most and width.nm > most.nm)):
        at = f"{MADE}/panels/{index}"
        yield contradiction(
            "panel_past_its_limits",
            (f"{at}/width", f"{at}/least", f"{at}/most"),
            panel.page,
            panel=f"panel {panel.name}",
            width=width,
            limits=_limits_said(panel),
        )


def _limits_said(panel: MadePanel) -> str:
    if panel.least and panel.most:
        return f"{panel.least} to {panel.most}"
    return f"{panel.least} or more" if panel.least else f"{panel.most} or less"


def _thick(made: MadeGlass, index: int, panel: MadePanel) -> Iterator[Contradiction]:
    width = panel.width or panel.most
    if width and made.thickness.nm >= width.nm:
        member = "width" if panel.width else "most"
        yield contradiction(
            "panel_too_thick",
            (f"{MADE}/thickness", f"{MADE}/panels/{index}/{member}"),
            made.page,
            panel=f"panel {panel.name}",
            thickness=made.thickness,
            size=width,
        )


def _widest_nm(sheet: Sheet, panel: MadePanel) -> int:
    """Return the most that a panel may be wide: what is said of it, else the widest opening [nm]."""
    width = panel.width or panel.most
    if width:
        return width.nm
    return max(window.most.nm for size in sheet.sizes for window in size.windows)


def _hole(
    sheet: Sheet, made: MadeGlass, panel: MadePanel, hole: MadeHole, at: str
) -> Iterator[Contradiction]:
    name, page = f"panel {panel.name}", panel.page
    sides = (("across", hole.across, _widest_nm(sheet, panel)), ("up", hole.up, made.height_nm))
    for member, length, size_nm in sides:
        if length.nm * 2 <= hole.diameter.nm:
            yield contradiction(
                "hole_past_edge",
                (f"{at}/diameter", f"{at}/{member}"),
                page,
                hole=hole.name,
                diameter=hole.diameter,
                length=length,
                panel=name,
            )
        if size_nm is not None and length.nm * 2 + hole.diameter.nm >= size_nm * 2:
            yield contradiction(
                "hole_past_panel",
                (f"{at}/{member}", f"{at}/diameter"),
                page,
                hole=hole.name,
                length=length,
                panel=name,
                size=length_said(sheet, size_nm),
            )


def _notch(
    sheet: Sheet, made: MadeGlass, panel: MadePanel, notch: MadeNotch, at: str
) -> Iterator[Contradiction]:
    name, page = f"panel {panel.name}", panel.page
    wide, high = _widest_nm(sheet, panel), made.height_nm
    along, into = (high, wide) if notch.edge in UPRIGHT else (wide, high)
    reaches = (
        (("start", "length"), notch.start.nm + notch.length.nm, along),
        (("depth",), notch.depth.nm, into),
    )
    for members, nm, size_nm in reaches:
        if size_nm is not None and nm >= size_nm:
            yield contradiction(
                "notch_past_panel",
                tuple(f"{at}/{member}" for member in (*members, "edge")),
                page,
                notch=notch.name,
                length=length_said(sheet, nm),
                panel=name,
                size=length_said(sheet, size_nm),
            )
    if notch.radius.nm > notch.depth.nm or notch.radius.nm * 2 > notch.length.nm:
        yield contradiction(
            "notch_radius",
            (f"{at}/radius", f"{at}/length", f"{at}/depth"),
            page,
            notch=notch.name,
            length=notch.length,
            depth=notch.depth,
            radius=notch.radius,
        )


def _between_walls(
    sheet: Sheet, made: MadeGlass, number: int, size: Size
) -> Iterator[Contradiction]:
    """Compare what gaps and panels of fixed width leave with what the others may be wide."""
    gaps, windows, own = made.gaps, list(enumerate(size.windows)), (size.code,)
    fixed = [(i, panel) for i, panel in enumerate(made.panels) if panel.width]
    free = [(i, panel) for i, panel in enumerate(made.panels) if not panel.width]
    taken = gaps.left.nm + gaps.right.nm + gaps.between.nm * (len(made.panels) - 1)
    taken += sum(panel.width.nm for _, panel in fixed if panel.width)
    n, narrow = min(windows, key=lambda each: each[1].least.nm)
    m, wide = max(windows, key=lambda each: each[1].most.nm)
    at = f"/sizes/{number}/windows"
    by = (
        *(f"{MADE}/gaps/{name}" for name in ("left", "right", "between")),
        *(f"{MADE}/panels/{i}/width" for i, _ in fixed),
    )
    if taken >= narrow.least.nm:
        yield contradiction(
            "glass_too_narrow",
            (*by, f"{at}/{n}/least"),
            made.page,
            own,
            taken=length_said(sheet, taken),
            width=narrow.least,
            size=size.code,
        )
        return
    low, high = (nm // len(free) for nm in (narrow.least.nm - taken, wide.most.nm - taken))
    for i, panel in free:
        least, most = panel.least, panel.most
        if (least and high < least.nm) or (most and low > most.nm):
            member = f"{MADE}/panels/{i}/{'least' if least and high < least.nm else 'most'}"
            yield contradiction(
                "panel_never_so_wide",
                (member, *by, f"{at}/{m}/most", f"{at}/{n}/least"),
                panel.page,
                own,
                panel=f"panel {panel.name}",
                low=length_said(sheet, low),
                high=length_said(sheet, high),
                size=size.code,
                limits=_limits_said(panel),
            )

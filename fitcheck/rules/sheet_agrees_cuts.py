"""Can every cut of a sheet be made from its stock in the openings that the sheet takes, once each?"""

from collections.abc import Iterator
from itertools import combinations

from fitcheck.rules.length import Length, inch_text, mm_text
from fitcheck.rules.sheet import CutRule, Sheet, Size, Window, applies
from fitcheck.rules.sheet_said import Contradiction, contradiction
from fitcheck.rules.tables import SAME_HEIGHT
from fitcheck.rules.tables_agrees import RAIL_PLACED_WITHIN, WIDEST_COVER
from fitcheck.rules.tables_saw import WIDEST_KERF

BETWEEN = "between_brackets"


def length_said(sheet: Sheet, nm: int) -> str:
    """Return a length that was worked out, in the sheet's own unit [-]."""
    return mm_text(nm) if sheet.unit == "metric" else inch_text(nm)


def both_said(nm: int) -> str:
    """Return a limit of ours in inches and millimetres [-]."""
    return f"{inch_text(nm)} ({mm_text(nm)})"


def cuts_agree(sheet: Sheet) -> Iterator[Contradiction]:
    """Yield what contradicts itself of the parts that are cut.

    Source: the kit's own sheet; what a blade and an end cover take by common practice and house setting.

    Args:
        sheet: the rule sheet [-].

    Yields:
        The contradictions [-].
    """
    for index, cut in enumerate(sheet.cuts):
        yield from _alone(index, cut)
        for number, size in enumerate(sheet.sizes):
            if applies(cut.sizes, size):
                yield from _in_openings(sheet, (index, cut), (number, size))
    yield from _twice(sheet)
    if sheet.rail_height:
        yield from _off_the_rail(sheet, sheet.rail_height)


def _alone(index: int, cut: CutRule) -> Iterator[Contradiction]:
    at = f"/cuts/{index}"
    for name, length in (("least", cut.least), ("most", cut.most)):
        if length and length.nm > cut.stock.nm:
            yield contradiction(
                "longer_than_stock",
                (f"{at}/{name}", f"{at}/stock"),
                cut.page,
                cut.sizes,
                part=cut.part,
                length=length,
                stock=cut.stock,
            )
    if cut.brackets_take and cut.brackets_take.nm and cut.measured != BETWEEN:
        yield contradiction(
            "take_without_brackets",
            (f"{at}/brackets_take", f"{at}/from"),
            cut.page,
            cut.sizes,
            part=cut.part,
            take=cut.brackets_take,
        )
    widest = (
        ("allowance", "cover_too_wide", cut.allowance, WIDEST_COVER.value),
        ("kerf", "kerf_too_wide", cut.kerf, WIDEST_KERF.value),
    )
    for name, code, taken, most_nm in widest:
        if taken and taken.nm > most_nm:
            yield contradiction(
                code,
                (f"{at}/{name}",),
                cut.page,
                cut.sizes,
                part=cut.part,
                length=taken,
                most=both_said(most_nm),
            )


def windows_at(size: Size, height: Length) -> list[tuple[int, Window]]:
    """Return the windows of a size at a height, every window when none is there [-]."""
    rows = list(enumerate(size.windows))
    near = [row for row in rows if abs(row[1].height.nm - height.nm) <= SAME_HEIGHT.value]
    return near or rows


def _in_openings(
    sheet: Sheet, row: tuple[int, CutRule], place: tuple[int, Size]
) -> Iterator[Contradiction]:
    """Compare what is left of a part in the narrowest and the widest opening with its limits."""
    (index, cut), (number, size) = row, place
    at, own = f"/cuts/{index}", (size.code,)
    n, narrow, w, wide = _narrowest_and_widest(size, cut.height)
    by, taken_nm = _taken_off(at, cut)
    least_at = f"/sizes/{number}/windows/{n}/least"
    shortest, longest = narrow.least.nm - taken_nm, wide.most.nm - taken_nm
    if shortest <= 0:
        yield contradiction(
            "nothing_left",
            (*by, least_at),
            cut.page,
            own,
            part=cut.part,
            taken=length_said(sheet, taken_nm),
            width=narrow.least,
            size=size.code,
        )
        return
    if cut.least and longest < cut.least.nm:
        yield contradiction(
            "never_long_enough",
            (f"{at}/least", *by, f"/sizes/{number}/windows/{w}/most"),
            cut.page,
            own,
            part=cut.part,
            length=length_said(sheet, longest),
            size=size.code,
            least=cut.least,
        )
    said = length_said(sheet, shortest)
    for name, limit in (("most", cut.most), ("stock", cut.stock)):
        if limit and shortest > limit.nm:
            where = (f"{at}/{name}", *by, least_at)
            told = {"part": cut.part, "size": size.code, "length": said, "most": limit}
            yield contradiction("never_short_enough", where, cut.page, own, **told)


def _narrowest_and_widest(size: Size, height: Length) -> tuple[int, Window, int, Window]:
    there = windows_at(size, height)
    narrow = min(there, key=lambda each: each[1].least.nm)
    return *narrow, *max(there, key=lambda each: each[1].most.nm)


def _taken_off(at: str, cut: CutRule) -> tuple[tuple[str, ...], int]:
    """Return what a part is shorter than its opening by, and where that stands, most first [nm]."""
    own, takes = f"{at}/deduct", cut.brackets_take
    if not takes or cut.measured != BETWEEN:
        return (own,), cut.deduct.nm
    names = (own, f"{at}/brackets_take")
    return names[::-1] if takes.nm > cut.deduct.nm else names, cut.deduct.nm + takes.nm


def _twice(sheet: Sheet) -> Iterator[Contradiction]:
    for (i, one), (j, other) in combinations(enumerate(sheet.cuts), 2):
        if one.part == other.part and (both := shared(one.sizes, other.sizes)) is not None:
            yield contradiction(
                "part_twice",
                tuple(f"/cuts/{n}/{name}" for name in ("part", "sizes") for n in (j, i)),
                other.page,
                both,
                part=one.part,
                one=one.deduct,
                other=other.deduct,
            )


def shared(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[str, ...] | None:
    """Return the sizes for which two rules both hold, None when there are none; empty means every size."""
    if not one or not other:
        return one or other
    return tuple(code for code in one if code in other) or None


def _off_the_rail(sheet: Sheet, rail: Length) -> Iterator[Contradiction]:
    """Look for a part between brackets at the rail's height in each size that has such parts."""
    rows = [(i, cut) for i, cut in enumerate(sheet.cuts) if cut.measured == BETWEEN]
    for size in sheet.sizes:
        own = [(i, cut) for i, cut in rows if applies(cut.sizes, size)]
        apart = [abs(cut.height.nm - rail.nm) for _, cut in own]
        if not own or min(apart) <= RAIL_PLACED_WITHIN.value:
            continue
        index, cut = own[apart.index(min(apart))]
        yield contradiction(
            "rail_elsewhere",
            (f"/cuts/{index}/height", "/rail_height"),
            cut.page,
            (size.code,),
            rail=rail,
            what=cut.part,
            height=cut.height,
        )

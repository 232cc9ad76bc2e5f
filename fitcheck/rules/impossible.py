"""Which readings cannot be true at all, alone or beside another one?"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from fitcheck.rules import tables, tables_shape
from fitcheck.rules.compare import Asked, spoken
from fitcheck.rules.finding import Finding, Need
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.length import NM_PER_MM, Length
from fitcheck.rules.readings import need_text
from fitcheck.rules.survey import SIGNED, Reading
from fitcheck.rules.tables import MARK
from fitcheck.rules.uncertainty import reading_uncertainty

_OTHER = {"left": "right", "right": "left"}
_REACHING = frozenset({"width", "diagonal", "lean"})
_SPAN = {
    "lean": "A wall leans by less than the height it is read over",
    "sill_level": "A sill rises by less than it is long",
    "sill_fall": "A sill falls by less than it is deep",
}


@dataclass(frozen=True, slots=True)
class Impossible:
    """A reading that cannot be true, the member that says so, why, what it contradicts, what to do."""

    reading: Reading
    member: str
    says: str
    others: tuple[Reading, ...] = ()
    do: str = ""

    @property
    def readings(self) -> tuple[Reading, ...]:
        """Return every reading that may be the wrong one."""
        return (self.reading, *self.others)


def impossible_readings(
    readings: Sequence[Reading], *, to_ceiling: bool = False
) -> list[Impossible]:
    """List the readings that cannot be true, whatever the opening is like.

    Source: plane geometry; what a level reads, the coarsest mark and what counts as one height are
    house settings.

    Args:
        readings: the readings of one survey [-].
        to_ceiling: diagonals without a height end in the corner at the ceiling [-].

    Returns:
        One entry for each; none for readings that can be true [-].
    """
    found = [*_tools(readings), *_spans(readings), *_heights(readings)]
    found += _diagonals(readings, to_ceiling=to_ceiling)
    widths = [one for one in readings if one.quantity == "width"]
    if widths:
        widest = max(widths, key=lambda one: one.value.nm)
        found += [*_out_of_level(readings, widest), *_meeting(readings, widest)]
    return found


def _tools(readings: Iterable[Reading]) -> Iterator[Impossible]:
    for one in readings:
        tool = one.tool
        if tool.graduation.nm > tables_shape.COARSEST_MARK.value:
            says = f"No tool is marked only every {_said(tool.graduation)}."
            do = "Write the distance between two marks of the tool, such as 1/16 in or 1 mm."
            yield Impossible(one, "tool/graduation", says, do=do)
        if tool.kind == "level" and one.quantity not in SIGNED:
            do = "Name the tape or laser that it was read with."
            yield Impossible(one, "tool/kind", "A level reads no such length.", do=do)


def _spans(readings: Iterable[Reading]) -> Iterator[Impossible]:
    for one in readings:
        if one.quantity in SIGNED and one.over and abs(one.value.nm) >= one.over.nm:
            says = f"{_SPAN[one.quantity]}: {_said(one.value)} over {_said(one.over)} cannot be."
            yield Impossible(one, "value", says)


def _out_of_level(readings: Iterable[Reading], widest: Reading) -> Iterator[Impossible]:
    for one in readings:
        if one.quantity != "sill_level":
            continue
        if one.over and one.over.nm > widest.value.nm + _spare_nm(widest):
            says = f"A sill {_said(widest.value)} long cannot be read over {_said(one.over)}."
            yield Impossible(one, "over", says, do="Read it over the sill's own run.")
        if not one.over and abs(one.value.nm) >= widest.value.nm:
            both = f"{_said(one.value)} in an opening {_said(widest.value)} wide"
            says = f"{_SPAN[one.quantity]}: {both} cannot be."
            yield Impossible(one, "value", says, (widest,))


def _meeting(readings: Iterable[Reading], widest: Reading) -> Iterator[Impossible]:
    """Find walls that would meet below the lower of the heights over which they were read."""
    leans = [one for one in readings if one.quantity == "lean" and one.over]
    if sum(abs(one.value.nm) for one in leans) < widest.value.nm:
        return  # each leans by no more than it was read, up to the lower of the heights
    steepest = {
        side: max(own, key=lambda one: one.value.nm * (NM_PER_MM**2) // _over(one))
        for side in _OTHER
        if (own := [one for one in leans if one.side == side])
    }
    if len(steepest) < len(_OTHER):
        return
    left, right = steepest["left"], steepest["right"]
    up = min(_over(left), _over(right))
    if sum(one.value.nm * up // _over(one) for one in (left, right)) >= widest.value.nm:
        says = (
            f"Walls that lean by {_said(left.value)} and {_said(right.value)} would meet in an opening "
            f"{_said(widest.value)} wide."
        )
        yield Impossible(left, "value", says, (right, widest))


def _over(lean: Reading) -> int:
    return lean.over.nm if lean.over else NM_PER_MM


def _diagonals(readings: Sequence[Reading], *, to_ceiling: bool) -> Iterator[Impossible]:
    heights = [one.height for one in readings if one.quantity == "width" and one.height]
    top = max(heights, default=None, key=lambda height: height.nm)
    for one in readings:
        height = one.height or (None if to_ceiling else top)
        if one.quantity != "diagonal" or height is None or one.value.nm >= height.nm:
            continue
        if one.value.nm + _spare_nm(one) < height.nm:
            says = f"A diagonal of {_said(one.value)} does not reach {_said(height)} up."
            yield Impossible(one, "value", says)


def _spare_nm(one: Reading) -> int:
    """Return by how much a reading may be off another and yet agree with it [nm]."""
    return round(float(tables.AGREEMENT_FACTOR.value) * reading_uncertainty(one) * NM_PER_MM)


def _heights(readings: Iterable[Reading]) -> Iterator[Impossible]:
    """Find what was read above the ceiling, by more than what counts as one height."""
    ceilings: dict[str, Reading] = {}
    for one in readings:
        if one.quantity == "ceiling_height":
            known = ceilings.get(one.side)
            if known is None or one.value.nm > known.value.nm:
                ceilings[one.side] = one
    if not ceilings:
        return
    lowest = min(one.value.nm for one in ceilings.values()) + tables.SAME_HEIGHT.value
    for one in readings:
        for member, height, sides in _reaches(one, lowest):
            for ceiling in (ceilings[side] for side in sides if side in ceilings):
                if height.nm > ceiling.value.nm + tables.SAME_HEIGHT.value:
                    says = f"The ceiling is {_said(ceiling.value)} up, below {_said(height)}."
                    yield Impossible(one, member, says, (ceiling,))
                    break


def _reaches(one: Reading, above_nm: int) -> list[tuple[str, Length, tuple[str, ...]]]:
    """Tell how high a reading reaches, and on which walls, where it is higher than all that."""
    member, height = ("over", one.over) if one.quantity == "lean" else ("height", one.height)
    if height is None or height.nm <= above_nm or one.quantity not in _REACHING:
        return []
    sides = {"width": tuple(_OTHER), "diagonal": (_OTHER.get(one.side, ""),), "lean": (one.side,)}
    return [(member, height, sides[one.quantity])]


def _said(length: Length) -> str:
    return length.entered or spoken(length.nm, MARK.value)


def doubts_of(found: Iterable[Impossible]) -> Mapping[str, str]:
    """Return what to do about each reading that cannot be true.

    Args:
        found: what cannot be true [-].

    Returns:
        A sentence by the id of each reading [-].
    """
    doubts: dict[str, str] = {}
    for each in found:
        for one in each.readings:
            doubts.setdefault(one.id, f"{each.says} {each.do or _again(one)}")
    return doubts


def _again(one: Reading) -> str:
    height = one.height.entered if one.height else None
    return f"Read {need_text(Need(one.quantity, one.side, height))} again."


def impossible_finding(found: Sequence[Impossible]) -> Finding:
    """Return the finding that readings cannot be true; nothing passes before they are settled.

    Args:
        found: what cannot be true, at least one [-].

    Returns:
        The finding [-].
    """
    asked = Asked(
        "shape.possible",
        "Can all readings of the opening be true?",
        "opening",
        tables_shape.COARSEST_MARK.source,
        "",
    )
    do = " ".join(dict.fromkeys(f"{one.says} {one.do or _again(one.reading)}" for one in found))
    return spoken_finding(asked, "they cannot", "readings that can be true", "unknown", do)

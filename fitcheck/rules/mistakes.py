"""Which slip of hand, eye or pen would explain a reading that the others contradict?"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from fitcheck.rules import RULES_VERSION, tables, tables_shape
from fitcheck.rules.length import (
    NM_PER_FOOT,
    NM_PER_INCH,
    NM_PER_MM,
    LengthError,
    inch_text,
    length_parse,
    mm_text,
)
from fitcheck.rules.survey import SIDED, SIGNED, Reading
from fitcheck.rules.uncertainty import reading_uncertainty

BURNED_INCH = "burned inch"
LEFT_FOR_RIGHT = "left for right"
OVER_AN_EDGE = frozenset({"curb_depth", "curb_flat", "backing_centre", "masonry_edge"})
_NEWEST = int(RULES_VERSION)
SLIPS = {
    BURNED_INCH: "the tape was started at its 1 and the inch was never taken off",
    "burned 10 cm": "the tape was started at its 10 cm and these were never taken off",
    "burned 1 cm": "the tape was started at its 1 cm and this was never taken off",
    "an inch miscounted": "an inch was miscounted",
    "a foot miscounted": "a foot was miscounted",
    "a centimetre miscounted": "a centimetre was miscounted",
    "an eighth for a sixteenth": "sixteenths were read as eighths",
    "a sixteenth for an eighth": "eighths were read as sixteenths",
    "one mark off": "the mark beside the right one was read",
    "swapped digits": "two digits were swapped",
    LEFT_FOR_RIGHT: "left and right were swapped",
    "wrong way": "it was written the wrong way round (the sign)",
    "centimetres for inches": "it was read in inches and written in centimetres",
    "inches for centimetres": "it was read in centimetres and written in inches",
    "hook pushed": "the hook was pushed where it should have been pulled",
    "hook pulled": "the hook was pulled where it should have been pushed",
}


@dataclass(frozen=True, slots=True)
class Mistake:
    """A slip that would explain readings: what it is, and by how much it puts each of them off."""

    kind: str
    errors_nm: Mapping[str, int]
    meant: str

    @property
    def words(self) -> str:
        """Return the slip in words, as they stand after "perhaps"."""
        return SLIPS[self.kind]

    def as_json(self) -> dict[str, object]:
        """Return the slip as plain JSON."""
        off = {one: mm_text(nm) for one, nm in self.errors_nm.items()}
        return {"kind": self.kind, "off": off, "meant": self.meant, "words": self.words}


def slips_of(reading: Reading, rules: int = _NEWEST) -> list[Mistake]:
    """List the slips that could have made this reading out of another one.

    Source: common practice, no source: burned inch or centimetres, an eighth for a sixteenth, swapped
    digits, centimetres for inches, a hook pulled for pushed or the other way, the wrong way round.

    Args:
        reading: the reading as it was entered [-].
        rules: the version of the rules [-].

    Returns:
        Each slip with how far it puts the reading off: reading less truth [nm].
    """
    off: list[tuple[str, int]] = [*_written(reading), *_swapped_digits(reading)]
    if reading.tool.kind == "tape":
        off += _counted(reading) if rules >= 5 else _counted_before_5(reading)
    if reading.quantity in SIGNED and reading.value.nm:
        off.append(("wrong way", 2 * reading.value.nm))
    return [
        Mistake(kind, {reading.id: error}, _like(reading, reading.value.nm - error))
        for kind, error in off
        if error and (reading.quantity in SIGNED or error < reading.value.nm)
    ]


def swaps_of(readings: tuple[Reading, ...]) -> list[Mistake]:
    """List the pairs of readings whose sides may have been swapped.

    Source: common practice, no source: left for right.

    Args:
        readings: the readings of one survey [-].

    Returns:
        One slip for each pair of one quantity, left and right, at one height [nm].
    """
    found = []
    for left in readings:
        for right in readings:
            pair = left.quantity in SIDED and (left.side, right.side) == ("left", "right")
            if pair and _place(left) == _place(right) and left.value.nm != right.value.nm:
                apart = left.value.nm - right.value.nm
                meant = f"left {right.value.entered}, right {left.value.entered}"
                found.append(Mistake(LEFT_FOR_RIGHT, {left.id: apart, right.id: -apart}, meant))
    return found


def _place(reading: Reading) -> tuple[str, int | None, int | None]:
    height, over = reading.height, reading.over
    return reading.quantity, height.nm if height else None, over.nm if over else None


def _counted(reading: Reading) -> list[tuple[str, int]]:
    centimetre = 10 * NM_PER_MM
    if _metric(reading):
        off = [("burned 10 cm", 10 * centimetre), ("burned 1 cm", centimetre)]
    else:
        off = [(BURNED_INCH, NM_PER_INCH), ("an inch miscounted", -NM_PER_INCH)]
        off += [("a foot miscounted", sign * NM_PER_FOOT) for sign in (1, -1)]
    return [*off, _hooked(reading)] if reading.tool.hook else off


def _hooked(reading: Reading) -> tuple[str, int]:
    """Tell what a hook that did not slide makes of a reading: it slides by its own thickness t.

    ::

        pushed against a wall          hooked over an edge
        wall |▐0====x                  edge ▌|0====x        right: zero where the tape meets the work
        wall |▐t0===x                  edge ▌|t====x        wrong: pulled there, pushed here

    Against a wall the hook's outer face touches. Pushed in, zero lies there; left pulled out, zero
    lies at the inner face, t away from the wall: the reading is short by t. Over an edge the inner
    face touches. Pulled out, zero lies there; pushed in, zero lies at the outer face, t before the
    edge: the reading is long by t.

    Source: plane geometry; that a hook slides by its thickness is common practice, no source.
    """
    travel = tables_shape.HOOK_TRAVEL.value
    over_an_edge = reading.quantity in OVER_AN_EDGE
    return ("hook pushed", travel) if over_an_edge else ("hook pulled", -travel)


def _counted_before_5(reading: Reading) -> list[tuple[str, int]]:
    off = [(BURNED_INCH, NM_PER_INCH)]
    if not _metric(reading):
        off += [("an inch miscounted", -NM_PER_INCH)]
        off += [("a foot miscounted", sign * NM_PER_FOOT) for sign in (1, -1)]
    if reading.tool.hook:
        travel = tables_shape.HOOK_TRAVEL.value
        off += [("hook pushed", -travel), ("hook pulled", travel)]
    return off


def _written(reading: Reading) -> list[tuple[str, int]]:
    nm, graduation = reading.value.nm, reading.tool.graduation.nm
    off = [("one mark off", graduation), ("one mark off", -graduation)]
    if _metric(reading):
        centimetre = 10 * NM_PER_MM
        off += [("a centimetre miscounted", sign * centimetre) for sign in (1, -1)]
        if reading.value.entered.strip().endswith("cm"):
            off.append(("centimetres for inches", nm - nm * 254 // 100))
        return off
    part = abs(nm) % NM_PER_INCH
    sign = -1 if nm < 0 else 1
    if part and part % (NM_PER_INCH // 8) == 0:
        off.append(("an eighth for a sixteenth", sign * part // 2))
    if part and 2 * part < NM_PER_INCH and part % (NM_PER_INCH // 16) == 0:
        off.append(("a sixteenth for an eighth", -sign * part))
    if not part or "." in reading.value.entered:
        off.append(("inches for centimetres", nm - nm * 100 // 254))
    return off


def _swapped_digits(reading: Reading) -> list[tuple[str, int]]:
    """Swap each two neighbouring digits of the number, over its point but not into its fraction."""
    text = reading.value.entered
    number = re.search(r"\d+(?:\.\d+)?(?![\d/])", text)
    if number is None:
        return []
    places = [n for n in range(*number.span()) if text[n].isdigit()]
    off = []
    for one, other in pairwise(places):
        turned = list(text)
        turned[one], turned[other] = turned[other], turned[one]
        try:
            off.append(("swapped digits", reading.value.nm - length_parse("".join(turned)).nm))
        except LengthError:
            continue
    return off


def _metric(reading: Reading) -> bool:
    return reading.value.entered.strip().endswith("m")


def _like(reading: Reading, nm: int) -> str:
    return mm_text(nm) if _metric(reading) else inch_text(nm, 32)


def places_of(readings: tuple[Reading, ...]) -> tuple[tuple[Reading, ...], ...]:
    """List the places that were read more than once.

    Args:
        readings: the readings of one survey [-].

    Returns:
        The readings of each such place [-].
    """
    places: dict[object, list[Reading]] = {}
    for one in readings:
        side = one.side if one.quantity in SIDED else "none"
        places.setdefault((side, *_place(one)), []).append(one)
    return tuple(tuple(together) for together in places.values() if len(together) > 1)


def agreeing(together: tuple[Reading, ...]) -> list[tuple[str, ...]]:
    """List the readings of one place that agree with each other: one mistake may be in all of them.

    Source: derived. Values agree up to the next gap that is wider than the firm's factor of what two
    such readings may differ by.

    Args:
        together: the readings of one place [-].

    Returns:
        For each value that was told twice or more the ids of its readings [-].
    """
    factor = float(tables.AGREEMENT_FACTOR.value)
    kept: list[list[Reading]] = []
    for one in sorted(together, key=lambda each: each.value.nm):
        last = kept[-1][-1] if kept else one
        doubt = math.hypot(reading_uncertainty(last), reading_uncertainty(one))
        if kept and (one.value.nm - last.value.nm) / NM_PER_MM <= factor * doubt:
            kept[-1].append(one)
        else:
            kept.append([one])
    return [tuple(each.id for each in group) for group in kept if len(group) > 1]


def repeats_of(slips: list[Mistake], station: tuple[str, ...]) -> list[Mistake]:
    """List the slips that every reading of one place could have alike.

    Source: common practice, no source: who starts the tape at its 1 does so again.

    Args:
        slips: the slips of each single reading [nm].
        station: the ids of the readings of that place [-].

    Returns:
        One slip for each kind and size that all of them share [nm].
    """
    alike: dict[tuple[str, int], dict[str, str]] = {}
    for slip in slips:
        ids = tuple(slip.errors_nm)
        if len(ids) == 1 and ids[0] in station:
            alike.setdefault((slip.kind, slip.errors_nm[ids[0]]), {})[ids[0]] = slip.meant
    return [
        Mistake(kind, dict.fromkeys(station, error), " and ".join(dict.fromkeys(meant.values())))
        for (kind, error), meant in alike.items()
        if set(meant) == set(station)
    ]

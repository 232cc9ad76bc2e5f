"""What do hands, eyes and pens do to a survey? One gross mistake at a time, of the kinds that happen.

Kinds: common practice, no source.
"""

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, Length, inch_text
from fitcheck.rules.survey import Reading

QUARTER = NM_PER_INCH // 4
SIXTEENTH = NM_PER_INCH // 16
TAPED = ("width", "diagonal")


@dataclass(frozen=True, slots=True)
class Planted:
    """A survey with one mistake in it: which readings, what kind, and how far off the worst is."""

    readings: tuple[Reading, ...]
    kind: str
    quantity: str
    wrong: tuple[str, ...]
    off_nm: int


def planted(readings: tuple[Reading, ...], kind: str, chance: random.Random) -> Planted | None:
    """Make one mistake of a kind, in a reading that can have it; None when no reading can."""
    if kind == "left for right":
        return _swapped_sides(readings, chance)
    able = [(n, off) for n, one in enumerate(readings) if (off := _off(kind, one, chance))]
    if not able:
        return None
    n, off = chance.choice(able)
    wrong = written(readings[n], readings[n].value.nm + off, kind)
    changed = (*readings[:n], wrong, *readings[n + 1 :])
    return Planted(changed, kind, wrong.quantity, (wrong.id,), abs(off))


def written(reading: Reading, nm: int, kind: str = "") -> Reading:
    """Write a value as a hand would."""
    text = f"{round(nm / NM_PER_MM / 10, 1)} cm" if kind.startswith("centi") else inch_text(nm, 32)
    return replace(reading, value=Length(nm, text))


def _swapped_sides(readings: tuple[Reading, ...], chance: random.Random) -> Planted | None:
    pairs = [
        (a, b)
        for a, left in enumerate(readings)
        for b, right in enumerate(readings)
        if (left.side, right.side) == ("left", "right")
        and left.quantity == right.quantity
        and left.value.nm != right.value.nm
    ]
    if not pairs:
        return None
    a, b = chance.choice(pairs)
    left, right = readings[a], readings[b]
    changed = list(readings)
    changed[a], changed[b] = written(left, right.value.nm), written(right, left.value.nm)
    off = abs(left.value.nm - right.value.nm)
    return Planted(tuple(changed), "left for right", left.quantity, (left.id, right.id), off)


def _off(kind: str, one: Reading, chance: random.Random) -> int:
    """How far this kind of mistake puts a reading off; 0 when it cannot happen to it."""
    return next(iter(KINDS[kind](one, chance)), 0)


def _burned(one: Reading, _: random.Random) -> Iterator[int]:
    if one.quantity in TAPED:
        yield NM_PER_INCH


def _inch(one: Reading, chance: random.Random) -> Iterator[int]:
    if one.quantity in TAPED:
        yield chance.choice((-1, 1)) * NM_PER_INCH


def _digits(one: Reading, chance: random.Random) -> Iterator[int]:
    inches = abs(one.value.nm) // NM_PER_INCH
    tens, ones = inches // 10 % 10, inches % 10
    if one.quantity in TAPED and tens != ones:
        yield (ones - tens) * 9 * NM_PER_INCH


def _eighths(one: Reading, _: random.Random) -> Iterator[int]:
    part = abs(one.value.nm) % NM_PER_INCH
    if part and part % SIXTEENTH == 0 and 2 * part < NM_PER_INCH:
        yield part if one.value.nm > 0 else -part


def _sixteenths(one: Reading, _: random.Random) -> Iterator[int]:
    part = abs(one.value.nm) % NM_PER_INCH
    if part and part % (2 * SIXTEENTH) == 0:
        yield -part // 2 if one.value.nm > 0 else part // 2


def _pulled(one: Reading, _: random.Random) -> Iterator[int]:
    """Between walls a hook that stays pulled out holds the tape's zero off the wall: too short."""
    if one.quantity in TAPED:
        yield -SIXTEENTH


def _centimetres(one: Reading, _: random.Random) -> Iterator[int]:
    yield one.value.nm * 100 // 254 - one.value.nm


def _sign(one: Reading, _: random.Random) -> Iterator[int]:
    if one.quantity not in TAPED:
        yield -2 * one.value.nm


def _any(one: Reading, chance: random.Random) -> Iterator[int]:
    sixteenths = chance.randint(4, 32)
    yield chance.choice((-1, 1)) * sixteenths * SIXTEENTH


KINDS: dict[str, Callable[[Reading, random.Random], Iterator[int]]] = {
    "burned inch": _burned,
    "an inch miscounted": _inch,
    "swapped digits": _digits,
    "an eighth for a sixteenth": _eighths,
    "a sixteenth for an eighth": _sixteenths,
    "hook pulled": _pulled,
    "left for right": lambda *_: iter(()),
    "centimetres for inches": _centimetres,
    "wrong way": _sign,
    "any size, 1/4 to 2 in": _any,
}

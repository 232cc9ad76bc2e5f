"""Which sets of pieces go into one bar, and how do they fill bars one after the other?

Whole numbers only; a kerf has already been added to pieces and bars.
"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from fitcheck.rules.tables_sawing import MOST_CELLS, MOST_NODES

Pattern = tuple[int, ...]
EPSILON = 1e-9
NODES_PER_PATTERN = 10


@dataclass(frozen=True, slots=True)
class Packing:
    """Pieces by size with how many are wanted; bars by room, cost and how many there are.

    Sizes fall; `limits` holds None where there is no end of such bars.
    """

    sizes: tuple[int, ...]
    wanted: tuple[int, ...]
    rooms: tuple[int, ...]
    costs: tuple[int, ...]
    limits: tuple[int | None, ...]

    def fits(self, piece: int, bar: int) -> bool:
        """Return whether a piece goes into a bar at all."""
        return self.sizes[piece] <= self.rooms[bar]


@dataclass(frozen=True, slots=True)
class Use:
    """A bar cut by a pattern: how many of each size, and how many bars so."""

    bar: int
    pattern: Pattern
    times: int


@dataclass(slots=True)
class _Open:
    bar: int
    room: int
    pieces: list[int]


def first_fit_decreasing(packing: Packing) -> tuple[list[Use], Pattern]:
    """Fill bars in turn, the longest piece first, each into the first bar with room.

    A new bar is the cheapest that the piece fits, the shorter of two at one price.

    Source: first fit decreasing; never more than 11/9 of the least number and 6/9 of a bar.

    Args:
        packing: pieces and bars [-].

    Returns:
        Uses, and how many of each size found no bar [-].
    """
    left = list(packing.limits)
    opened: list[_Open] = []
    uncut = [0] * len(packing.sizes)
    order = sorted(range(len(packing.rooms)), key=lambda b: (packing.costs[b], packing.rooms[b]))
    for piece, size in enumerate(packing.sizes):
        for _ in range(packing.wanted[piece]):
            place = next((each for each in opened if each.room >= size), None)
            if place is None:
                place = _new_bar(packing, order, left, size)
                if place is None:
                    uncut[piece] += 1
                    continue
                opened.append(place)
            place.room -= size
            place.pieces[piece] += 1
    tally = Counter((each.bar, tuple(each.pieces)) for each in opened)
    return [Use(bar, pattern, times) for (bar, pattern), times in tally.items()], tuple(uncut)


def _new_bar(packing: Packing, order: list[int], left: list[int | None], size: int) -> _Open | None:
    for bar in order:
        remaining = left[bar]
        if packing.rooms[bar] >= size and remaining != 0:
            left[bar] = None if remaining is None else remaining - 1
            return _Open(bar, packing.rooms[bar], [0] * len(packing.sizes))
    return None


def material_bound(packing: Packing) -> int:
    """Return how many bars it takes at the least when all are alike.

    Source: total over one bar's room, rounded up; and the number of pieces longer than half.

    Args:
        packing: pieces and one kind of bar [-].

    Returns:
        The bound [-].
    """
    room = max(packing.rooms)
    total = sum(size * wanted for size, wanted in zip(packing.sizes, packing.wanted, strict=True))
    halves = sum(
        wanted
        for size, wanted in zip(packing.sizes, packing.wanted, strict=True)
        if 2 * size > room
    )
    return max(-(-total // room), halves)


def maximal_patterns(packing: Packing, bar: int, most: int) -> list[Pattern] | None:
    """Return every pattern of a bar to which no wanted piece can be added.

    Source: enumeration, largest size first.

    Args:
        packing: pieces and bars [-].
        bar: which bar [-].
        most: give up beyond so many [-].

    Returns:
        The patterns, or None when there are more [-].
    """
    found: list[Pattern] = []
    sizes, wanted = packing.sizes, packing.wanted
    stack: list[tuple[int, int, Pattern]] = [(0, packing.rooms[bar], ())]
    seen = 0
    while stack:
        at, room, chosen = stack.pop()
        seen += 1
        if seen > NODES_PER_PATTERN * most or len(found) > most:
            return None
        if at == len(sizes):
            if not any(chosen[i] < wanted[i] and size <= room for i, size in enumerate(sizes)):
                found.append(chosen)
            continue
        fit = min(wanted[at], room // sizes[at])
        stack.extend((at + 1, room - n * sizes[at], (*chosen, n)) for n in range(fit + 1))
    return found if len(found) <= most else None


def best_pattern(
    packing: Packing, bar: int, worth: tuple[float, ...]
) -> tuple[float, Pattern, bool]:
    """Return the pattern of greatest worth that a bar holds: a bounded knapsack.

    A table over every length when lengths have few steps, as inches to a mark have; else branch
    and bound by worth per length.

    Source: dynamic programming over capacity; branch and bound with the relaxed worth.

    Args:
        packing: pieces and bars [-].
        bar: which bar [-].
        worth: worth of one piece of each size [-].

    Returns:
        Its worth, the pattern, and whether nothing better can exist [-].
    """
    order = [i for i in range(len(worth)) if worth[i] > EPSILON and packing.fits(i, bar)]
    step = math.gcd(*(packing.sizes[i] for i in order)) or 1
    steps = packing.rooms[bar] // step
    if steps * len(order) <= MOST_CELLS.value:
        counts = _by_table(packing, order, worth, step, steps)
        sure = True
    else:
        order.sort(key=lambda i: -worth[i] / packing.sizes[i])
        counts, sure = _by_branches(packing, order, worth, packing.rooms[bar])
    pattern = [0] * len(worth)
    for piece, number in zip(order, counts, strict=False):
        pattern[piece] = number
    value = sum(number * each for number, each in zip(pattern, worth, strict=True))
    return value, tuple(pattern), sure


def _by_table(
    packing: Packing, order: list[int], worth: tuple[float, ...], step: int, steps: int
) -> Pattern:
    import numpy as np

    best: list[Any] = [np.zeros(steps + 1)]
    for piece in order:
        size = packing.sizes[piece] // step
        row = best[-1]
        for _ in range(min(packing.wanted[piece], steps // size)):
            taken = row.copy()
            np.maximum(row[size:], row[: steps + 1 - size] + worth[piece], out=taken[size:])
            if np.array_equal(taken, row):
                break
            row = taken
        best.append(row)
    return _read_back(packing, order, worth, step, best)


def _read_back(
    packing: Packing,
    order: list[int],
    worth: tuple[float, ...],
    step: int,
    best: Sequence[Sequence[float]],
) -> Pattern:
    """Walk a table from its end, taking pieces as long as they explain its worth."""
    room = len(best[0]) - 1
    counts = [0] * len(order)
    for at in range(len(order) - 1, -1, -1):
        size = packing.sizes[order[at]] // step
        fit = min(packing.wanted[order[at]], room // size)
        each, before = worth[order[at]], best[at]
        counts[at] = max(range(fit + 1), key=lambda n: before[room - n * size] + n * each)
        room -= counts[at] * size
    return tuple(counts)


def _by_branches(
    packing: Packing, order: list[int], worth: tuple[float, ...], room: int
) -> tuple[Pattern, bool]:
    best = 0.0
    found: Pattern = ()
    stack: list[tuple[int, int, float, Pattern]] = [(0, room, 0.0, ())]
    nodes = 0
    while stack and nodes < MOST_NODES.value:
        at, left, value, counts = stack.pop()
        nodes += 1
        if value > best + EPSILON:
            best, found = value, counts
        if at == len(order):
            continue
        size, each = packing.sizes[order[at]], worth[order[at]]
        if value + left * each / size <= best + EPSILON:
            continue
        fit = min(packing.wanted[order[at]], left // size)
        stack.extend(
            (at + 1, left - n * size, value + n * each, (*counts, n)) for n in range(fit + 1)
        )
    return found, not stack

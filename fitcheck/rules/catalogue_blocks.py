"""Which sizes limit the same things, so that their limits can stand in one block of numbers?"""

import itertools
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Integers = NDArray[np.int64]
Pairs = tuple[tuple[int, int], ...]
FAR_NM = 10**15
FEWEST, MOST = 200, 8_192  # sizes of a block: fewer are no gain, more do not stay at hand
ALWAYS_KEPT = (-1, FAR_NM)


@dataclass(frozen=True, slots=True)
class Demand:
    """What one size limits: what each limit is compared with, and the signed limit [nm]."""

    windows: Pairs
    others: Pairs
    covers: Pairs
    stands_on: frozenset[str]

    def asks(self) -> tuple[object, ...]:
        """Return what is limited, without the limits."""
        parts = (self.windows, self.others, self.covers)
        return (*(tuple(key for key, _ in part) for part in parts), self.stands_on)


@dataclass(frozen=True, slots=True)
class Limits:
    """Comparisons in one row of numbers: signed limit, what it is compared with, where each size starts.

    A limit that is always kept ends each size's, so that none is empty.
    """

    signed_nm: Integers
    keys: Integers
    starts: Integers


@dataclass(frozen=True, slots=True)
class Block:
    """Sizes that limit the same things: a line of limits for each thing, a column for each size.

    The first `windows` lines are limits of windows. `least_nm` and `most_nm` are the ends of each
    line, by which a whole line can be seen to be of no account. `asked` is everything that must be known
    before one of the sizes can pass. The limit that is always kept is left out.
    """

    rows: slice
    keys: Integers
    windows: int
    signed_nm: Integers
    least_nm: Integers
    most_nm: Integers
    cover_keys: Integers
    covers_nm: Integers
    asked: Integers
    stands_on: frozenset[str]


@dataclass(frozen=True, slots=True)
class Laid:
    """All sizes in blocks, but for the loose ones that too few others are like; they come last."""

    blocks: tuple[Block, ...]
    loose: slice
    loose_windows: Limits
    loose_others: Limits
    loose_covers: Limits
    loose_stands_on: tuple[frozenset[str], ...]

    @property
    def most_numbers(self) -> int:
        """Return how many limits the largest block holds."""
        return max((block.signed_nm.size for block in self.blocks), default=0)


def laid_out(demands: Sequence[Demand]) -> tuple[Integers, Laid]:
    """Gather the sizes that limit the same things.

    Args:
        demands: what each size limits [nm].

    Returns:
        The sizes in the order in which they are laid out, and their limits in that order [nm].
    """
    alike: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for size, demand in enumerate(demands):
        alike[demand.asks()].append(size)
    many = [sizes for sizes in alike.values() if len(sizes) >= FEWEST]
    parts = [sizes[at : at + MOST] for sizes in many for at in range(0, len(sizes), MOST)]
    ends = [0, *itertools.accumulate(len(part) for part in parts)]
    blocks = [
        _block(slice(*ends[n : n + 2]), [demands[size] for size in part])
        for n, part in enumerate(parts)
    ]
    loose = sorted(size for sizes in alike.values() if len(sizes) < FEWEST for size in sizes)
    own = [demands[size] for size in loose]
    laid = Laid(
        tuple(blocks),
        slice(ends[-1], len(demands)),
        _limits([demand.windows for demand in own]),
        _limits([demand.others for demand in own]),
        _limits([demand.covers for demand in own]),
        tuple(demand.stands_on for demand in own),
    )
    return np.array([*itertools.chain(*parts), *loose], dtype=np.int64), laid


def _limits(rows: Sequence[Pairs]) -> Limits:
    ended = [(*row, ALWAYS_KEPT) for row in rows]
    flat = np.array([pair for row in ended for pair in row], dtype=np.int64).reshape(-1, 2)
    starts = [0, *itertools.accumulate(len(row) for row in ended)][:-1]
    keys, signed = np.ascontiguousarray(flat.T)
    return Limits(signed, keys, np.array(starts, dtype=np.int64))


def _block(rows: slice, demands: Sequence[Demand]) -> Block:
    keys, signed = _lines([(*demand.windows, *demand.others) for demand in demands])
    cover_keys, covers = _lines([demand.covers for demand in demands])
    ends = signed.min(axis=1), signed.max(axis=1)
    windows, stands_on = len(demands[0].windows), demands[0].stands_on
    asked = np.concatenate([keys, cover_keys])
    return Block(rows, keys, windows, signed, *ends, cover_keys, covers, asked, stands_on)


def _lines(rows: Sequence[Pairs]) -> tuple[Integers, Integers]:
    """Return what the lines are compared with, and the limits: a line for each, a column for each size."""
    pairs = np.array(rows, dtype=np.int64).reshape(len(rows), len(rows[0]), 2)
    return pairs[0, :, 0].copy(), np.ascontiguousarray(pairs[:, :, 1].T)


def lines_of(laid: Laid) -> Iterator[list[tuple[int, int]]]:
    """Yield of each size what it limits and the signed limits, in the order laid out [nm]."""
    for block in laid.blocks:
        for column in block.signed_nm.T.tolist():
            yield list(zip(block.keys.tolist(), column, strict=True))
    for windows, others in zip(
        _rows_of(laid.loose_windows), _rows_of(laid.loose_others), strict=True
    ):
        yield windows + others


def _rows_of(limits: Limits) -> Iterator[list[tuple[int, int]]]:
    pairs = list(zip(limits.keys.tolist(), limits.signed_nm.tolist(), strict=True))
    for start, end in itertools.pairwise([*limits.starts.tolist(), len(pairs)]):
        yield pairs[start:end]

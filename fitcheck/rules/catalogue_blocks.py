"""Which sizes limit the same things, so that their limits can stand in one block of numbers?"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Integers = NDArray[np.int64]
FEWEST, MOST = 200, 16_384  # sizes of a block: fewer are no gain, more take much room


@dataclass(frozen=True, slots=True)
class Limits:
    """Comparisons in one row of numbers: signed limit, what it is compared with, whose they are."""

    signed_nm: Integers
    keys: Integers
    starts: Integers
    counts: Integers

    def of(self, rows: Integers) -> "Limits":
        """Return the limits of some sizes only."""
        counts = self.counts[rows]
        starts = np.concatenate([[0], np.cumsum(counts)[:-1]])
        places = np.arange(counts.sum()) + np.repeat(self.starts[rows] - starts, counts)
        return Limits(self.signed_nm[places], self.keys[places], starts, counts)


@dataclass(frozen=True, slots=True)
class Block:
    """Sizes that limit the same things: a line of limits for each thing, a column for each size.

    The first `windows` lines are limits of windows. The limit that is always kept is left out.
    """

    sizes: Integers
    keys: Integers
    windows: int
    signed_nm: Integers


@dataclass(frozen=True, slots=True)
class Laid:
    """All sizes in blocks, but for the loose ones that too few others are like."""

    blocks: tuple[Block, ...]
    loose: Integers
    loose_windows: Limits
    loose_others: Limits

    @property
    def most_numbers(self) -> int:
        """Return how many limits the largest block holds."""
        return max((block.signed_nm.size for block in self.blocks), default=0)


def laid_out(windows: Limits, others: Limits) -> Laid:
    """Gather the sizes that limit the same things in the same order.

    Args:
        windows: limits of windows, a row for each size [nm].
        others: all other limits, likewise [nm].

    Returns:
        The blocks, and what stands in none of them [nm].
    """
    alike: dict[tuple[bytes, bytes], list[int]] = defaultdict(list)
    for size, asked in enumerate(zip(_asked(windows), _asked(others), strict=True)):
        alike[asked].append(size)
    blocks, loose = [], []
    for sizes in alike.values():
        if len(sizes) < FEWEST:
            loose += sizes
            continue
        for at in range(0, len(sizes), MOST):
            blocks.append(_block(np.array(sizes[at : at + MOST]), windows, others))
    own = np.array(sorted(loose), dtype=np.int64)
    return Laid(tuple(blocks), own, windows.of(own), others.of(own))


def _asked(limits: Limits) -> Iterator[bytes]:
    """Return of each size what it limits, in order."""
    for start, count in zip(limits.starts.tolist(), limits.counts.tolist(), strict=True):
        yield limits.keys[start : start + count].tobytes()


def _block(sizes: Integers, windows: Limits, others: Limits) -> Block:
    lines = [
        (
            limits.signed_nm.take(limits.starts[sizes] + line),
            limits.keys[limits.starts[sizes[0]] + line],
        )
        for limits in (windows, others)
        for line in range(int(limits.counts[sizes[0]]) - 1)
    ]
    return Block(
        sizes,
        np.array([key for _, key in lines], dtype=np.int64),
        int(windows.counts[sizes[0]]) - 1,
        np.array([signed for signed, _ in lines], dtype=np.int64).reshape(len(lines), len(sizes)),
    )

"""What is every size's least margin in an opening, and does it fail, fit, hardly fit, or wait?"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fitcheck.rules.catalogue import Asked, Catalogue, Known
from fitcheck.rules.catalogue_blocks import FAR_NM, Block, Integers, Laid, Limits
from fitcheck.rules.finding import Measured, State
from fitcheck.rules.readings import Absent
from fitcheck.rules.uncertainty import guard_band_nm

Flags = NDArray[np.bool_]
Codes = NDArray[np.int8]
STATES: tuple[State, ...] = ("fits", "tight", "unknown", "fails")
_KEPT = (0, 0, 0, False, False)  # what the limit that is always kept compares with
FITS, TIGHT, UNKNOWN, FAILS = range(len(STATES))


@dataclass(frozen=True, slots=True)
class Looked:
    """What one opening gives for every key: by lower and upper limit, in turn."""

    offsets_nm: Integers
    guards_nm: Integers
    unknown: Flags
    partial: Flags
    bands_nm: Integers


@dataclass(frozen=True, slots=True)
class Compared:
    """Of every size the least margin by all limits, the state, and the least margin by its windows.

    The last is None where nobody wanted it.
    """

    margins_nm: Integers
    states: Codes
    windows_nm: Integers | None


def looked_up(catalogue: Catalogue, asked: Asked) -> Looked:
    """Look up what the readings say for everything that any kit limits, each thing once.

    Args:
        catalogue: the catalogue [-].
        asked: the opening [-].

    Returns:
        Tables by key; what is not known is far inside every limit and marked unknown [nm].
    """
    factor = float(asked.house.guard_factor)
    told = [_line(probe(asked), factor) for probe in catalogue.probes]
    return _tables(told)


def looked_up_surely(catalogue: Catalogue, asked: Asked) -> Looked:
    """Look up the same, where what rests on a reading in doubt is not known.

    Args:
        catalogue: the catalogue [-].
        asked: the opening, with the readings that the others contradict [-].

    Returns:
        Tables by key, as above [nm].
    """
    factor = float(asked.house.guard_factor)
    found = [_sure(probe(asked), asked.shape.doubted) for probe in catalogue.probes]
    return _tables([_line(one, factor) for one in found])


def _sure(
    found: Measured | Absent | Known, doubted: Mapping[str, str]
) -> Measured | Absent | Known:
    value = found.value if isinstance(found, Known) else found
    if isinstance(value, Measured) and any(one in doubted for one in value.readings):
        return Absent(())
    return found


def _tables(told: list[tuple[int, int, int, bool, bool]]) -> Looked:
    low, high, guard, unknown, partial = np.array([*told, _KEPT], dtype=np.int64).T
    return Looked(
        offsets_nm=_in_turn(low, high),
        guards_nm=_in_turn(guard, guard),
        unknown=_in_turn(unknown, unknown) != 0,
        partial=_in_turn(partial, partial) != 0,
        bands_nm=_in_turn(np.zeros_like(guard), -guard),
    )


def _in_turn(lower: Integers, upper: Integers) -> Integers:
    """Return what belongs to lower and to upper limits in turn; the limit always kept is a lower one."""
    return np.array([lower, upper]).T.ravel()[:-1]


def _line(found: Measured | Absent | Known, factor: float) -> tuple[int, int, int, bool, bool]:
    """Return what lower and upper limits compare with, the guard, whether unknown, whether partial."""
    value, whole = (found.value, found.whole) if isinstance(found, Known) else (found, True)
    if not isinstance(value, Measured):
        return FAR_NM, FAR_NM, 0, True, False
    return value.low_nm, -value.high_nm, guard_band_nm(value.u_mm, factor), not whole, not whole


def catalogue_compared(
    laid: Laid, looked: Looked, stands_on: str, *, windows: bool = False
) -> Compared:
    """Compare every size with an opening.

    Args:
        laid: the limits of every size [nm].
        looked: what the opening gives for every key [nm].
        stands_on: what the opening stands on [-].
        windows: whether the margins by windows alone are wanted [-].

    Returns:
        Margins and states by row [nm].
    """
    count = laid.loose.stop
    by_windows = np.empty(count, dtype=np.int64) if windows else None
    margins, states = np.empty(count, dtype=np.int64), np.full(count, FAILS, dtype=np.int8)
    room = np.empty(laid.most_numbers, dtype=np.int64)
    for block in laid.blocks:
        own = margins[block.rows]
        found, lines = _found(block, looked, room, own, windows=windows)
        if by_windows is not None:
            out = by_windows[block.rows]
            np.minimum.reduce(found[: block.windows], axis=0, out=out, initial=FAR_NM)
        if stands_on in block.stands_on:
            _tell(block, looked, found, looked.guards_nm[block.keys[lines]], own, states)
    if laid.loose_stands_on:
        loose = _loose(laid, looked, stands_on)
        margins[laid.loose], states[laid.loose] = loose.margins_nm, loose.states
        if by_windows is not None and loose.windows_nm is not None:
            by_windows[laid.loose] = loose.windows_nm
    return Compared(margins, states, by_windows)


def _found(
    block: Block, looked: Looked, room: Integers, least: Integers, *, windows: bool
) -> tuple[Integers, Integers]:
    """Write the least margin of each size; return the margins of the lines that count, and the lines.

    A line counts if it can be the least one somewhere, or come within its guard band.
    """
    offsets, partial = looked.offsets_nm[block.keys], looked.partial[block.keys]
    lows, highs = block.least_nm + offsets, block.most_nm + offsets
    highs[partial] = FAR_NM
    bound = highs.min(initial=FAR_NM)  # of no size is the least margin more
    counts = (lows < bound) | (lows <= looked.guards_nm[block.keys])
    counts[: block.windows] |= windows
    lines = counts.nonzero()[0]
    found = room[: len(lines) * len(least)].reshape(len(lines), len(least))
    np.take(block.signed_nm, lines, axis=0, out=found, mode="clip")
    found += offsets[lines][:, None]
    for line in partial[lines].nonzero()[0].tolist():
        # a difference among the heights read so far can fail, but cannot pass
        found[line, found[line] >= 0] = FAR_NM
    np.minimum.reduce(found, axis=0, out=least, initial=bound)
    return found, lines


def _tell(
    block: Block,
    looked: Looked,
    found: Integers,
    guards: Integers,
    margins: Integers,
    states: Codes,
) -> None:
    """Write the states of a block's sizes that do not fail, while its margins are at hand."""
    within, own = (margins >= 0).nonzero()[0], states[block.rows]
    if looked.unknown[block.asked].any():
        own[within] = UNKNOWN
        return
    own[within] = FITS
    near = within[margins[within] <= guards.max(initial=0)]  # beyond every guard none is tight
    own[near[(found.take(near, axis=1) <= guards[:, None]).any(axis=0)]] = TIGHT
    for line, key in enumerate(block.cover_keys.tolist()):
        spare = block.covers_nm[line, within] + looked.bands_nm[key]
        own[within[spare < 0]] = TIGHT


def _loose(laid: Laid, looked: Looked, stands_on: str) -> Compared:
    """Return margins and states of the sizes that stand in no block."""
    parts = (laid.loose_windows, laid.loose_others)
    found = [_margins(limits, looked) for limits in parts]
    windows, others = (_least(one, limits) for one, limits in zip(found, parts, strict=True))
    margins = np.minimum(windows, others)
    tight = np.zeros(len(margins), dtype=bool)
    unknown = np.zeros(len(margins), dtype=bool)
    for one, limits in zip(found, parts, strict=True):
        tight |= _least(one - looked.guards_nm[limits.keys], limits) <= 0
    covers = laid.loose_covers
    tight |= _least(covers.signed_nm + looked.bands_nm[covers.keys], covers) < 0
    for limits in (*parts, covers):
        unknown |= np.logical_or.reduceat(looked.unknown[limits.keys], limits.starts)
    states = np.where(unknown, UNKNOWN, np.where(tight, TIGHT, FITS)).astype(np.int8)
    stands = np.array([stands_on in each for each in laid.loose_stands_on])
    states[(margins < 0) | ~stands] = FAILS
    return Compared(margins, states, windows)


def _margins(limits: Limits, looked: Looked) -> Integers:
    margins: Integers = np.take(looked.offsets_nm, limits.keys) + limits.signed_nm
    if looked.partial.any():
        margins[looked.partial[limits.keys] & (margins >= 0)] = FAR_NM
    return margins


def _least(margins: Integers, limits: Limits) -> Integers:
    least: Integers = np.minimum.reduceat(margins, limits.starts)
    return least

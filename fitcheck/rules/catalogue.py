"""What do all sizes of all kits demand, laid out so that one pass can compare them?"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from operator import itemgetter

import numpy as np
from numpy.typing import NDArray

from fitcheck.rules.backing import backing_setbacks
from fitcheck.rules.catalogue_blocks import Integers, Laid, Limits, laid_out
from fitcheck.rules.cuts import cuts
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.length import LARGEST_NM, Length
from fitcheck.rules.readings import Readings
from fitcheck.rules.sheet import BackingRule, CurbRule, CutRule, Most, Sheet, Size, applies
from fitcheck.rules.survey import STANDS_ON, House, Survey
from fitcheck.rules.walls import (
    BOTH,
    ceiling_height,
    curb,
    sill_fall,
    sill_level,
    surround_height,
    wall_lean,
)
from fitcheck.rules.widths import width_difference

Key = tuple[object, ...]
FAR_NM = 10**15
NOT_ASKED = Measured(FAR_NM, -FAR_NM, 0.0)
_NEVER = Length(-LARGEST_NM, "-100 m")
_ALWAYS = Length(LARGEST_NM, "100 m")
_ZERO = Length(0, "0 mm")


@dataclass(frozen=True, slots=True)
class Asked:
    """The opening that all kits are asked about."""

    survey: Survey
    readings: Readings
    house: House


@dataclass(frozen=True, slots=True)
class Known:
    """What the readings say for one key; not `whole` while a height is still to be read."""

    value: Measured | None
    whole: bool = True


Probe = Callable[[Asked], Known]


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Every size of every kit as arrays, with the keys by which its limits are looked up.

    `stands` says of each size whether its kit stands on a curb, and on a tub deck; `laid` holds the
    limits of `windows` and `others` once more, as one pass compares them.
    """

    names: tuple[str, ...]
    sheets: tuple[Sheet, ...]
    size_kits: Integers
    size_numbers: Integers
    kit_starts: Integers
    stands: Mapping[str, NDArray[np.bool_]]
    windows: Limits
    others: Limits
    covers: Limits
    probes: tuple[Probe, ...]
    laid: Laid

    def size(self, row: int) -> Size:
        """Return the size that stands in a row."""
        return self.sheets[int(self.size_kits[row])].sizes[int(self.size_numbers[row])]


@dataclass(slots=True)
class _Row:
    """The limits of one size while they are being gathered: (key, signed limit)."""

    windows: list[tuple[int, int]] = field(default_factory=list)
    others: list[tuple[int, int]] = field(default_factory=list)
    covers: list[tuple[int, int]] = field(default_factory=list)


@dataclass(slots=True)
class _Keys:
    """Each thing that limits compare with, once, with a probe that looks it up."""

    numbers: dict[Key, int] = field(default_factory=dict)
    probes: list[Probe] = field(default_factory=list)

    def least(self, key: Key, limit_nm: int, probe: Probe) -> tuple[int, int]:
        """Return a lower limit: the margin is the value less the limit."""
        return 2 * self._number(key, probe), -limit_nm

    def most(self, key: Key, limit_nm: int, probe: Probe) -> tuple[int, int]:
        """Return an upper limit: the margin is the limit less the value."""
        return 2 * self._number(key, probe) + 1, limit_nm

    def _number(self, key: Key, probe: Probe) -> int:
        number = self.numbers.setdefault(key, len(self.probes))
        if number == len(self.probes):
            self.probes.append(probe)
        return number


def catalogue_compile(kits: Sequence[tuple[str, Sheet]]) -> Catalogue:
    """Lay out every limit of every size; done once for a catalogue, not once for an opening.

    Args:
        kits: name and sheet of each kit [-].

    Returns:
        The arrays [nm].

    Raises:
        ValueError: there is no kit.
    """
    if not kits:
        raise ValueError("a catalogue holds at least one kit")
    keys = _Keys()
    rows = [
        (kit, number, _row(sheet, size, keys))
        for kit, (_, sheet) in enumerate(kits)
        for number, size in enumerate(sheet.sizes)
    ]
    counts = [len(sheet.sizes) for _, sheet in kits]
    windows = _limits([row.windows for _, _, row in rows])
    others = _limits([row.others for _, _, row in rows])
    return Catalogue(
        tuple(name for name, _ in kits),
        tuple(sheet for _, sheet in kits),
        np.array([kit for kit, _, _ in rows]),
        np.array([number for _, number, _ in rows]),
        np.cumsum([0, *counts[:-1]]),
        {on: np.array([on in kits[kit][1].stands_on for kit, _, _ in rows]) for on in STANDS_ON},
        windows,
        others,
        _limits([row.covers for _, _, row in rows]),
        tuple(keys.probes),
        laid_out(windows, others),
    )


def _limits(rows: list[list[tuple[int, int]]]) -> Limits:
    """Lay out rows of limits; a limit that is always kept ends each row, so that none is empty.

    Of several limits of one thing on one side the tightest is the one that counts.
    """
    tightest = [dict(sorted(row, key=itemgetter(1), reverse=True)) for row in rows]
    counts = np.array([len(row) + 1 for row in tightest])
    flat = [pair for row in tightest for pair in (*sorted(row.items()), (-1, FAR_NM))]
    return Limits(
        np.array([limit for _, limit in flat], dtype=np.int64),
        np.array([key for key, _ in flat], dtype=np.int64),
        np.concatenate([[0], np.cumsum(counts)[:-1]]),
        counts,
    )


def _row(sheet: Sheet, size: Size, keys: _Keys) -> _Row:
    row = _Row()
    for window in size.windows:
        key, probe = ("width", window.height.nm), _width(window.height)
        row.windows.append(keys.least(key, window.least.nm, probe))
        row.windows.append(keys.most(key, window.most.nm, probe))
    row.others += _walls(sheet, size, keys)
    row.others += _sill(sheet, keys)
    row.others += _heights(sheet, keys)
    row.others += _backing(sheet, keys)
    for cut in sheet.cuts:
        if applies(cut.sizes, size):
            _cut(sheet, size, cut, keys, row)
    return row


def _width(height: Length) -> Probe:
    def probe(asked: Asked) -> Known:
        width = asked.readings.at("width", height)
        return Known(width if isinstance(width, Measured) else None)

    return probe


def _first(ask: Callable[[Asked], Sequence[Finding]], n: int = 0) -> Probe:
    """Look a value up by asking the rule itself, so that it is the value the verdict has."""

    def probe(asked: Asked) -> Known:
        reading = ask(asked)[n].reading
        return Known(reading if isinstance(reading, Measured) else None)

    return probe


def _walls(sheet: Sheet, size: Size, keys: _Keys) -> Iterator[tuple[int, int]]:
    if sheet.width_difference:
        heights = tuple(height.nm for height in sheet.heights(size))
        probe = _difference(sheet, size)
        yield keys.most(("difference", *heights), sheet.width_difference.most.nm, probe)
    if sheet.lean:
        for n, side in enumerate(BOTH):
            probe = _first(lambda a: wall_lean(sheet, a.readings, a.house), n)
            yield keys.most(("lean", side, sheet.lean.over.nm), sheet.lean.most.nm, probe)


def _difference(sheet: Sheet, size: Size) -> Probe:
    def ask(asked: Asked, most: Length) -> Finding:
        free = replace(sheet, width_difference=Most(most, "-"))
        return width_difference(free, size, asked.readings, asked.house)[0]

    def probe(asked: Asked) -> Known:
        reading = ask(asked, _NEVER).reading
        whole = ask(asked, _ALWAYS).state != "unknown"
        return Known(reading if isinstance(reading, Measured) else None, whole)

    return probe


def _sill(sheet: Sheet, keys: _Keys) -> Iterator[tuple[int, int]]:
    if sheet.level:
        probe = _first(lambda a: sill_level(sheet, a.readings, a.house))
        yield keys.most(("level",), sheet.level.most.nm, probe)
    if sheet.sill_fall:
        probe = _first(lambda a: sill_fall(sheet, a.readings, a.house))
        yield keys.least(("fall",), sheet.sill_fall.least.nm, probe)
        yield keys.most(("fall",), sheet.sill_fall.most.nm, probe)
    if sheet.curb and sheet.curb.depth_least:
        yield keys.least(("curb", "depth"), sheet.curb.depth_least.nm, _curb(sheet, _ZERO, None))
    if sheet.curb and sheet.curb.flat_least:
        yield keys.least(("curb", "flat"), sheet.curb.flat_least.nm, _curb(sheet, None, _ZERO))


def _curb(sheet: Sheet, depth: Length | None, flat: Length | None) -> Probe:
    alone = replace(sheet, curb=CurbRule(depth, flat, "-"))
    return _first(lambda a: curb(alone, a.readings, a.house))


def _heights(sheet: Sheet, keys: _Keys) -> Iterator[tuple[int, int]]:
    for n, side in enumerate(BOTH):
        if sheet.ceiling_height:
            probe = _first(lambda a: ceiling_height(sheet, a.readings, a.house), n)
            yield keys.least(("ceiling", side), sheet.ceiling_height.least.nm, probe)
        if sheet.surround_height:
            probe = _surround(sheet, side)
            yield keys.least(("surround", side), sheet.surround_height.least.nm, probe)


def _surround(sheet: Sheet, side: str) -> Probe:
    def probe(asked: Asked) -> Known:
        found = surround_height(sheet, asked.survey, asked.readings, asked.house)
        own = [finding for finding in found if finding.place == f"{side} wall"]
        if not own:
            return Known(NOT_ASKED)
        reading = own[0].reading
        return Known(reading if isinstance(reading, Measured) else None)

    return probe


def _backing(sheet: Sheet, keys: _Keys) -> Iterator[tuple[int, int]]:
    for rule in sheet.backing:
        for side in rule.sides:
            key, probe = ("backing", side, rule.height.nm), _backed(sheet, rule, side)
            yield keys.least(key, rule.setback_least.nm, probe)
            if rule.setback_most:
                yield keys.most(key, rule.setback_most.nm, probe)


def _backed(sheet: Sheet, rule: BackingRule, side: str) -> Probe:
    alone = replace(sheet, backing=(replace(rule, sides=(side,)),))
    return _first(lambda a: backing_setbacks(alone, a.readings, a.house))


def _cut(sheet: Sheet, size: Size, cut: CutRule, keys: _Keys, row: _Row) -> None:
    taken = cut.brackets_take.nm if cut.brackets_take else 0
    key, probe = ("cut", cut.measured, cut.height.nm, taken), _distance(sheet, size, cut)
    row.others.append(keys.most(key, cut.stock.nm + cut.deduct.nm, probe))
    if cut.least:
        row.others.append(keys.least(key, cut.least.nm + cut.deduct.nm, probe))
    if cut.most:
        row.others.append(keys.most(key, cut.most.nm + cut.deduct.nm, probe))
    if cut.allowance:
        row.covers.append(keys.most(key, cut.allowance.nm, probe))


def _distance(sheet: Sheet, size: Size, cut: CutRule) -> Probe:
    alone = replace(sheet, cuts=(cut,))
    return lambda a: Known(cuts(alone, size, a.readings, a.house)[0].cut.distance)

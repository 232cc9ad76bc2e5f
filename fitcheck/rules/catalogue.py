"""What do all sizes of all kits demand, laid out so that one pass can compare them?"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from operator import itemgetter

import numpy as np

from fitcheck.rules.catalogue_blocks import FAR_NM, Demand, Integers, Laid, Pairs, laid_out
from fitcheck.rules.cuts import cut_distance
from fitcheck.rules.finding import Measured
from fitcheck.rules.length import Length
from fitcheck.rules.part_of_run import fall_over_all
from fitcheck.rules.readings import Absent, Readings
from fitcheck.rules.shape_state import UNDOUBTED, ShapeTold
from fitcheck.rules.sheet import CutRule, Sheet, Size, applies
from fitcheck.rules.sheet_agrees import contradicted
from fitcheck.rules.survey import House, Survey
from fitcheck.rules.tables_saw import LEAST_PART
from fitcheck.rules.walls import BOTH, lean_over, out_of_level, surround_possible
from fitcheck.rules.widths import widths_differ

Key = tuple[object, ...]
NOT_ASKED = Measured(FAR_NM, -FAR_NM, 0.0)


@dataclass(frozen=True, slots=True)
class Asked:
    """The opening that all kits are asked about."""

    survey: Survey
    readings: Readings
    house: House
    shape: ShapeTold = UNDOUBTED


@dataclass(frozen=True, slots=True)
class Known:
    """What the readings say for one key; not `whole` while a height is still to be read."""

    value: Measured | None
    whole: bool = True


Probe = Callable[[Asked], Measured | Absent | Known]


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Every size of every kit as arrays, with probes that look up what its limits compare with.

    The sizes stand in rows in the order in which `laid` holds their limits; `kit_rows` are these
    rows kit by kit, each kit's sizes in their own order, and `kit_starts` where each kit starts there;
    `doubted` are the rows of sizes for which their sheet contradicts itself.
    """

    names: tuple[str, ...]
    sheets: tuple[Sheet, ...]
    size_kits: Integers
    size_numbers: Integers
    kit_rows: Integers
    kit_starts: Integers
    probes: tuple[Probe, ...]
    laid: Laid
    doubted: Integers

    def size(self, row: int) -> Size:
        """Return the size that stands in a row."""
        return self.sheets[int(self.size_kits[row])].sizes[int(self.size_numbers[row])]


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
    places = [(kit, n) for kit, (_, sheet) in enumerate(kits) for n in range(len(sheet.sizes))]
    order, laid = laid_out(
        [_demand(kits[kit][1], kits[kit][1].sizes[number], keys) for kit, number in places]
    )
    size_kits, size_numbers = np.array(places, dtype=np.int64)[order].T.copy()
    counts = [len(sheet.sizes) for _, sheet in kits]
    doubted = [row for row, place in enumerate(order) if _doubted(kits, *places[place])]
    return Catalogue(
        tuple(name for name, _ in kits),
        tuple(sheet for _, sheet in kits),
        size_kits,
        size_numbers,
        np.argsort(order),
        np.cumsum([0, *counts[:-1]]),
        tuple(keys.probes),
        laid,
        np.array(doubted, dtype=np.int64),
    )


def _doubted(kits: Sequence[tuple[str, Sheet]], kit: int, number: int) -> bool:
    sheet = kits[kit][1]
    return bool(contradicted(sheet, sheet.sizes[number]))


def _demand(sheet: Sheet, size: Size, keys: _Keys) -> Demand:
    windows = [
        pair
        for window in size.windows
        for key, probe in [(("width", window.height.nm), _width(window.height))]
        for pair in (
            keys.least(key, window.least.nm, probe),
            keys.most(key, window.most.nm, probe),
        )
    ]
    own_cuts = [cut for cut in sheet.cuts if applies(cut.sizes, size)]
    others = [
        *_walls(sheet, size, keys),
        *_sill(sheet, keys),
        *_heights(sheet, keys),
        *_backing(sheet, keys),
        *(pair for cut in own_cuts for pair in _cut(cut, keys)),
    ]
    covers = [pair for cut in own_cuts for pair in _cover(cut, keys)]
    return Demand(
        _tightest(windows), _tightest(others), _tightest(covers), frozenset(sheet.stands_on)
    )


def _tightest(pairs: Iterable[tuple[int, int]]) -> Pairs:
    """Return, of several limits of one thing on one side, the tightest: it is the one that counts."""
    return tuple(sorted(dict(sorted(pairs, key=itemgetter(1), reverse=True)).items()))


def _width(height: Length) -> Probe:
    return lambda asked: asked.readings.at("width", height)


def _single(quantity: str, side: str = "none") -> Probe:
    return lambda asked: asked.readings.single(quantity, side)


def _walls(sheet: Sheet, size: Size, keys: _Keys) -> Iterator[tuple[int, int]]:
    if sheet.width_difference:
        heights = sheet.heights(size)
        key = ("difference", *(height.nm for height in heights))
        yield keys.most(key, sheet.width_difference.most.nm, _difference(heights))
    if sheet.lean:
        for side in BOTH:
            key = ("lean", side, sheet.lean.over.nm)
            yield keys.most(key, sheet.lean.most.nm, _lean(side, sheet.lean.over.nm))


def _difference(heights: Sequence[Length]) -> Probe:
    def probe(asked: Asked) -> Known:
        difference, absent = widths_differ(heights, asked.readings)
        return Known(difference, not absent)

    return probe


def _lean(side: str, over_nm: int) -> Probe:
    return lambda asked: lean_over(asked.readings, side, over_nm)


def _sill(sheet: Sheet, keys: _Keys) -> Iterator[tuple[int, int]]:
    if sheet.level:
        yield keys.most(
            ("level",), sheet.level.most.nm, lambda a: out_of_level(a.readings, a.house)
        )
    if sheet.sill_fall:
        yield keys.least(("fall",), sheet.sill_fall.least.nm, _fall)
        yield keys.most(("fall",), sheet.sill_fall.most.nm, _fall)
    if sheet.curb and sheet.curb.depth_least:
        yield keys.least(("curb", "depth"), sheet.curb.depth_least.nm, _single("curb_depth"))
    if sheet.curb and sheet.curb.flat_least:
        yield keys.least(("curb", "flat"), sheet.curb.flat_least.nm, _single("curb_flat"))


def _fall(asked: Asked) -> Measured | Absent:
    return fall_over_all(asked.readings, asked.house)


def _heights(sheet: Sheet, keys: _Keys) -> Iterator[tuple[int, int]]:
    for side in BOTH:
        if sheet.ceiling_height:
            probe = _single("ceiling_height", side)
            yield keys.least(("ceiling", side), sheet.ceiling_height.least.nm, probe)
        if sheet.surround_height:
            probe = _surround(side)
            yield keys.least(("surround", side), sheet.surround_height.least.nm, probe)


def _surround(side: str) -> Probe:
    def probe(asked: Asked) -> Measured | Absent:
        if not surround_possible(asked.survey, side):
            return NOT_ASKED
        return asked.readings.single("surround_height", side)

    return probe


def _backing(sheet: Sheet, keys: _Keys) -> Iterator[tuple[int, int]]:
    for rule in sheet.backing:
        for side in rule.sides:
            key, probe = ("backing", side, rule.height.nm), _backed(side, rule.height)
            yield keys.least(key, rule.setback_least.nm, probe)
            if rule.setback_most:
                yield keys.most(key, rule.setback_most.nm, probe)


def _backed(side: str, height: Length) -> Probe:
    return lambda asked: asked.readings.near("backing_centre", side, height)


def _cut(cut: CutRule, keys: _Keys) -> Iterator[tuple[int, int]]:
    key, probe = _cut_key(cut), _distance(cut)
    yield keys.most(key, cut.stock.nm + cut.deduct.nm, probe)
    least_nm = max(cut.least.nm if cut.least else 0, LEAST_PART.value)
    yield keys.least(key, least_nm + cut.deduct.nm, probe)
    if cut.most:
        yield keys.most(key, cut.most.nm + cut.deduct.nm, probe)


def _cover(cut: CutRule, keys: _Keys) -> Iterator[tuple[int, int]]:
    if cut.allowance:
        yield keys.most(_cut_key(cut), cut.allowance.nm, _distance(cut))


def _cut_key(cut: CutRule) -> Key:
    taken = cut.brackets_take.nm if cut.brackets_take else 0
    return "cut", cut.measured, cut.height.nm, taken


def _distance(cut: CutRule) -> Probe:
    return lambda asked: cut_distance(cut, asked.readings)[0]

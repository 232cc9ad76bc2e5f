"""Blocks with lines left out say what a plain look at every limit of every size says."""

import random
from dataclasses import replace

import numpy as np
import pytest

from fitcheck.rules import catalogue_blocks
from fitcheck.rules.catalogue import catalogue_compile
from fitcheck.rules.catalogue_blocks import FAR_NM, Demand, Pairs, laid_out
from fitcheck.rules.catalogue_pass import FAILS, FITS, TIGHT, UNKNOWN, Looked, catalogue_compared
from fitcheck.rules.length import Length
from fitcheck.rules.sheet import Size
from fitcheck.rules.which_kits import Ranked, places_of, sizes_compared
from tests.fitcheck.benchmark_which_kits import invented, opening

THINGS, SIZES = 8, 60
Told = tuple[int, int, int]


def asked_for(chance: random.Random) -> list[Demand]:
    """Sizes of three patterns; some limits are the same for all sizes of a pattern."""
    patterns = []
    for _ in range(3):
        keys = sorted(chance.sample(range(2 * THINGS), 4))
        same = {key: chance.randrange(-5, 30) for key in chance.sample(keys, 2)}
        cut = chance.randrange(5)
        patterns.append((keys, same, cut, frozenset(chance.sample(["curb", "tub_deck"], 1))))
    demands = []
    for _ in range(SIZES):
        keys, same, cut, stands_on = chance.choice(patterns)
        pairs = [(key, same.get(key, chance.randrange(-5, 60))) for key in keys]
        covers = ((2 * chance.choice([1, 1, 2]) + 1, chance.randrange(1, 9)),)
        demands.append(Demand(tuple(pairs[:cut]), tuple(pairs[cut:]), covers, stands_on))
    return demands


def looked_at(chance: random.Random, unsure: float) -> Looked:
    count = 2 * THINGS + 1
    partial = np.repeat([chance.random() < unsure for _ in range(THINGS)], 2)
    unknown = np.repeat([chance.random() < unsure for _ in range(THINGS)], 2)
    offsets = np.array([chance.randrange(-3, 9) for _ in range(count)], dtype=np.int64)
    offsets[:-1][unknown] = FAR_NM
    offsets[-1] = 0
    guards = np.repeat([chance.randrange(0, 9) for _ in range(THINGS)], 2)
    bands = np.array([-guard if n % 2 else 0 for n, guard in enumerate(guards)])
    partial &= ~unknown
    ends = (np.append(guards, 0), np.append(unknown | partial, False), np.append(partial, False))
    return Looked(offsets, *ends, np.append(bands, 0))


def plainly(demand: Demand, looked: Looked) -> Told:
    """The least margins by windows and by all limits, and the state, one limit after another."""

    def margins(pairs: Pairs) -> list[int]:
        found = []
        for key, signed in pairs:
            margin = signed + int(looked.offsets_nm[key])
            found.append(FAR_NM if looked.partial[key] and margin >= 0 else margin)
        return found

    limits = (*demand.windows, *demand.others)
    windows, least = (min([*margins(p), FAR_NM]) for p in (demand.windows, limits))
    if least < 0 or "curb" not in demand.stands_on:
        return windows, least, FAILS
    if any(looked.unknown[key] for key, _ in (*limits, *demand.covers)):
        return windows, least, UNKNOWN
    guards = [int(looked.guards_nm[key]) for key, _ in limits]
    tight = any(m <= g for m, g in zip(margins(limits), guards, strict=True))
    uncovered = any(signed + int(looked.bands_nm[key]) < 0 for key, signed in demand.covers)
    return windows, least, TIGHT if tight or uncovered else FITS


@pytest.mark.parametrize("fewest", [1, 10**6])
@pytest.mark.parametrize("unsure", [0.0, 0.2])
def test_every_size_has_the_margins_and_the_state_of_a_plain_look(
    fewest: int, unsure: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(catalogue_blocks, "FEWEST", fewest)
    met = set()
    for seed in range(60):
        chance = random.Random(seed)
        demands, looked = asked_for(chance), looked_at(chance, unsure)
        order, laid = laid_out(demands)

        found = catalogue_compared(laid, looked, "curb", windows=True)
        unwanted = catalogue_compared(laid, looked, "curb")

        plain = [plainly(demands[n], looked) for n in order]
        assert found.windows_nm is not None
        columns = (found.windows_nm, found.margins_nm, found.states)
        told = list(zip(*(each.tolist() for each in columns), strict=True))
        assert told == plain
        assert unwanted.windows_nm is None
        both = (unwanted.margins_nm, unwanted.states)
        assert list(zip(*both, strict=True)) == [each[1:] for each in plain]
        met |= {state for _, _, state in plain}
    assert met == ({FITS, TIGHT, FAILS} if not unsure else {FITS, TIGHT, UNKNOWN, FAILS})


@pytest.mark.parametrize("fewest", [1, 10**6])
def test_sizes_that_limit_nothing_fit_whatever_is_read(
    fewest: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(catalogue_blocks, "FEWEST", fewest)
    _, laid = laid_out([Demand((), (), (), frozenset(["curb"]))] * 3)

    found = catalogue_compared(laid, looked_at(random.Random(1), 0.0), "curb", windows=True)

    assert found.windows_nm is not None
    assert found.windows_nm.tolist() == found.margins_nm.tolist() == [FAR_NM] * 3
    assert found.states.tolist() == [FITS] * 3


def test_margins_that_nobody_measured_leave_the_kits_in_their_order() -> None:
    count = 5_000
    states = np.array([FITS, UNKNOWN] * (count // 2), dtype=np.int8)
    margins = np.where(np.arange(count) < 10, FAR_NM, 7)

    ranked = Ranked(states, margins, np.arange(count), places_of(states, margins))

    order = [*range(0, count, 2), *range(1, count, 2)]
    assert ranked.order().tolist() == order
    assert ranked.first(7).tolist() == order[:7]


def test_a_size_whose_widths_nobody_read_does_not_stand_for_its_kit() -> None:
    (_, sheet), *_ = invented(1)
    size = sheet.sizes[0]
    unread = tuple(replace(one, height=Length(10**10, "10 m")) for one in size.windows)
    sizes = (Size("unread", unread, size.panels, size.page), size)

    ranked = sizes_compared(catalogue_compile([("k", replace(sheet, sizes=sizes))]), opening())

    assert ranked.chosen.tolist() == [1]

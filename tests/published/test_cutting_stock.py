"""Published instances of bin packing and cutting stock, each with its optimum.

BIN_PACKING set of J. Burkardt, FSU (P01 to P04); "Cutting stock problem", Wikipedia; cutstock of
the GAMS library (Gilmore and Gomory); Scholl N1C1W1_C, Falkenauer t60_00 and u120_00 (BPPLIB).
Data were read. The sample solutions of P01, P02 and P04 and the 48 of u120_00 were read too; the
other optima were computed with other solvers (P03's own sample solution takes 4, not 3).
"""

import math
from collections import Counter

import pytest

from fitcheck.rules.least_bars import Solved, cheapest
from fitcheck.rules.patterns import Packing, first_fit_decreasing, material_bound

P01 = "70 60 50 33*3 11 7 3"
P02 = "99 94 79 64 50 46 43 37 32 19 18 7 6 3"
P03 = "49 41 34 33 29 26*2 22 20 19"
P04 = "442 252*7 127*5 106*4 85 84 46 37*2 12*3 10*6 9*2"
ROLLS_OF_PAPER = (
    "1380*22 1520*25 1560*12 1710*14 1820*18 1880*18 1930*20 2000*10 2050*12 2100*14 2140*16 "
    "2150*18 2200*20"
)
GILMORE_GOMORY = "45*97 36*610 31*395 14*211"
N1C1W1_C = (
    "92 89 87 84 82*2 81 75 73 71 67*2 63 59 57 56 52 49 48 47 46 41 39 38 36 35 34*2 30 29 26 21 "
    "20 19 18 15*2 13 11 10*3 9 8*2 7 6*3 3"
)
T60_00 = (
    "495 474 473 472 466 450 445 444 439 430 419 414 410 395 372 370 366*3 363 361 357 355 351 "
    "350*2 347 320 315 307 303 299 298*2 292 288 287 283 275*2 274 273*2 272*2 271 269*2 268 263 "
    "262 261 259 258 255 254 252*3 251"
)
U120_00 = (
    "98*3 96*2 94 93*2 92 91*2 90 87 86 85*2 84*5 83*2 82*2 81 80*3 79*2 78*4 76 74*2 73*4 72 71 "
    "70*3 69*3 67 66 64 62*2 60*2 59 58*3 57*4 55*3 50 49*3 47 46*2 45*2 44*2 43*4 42*5 41*3 39*2 "
    "38*3 37 36*3 35 33*3 32*2 30*3 29 28 27*2 26 25*2 24 23*2 20"
)
P03_WITH_KERF = "1467 1227 1017 987 867 777*2 657 597 567"
INSTANCES = {
    "P01": (P01, 100, 0, 4, 4),
    "P02": (P02, 100, 0, 7, 7),
    "P03": (P03, 100, 0, 4, 3),
    "P04": (P04, 524, 0, 7, 7),
    "P03 with a kerf of 3": (P03_WITH_KERF, 2997, 3, 4, 3),
    "rolls of paper": (ROLLS_OF_PAPER, 5600, 0, None, 73),
    "Gilmore and Gomory": (GILMORE_GOMORY, 100, 0, None, 453),
    "N1C1W1_C": (N1C1W1_C, 100, 0, 21, 20),
    "t60_00": (T60_00, 1000, 0, 23, 20),
    "u120_00": (U120_00, 150, 0, 49, 48),
}


def packing(pieces: str, room: int, kerf: int) -> Packing:
    wanted: Counter[int] = Counter()
    for each in pieces.split():
        size, _, times = each.partition("*")
        wanted[int(size) + kerf] += int(times or 1)
    sizes = tuple(sorted(wanted, reverse=True))
    return Packing(sizes, tuple(wanted[s] for s in sizes), (room + kerf,), (1,), (None,))


def assert_cut(case: Packing, solved: Solved) -> None:
    """Hold the plan against the data themselves: each piece once, no bar too full."""
    cut = [0] * len(case.sizes)
    for use in solved.uses:
        filled = sum(n * s for n, s in zip(use.pattern, case.sizes, strict=True))
        assert filled <= case.rooms[use.bar]
        cut = [c + n * use.times for c, n in zip(cut, use.pattern, strict=True)]
    assert all(c >= w for c, w in zip(cut, case.wanted, strict=True))


@pytest.mark.parametrize("name", INSTANCES)
def test_the_optimum_is_found_and_proven(name: str) -> None:
    pieces, room, kerf, _, optimum = INSTANCES[name]
    case = packing(pieces, room, kerf)

    solved = cheapest(case, 60)

    assert_cut(case, solved)
    assert sum(use.times for use in solved.uses) == solved.cost == optimum
    assert solved.bound == optimum
    assert solved.proven


@pytest.mark.parametrize("name", [name for name, row in INSTANCES.items() if row[3]])
def test_first_fit_decreasing_takes_as_many_bars_as_published(name: str) -> None:
    pieces, room, kerf, bars, _ = INSTANCES[name]

    uses, uncut = first_fit_decreasing(packing(pieces, room, kerf))

    assert sum(use.times for use in uses) == bars
    assert not any(uncut)


@pytest.mark.parametrize(
    ("name", "bound"),
    [
        ("P01", 3),
        ("P02", 6),
        ("P03", 3),
        ("P04", 7),
        ("P03 with a kerf of 3", 3),
        ("rolls of paper", 73),
        ("Gilmore and Gomory", 416),
        ("N1C1W1_C", 20),
        ("t60_00", 20),
        ("u120_00", 48),
    ],
)
def test_the_bound_by_material(name: str, bound: int) -> None:
    """The bound by halves may be higher: it is taken off here to compare with the sum alone."""
    pieces, room, kerf, *_ = INSTANCES[name]
    case = packing(pieces, room, kerf)
    total = sum(s * w for s, w in zip(case.sizes, case.wanted, strict=True))

    assert math.ceil(total / case.rooms[0]) == bound
    assert material_bound(case) >= bound


def test_the_rolls_of_paper_waste_two_fifths_of_a_per_cent() -> None:
    case = packing(ROLLS_OF_PAPER, 5600, 0)
    total = sum(s * w for s, w in zip(case.sizes, case.wanted, strict=True))

    assert total == 407_160
    assert round(100 * (1 - total / (73 * 5600)), 4) == 0.4012


@pytest.mark.parametrize(("kerf_on_each", "bars"), [(False, 1), (True, 2)])
def test_four_pieces_fit_with_three_kerfs_and_not_with_four(kerf_on_each: bool, bars: int) -> None:
    """4 x 597.5 on 2400 with a kerf of 3: 2399 with n - 1, 2402 with n (in half millimetres)."""
    room = 4800 if kerf_on_each else 4806
    case = Packing((1195 + 6,), (4,), (room,), (1,), (None,))

    assert cheapest(case, 10).cost == bars

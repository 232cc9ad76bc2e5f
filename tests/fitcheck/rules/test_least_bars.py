"""The cheapest plan against brute force, with prices, limited bars, and too little time."""

import time
from functools import cache
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules import least_bars
from fitcheck.rules.least_bars import Solved, cheapest
from fitcheck.rules.pattern_choice import Choice
from fitcheck.rules.patterns import Packing, first_fit_decreasing


def by_brute_force(case: Packing) -> tuple[int, int]:
    """Return the fewest pieces left uncut, and the least cost then: every state is walked."""
    patterns = [
        [
            counts
            for counts in product(*(range(n + 1) for n in case.wanted))
            if any(counts) and sum(n * s for n, s in zip(counts, case.sizes, strict=True)) <= room
        ]
        for room in case.rooms
    ]

    @cache
    def least(left: tuple[int, ...], bars: tuple[int, ...]) -> tuple[int, int]:
        best = (sum(left), 0)
        for bar, choices in enumerate(patterns):
            if bars[bar] == 0 or not any(left):
                continue
            rest = tuple(n - (i == bar) for i, n in enumerate(bars))
            for counts in choices:
                if all(c <= n for c, n in zip(counts, left, strict=True)):
                    uncut, cost = least(
                        tuple(n - c for n, c in zip(left, counts, strict=True)), rest
                    )
                    best = min(best, (uncut, cost + case.costs[bar]))
        return best

    pieces = sum(case.wanted)
    return least(case.wanted, tuple(pieces if n is None else n for n in case.limits))


@st.composite
def packings(draw: st.DrawFn) -> Packing:
    sizes = sorted(draw(st.sets(st.integers(10, 60), min_size=1, max_size=3)), reverse=True)
    wanted = tuple(draw(st.integers(1, 2)) for _ in sizes)
    bars = draw(st.integers(1, 2))
    rooms = (
        draw(st.integers(sizes[0], 120)),
        *(draw(st.integers(5, 120)) for _ in range(bars - 1)),
    )
    costs = tuple(draw(st.integers(0, 9)) for _ in rooms)
    limits = tuple(draw(st.sampled_from([None, None, 0, 1, 2])) for _ in rooms)
    return Packing(tuple(sizes), wanted, rooms, costs, limits)


def assert_honest(case: Packing, solved: Solved) -> None:
    cut = list(solved.uncut)
    used = [0] * len(case.rooms)
    for use in solved.uses:
        assert (
            sum(n * s for n, s in zip(use.pattern, case.sizes, strict=True)) <= case.rooms[use.bar]
        )
        cut = [c + n * use.times for c, n in zip(cut, use.pattern, strict=True)]
        used[use.bar] += use.times
    assert all(c >= w for c, w in zip(cut, case.wanted, strict=True))
    assert all(limit is None or n <= limit for n, limit in zip(used, case.limits, strict=True))


@pytest.mark.parametrize("listed", [True, False])
@settings(deadline=None, max_examples=60)
@given(case=packings())
def test_the_plan_is_the_cheapest_of_all(listed: bool, case: Packing) -> None:
    uncut, cost = by_brute_force(case)

    with pytest.MonkeyPatch.context() as patch:
        if not listed:
            patch.setattr(least_bars, "MOST_PATTERNS", type("None", (), {"value": -1}))
        solved = cheapest(case, 20)

    assert_honest(case, solved)
    penalty = max(case.costs) * sum(case.wanted) + 1
    optimum = cost + penalty * uncut
    assert solved.bound <= optimum <= solved.cost
    if listed:
        assert solved.proven
    if solved.proven:
        assert sum(solved.uncut) == uncut
        assert solved.cost == optimum


def test_a_dearer_long_bar_is_taken_when_it_saves_two_short_ones() -> None:
    case = Packing((50,), (4,), (100, 200), (30, 50), (None, None))

    solved = cheapest(case, 10)

    assert (solved.cost, solved.bound) == (50, 50)
    assert [(use.bar, use.pattern, use.times) for use in solved.uses] == [(1, (4,), 1)]


def test_a_plan_by_first_fit_says_so_when_the_material_proves_it() -> None:
    case = Packing((50,), (4,), (100,), (30,), (None,))

    solved = cheapest(case, 10)

    assert solved.method == "first fit"
    assert (solved.cost, solved.bound, solved.proven) == (60, 60, True)


def test_how_it_was_found_is_told() -> None:
    case = Packing((49, 41, 34, 33, 29, 26, 22, 20, 19), (1, 1, 1, 1, 1, 2, 1, 1, 1), (100,), (1,),
                   (None,))  # fmt: skip

    assert cheapest(case, 10).method == "every pattern listed, then chosen in whole numbers"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(least_bars, "MOST_PATTERNS", type("None", (), {"value": -1}))
        generated = cheapest(case, 10)
    assert generated.method.startswith("patterns generated")
    assert (generated.cost, generated.proven) == (3, True)


@pytest.mark.parametrize("limit", [None, 3])
def test_patterns_fixed_one_after_another_leave_no_piece_and_no_bar_too_many(
    limit: int | None,
) -> None:
    case = Packing((49, 41, 34, 33, 29, 26, 22, 20, 19), (2, 3, 1, 4, 1, 2, 5, 1, 3), (100, 70), (3, 2),
                   (None, limit))  # fmt: skip
    first, _ = first_fit_decreasing(case)
    choice = Choice(case, 1000)
    choice.add([(use.bar, use.pattern) for use in first])

    uses = least_bars._dive(choice, case, time.monotonic() + 60)

    assert uses
    cost = sum(case.costs[use.bar] * use.times for use in uses)
    solved = Solved(tuple(uses), (0,) * len(case.sizes), cost, 0, "")
    assert_honest(case, solved)
    assert cheapest(case, 10).cost <= cost <= 1.1 * cheapest(case, 10).cost
    assert least_bars._dive(choice, case, time.monotonic() - 1) is None


def test_with_no_time_the_plan_stands_with_an_honest_bound() -> None:
    """A real optimum of 3; without time the first fit of 4 stands above a bound of 3 or less."""
    case = Packing((49, 41, 34, 33, 29, 26, 22, 20, 19), (1, 1, 1, 1, 1, 2, 1, 1, 1), (100,), (1,),
                   (None,))  # fmt: skip
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(least_bars, "MOST_PATTERNS", type("None", (), {"value": -1}))
        solved = cheapest(case, -10.0)

    assert_honest(case, solved)
    assert solved.bound == 3
    assert 3 <= solved.cost <= 4

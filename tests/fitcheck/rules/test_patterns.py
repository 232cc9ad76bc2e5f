"""Patterns, first fit and the knapsack, against brute force where it is small enough."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules import patterns
from fitcheck.rules.patterns import (
    Packing,
    Use,
    best_pattern,
    first_fit_decreasing,
    material_bound,
    maximal_patterns,
)


def packing(sizes: tuple[int, ...], wanted: tuple[int, ...], room: int) -> Packing:
    return Packing(sizes, wanted, (room,), (1,), (None,))


@st.composite
def packings(draw: st.DrawFn) -> Packing:
    sizes = sorted(draw(st.sets(st.integers(1, 60), min_size=1, max_size=5)), reverse=True)
    wanted = tuple(draw(st.integers(1, 3)) for _ in sizes)
    return packing(tuple(sizes), wanted, draw(st.integers(sizes[0], 100)))


def every_pattern(case: Packing) -> list[tuple[int, ...]]:
    counts = product(*(range(n + 1) for n in case.wanted))
    return [
        each
        for each in counts
        if sum(n * s for n, s in zip(each, case.sizes, strict=True)) <= case.rooms[0]
    ]


@given(packings())
def test_maximal_patterns_are_those_to_which_nothing_can_be_added(case: Packing) -> None:
    every = every_pattern(case)
    maximal = {
        each
        for each in every
        if not any(
            other != each and all(o >= e for o, e in zip(other, each, strict=True))
            for other in every
        )
    }

    found = maximal_patterns(case, 0, 10_000)

    assert found is not None
    assert len(found) == len(set(found))
    assert set(found) == maximal


def test_too_many_patterns_are_given_up() -> None:
    case = packing((5, 4, 3, 2, 1), (9, 9, 9, 9, 9), 20)
    every = maximal_patterns(case, 0, 10_000)
    assert every is not None

    assert maximal_patterns(case, 0, len(every)) is not None
    assert maximal_patterns(case, 0, len(every) - 1) is None


@settings(deadline=None)
@given(packings(), st.lists(st.floats(0, 2), min_size=5, max_size=5), st.booleans())
def test_the_best_pattern_is_the_best_by_brute_force(
    case: Packing, worths: list[float], by_branches: bool
) -> None:
    worth = tuple(worths[: len(case.sizes)])
    expected = max(
        sum(n * w for n, w in zip(each, worth, strict=True)) for each in every_pattern(case)
    )

    with pytest.MonkeyPatch.context() as patch:
        if by_branches:
            patch.setattr(patterns, "MOST_CELLS", type("None", (), {"value": -1}))
        value, pattern, sure = best_pattern(case, 0, worth)

    assert sure
    assert value == pytest.approx(expected, abs=1e-7)
    assert pattern in every_pattern(case)


def test_patterns_that_are_few_but_long_to_list_are_given_up() -> None:
    """Forty sizes of which each fills a bar alone: 40 patterns, some 900 steps to list them."""
    case = packing(tuple(range(90, 50, -1)), (1,) * 40, 100)

    every = maximal_patterns(case, 0, 1000)

    assert every is not None
    assert len(every) == 40
    assert maximal_patterns(case, 0, 40) is None


def test_the_table_remembers_every_size_before() -> None:
    """50 + 30 + 20 is worth 10.1; a table that forgot all but the last size takes 50 + 20 + 20."""
    case = packing((50, 30, 20), (1, 1, 2), 100)

    value, pattern, _ = best_pattern(case, 0, (5.0, 3.1, 2.0))

    assert pattern == (1, 1, 1)
    assert value == pytest.approx(10.1)


def test_a_knapsack_cut_short_is_not_sure() -> None:
    case = packing((50, 49, 48, 47), (3, 3, 3, 3), 149)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(patterns, "MOST_CELLS", type("None", (), {"value": -1}))
        patch.setattr(patterns, "MOST_NODES", type("Few", (), {"value": 3}))
        _, pattern, sure = best_pattern(case, 0, (1.0, 0.9, 0.8, 0.7))

    assert not sure
    assert pattern in every_pattern(case)


def test_a_piece_that_is_worth_nothing_is_left_out() -> None:
    value, pattern, sure = best_pattern(packing((5, 3), (2, 2), 11), 0, (1.0, 0.0))

    assert (value, pattern, sure) == (2.0, (2, 0), True)
    assert best_pattern(packing((5, 3), (2, 2), 11), 0, (0.0, 0.0)) == (0.0, (0, 0), True)


def test_a_piece_longer_than_the_bar_is_left_out() -> None:
    case = Packing((9, 3), (2, 2), (8, 10), (1, 1), (None, None))

    assert case.fits(0, 1)
    assert not case.fits(0, 0)
    assert best_pattern(case, 0, (1.0, 0.1))[1] == (0, 2)


def test_first_fit_takes_the_cheapest_bar_and_of_one_price_the_shorter() -> None:
    case = Packing((6, 3), (1, 1), (12, 7, 7), (5, 9, 5), (None, None, None))

    uses, uncut = first_fit_decreasing(case)

    assert uses == [Use(2, (1, 0), 1), Use(2, (0, 1), 1)]
    assert uncut == (0, 0)


def test_first_fit_stops_at_the_number_of_bars_and_says_what_is_left() -> None:
    case = Packing((6, 3), (3, 1), (7, 9), (0, 1), (1, 1))

    uses, uncut = first_fit_decreasing(case)

    assert {(use.bar, use.pattern): use.times for use in uses} == {(0, (1, 0)): 1, (1, (1, 1)): 1}
    assert uncut == (1, 0)


def test_first_fit_counts_like_bars_together() -> None:
    assert first_fit_decreasing(packing((6,), (5,), 13)) == (
        [Use(0, (2,), 2), Use(0, (1,), 1)],
        (0,),
    )


@pytest.mark.parametrize(
    ("sizes", "wanted", "room", "bound"),
    [
        ((6,), (3,), 11, 3),
        ((5,), (4,), 10, 2),
        ((6, 1), (2, 9), 10, 3),
        ((5, 1), (2, 1), 10, 2),
    ],
)
def test_the_bound_by_material_and_by_halves(
    sizes: tuple[int, ...], wanted: tuple[int, ...], room: int, bound: int
) -> None:
    assert material_bound(packing(sizes, wanted, room)) == bound

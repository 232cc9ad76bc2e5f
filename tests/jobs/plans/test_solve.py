"""Does the planner keep crews, racks, windows and promised times?"""

import pytest

from jobs.plans.solve import Task, Van, Visit, solve, timed

LINE = [[abs(a - b) for b in range(8)] for a in range(8)]
BOTH = frozenset({0, 1})


def on_a_line(visits: list[Visit], vans: list[Van]) -> Task:
    """Places 0 to 7 stand a minute apart."""
    return Task(visits, vans, LINE)


def test_no_visits_need_no_drive() -> None:
    found = solve(on_a_line([], [Van(0, 0, 100)]), seconds=0)
    assert found is not None
    assert (found.routes, found.drive) == ([[]], 0)


def test_only_a_crew_that_may_is_sent_however_far_it_is() -> None:
    visits = [Visit(1, 10, 0, 500, frozenset({1})), Visit(2, 10, 0, 500, BOTH)]
    found = solve(on_a_line(visits, [Van(0, 0, 600), Van(7, 0, 600)]), seconds=0.05)
    assert found is not None
    assert 0 in found.routes[1]


def test_a_visit_that_nobody_may_do_leaves_no_plan() -> None:
    visits = [Visit(1, 10, 0, 500, frozenset())]
    assert solve(on_a_line(visits, [Van(0, 0, 600)]), seconds=0.05) is None


def test_a_rack_is_not_overloaded() -> None:
    visits = [Visit(1, 10, 0, 500, BOTH, 80), Visit(2, 10, 0, 500, BOTH, 80)]
    vans = [Van(0, 0, 600, 100), Van(7, 0, 600, 100)]
    found = solve(on_a_line(visits, vans), seconds=0.05)
    assert found is not None
    assert sorted(map(len, found.routes)) == [1, 1]


def test_windows_decide_the_order() -> None:
    visits = [Visit(1, 10, 100, 120, BOTH), Visit(2, 10, 0, 20, BOTH)]
    found = solve(on_a_line(visits, [Van(0, 0, 600)]), seconds=0.05)
    assert found is not None
    assert found.routes == [[1, 0]]


@pytest.mark.parametrize(
    ("wanted", "starts"),
    [
        ([60, 90], [60, 90]),  # as promised
        ([60, 65], [60, 75]),  # the second waits for length and drive, on a round minute
        ([55, None], [55, 70]),  # nobody promised the second
    ],
)
def test_promised_times_are_kept_where_they_can_be(
    wanted: list[int | None], starts: list[int]
) -> None:
    visits = [Visit(1 + at, 10, 0, 500, BOTH, 0, one) for at, one in enumerate(wanted)]
    assert timed(on_a_line(visits, [Van(0, 0, 600)]), 0, [0, 1]) == starts


def test_an_earlier_visit_makes_way_for_a_later_window() -> None:
    visits = [Visit(1, 10, 0, 500, BOTH, 0, 60), Visit(2, 10, 0, 40, BOTH, 0, 40)]
    assert timed(on_a_line(visits, [Van(0, 0, 600)]), 0, [0, 1]) == [25, 40]
    shut = on_a_line(visits[:1], [Van(0, 0, 65)])
    assert timed(shut, 0, [0]) == [50]  # home at 65, a minute's drive, ten minutes' work
    late = [Visit(1, 50, 0, 500, BOTH), visits[1]]
    assert timed(on_a_line(late, [Van(0, 0, 600)]), 0, [0, 1]) is None

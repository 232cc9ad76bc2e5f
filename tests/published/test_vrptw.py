"""How near does the day's planner come to the best known routes of published instances?

Instances: M. M. Solomon, "Algorithms for the vehicle routing and scheduling problems with time window
constraints", Operations Research 35(2), 254-265, 1987; R101 with its first 25 customers, and RC101.
Read as they stand in the benchmark files that are given away with LKH-3 (K. Helsgaun; the copy read:
github.com/c4v4/LKH3, CVRPTW/INSTANCES/Solomon_25/R101.25.8.vrptw and
Solomon_100_EXACT/RC101.100.14.vrptw). Best known: the tours of the same distribution, whose names give
vehicles and length (CVRPTW/TOURS: R101.25.8.6171, RC101.25.4.4611, RC101.100.14.1696945). Distances as those
files say: tenths rounded down for the small ones, thousandths for the large one.

A line of vrptw/*.txt: x, y, demand, start of the window, end of the window; the depot first.
"""

import math
from pathlib import Path

import pytest

from jobs.plans.solve import Task, Van, Visit, driven, solve, timed

HERE = Path(__file__).parent / "vrptw"
CAPACITY, SERVICE = 200, 10
SECONDS = 0.4


def instance(name: str, customers: int, vans: int, scale: int) -> Task:
    rows = [
        [int(one) for one in line.split()] for line in (HERE / name).read_text().split("\n")[:-1]
    ]
    rows = rows[: customers + 1]
    drive = [
        [math.floor(math.dist(a[:2], b[:2]) * scale) for b in rows]
        if scale == 10
        else [round(math.dist(a[:2], b[:2]) * scale) for b in rows]
        for a in rows
    ]
    every = frozenset(range(vans))
    visits = [
        Visit(at, SERVICE * scale, row[3] * scale, row[4] * scale, every, row[2])
        for at, row in enumerate(rows)
        if at
    ]
    depot = rows[0]
    van = Van(0, depot[3] * scale, depot[4] * scale, CAPACITY)
    return Task(visits, [van] * vans, drive)


def kept(task: Task, routes: list[list[int]]) -> None:
    """Walk every route by hand: each customer once, in its window, in the van, home in time."""
    assert sorted(i for order in routes for i in order) == list(range(len(task.visits)))
    for van, order in zip(task.vans, routes, strict=True):
        clock, place = van.opens, van.place
        assert sum(task.visits[i].load for i in order) <= (van.capacity or 0)
        for i in order:
            one = task.visits[i]
            clock = max(clock + task.drive[place][one.place], one.opens)
            assert clock <= one.closes
            clock, place = clock + one.length, one.place
        assert clock + task.drive[place][van.place] <= van.closes


@pytest.mark.parametrize(
    ("name", "customers", "vans", "scale", "best", "gap"),
    [
        ("R101-25.txt", 25, 8, 10, 6171, 0.0),
        ("RC101.txt", 25, 4, 10, 4611, 0.0),
    ],
)
def test_the_gap_to_the_best_known(
    name: str, customers: int, vans: int, scale: int, best: int, gap: float
) -> None:
    task = instance(name, customers, vans, scale)

    found = solve(task, seconds=SECONDS)

    assert found is not None
    kept(task, found.routes)
    assert driven(task, found.routes) == found.drive
    assert best <= found.drive <= best * (1 + gap)


def test_with_one_van_more_a_hundred_customers_take_no_longer_way_than_the_best_known() -> None:
    """The benchmark's first aim is the fewest vans, 14; ours is the least drive with the vans there are.

    With all of 14 vans in use our runs of 3 to 20 seconds came to 1735143, 2.3 % above the best known.
    """
    task = instance("RC101.txt", 100, 15, 1000)

    found = solve(task, seconds=1.0)

    assert found is not None
    kept(task, found.routes)
    assert found.drive <= 1_696_945


def test_routes_of_the_small_instance_can_be_timed() -> None:
    task = instance("R101-25.txt", 25, 8, 10)
    found = solve(task, seconds=0.3)
    assert found is not None
    assert all(timed(task, van, order) is not None for van, order in enumerate(found.routes))

"""Which visit goes to which crew, in which order, so that least is driven? Solved by PyVRP, in a worker.

A routing problem with time windows: every crew is a vehicle with its own start, shift and routing
profile; a visit that a crew may not do lies infinitely far away in that crew's profile. Nothing here
knows of bookings or of the database.
"""

import time
import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

FORBIDDEN = 100_000  # minutes: farther than any day
MANY = 2**40
BEAT = 0.4  # seconds between two reports of progress
SNAP = 5  # minutes


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit: where, how long, when it may start, who may do it, what it loads."""

    place: int
    length: int
    opens: int
    closes: int
    vans: frozenset[int]
    load: int = 0
    wanted: int | None = None


@dataclass(frozen=True, slots=True)
class Van:
    """One crew: where it starts, between which minutes it works, what its rack carries."""

    place: int
    opens: int
    closes: int
    capacity: int | None = None


@dataclass(frozen=True, slots=True)
class Task:
    """Visits, vans, and the drive between all places; times in minutes or any other whole unit.

    `commute` says whether the drive to the first and from the last visit counts as working time.
    """

    visits: Sequence[Visit]
    vans: Sequence[Van]
    drive: Sequence[Sequence[int]]
    commute: bool = True


@dataclass(frozen=True, slots=True)
class Solved:
    """For each van its visits in order, and the drive of all together."""

    routes: list[list[int]]
    drive: int


class _Stop:
    """Stops at a time and tells on the way how much of it is over."""

    def __init__(self, seconds: float, tell: Callable[[float], Any]) -> None:
        self.seconds, self.tell = seconds, tell
        self.began = self.told = time.perf_counter()

    def __call__(self, best_cost: int) -> bool:
        """Say whether it is time to stop."""
        now = time.perf_counter()
        if now - self.told > BEAT:
            self.told = now
            self.tell(min(1.0, (now - self.began) / self.seconds))
        return now - self.began > self.seconds


def solve(
    task: Task,
    *,
    seconds: float,
    tell: Callable[[float], Any] = lambda share: None,
    seed: int = 1,
) -> Solved | None:
    """Look for the order with the least drive until the time is over.

    Args:
        task: the visits and vans.
        seconds: how long to look [s].
        tell: called now and then with the share of the time that is over [-].

    Returns:
        The best plan found that keeps every window, shift, rack and allowed crew; None if there is none.
    """
    if not task.visits:
        return Solved([[] for _ in task.vans], 0)
    model = _model(task)
    with warnings.catch_warnings():
        warnings.simplefilter(
            "ignore"
        )  # it warns when a task is hard; we tell when there is no plan
        result = model.solve(_Stop(seconds, tell), seed=seed, collect_stats=False, display=False)
    if not result.best.is_feasible():
        return None
    routes: list[list[int]] = [[] for _ in task.vans]
    for route in result.best.routes():
        order = [one.idx for one in route.schedule() if one.is_client()]
        routes[route.vehicle_type()] = order
    allowed = all(van in task.visits[i].vans for van, order in enumerate(routes) for i in order)
    return Solved(routes, driven(task, routes)) if allowed else None


def _model(task: Task) -> Any:
    from pyvrp import Model  # a worker's library: a web process never loads it

    model = Model()
    depots = [model.add_location(0, 0) for _ in task.vans]
    sites = [model.add_location(0, 0) for _ in task.visits]
    racked = any(van.capacity is not None for van in task.vans)
    for van, spot in zip(task.vans, depots, strict=True):
        depot = model.add_depot(spot)
        model.add_vehicle_type(
            capacity=[van.capacity if van.capacity is not None else MANY] if racked else [],
            start_depot=depot,
            end_depot=depot,
            tw_early=van.opens,
            tw_late=van.closes,
            profile=model.add_profile(),
        )
    for visit, spot in zip(task.visits, sites, strict=True):
        model.add_client(
            spot,
            delivery=[visit.load] if racked else [],
            service_duration=visit.length,
            tw_early=visit.opens,
            tw_late=visit.closes,
        )
    _edges(model, task, depots, sites)
    return model


def _edges(model: Any, task: Task, depots: list[Any], sites: list[Any]) -> None:
    spots = [(spot, van.place, True) for spot, van in zip(depots, task.vans, strict=True)]
    spots += [(spot, one.place, False) for spot, one in zip(sites, task.visits, strict=True)]
    for a, place_a, home_a in spots:
        for b, place_b, home_b in spots:
            far = task.drive[place_a][place_b] if a is not b else 0
            lasts = 0 if (home_a or home_b) and not task.commute else far
            model.add_edge(a, b, distance=far, duration=lasts)
    for van, profile in enumerate(model.profiles):
        for spot, visit in zip(sites, task.visits, strict=True):
            if van not in visit.vans:
                for other, _, _ in spots:
                    if other is not spot:
                        model.add_edge(other, spot, FORBIDDEN, FORBIDDEN, profile=profile)


def driven(task: Task, routes: Sequence[Sequence[int]]) -> int:
    """Add up the drive of all routes, from and to each van's start."""
    total = 0
    for van, order in zip(task.vans, routes, strict=True):
        stops = [van.place, *(task.visits[i].place for i in order), van.place] if order else []
        total += sum(task.drive[a][b] for a, b in pairwise(stops))
    return total


def settled(task: Task, van: int, order: Sequence[int]) -> list[int]:
    """Keep the promised order of one van's visits when it takes no more driving than the one found."""
    promised = sorted(order, key=lambda i: (task.visits[i].wanted or 0, i))
    alone: list[list[int]] = [[] for _ in task.vans]
    ways = [driven(task, [*alone[:van], list(one), *alone[van + 1 :]]) for one in (promised, order)]
    keeps = ways[0] <= ways[1] and timed(task, van, promised) is not None
    return promised if keeps else list(order)


def timed(task: Task, van: int, order: Sequence[int]) -> list[int] | None:
    """Choose the starts of one van's route: as promised where that can be kept, else a round time near it.

    Returns:
        A start for each visit of the route; None when the order cannot be kept at all.
    """
    home = task.vans[van]
    latest: list[int] = []
    for at in range(len(order) - 1, -1, -1):
        one = task.visits[order[at]]
        last = one.closes
        if latest:
            following = task.visits[order[at + 1]]
            last = min(last, latest[-1] - task.drive[one.place][following.place] - one.length)
        else:
            back = task.drive[one.place][home.place] if task.commute else 0
            last = min(last, home.closes - back - one.length)
        latest.append(last)
    starts: list[int] = []
    for at, last in enumerate(reversed(latest)):
        one, first = task.visits[order[at]], task.visits[order[at]].opens
        if starts:
            before = task.visits[order[at - 1]]
            ready = starts[-1] + before.length + task.drive[before.place][one.place]
            first = max(first, ready)
        else:
            there = task.drive[home.place][one.place] if task.commute else 0
            first = max(first, home.opens + there)
        if first > last:
            return None
        starts.append(_chosen(one, first, last))
    return starts


def _chosen(visit: Visit, first: int, last: int) -> int:
    start = min(max(visit.wanted if visit.wanted is not None else first, first), last)
    if start == visit.wanted:
        return start
    up, down = -(-start // SNAP) * SNAP, start // SNAP * SNAP
    return up if up <= last else down if down >= first else start

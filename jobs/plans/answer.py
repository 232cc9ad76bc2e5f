"""What does a day's plan change? The moves between what was booked and what the solver found."""

from datetime import datetime, timedelta
from typing import Any

from jobs.plans.solve import Solved, Task, driven, settled, timed

Shape = dict[str, Any]


def routes_as_booked(asked: Shape) -> list[list[int]]:
    """Give each crew's visits in the order of their booked starts."""
    names = [van["crew"] for van in asked["crews"]]
    routes: list[list[int]] = [[] for _ in names]
    for at, one in enumerate(asked["visits"]):
        routes[names.index(one["crew"])].append(at)
    return routes


def moves_of(asked: Shape, task: Task, zero: datetime, solved: Solved) -> list[Shape] | None:
    """List what would move, in the order of the new starts; None when an order cannot be timed."""
    found: list[Shape] = []
    for at_van, (van, found_order) in enumerate(zip(asked["crews"], solved.routes, strict=True)):
        order = settled(task, at_van, found_order)
        starts = timed(task, at_van, order)
        if starts is None:
            return None
        for at, start in zip(order, starts, strict=True):
            visit, wanted = asked["visits"][at], task.visits[at].wanted
            if van["crew"] == visit["crew"] and start == wanted:
                continue
            before = datetime.fromisoformat(visit["starts_at"])
            after = before if start == wanted else zero + timedelta(minutes=start)
            found.append(move(visit, van["crew"], after))
    return sorted(found, key=lambda one: (one["starts_after"], one["booking"]))


def move(visit: Shape, crew: str, starts_at: datetime) -> Shape:
    """Tell one move with what it was before."""
    length = timedelta(minutes=visit["minutes"])
    before = datetime.fromisoformat(visit["starts_at"])
    return {
        "booking": visit["booking"],
        "version": visit["version"],
        "crew_before": visit["crew"],
        "crew_after": crew,
        "starts_before": before.isoformat(),
        "ends_before": (before + length).isoformat(),
        "starts_after": starts_at.isoformat(),
        "ends_after": (starts_at + length).isoformat(),
        "time_zone": visit["time_zone"],
    }


def drive_of(asked: Shape, task: Task, moves: list[Shape]) -> int:
    """Add up the drive of the day when these moves are made and all else stays [min]."""
    names = [van["crew"] for van in asked["crews"]]
    after = {one["booking"]: one for one in moves}
    placed: list[tuple[int, str, int]] = []
    for at, visit in enumerate(asked["visits"]):
        own = after.get(visit["booking"])
        crew = own["crew_after"] if own else visit["crew"]
        start = own["starts_after"] if own else visit["starts_at"]
        placed.append((names.index(crew), datetime.fromisoformat(start).isoformat(), at))
    ordered = sorted(placed, key=lambda one: (one[0], datetime.fromisoformat(one[1])))
    routes: list[list[int]] = [
        [at for van, _, at in ordered if van == n] for n in range(len(names))
    ]
    return driven(task, routes)

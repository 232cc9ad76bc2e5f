"""The writes that make many rows at once, each tried with one row as it is sent alone."""

from collections.abc import Callable
from typing import Any

from tests.world import World

Writes = dict[str, tuple[Callable[[World], Any], str]]
ROOMS = ("customer", "site", "job", "opening", "survey", "booking")


def many_of(writes: Writes) -> Writes:
    """Send each room's one row as the only one of many."""

    def one(body: Callable[[World], Any]) -> Callable[[World], Any]:
        return lambda world: {"items": [body(world)]}

    return {
        f"{noun}.many": (one(writes[f"{noun}.create"][0]), writes[f"{noun}.create"][1])
        for noun in ROOMS
    }


def row_of(told: Any) -> Any:
    """The row that was made, whether it was sent alone or among many."""
    return told["results"][0]["row"] if "results" in told else told

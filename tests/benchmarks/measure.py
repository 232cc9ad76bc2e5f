"""How long does each request take beside the others? Once a round, in random order, one connection."""

import http.client
import json
import random
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass

from calls import Asked, Script
from one_kit import settle

BASE, COPY = "bare create", "bare create, again"
STRAY = 0.05
WARM_UP = 25


@dataclass(frozen=True, slots=True)
class Plan:
    """How many batches of how many rounds, and how often to try for a quiet machine."""

    batches: int
    rounds: int
    tries: int = 3

    def openings(self) -> int:
        """Count the openings that all surveys of all tries need, two a round."""
        return 2 * self.tries * (WARM_UP + self.batches * self.rounds)


@dataclass(frozen=True, slots=True)
class Result:
    """Medians in milliseconds by request, and each one's ratio to the stock create with its range."""

    p50_ms: dict[str, float]
    ratio: dict[str, float]
    span: dict[str, tuple[float, float]]
    tries: int

    @property
    def quiet(self) -> bool:
        """Tell whether the same request measured against itself gave the same."""
        return abs(self.ratio[COPY] - 1) <= STRAY

    def over(self, most: dict[str, float]) -> dict[str, float]:
        """List what takes more than it may, with its ratio."""
        return {name: self.ratio[name] for name, ratio in most.items() if self.ratio[name] > ratio}


def measured(port: int, script: Script, plan: Plan, most: dict[str, float]) -> Result:
    """Measure until the copy agrees and nothing takes more than `most`, or the tries are used up.

    A run's ratio strays by one part in twenty; what is over in each of three runs is too slow.
    """
    settle()
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    for number in range(1, plan.tries + 1):
        _batch(connection, script, WARM_UP)
        found = [_batch(connection, script, plan.rounds) for _ in range(plan.batches)]
        result = _summed(found, number)
        if result.quiet and not result.over(most):
            break
        told = f"over {result.over(most)}, the copy gave {result.ratio[COPY]:.3f} of the original"
        print(f"Not taken, {told}.", file=sys.stderr)
    connection.close()
    return result


def _batch(
    connection: http.client.HTTPConnection, script: Script, rounds: int
) -> dict[str, list[float]]:
    variants = script.variants()
    taken: dict[str, list[float]] = {name: [] for name in variants}
    for turn in range(rounds):
        # The first round goes in the order written, so that what is read has been made before.
        names = list(variants) if turn == 0 else random.sample(list(variants), len(variants))
        for name in names:
            taken[name].append(_one(connection, script, name))
    return taken


def _one(connection: http.client.HTTPConnection, script: Script, name: str) -> float:
    asked = script.variants()[name]()
    if not isinstance(asked, Asked):
        return _here(asked)
    start = time.perf_counter()
    connection.request(asked.method, asked.path, asked.body, asked.headers)
    answer = connection.getresponse()
    body = answer.read()
    taken = time.perf_counter() - start
    if answer.status != asked.status:
        sys.exit(f"{name}: {answer.status} instead of {asked.status}: {body[:2000]!r}")
    script.heard(name, json.loads(body))
    return taken * 1000


def _here(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000


def _summed(batches: list[dict[str, list[float]]], tries: int) -> Result:
    medians = [{name: statistics.median(t) for name, t in one.items()} for one in batches]
    names = list(medians[0])
    ratios = {name: [one[name] / one[BASE] for one in medians] for name in names}
    return Result(
        p50_ms={name: statistics.median(one[name] for one in medians) for name in names},
        ratio={name: statistics.median(ratios[name]) for name in names},
        span={name: (min(ratios[name]), max(ratios[name])) for name in names},
        tries=tries,
    )

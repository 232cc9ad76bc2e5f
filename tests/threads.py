"""What happens when many do the same at one moment? Threads that start together."""

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from django.db import connections

from tests.schema_check import schema


def in_parallel(count: int, work: Callable[[int], Any]) -> list[Any]:
    """Run `work(0)` to `work(count - 1)` in threads that start together; returns what they gave."""
    schema()
    gate = threading.Barrier(count)

    def one(number: int) -> Any:
        gate.wait(timeout=30)
        try:
            return work(number)
        finally:
            connections.close_all()

    with ThreadPoolExecutor(count) as pool:
        return list(pool.map(one, range(count)))

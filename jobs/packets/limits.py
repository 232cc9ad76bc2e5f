"""What ends a paper that takes too long, or too much memory? A look-out beside it in the worker's child.

The compiler is one call that nothing can interrupt: the row is told the reason, then the child ends itself.
Celery starts another, and the row has its next try or is given up.
"""

import os
import resource
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

LOOK_S = 0.1
BREACHED = 70  # the exit code of a child that ended itself
KB = 1024 if sys.platform == "darwin" else 1  # where the peak is counted in bytes


class TooMuch(Exception):
    """A paper took more than one may."""


@contextmanager
def within(
    *, seconds: float, megabytes: float, breached: Callable[[Exception], None]
) -> Iterator[None]:
    """Let a block take so long [s] and so much memory [MB]; beyond it, tell why and end this process."""
    lock, over = threading.Lock(), threading.Event()
    ends = time.monotonic() + seconds

    def look() -> None:
        while not over.wait(LOOK_S):
            why = _breach(ends, seconds, megabytes)
            with lock:
                if why and not over.is_set():
                    _end(breached, why)

    threading.Thread(target=look, name="limits", daemon=True).start()
    try:
        yield
    finally:
        with lock:
            over.set()


def _breach(ends: float, seconds: float, megabytes: float) -> str:
    if time.monotonic() > ends:
        return f"It took longer than {seconds:g} s, the most that a paper may."
    if _peak_mb() > megabytes:
        return f"It took more than {megabytes:g} MB of memory, the most that a paper may."
    return ""


def _peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KB / 1024


def _end(breached: Callable[[Exception], None], why: str) -> None:
    try:
        breached(TooMuch(why))
    finally:
        os._exit(BREACHED)

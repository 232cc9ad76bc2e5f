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
from pathlib import Path

LOOK_S = 0.1
BREACHED = 70  # the exit code of a child that ended itself
STATM = Path("/proc/self/statm")
KB = 1024 if sys.platform == "darwin" else 1  # where the peak is counted in bytes


class TooMuch(Exception):
    """A paper took more than one may."""


@contextmanager
def within(
    *, seconds: float, megabytes: float, breached: Callable[[Exception], None]
) -> Iterator[None]:
    """Let a block take so long [s] and so much more memory than before [MB].

    Beyond it, `breached` hears why and this process ends.
    """
    lock, over = threading.Lock(), threading.Event()
    ends, began_mb = time.monotonic() + seconds, _held_mb()

    def look() -> None:
        while not over.wait(LOOK_S):
            why = _breach(ends, seconds, began_mb, megabytes)
            with lock:
                if why and not over.is_set():
                    _end(breached, why)

    threading.Thread(target=look, name="limits", daemon=True).start()
    try:
        yield
    finally:
        with lock:
            over.set()


def _breach(ends: float, seconds: float, began_mb: float, megabytes: float) -> str:
    if time.monotonic() > ends:
        return f"It took longer than {seconds:g} s, the most that a paper may."
    if _held_mb() - began_mb > megabytes:
        return f"It took more than {megabytes:g} MB of memory, the most that a paper may."
    return ""


def _held_mb() -> float:
    """Return what this process holds now; where the system does not tell, the most it ever held."""
    if STATM.exists():
        return int(STATM.read_text().split()[1]) * resource.getpagesize() / 2**20
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KB / 1024


def _end(breached: Callable[[Exception], None], why: str) -> None:
    try:
        breached(TooMuch(why))
    finally:
        os._exit(BREACHED)

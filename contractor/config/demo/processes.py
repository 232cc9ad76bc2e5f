"""How do several real processes live and die together? As children that never outlast their parent."""

import ctypes
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

PATIENCE = 15.0
READY_WITHIN = 60.0
SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)
PR_SET_PDEATHSIG = 1
_libc = ctypes.CDLL(None) if sys.platform == "linux" else None


class Stopped(BaseException):
    """Somebody asked this process to stop; passes every handler of ordinary errors."""


class Died(Exception):
    """A child ended that should not have."""


@dataclass(slots=True)
class Stops:
    """Whether somebody asked to stop.

    The first time is only noted, since an exception in the middle of a database driver's work leaves
    its connection useless. `insisting` lets a second one break off whatever hangs.
    """

    asked: bool = False
    insisting: bool = True

    def __call__(self, number: int, frame: FrameType | None) -> None:
        """Take a signal."""
        if self.asked and self.insisting:
            raise Stopped
        self.asked = True

    def check(self) -> None:
        """Stop here, between two steps, if somebody asked.

        Raises:
            Stopped: somebody did.
        """
        if self.asked:
            raise Stopped


@contextmanager
def stops_on_signals() -> Iterator[Stops]:
    """Listen to Ctrl-C, termination and hang-up for as long as the block runs."""
    stops = Stops()
    before = {one: signal.signal(one, stops) for one in SIGNALS}
    try:
        yield stops
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)


@dataclass(slots=True)
class Child:
    """One process with its own log."""

    name: str
    process: subprocess.Popen[bytes]
    log: Path

    def last_words(self, lines: int = 5) -> str:
        """Give the end of its log."""
        text = self.log.read_text(encoding="utf-8", errors="replace")
        return "\n".join(text.splitlines()[-lines:])


def port_is_free(port: int) -> bool:
    """Tell whether this machine lets a server listen there."""
    with socket.socket() as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        with suppress(OSError):
            trial.bind(("127.0.0.1", port))
            return True
    return False


def child_start(
    *, name: str, module: list[str], folder: Path, env: dict[str, str], log: Path
) -> Child:
    """Start `python -m module…` in a group of its own, so that Ctrl-C reaches only the parent."""
    with log.open("wb") as file:
        process = subprocess.Popen(  # noqa: S603
            [sys.executable, "-m", *module],
            cwd=folder,
            env=env,
            stdin=subprocess.DEVNULL,
            stdout=file,
            stderr=subprocess.STDOUT,
            start_new_session=True,
            preexec_fn=_die_with_parent if _libc else None,
        )
    return Child(name, process, log)


def _die_with_parent() -> None:
    """Ask Linux for a SIGTERM should the parent be killed outright; elsewhere nobody can promise it."""
    if _libc:
        _libc.prctl(PR_SET_PDEATHSIG, signal.SIGTERM)


def children_stop(children: list[Child]) -> None:
    """Ask all to finish, wait a while, then kill each whole group, so that nothing is left."""
    for child in children:
        child.process.terminate()
    end = time.monotonic() + PATIENCE
    for child in children:
        with suppress(subprocess.TimeoutExpired):
            child.process.wait(max(0.1, end - time.monotonic()))
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(child.process.pid, signal.SIGKILL)
        child.process.wait()


def check_alive(children: list[Child]) -> None:
    """See that every child runs.

    Raises:
        Died: one ended by itself; names it, its exit code and the end of its log.
    """
    for child in children:
        code = child.process.poll()
        if code is not None:
            raise Died(
                f"The {child.name} process stopped by itself (exit {code}). "
                f"The end of {child.log}:\n{child.last_words()}"
            )


def wait_until(happens: Callable[[], bool], children: list[Child], stops: Stops) -> None:
    """Wait until something happens, somebody asks to stop, or a child dies.

    Raises:
        Died: a child ended, or nothing happened for a minute.
    """
    end = time.monotonic() + READY_WITHIN
    while not stops.asked and not happens():
        check_alive(children)
        if time.monotonic() > end:
            logs = ", ".join(str(child.log) for child in children)
            raise Died(f"The service was not ready within {READY_WITHIN:.0f} s; see {logs}.")
        time.sleep(0.2)


def answers(url: str) -> bool:
    """Tell whether an address answers 200."""
    try:
        with urllib.request.urlopen(url, timeout=5) as response:  # noqa: S310
            return bool(response.status == 200)
    except OSError:  # of which a refusal over HTTP is one kind
        return False

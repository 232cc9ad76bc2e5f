"""Do children live and die with the command that started them?"""

import os
import socket
import sys
import time
from pathlib import Path

import pytest

from contractor.config.demo.processes import (
    Child,
    Died,
    Stopped,
    Stops,
    check_alive,
    child_start,
    children_stop,
    port_is_free,
    wait_until,
)

SPAWNS = """
import subprocess, sys, time
print(subprocess.Popen([sys.executable, "-c", "import time; time.sleep(60)"]).pid, flush=True)
time.sleep(60)
"""


def started(folder: Path, text: str) -> Child:
    (folder / "program.py").write_text(text)
    return child_start(
        name="trial",
        module=["program"],
        folder=folder,
        env={**os.environ, "PYTHONPATH": str(folder)},
        log=folder / "trial.log",
    )


def is_running(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except FileNotFoundError:
        return False
    return state != "Z"


@pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc")
def test_stopping_leaves_no_grandchild(tmp_path: Path) -> None:
    child = started(tmp_path, SPAWNS)
    end = time.monotonic() + 20
    while not child.log.read_text().strip() and time.monotonic() < end:
        time.sleep(0.05)
    grandchild = int(child.log.read_text())
    assert is_running(grandchild)
    children_stop([child])
    time.sleep(0.2)
    assert not is_running(child.process.pid)
    assert not is_running(grandchild)


def test_a_child_that_dies_is_named_with_its_last_words(tmp_path: Path) -> None:
    child = started(tmp_path, "raise SystemExit('no more paper')")
    child.process.wait(20)
    with pytest.raises(
        Died, match=r"trial process stopped by itself \(exit 1\)[\s\S]*no more paper"
    ):
        check_alive([child])
    with pytest.raises(Died):
        wait_until(lambda: False, [child], Stops())


def test_waiting_ends_when_somebody_asks_to_stop() -> None:
    wait_until(lambda: False, [], Stops(asked=True))


def test_a_taken_port_is_seen() -> None:
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", 0))
        holder.listen()
        port = holder.getsockname()[1]
        assert not port_is_free(port)
    assert port_is_free(port)


def test_a_first_signal_waits_for_the_step_and_a_second_breaks_it_off() -> None:
    stops = Stops()
    stops.check()
    stops(2, None)
    with pytest.raises(Stopped):
        stops.check()
    with pytest.raises(Stopped):
        stops(2, None)
    stops.insisting = False
    stops(2, None)

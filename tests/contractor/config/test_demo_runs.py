"""Does the one command serve real requests with real processes, and leave none behind?"""

import json
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.request
import uuid
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from contractor.config.demo.story import HERE

ROOT = Path(__file__).resolve().parents[3]
pytestmark = [
    pytest.mark.real,
    pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc for what is left running"),
]


@dataclass
class Demo:
    process: subprocess.Popen[str]
    url: str
    folder: Path
    lines: list[str] = field(default_factory=list)

    def said(self) -> str:
        return "".join(self.lines)

    def waits_for(self, text: str, seconds: float) -> None:
        end = time.monotonic() + seconds
        while text not in self.said():
            assert time.monotonic() < end, self.said()
            assert self.process.poll() is None, self.said()
            time.sleep(0.1)

    def asks(self, path: str, token: str, body: Any = None) -> tuple[int, bytes]:
        url = path if path.startswith("http") else f"{self.url}/api/v1{path}"
        headers = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
        headers["Idempotency-Key"] = str(uuid.uuid4())
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(url, data, headers)  # noqa: S310
        with urllib.request.urlopen(request, timeout=20) as response:  # noqa: S310
            return response.status, response.read()


def below(parent: int) -> set[int]:
    """Every process that descends from another."""
    parents = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if fields[0] != "Z":
            parents[int(stat.parent.name)] = int(fields[1])
    found, new = set[int](), {parent}
    while new:
        new = {pid for pid, above in parents.items() if above in new} - found
        found |= new
    return found


def begun(folder: Path) -> Demo:
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        port = trial.getsockname()[1]
    ours = {
        k: v for k, v in os.environ.items() if k not in ("DATABASE_URL", "REDIS_URL", "PUBLIC_URL")
    }
    process = subprocess.Popen(
        [sys.executable, "manage.py", "demo", "--port", str(port)],
        cwd=ROOT,
        env=ours | {"DATA_DIR": str(folder), "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    demo = Demo(process, f"http://127.0.0.1:{port}", folder)
    threading.Thread(target=demo.lines.extend, args=(process.stdout,), daemon=True).start()
    return demo


@pytest.fixture
def demo(tmp_path: Path) -> Iterator[Demo]:
    started = begun(tmp_path)
    yield started
    left = below(started.process.pid)
    if started.process.poll() is None:
        started.process.terminate()
        try:
            started.process.wait(30)
        except subprocess.TimeoutExpired:
            started.process.kill()
            started.process.wait()
    for pid in left & below(1):
        os.kill(pid, signal.SIGKILL)
    assert started.process.stdout is not None
    started.process.stdout.close()


def test_a_survey_comes_in_a_packet_goes_out_and_nothing_is_left(demo: Demo) -> None:
    demo.waits_for("Ready. Ctrl-C stops everything.", 90)
    token = re.findall(r"^  tablet +(tab_\S+)", demo.said(), re.M)[0]
    survey = json.loads((HERE / "survey-guest-bathroom.json").read_text(encoding="utf-8"))
    status, answer = demo.asks("/surveys/", token, survey)
    assert status == 201
    assert json.loads(answer)["verdict"]["state"] in ("fits", "tight", "fails", "unknown")
    status, answer = demo.asks("/packets/", token, {"job": "J-0011", "paper": "letter"})
    assert status == 202
    packet = json.loads(answer)
    end = time.monotonic() + 60
    while packet["state"] != "done" and time.monotonic() < end:
        time.sleep(0.3)
        packet = json.loads(demo.asks(packet["url"], token)[1])
    assert packet["state"] == "done", packet
    assert demo.asks(packet["file_url"], token)[1].startswith(b"%PDF-")

    children = below(demo.process.pid)
    assert len(children) >= 4  # web and its worker, worker and what it forks
    demo.process.send_signal(signal.SIGTERM)
    assert demo.process.wait(40) == 0
    assert not {pid for pid in children if Path(f"/proc/{pid}/exe").exists()}


def test_a_child_that_is_killed_ends_everything_and_is_named(demo: Demo) -> None:
    demo.waits_for("Ready. Ctrl-C stops everything.", 90)
    children = below(demo.process.pid)
    web = [pid for pid in children if b"gunicorn" in Path(f"/proc/{pid}/cmdline").read_bytes()]
    os.kill(min(web), signal.SIGKILL)
    assert demo.process.wait(40) == 1
    assert "The web process stopped by itself (exit -9)" in demo.said()
    assert not {pid for pid in children if Path(f"/proc/{pid}/exe").exists()}


def test_interrupted_while_filling_it_says_so_and_can_go_on(demo: Demo) -> None:
    demo.waits_for("migrate", 60)
    demo.process.send_signal(signal.SIGINT)
    assert demo.process.wait(40) == 130
    assert "the next run goes on here" in demo.said()
    again = subprocess.run(
        [sys.executable, "manage.py", "demo", "--no-serve"],
        cwd=ROOT,
        env={k: v for k, v in os.environ.items() if k not in ("DATABASE_URL", "REDIS_URL")}
        | {"DATA_DIR": str(demo.folder)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert "surveys      17" in again.stdout

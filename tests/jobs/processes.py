"""The service as it really runs: a web process and a worker process on the test's own database."""

import http.client
import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import quote

from django.db import connection

ROOT = Path(__file__).resolve().parents[2]
PATIENCE_S = 40


def database_url() -> str:
    """Where the test's own database is, for another process."""
    own = connection.settings_dict
    if connection.vendor == "sqlite":
        return f"sqlite:///{own['NAME']}"
    who = quote(own["USER"]) + (f":{quote(own['PASSWORD'])}" if own["PASSWORD"] else "")
    return f"postgres://{who}@{own['HOST']}:{own['PORT'] or 5432}/{own['NAME']}"


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    return port


def until(true: Callable[[], Any], what: str, patience_s: float = PATIENCE_S) -> Any:
    """Wait until something is true; fails saying what did not come."""
    end = time.monotonic() + patience_s
    while time.monotonic() < end:
        found = true()
        if found:
            return found
        time.sleep(0.1)
    raise AssertionError(f"{what} did not come within {patience_s} s")


class Processes:
    """Web and worker processes that share one folder, one database and one queue."""

    def __init__(self, folder: Path, redis_url: str = "") -> None:
        self.folder = folder
        self.port = free_port()
        self.running: list[subprocess.Popen[bytes]] = []
        self.environment = {
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "DJANGO_SETTINGS_MODULE": "contractor.config.settings",
            "DATABASE_URL": database_url(),
            "REDIS_URL": redis_url,
            "DATA_DIR": str(folder),
            "SWEEP_SECONDS": "1",
            "PUBLIC_URL": f"http://127.0.0.1:{self.port}",
        }

    def start(self, *command: str) -> subprocess.Popen[bytes]:
        """Start one process in a group of its own; its output goes to a file in the folder."""
        log = (self.folder / f"{len(self.running)}.log").open("wb")
        with log:
            process = subprocess.Popen(
                [sys.executable, *command], cwd=ROOT, env=self.environment,
                stdout=log, stderr=log, start_new_session=True,
            )  # fmt: skip
        self.running.append(process)
        return process

    def web(self) -> int:
        """Start the web process; returns its port once it answers."""
        bind = f"127.0.0.1:{self.port}"
        self.start("-m", "gunicorn", "contractor.config.wsgi", "--bind", bind, "--threads", "4")
        until(self._answers, "the web process")
        return self.port

    def _answers(self) -> bool:
        try:
            with socket.create_connection(("127.0.0.1", self.port), timeout=1):
                return True
        except OSError:
            return False

    def worker(self) -> subprocess.Popen[bytes]:
        """Start a worker that takes long over its first packet, so that it can be killed in it."""
        return self.start(str(Path(__file__).with_name("slow_worker.py")))

    def kill(self, process: subprocess.Popen[bytes]) -> None:
        """Kill a process and its children as the kernel does when memory runs out."""
        os.killpg(process.pid, signal.SIGKILL)
        process.wait(timeout=10)

    def stop(self) -> None:
        """End everything that still runs."""
        for process in self.running:
            if process.poll() is None:
                self.kill(process)

    def logs(self) -> str:
        """What the processes said, for a failing test."""
        return "\n".join(one.read_text()[-3000:] for one in sorted(self.folder.glob("*.log")))


def call(
    port: int, method: str, path: str, token: str, body: Any = None, **headers: str
) -> tuple[int, Any]:
    """Call the web process over a connection of its own; returns status and body."""
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    try:
        sent = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
        sent |= {name.replace("_", "-"): value for name, value in headers.items()}
        line.request(method, path, json.dumps(body) if body is not None else None, sent)
        reply = line.getresponse()
        data = reply.read()
        is_json = reply.headers.get_content_type().endswith("json")
        return reply.status, json.loads(data) if is_json else data
    finally:
        line.close()

"""How soon does the service start, how much memory has a web process, and what does it leave unloaded?"""

import http.client
import os
import re
import socket
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
MOST_MB = 160
MOST_START_S = 2.0
FORBIDDEN = ("typst", "highspy", "ezdxf", "pyvrp", "matplotlib", "reportlab")
LOADED = f"""
import sys
from contractor.config.wsgi import application
from django.test import Client
assert Client(SERVER_NAME="localhost").get("/api/v1/kits/").status_code == 401
print(*[name for name in {FORBIDDEN} if name in sys.modules])
"""


def main() -> int:
    """Measure, print, judge."""
    _python("manage.py", "migrate", "-v", "0")
    start = min(_timed("manage.py", "check") for _ in range(3))
    loaded = _python("-c", LOADED).split()
    memory = _web_mb()
    print(
        f"manage.py check {start:.2f} s, a web process {memory:.0f} MB, loaded too much: {loaded}"
    )
    return 1 if start > MOST_START_S or memory > MOST_MB or loaded else 0


def _python(*arguments: str) -> str:
    return subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True
    ).stdout


def _timed(*arguments: str) -> float:
    start = time.perf_counter()
    _python(*arguments)
    return time.perf_counter() - start


def _web_mb() -> float:
    """Start the server as in production, ask for something, read the resident memory of its worker."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    serve = f"-m gunicorn contractor.config.wsgi -b 127.0.0.1:{port} -w 1 -k gthread --threads 4"
    quiet = "--log-level warning --no-control-socket"
    process = subprocess.Popen([sys.executable, *serve.split(), *quiet.split()], cwd=ROOT)
    try:
        _ask(port, "/health/ready", 200)
        _ask(port, "/api/v1/kits/", 401)
        _ask(port, "/api/schema/", 200)
        return _resident_mb(process.pid)
    finally:
        process.terminate()
        process.wait(10)


def _ask(port: int, path: str, status: int) -> None:
    for _ in range(100):
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
        try:
            connection.request("GET", path)
            answer = connection.getresponse()
            answer.read()
        except ConnectionRefusedError:
            time.sleep(0.1)
            continue
        if answer.status != status:
            sys.exit(f"{path} answered {answer.status} instead of {status}.")
        return
    sys.exit("The server did not start.")


def _resident_mb(master: int) -> float:
    children = Path(f"/proc/{master}/task/{master}/children").read_text().split()
    sizes = [re.search(r"VmRSS:\s+(\d+)", Path(f"/proc/{c}/status").read_text()) for c in children]
    return max(int(one[1]) for one in sizes if one) / 1024


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "contractor.config.settings")
    sys.exit(main())

"""Does a packet asked for over HTTP come out of a real worker as a PDF that opens?"""

import argparse
import http.client
import json
import subprocess
import sys
import time
import uuid
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests" / "benchmarks"))

from calls import Script  # noqa: E402
from service import service  # noqa: E402

PATIENCE_S = 60
WORKER = "-m celery -A contractor.config worker -B --concurrency 1 --loglevel WARNING"


def main() -> int:
    """Serve, survey, ask for a packet, wait for its paper."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--database", default="")
    parser.add_argument("--redis", default="")
    asked = parser.parse_args()
    with service(asked.database, asked.redis, 1) as seeded:
        env = seeded["env"] | {"SWEEP_SECONDS": "2"}
        with (ROOT / ".artefacts" / "worker.log").open("ab") as log:
            command = [sys.executable, *WORKER.split()]
            worker = subprocess.Popen(command, env=env, cwd=ROOT, stdout=log, stderr=log)
        try:
            paper, seconds = _paper(seeded)
        finally:
            worker.terminate()
            worker.wait(30)
    print(f"A packet of {len(paper) / 1024:.0f} kB, {seconds:.1f} s after it was asked for.")
    return 0 if paper.startswith(b"%PDF-") else 1


def _paper(seeded: dict[str, Any]) -> tuple[bytes, float]:
    asked = Script(seeded).variants()["survey, 19 readings"]()
    _ask(seeded, asked.method, asked.path, 201, asked.body)
    body = json.dumps({"job": f"J-{seeded['job']:04d}", "paper": "letter"}).encode()
    packet = json.loads(_ask(seeded, "POST", "/api/v1/packets/", 202, body))
    start = time.monotonic()
    while packet["state"] != "done" and time.monotonic() - start < PATIENCE_S:
        time.sleep(0.2)
        packet = json.loads(_ask(seeded, "GET", packet["url"], 200))
    if packet["state"] != "done":
        sys.exit(f"After {PATIENCE_S} s the packet is {packet['state']}: {packet}")
    return _ask(seeded, "GET", packet["file_url"], 200), time.monotonic() - start


def _ask(
    seeded: dict[str, Any], method: str, url: str, status: int, body: bytes | None = None
) -> bytes:
    connection = http.client.HTTPConnection("127.0.0.1", seeded["port"], timeout=30)
    headers = {
        "Authorization": f"Bearer {seeded['tablet']}",
        "Content-Type": "application/json",
        "Idempotency-Key": str(uuid.uuid4()),
    }
    connection.request(method, urlsplit(url).path, body, headers)
    answer = connection.getresponse()
    said = answer.read()
    if answer.status != status:
        sys.exit(f"{method} {url}: {answer.status} instead of {status}: {said[:1000]!r}")
    return said


if __name__ == "__main__":
    sys.exit(main())

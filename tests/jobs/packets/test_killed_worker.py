"""A worker is killed with a packet in its hands: is there exactly one packet in the end?

One web process and one worker carry the whole story: starting them is what takes long.
"""

import hashlib
import os
import signal
from pathlib import Path
from typing import Any

import pytest

from contractor.notices.models import Notice
from jobs.packets.models import Packet
from tests.clients import Caller
from tests.factories import survey_case
from tests.jobs.conftest import QUEUES
from tests.jobs.processes import Processes, call, until

pytestmark = [
    pytest.mark.real,
    pytest.mark.django_db(transaction=True),
    pytest.mark.timeout(150),
    pytest.mark.parametrize("processes", QUEUES, indirect=True),
]
PACKETS = "/api/v1/packets/"


class Asker:
    """Asks the running service for packets of one surveyed job, and looks what came of each."""

    def __init__(self, processes: Processes, token: str) -> None:
        self.folder, self.token = processes.folder, token
        self.port = processes.web()
        case = survey_case("fits")
        assert self.call("POST", "/api/v1/surveys/", case.body)[0] == 201
        self.job = case.opening.job.number
        self.renders = 0

    def call(self, method: str, path: str, body: Any = None, **headers: str) -> tuple[int, Any]:
        return call(self.port, method, path, self.token, body, **headers)

    def asked(self, kind: str) -> str:
        """Ask for a packet; returns its path."""
        body = {"job": self.job, "kind": kind}
        status, told = self.call("POST", PACKETS, body, Idempotency_Key=f"once-{kind}")
        assert status == 202
        return f"{PACKETS}{told['id']}/"

    def begun(self, path: str) -> int:
        """Wait until a child renders the packet; returns which process it is."""
        marker = self.folder / "rendering"
        child = until(lambda: marker.exists() and marker.read_text(), "the rendering")
        assert self.call("GET", path)[1]["state"] == "rendering"
        return int(child)

    def assert_once(self, path: str, *, renders: int) -> None:
        """The packet is done after so many tries: one file, one notice."""
        told = until(lambda: self._done(path), "the packet")
        assert told["attempts"] == renders
        status, pdf = self.call("GET", f"{path}file/")
        assert status == 200
        assert pdf.startswith(b"%PDF-")
        assert told["file_digest"] == "sha256:" + hashlib.sha256(pdf).hexdigest()
        self.renders += renders
        assert len((self.folder / "renders").read_text().splitlines()) == self.renders
        assert [one.read_bytes() for one in files(self.folder)].count(pdf) == 1
        assert Notice.objects.filter(type="packet.done", about=told["id"]).count() == 1

    def _done(self, path: str) -> Any:
        told = self.call("GET", path)[1]
        assert told["state"] != "failed", told
        return told if told["state"] == "done" else None


def files(folder: Path) -> list[Path]:
    return sorted((folder / "files").rglob("*.pdf"))


def test_a_killed_worker_neither_loses_a_packet_nor_doubles_it(
    processes: Processes, tablet: Caller
) -> None:
    worker, asker = processes.worker(), Asker(processes, tablet.token)

    path = asker.asked("install")
    os.kill(asker.begun(path), signal.SIGKILL)  # the child that renders
    asker.assert_once(path, renders=2)

    (processes.folder / "rendering").unlink()
    path = asker.asked("receiving")
    asker.begun(path)
    processes.kill(worker)  # the worker with all its children
    processes.worker()
    asker.assert_once(path, renders=2)

    asker.assert_once(asker.asked("claim"), renders=1)  # nobody is killed
    assert Packet.objects.count() == len(files(processes.folder)) == 3

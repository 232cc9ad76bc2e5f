"""A worker is killed with a packet in its hands: is there exactly one packet in the end?"""

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


def asked_for(processes: Processes, tablet: Caller) -> tuple[int, str]:
    """Survey an opening and ask for its packet over HTTP; returns the port and the packet's path."""
    case = survey_case("fits")
    port = processes.web()
    status, _ = call(port, "POST", "/api/v1/surveys/", tablet.token, case.body)
    assert status == 201
    body = {"job": case.opening.job.number}
    status, told = call(port, "POST", PACKETS, tablet.token, body, Idempotency_Key="packet-once")
    assert status == 202
    return port, f"{PACKETS}{told['id']}/"


def assert_one_packet(port: int, path: str, token: str, folder: Path, *, renders: int) -> None:
    told = until(lambda: done(port, path, token), "the packet")
    assert told["attempts"] == renders
    status, pdf = call(port, "GET", f"{path}file/", token)
    assert status == 200
    assert pdf.startswith(b"%PDF-")
    assert told["file_digest"] == "sha256:" + hashlib.sha256(pdf).hexdigest()
    assert len((folder / "renders").read_text().splitlines()) == renders
    assert [one.read_bytes() for one in (folder / "files").rglob("*.pdf")] == [pdf]
    assert Packet.objects.count() == 1
    assert Notice.objects.filter(type="packet.done").count() == 1


def done(port: int, path: str, token: str) -> Any:
    told = call(port, "GET", path, token)[1]
    assert told["state"] != "failed", told
    return told if told["state"] == "done" else None


@pytest.mark.parametrize("who", ["the whole worker", "the child that renders"])
def test_a_killed_worker_leaves_exactly_one_packet(
    processes: Processes, tablet: Caller, who: str
) -> None:
    worker = processes.worker()
    port, path = asked_for(processes, tablet)
    marker = processes.folder / "rendering"
    child = int(until(lambda: marker.exists() and marker.read_text(), "the rendering"))
    assert call(port, "GET", path, tablet.token)[1]["state"] == "rendering"
    if who == "the whole worker":
        processes.kill(worker)
        processes.worker()
    else:
        os.kill(child, signal.SIGKILL)
    assert_one_packet(port, path, tablet.token, processes.folder, renders=2)


def test_a_worker_that_lives_sets_a_packet_once(processes: Processes, tablet: Caller) -> None:
    (processes.folder / "rendering").write_text("nobody waits today")
    processes.worker()
    port, path = asked_for(processes, tablet)
    assert_one_packet(port, path, tablet.token, processes.folder, renders=1)

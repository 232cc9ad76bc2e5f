"""What becomes of a paper that takes too long, too much memory or too many pages? A reason one can read."""

import subprocess
import sys
from typing import Any

import pytest

from jobs.packets.limits import BREACHED
from jobs.packets.models import Packet
from jobs.packets.paper import render
from jobs.packets.services import packet_set
from tests.clients import Caller
from tests.jobs.processes import ROOT, Processes

PACKETS = "/api/v1/packets/"
TRY = "import django; django.setup(); from jobs.packets.services import packet_set; packet_set(key={})"


def tried(processes: Processes, packet: Packet, **limits: str) -> int:
    """Let a child like a worker's take the packet once; returns how it ended."""
    done = subprocess.run(
        [sys.executable, "-c", TRY.format(packet.pk)],
        cwd=ROOT, env={**processes.environment, **limits}, capture_output=True, timeout=60, check=False,
    )  # fmt: skip
    return done.returncode


def many_openings(packet: Packet, count: int) -> None:
    """Make a paper long: the same opening again and again, each with other words."""
    (one,) = packet.data["openings"]
    packet.data["openings"] = [{**one, "name": f"Bath {n}"} for n in range(count)]
    packet.save(update_fields=["data"])


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(
    ("limits", "why", "tried_before", "after"),
    [
        (
            {"PAPER_SECONDS": "0.05"},
            "It took longer than 0.05 s, the most that a paper may.",
            0,
            ("wanted", "queued", 1),
        ),
        (
            {"PAPER_MEGABYTES": "5"},
            "It took more than 5 MB of memory, the most that a paper may.",
            2,
            ("failed", "failed", 3),
        ),
    ],
    ids=["the first try, too long", "the last try, too much memory"],
)
def test_a_try_beyond_a_limit_ends_itself_and_tells_the_reason(
    processes: Processes,
    office: Caller,
    asked: Any,
    limits: dict[str, str],
    why: str,
    tried_before: int,
    after: tuple[str, str, int],
) -> None:
    packet = asked()
    many_openings(packet, 3)
    Packet.objects.update(attempts=tried_before)
    assert tried(processes, packet, **limits) == BREACHED
    told = office.get(f"{PACKETS}{packet.number}/").data
    assert (told["state"], told["stage"], told["attempts"]) == after
    assert told["trouble"] == why
    if told["state"] == "failed":
        office.post(f"{PACKETS}{packet.number}/retry/", seen=told["version"])
    assert packet_set(key=packet.pk)
    assert office.get(f"{PACKETS}{packet.number}/").data["state"] == "done"


def test_a_paper_of_too_many_pages_is_given_up_with_the_reason(
    office: Caller, asked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    packet = asked(kind="survey")
    monkeypatch.setattr(render, "MOST_PAGES", 2)
    for _ in range(3):
        assert packet_set(key=packet.pk) is False
    told = office.get(f"{PACKETS}{packet.number}/").data
    assert told["state"] == "failed"
    assert "pages, more than 2" in told["trouble"]

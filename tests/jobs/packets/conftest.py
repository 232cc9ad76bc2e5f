"""A job whose verdict fits, and a packet asked for by the office."""

from collections.abc import Callable
from typing import Any

import pytest

from jobs.jobs.models import Job
from jobs.packets.models import Packet
from tests.clients import Caller
from tests.factories import survey_case

PACKETS = "/api/v1/packets/"


@pytest.fixture
def job(office: Caller) -> Job:
    case = survey_case("fits")
    assert office.post("/api/v1/surveys/", case.body).status_code == 201
    made: Job = case.opening.job
    return made


@pytest.fixture
def asked(office: Caller, job: Job) -> Callable[..., Packet]:
    """Ask for a packet of the job; returns its row."""

    def ask(**body: Any) -> Packet:
        reply = office.post(PACKETS, {"job": job.number, **body})
        assert reply.status_code == 202, reply.content[:400]
        found: Packet = Packet.objects.get(pk=int(reply.data["id"].removeprefix("P-")))
        return found

    return ask

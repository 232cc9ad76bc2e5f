"""A tablet in a bathroom loses its line: is its survey there once, whole, and does it get its answer?"""

import contextlib
import http.client
import json
import socket
import threading
from collections.abc import Iterator
from typing import Any

import pytest

from jobs.bookings.models import Booking
from jobs.surveys.models import Reading, Survey
from jobs.verdicts.models import Verdict
from tests.clients import Caller
from tests.factories import CrewFactory, JobFactory, survey_case
from tests.jobs.processes import Processes, call, until

pytestmark = [pytest.mark.real, pytest.mark.django_db(transaction=True), pytest.mark.timeout(150)]
SURVEYS, BOOKINGS = "/api/v1/surveys/", "/api/v1/bookings/"
LOST = (http.client.RemoteDisconnected, ConnectionError)


class Line:
    """A line to the service that passes requests on and swallows the first replies."""

    def __init__(self, port: int, lost: int) -> None:
        self.behind, self.lost, self.swallowed = port, lost, 0
        self.door = socket.create_server(("127.0.0.1", 0))
        self.port: int = self.door.getsockname()[1]
        self.thread = threading.Thread(target=self._serve, daemon=True)
        self.thread.start()

    def _serve(self) -> None:
        with contextlib.suppress(OSError):
            while True:
                caller = self.door.accept()[0]
                with caller:
                    self._pass_on(caller)

    def _pass_on(self, caller: socket.socket) -> None:
        with socket.create_connection(("127.0.0.1", self.behind)) as service:
            service.sendall(self._whole(caller))
            reply = b""
            while piece := service.recv(65536):
                reply += piece
        if self.swallowed < self.lost:
            assert reply[9:12] == (b"200" if self.swallowed else b"201"), reply[:200]
            self.swallowed += 1
        else:
            caller.sendall(reply)

    def _whole(self, caller: socket.socket) -> bytes:
        """Read one request to its end, and ask the service to hang up after its reply."""
        data = b""
        while b"\r\n\r\n" not in data:
            data += caller.recv(65536)
        head, _, body = data.partition(b"\r\n\r\n")
        length = next(
            int(line.split(b":")[1])
            for line in head.lower().split(b"\r\n")
            if line.startswith(b"content-length:")
        )
        while len(body) < length:
            body += caller.recv(65536)
        return head + b"\r\nConnection: close\r\n\r\n" + body

    def close(self) -> None:
        self.door.close()


@contextlib.contextmanager
def line(port: int, lost: int) -> Iterator[Line]:
    made = Line(port, lost)
    try:
        yield made
    finally:
        made.close()


def send_until_answered(port: int, path: str, token: str, body: Any, **headers: str) -> Any:
    """Send as a tablet does: the same again until an answer comes; returns the answers and the losses."""
    for losses in range(10):
        try:
            status, told = call(port, "POST", path, token, body, **headers)
        except LOST:
            continue
        return status, told, losses
    raise AssertionError("no answer in ten tries")


def test_a_survey_whose_answer_was_lost_is_there_once(processes: Processes, tablet: Caller) -> None:
    case = survey_case("fits")
    port = processes.web()
    with line(port, 3) as cut:
        status, told, losses = send_until_answered(cut.port, SURVEYS, tablet.token, case.body)
    assert (status, losses, cut.swallowed) == (200, 3, 3)
    assert told["verdict"]["state"] == "fits"
    assert Survey.objects.count() == 1
    assert Verdict.objects.count() == 1
    assert Reading.objects.count() == len(case.body["readings"])


def test_a_booking_whose_answer_was_lost_is_there_once(
    processes: Processes, scheduler: Caller
) -> None:
    body = {
        "job": JobFactory().number,
        "crew": CrewFactory().slug,
        "visit": "survey",
        "starts_at": "2026-03-09T14:00:00Z",
        "ends_at": "2026-03-09T18:00:00Z",
    }
    port = processes.web()
    with line(port, 1) as cut:
        status, told, losses = send_until_answered(
            cut.port, BOOKINGS, scheduler.token, body, Idempotency_Key="this-booking-once"
        )
    assert (status, losses) == (201, 1)
    assert told["id"] == Booking.objects.get().number


@pytest.mark.parametrize("share", [0.1, 0.5, 0.99])
def test_a_survey_cut_off_on_its_way_leaves_nothing_and_is_taken_when_sent_again(
    processes: Processes, tablet: Caller, share: float
) -> None:
    case = survey_case("fits")
    port = processes.web()
    text = json.dumps(case.body).encode()
    head = (
        f"POST {SURVEYS} HTTP/1.1\r\nHost: 127.0.0.1\r\nAuthorization: Bearer {tablet.token}\r\n"
        f"Content-Type: application/json\r\nContent-Length: {len(text)}\r\n\r\n"
    ).encode()
    with socket.create_connection(("127.0.0.1", port)) as caller:
        caller.sendall(head + text[: int(len(text) * share)])
    until(lambda: call(port, "GET", "/health/live", tablet.token)[0] == 200, "the service")
    assert not Survey.objects.exists()
    status, told = call(port, "POST", SURVEYS, tablet.token, case.body)
    assert (status, told["verdict"]["state"]) == (201, "fits")
    assert Survey.objects.count() == 1

"""Does a program hear of every notice that it wants, signed, at its address, and nobody inside the house?"""

import json
import socket
import threading
from datetime import timedelta
from http.server import BaseHTTPRequestHandler, HTTPServer
from typing import Any

import pytest
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices import delivering, posting
from contractor.notices.delivering import RESTS, deliveries_due, deliveries_plan, delivery_send
from contractor.notices.models import Delivery, Endpoint, Notice
from contractor.notices.posting import Refused, looked_up
from contractor.notices.services import notice_record
from contractor.notices.signing import secret_make, signature_of
from tests.clients import Caller, assert_problem
from tests.factories import DeliveryFactory, EndpointFactory
from tests.schema_check import schema
from tests.threads import in_parallel

HOOKS, LOG = "/api/v1/webhooks/", "/api/v1/deliveries/"


@pytest.fixture(autouse=True)
def _sees_its_own_notices(request: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Within a test's own transaction PostgreSQL settles nothing; plan all the same."""
    marker = request.node.get_closest_marker("django_db")
    if marker is None or not marker.kwargs.get("transaction"):
        after = lambda position: Notice.objects.filter(pk__gt=position).order_by("pk")  # noqa: E731
        monkeypatch.setattr(delivering, "settled_after", after)


@pytest.fixture
def answers(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """What the other side answers, one a post; a text is an error."""
    told: list[Any] = []

    def post(*sent: Any) -> int:
        answer = told.pop(0)
        if isinstance(answer, str):
            raise OSError(answer)
        return int(answer)

    monkeypatch.setattr(delivering, "post", post)
    return told


def happened(type: str = "booking.made", **values: Any) -> Notice:
    return notice_record(by=SYSTEM, type=type, about="B-0001", **values)


def test_a_signature_is_the_one_of_the_standard_s_test_vector() -> None:
    """Source: test vector of the Standard Webhooks libraries, read as quoted by several of their users."""
    signature = signature_of(
        secret="whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw",
        key="msg_p5jXN8AQM9LWM0D4loKWxJek",
        timestamp=1614265330,
        body=b'{"test": 2432232314}',
    )
    assert signature == "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE="


def test_a_notice_arrives_signed_with_old_and_new(db: None, settings: Any) -> None:
    settings.WEBHOOK_PRIVATE = True
    got: list[tuple[dict[str, str], bytes]] = []

    class Receiver(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"]))
            got.append(({k.lower(): v for k, v in self.headers.items()}, body))
            self.send_response(204)
            self.end_headers()

        def log_message(self, *_: Any) -> None:
            """Say nothing."""

    server = HTTPServer(("127.0.0.1", 0), Receiver)
    threading.Thread(target=server.handle_request, daemon=True).start()
    endpoint = EndpointFactory(address=f"http://127.0.0.1:{server.server_port}/in?x=1")
    notice = happened(changes={"crew": ["heron", "otter"]}, reason="Ámbar")
    now = timezone.now()
    deliveries_plan(now=now)
    (key,) = deliveries_due(now=now)
    assert delivery_send(key=key, now=now) is True
    server.server_close()
    ((headers, body),) = got
    assert json.loads(body)["data"]["changes"] == {"crew": ["heron", "otter"]}
    assert json.loads(body)["data"]["reason"] == "Ámbar"
    assert headers["webhook-id"] == str(notice.event)
    timestamp = int(headers["webhook-timestamp"])
    assert abs(timestamp - now.timestamp()) < 2
    expected = signature_of(
        secret=endpoint.secret, key=str(notice.event), timestamp=timestamp, body=body
    )
    assert headers["webhook-signature"] == expected
    assert Delivery.objects.get().status_code == 204


def test_only_the_wanted_types_from_now_on_and_each_once(office: Caller) -> None:
    happened()
    body = {"name": "Board", "address": "https://hooks.example.com/in", "types": ["booking.made"]}
    row = office.post(HOOKS, body).data
    assert row["token"].startswith("whsec_")
    assert office.get(row["url"]).data["token"] == ""
    happened()
    happened("booking.moved")
    now = timezone.now()
    deliveries_plan(now=now)
    deliveries_plan(now=now)
    Endpoint.objects.update(position=0)
    deliveries_plan(now=now)
    told = office.get(LOG).data["results"]
    assert {one["type"] for one in told} == {"booking.made"}
    assert len({one["event"] for one in told}) == len(told)


def test_what_is_not_taken_is_tried_for_days_then_given_up(db: None, answers: list[Any]) -> None:
    row = DeliveryFactory(next_try=timezone.now())
    now = timezone.now()
    for rest in RESTS:
        answers.append(503)
        assert delivery_send(key=row.pk, now=now) is False
        row.refresh_from_db()
        assert (row.state, row.trouble, row.next_try) == ("waiting", "It answered 503.", now + rest)
        assert delivery_send(key=row.pk, now=now) is False
        now += rest
    answers.append("nobody there")
    delivery_send(key=row.pk, now=now)
    row.refresh_from_db()
    assert (row.state, row.trouble, answers) == ("failed", "nobody there", [])
    assert sum(RESTS, timedelta()) > timedelta(days=3)


def test_gone_turns_the_endpoint_off_and_says_so(office: Caller, answers: list[Any]) -> None:
    row = DeliveryFactory(next_try=timezone.now())
    other = DeliveryFactory(endpoint=row.endpoint, next_try=timezone.now())
    answers.append(410)
    delivery_send(key=row.pk)
    assert delivery_send(key=other.pk) is False
    told = office.get(f"{HOOKS}{row.endpoint.number}/").data
    assert (told["is_on"], told["off_why"]) == (False, "It answered 410: gone for good.")
    assert Notice.objects.filter(type="webhook.turned_off").count() == 1
    again = office.patch(told["url"], {"is_on": True}, seen=told["version"]).data
    assert (again["is_on"], again["off_why"]) == (True, "")
    answers.append(200)
    assert delivery_send(key=other.pk) is True


def test_a_settled_one_is_sent_again_a_waiting_one_is_not(
    office: Caller, answers: list[Any]
) -> None:
    row = DeliveryFactory(state="failed", attempts=10)
    path = f"{LOG}{row.number}/resend/"
    assert office.post(path, seen="*").data["state"] == "waiting"
    assert_problem(office.post(path, seen="*"), 409, "delivery_waits")
    answers.append(200)
    assert delivery_send(key=row.pk) is True


@pytest.mark.django_db(transaction=True)
def test_two_workers_post_one_delivery_once(answers: list[Any]) -> None:
    row = DeliveryFactory(next_try=timezone.now())
    answers += [200, 200]
    assert sorted(in_parallel(2, lambda n: delivery_send(key=row.pk))) == [False, True]
    assert len(answers) == 1


@pytest.mark.parametrize(
    "address",
    [
        "127.0.0.1",
        "10.1.2.3",
        "169.254.169.254",
        "::1",
        "fd00::1",
        "::ffff:192.168.1.1",
        "224.0.0.1",
    ],
)
def test_the_house_s_own_network_is_not_posted_to(
    monkeypatch: pytest.MonkeyPatch, address: str
) -> None:
    both = [(0, 0, 0, "", ("93.184.215.14", 443)), (0, 0, 0, "", (address, 443))]
    monkeypatch.setattr(posting.socket, "getaddrinfo", lambda *a, **k: both)
    with pytest.raises(Refused, match="not on the public net"):
        looked_up("sly.example.com", 443)


def test_the_address_that_was_looked_at_is_the_one_that_is_called(
    monkeypatch: pytest.MonkeyPatch, settings: Any
) -> None:
    """A name that answers otherwise the second time is not asked a second time."""
    settings.WEBHOOK_PRIVATE = True
    called = []

    def connect(where: tuple[str, int], *_: Any) -> socket.socket:
        called.append(where)
        raise OSError("not in a test")

    found = [(0, 0, 0, "", ("93.184.215.14", 80))]
    monkeypatch.setattr(posting.socket, "getaddrinfo", lambda *a, **k: found)
    monkeypatch.setattr(posting.socket, "create_connection", connect)
    with pytest.raises(OSError, match="not in a test"):
        posting.post("http://sly.example.com/in", b"{}", {})
    assert called == [("93.184.215.14", 80)]


@pytest.mark.parametrize(
    "address", ["http://hooks.example.com/in", "https://user@hooks.example.com/", "ftp://x.example"]
)
def test_an_address_that_would_never_be_posted_to_is_refused(office: Caller, address: str) -> None:
    answer = office.post(HOOKS, {"name": "Board", "address": address})
    assert_problem(answer, 400, answer.json()["code"], "/address")


def test_no_two_secrets_are_alike() -> None:
    assert len({secret_make() for _ in range(50)}) == 50


def test_the_description_tells_what_is_posted(db: None) -> None:
    told = schema()["webhooks"]["notice"]["post"]
    body = told["requestBody"]["content"]["application/json"]["schema"]
    assert set(body["required"]) == set(delivering.payload_of(happened()))
    assert {one["name"] for one in told["parameters"]} == {
        "webhook-id",
        "webhook-timestamp",
        "webhook-signature",
    }

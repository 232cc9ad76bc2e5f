"""What if a render fails, two workers want one packet, or a worker dies with it in its hands?"""

from datetime import timedelta
from typing import Any

import pytest
from django.db import OperationalError
from django.utils import timezone

from contractor.notices.models import Notice
from jobs.packets import services
from jobs.packets.models import Packet
from jobs.packets.services import PAPERS, packet_set, packets_waiting
from jobs.packets.tasks import render, sweep
from tests.clients import Caller, assert_problem
from tests.threads import in_parallel

PACKETS = "/api/v1/packets/"


class Trouble(Exception):
    """A rendering that goes wrong."""


def failing(*args: Any, **kwargs: Any) -> bytes:
    raise Trouble("no such font")


def notices(packet: Packet, kind: str) -> int:
    return Notice.objects.filter(type=kind, about=packet.number).count()


def test_three_failures_give_a_packet_up_with_the_reason(
    office: Caller, asked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    packet = asked()
    monkeypatch.setattr(services, "packet_render", failing)
    states = []
    for _ in range(4):
        assert packet_set(key=packet.pk) is False
        packet.refresh_from_db()
        states.append((packet.state, packet.attempts))
    assert states == [("wanted", 1), ("wanted", 2), ("failed", 3), ("failed", 3)]
    told = office.get(f"{PACKETS}{packet.number}/").data
    assert (told["state"], told["trouble"]) == ("failed", "no such font")
    assert notices(packet, "packet.failed") == 1
    assert packets_waiting(now=timezone.now()) == []


def test_each_stage_is_told_with_its_percent_and_holds_the_packet_longer(
    office: Caller, asked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    packet = asked(kind="handover")
    told = [office.get(f"{PACKETS}{packet.number}/").data]
    own = services._reach

    def watched(row: Packet, stage: str) -> None:
        told.append(office.get(f"{PACKETS}{packet.number}/").data)
        before = Packet.objects.values_list("lease_until", flat=True).get(pk=row.pk)
        own(row, stage)
        told.append(office.get(f"{PACKETS}{packet.number}/").data)
        after = Packet.objects.values_list("lease_until", flat=True).get(pk=row.pk)
        assert before is not None
        assert after > before

    monkeypatch.setattr(services, "_reach", watched)
    assert packet_set(key=packet.pk) is True
    told.append(office.get(f"{PACKETS}{packet.number}/").data)
    stages = list(dict.fromkeys((one["stage"], one["percent"]) for one in told))
    assert stages == [
        ("queued", 0), ("claimed", 10), ("drawing", 20), ("setting", 50), ("storing", 90), ("done", 100),
    ]  # fmt: skip


def test_a_worker_whose_lease_was_taken_stops_without_a_word(
    asked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    packet = asked(kind="handover")
    own = services._reach

    def robbed(row: Packet, stage: str) -> None:
        Packet.objects.filter(pk=row.pk).update(attempts=2)
        own(row, stage)

    monkeypatch.setattr(services, "_reach", robbed)
    assert packet_set(key=packet.pk) is False
    packet.refresh_from_db()
    assert (packet.state, packet.stage, packet.trouble) == ("rendering", "claimed", "")


def test_a_packet_given_up_is_tried_again_when_asked(
    office: Caller, asked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    packet = asked()
    path = f"{PACKETS}{packet.number}/retry/"
    assert_problem(office.post(path, seen=packet.version), 409, "not_failed")
    with monkeypatch.context() as patched:
        patched.setattr(services, "packet_render", failing)
        for _ in range(3):
            packet_set(key=packet.pk)
    packet.refresh_from_db()
    assert_problem(office.post(path), 428, "version_missing")
    assert_problem(office.post(path, seen=1), 412, "version_stale")
    reply = office.post(path, seen=packet.version)
    assert (reply.status_code, reply.data["state"], reply.data["attempts"]) == (200, "wanted", 0)
    assert reply.data["trouble"] == ""
    assert packet_set(key=packet.pk) is True


def test_a_file_that_cannot_be_stored_is_a_failed_try(
    asked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    packet = asked()
    storage = Packet._meta.get_field("file").storage

    def full(*args: Any, **kwargs: Any) -> str:
        raise OSError("No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(storage, "save", full)
        assert packet_set(key=packet.pk) is False
    packet.refresh_from_db()
    assert (packet.state, packet.lease_until) == ("wanted", None)
    assert "No space" in packet.trouble
    assert packet_set(key=packet.pk) is True


def test_a_packet_in_a_living_workers_hands_is_left_alone(asked: Any) -> None:
    packet = asked()
    now = timezone.now()
    assert PAPERS.claim(key=packet.pk, now=now)
    assert packets_waiting(now=now) == []
    assert packet_set(key=packet.pk, now=now + PAPERS.lease / 2) is False
    assert sweep() == 0


def test_the_sweep_takes_up_a_packet_whose_worker_died(asked: Any) -> None:
    packet = asked()
    long_ago = timezone.now() - PAPERS.lease - timedelta(seconds=1)
    assert PAPERS.claim(key=packet.pk, now=long_ago)
    assert sweep() == 1
    packet.refresh_from_db()
    assert (packet.state, packet.attempts) == ("done", 2)


def test_a_packet_that_kills_its_worker_three_times_is_given_up(asked: Any) -> None:
    packet = asked()
    now = timezone.now()
    for _ in range(3):
        assert PAPERS.claim(key=packet.pk, now=now)
        now += PAPERS.lease + timedelta(seconds=1)
    assert packet_set(key=packet.pk, now=now) is False
    packet.refresh_from_db()
    assert (packet.state, packet.trouble) == ("failed", "The worker died three times.")
    assert notices(packet, "packet.failed") == 1


def test_a_worker_that_lost_its_lease_marks_nothing_and_leaves_no_file(asked: Any) -> None:
    packet = asked()
    long_ago = timezone.now() - PAPERS.lease - timedelta(seconds=1)
    assert PAPERS.claim(key=packet.pk, now=long_ago)
    slow = Packet.objects.get(pk=packet.pk)
    assert packet_set(key=packet.pk) is True
    done = Packet.objects.get(pk=packet.pk)
    assert services._finish(slow, b"%PDF-late") is False
    after = Packet.objects.get(pk=packet.pk)
    assert (after.file.name, after.file_digest) == (done.file.name, done.file_digest)
    folder = done.file.name.rpartition("/")[0]
    files = [one for one in done.file.storage.listdir(folder)[1] if done.code in one]
    assert files == [done.file.name.rpartition("/")[2]]
    assert notices(packet, "packet.done") == 1


@pytest.mark.django_db(transaction=True)
def test_two_workers_render_one_packet_once(asked: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    rendered: list[int] = []
    own = services.packet_render

    def counting(*args: Any, **kwargs: Any) -> bytes:
        rendered.append(1)
        return own(*args, **kwargs)

    monkeypatch.setattr(services, "packet_render", counting)
    packet = asked()
    answers = in_parallel(4, lambda n: render(packet.pk) if n % 2 else sweep() == 1)
    assert sorted(answers) == [False, False, False, True]
    assert len(rendered) == 1
    assert notices(packet, "packet.done") == 1


@pytest.mark.django_db(transaction=True)
def test_a_queue_that_does_not_answer_fails_no_request(
    office: Caller, job: Any, monkeypatch: pytest.MonkeyPatch, settings: Any
) -> None:
    from celery import current_app

    def dead(*args: Any, **kwargs: Any) -> None:
        raise OperationalError("the broker is away")

    settings.CELERY_TASK_ALWAYS_EAGER = True
    monkeypatch.setattr(current_app.tasks["packets.render"], "apply_async", dead)
    reply = office.post(PACKETS, {"job": job.number})
    assert reply.status_code == 202
    assert sweep() == 1
    assert office.get(reply.data["url"]).data["state"] == "done"

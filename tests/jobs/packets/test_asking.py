"""Is a packet answered at once, rendered once, frozen, and its paper's age told to whoever holds it?"""

import hashlib
from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from contractor.customers.models import Site
from contractor.notices.models import Notice
from jobs.packets.models import Packet
from jobs.packets.services import digest_of, packet_set
from tests.clients import Caller, assert_problem, twin
from tests.factories import CrewFactory, OpeningFactory, survey_body
from tests.threads import in_parallel

PACKETS, BOOKINGS = "/api/v1/packets/", "/api/v1/bookings/"


def url(packet: Packet) -> str:
    return f"{PACKETS}{packet.number}/"


def test_asking_is_answered_202_with_a_status_to_watch(office: Caller, job: Any) -> None:
    reply = office.post(PACKETS, {"job": job.number})
    assert reply.status_code == 202
    assert reply["Location"] == reply.data["url"]
    assert reply["Retry-After"] == "1"
    assert (reply.data["state"], reply.data["percent"]) == ("wanted", 0)
    assert reply.data["file_url"] == ""
    assert office.get(reply["Location"]).data == reply.data


def test_the_file_comes_only_when_it_is_done_and_is_what_its_digest_says(
    office: Caller, asked: Any
) -> None:
    packet = asked()
    problem = assert_problem(office.get(f"{url(packet)}file/"), 409, "packet_not_ready")
    assert "wanted" in problem["detail"]
    assert packet_set(key=packet.pk) is True
    told = office.get(url(packet)).data
    assert (told["state"], told["percent"], told["attempts"]) == ("done", 100, 1)
    file = office.get(told["file_url"])
    data = b"".join(file.streaming_content)
    assert data.startswith(b"%PDF-")
    assert file["Content-Type"] == "application/pdf"
    assert told["file_digest"] == "sha256:" + hashlib.sha256(data).hexdigest()
    assert Notice.objects.filter(type="packet.done", about=packet.number).count() == 1


def test_a_packet_is_kept_wherever_djangos_storage_puts_it(
    office: Caller, asked: Any, settings: Any
) -> None:
    """In memory, as it might be in a bucket: no file is written here."""
    elsewhere = {"BACKEND": "django.core.files.storage.InMemoryStorage"}
    settings.STORAGES = {**settings.STORAGES, "default": elsewhere}
    packet = asked(kind="handover")
    assert packet_set(key=packet.pk) is True
    told = office.get(url(packet)).data
    data = b"".join(office.get(told["file_url"]).streaming_content)
    assert told["file_digest"] == "sha256:" + hashlib.sha256(data).hexdigest()
    name = Packet.objects.get(pk=packet.pk).file.name
    assert name
    assert not (settings.DATA_DIR / "files" / name).exists()


def test_what_a_packet_holds_is_frozen_when_it_is_asked_for(
    office: Caller, asked: Any, job: Any
) -> None:
    packet = asked()
    before = packet.data
    Site.objects.filter(pk=job.site_id).update(street_address="1 Elsewhere Lane", access_notes="!")
    opening = job.openings.get()
    office.post("/api/v1/surveys/", survey_body(opening, "osquith-tillybeck:1", notes="Again."))
    packet_set(key=packet.pk)
    packet.refresh_from_db()
    assert packet.data == before
    assert packet.digest == digest_of(before)
    assert "Elsewhere" not in str(packet.data)
    newer = asked()
    assert newer.data["site"]["address_lines"][0] == "1 Elsewhere Lane"


def test_a_packet_of_a_booking_names_crew_and_time_of_the_site(
    office: Caller, asked: Any, job: Any
) -> None:
    crew = CrewFactory(name="Heron")
    booking = office.post(BOOKINGS, {
        "job": job.number, "crew": crew.slug, "visit": "install",
        "local_start": "2026-03-09T09:00", "local_end": "2026-03-09T13:00",
    }).data  # fmt: skip
    reply = office.post(PACKETS, {"booking": booking["id"], "paper": "a4"})
    packet = Packet.objects.get(pk=int(reply.data["id"].removeprefix("P-")))
    assert packet.data["booking"]["start"] == "2026-03-09T09:00-04:00"
    assert packet.data["booking"]["crew"] == "Heron"
    assert len(packet.data["booking"]["members"]) == 2
    assert packet_set(key=packet.pk) is True
    office.post(f"{booking['url']}cancel/", {"why": "Away."}, seen=1)
    reply = office.post(PACKETS, {"booking": booking["id"]})
    assert_problem(reply, 409, "booking_cancelled", "/booking")


def test_a_job_without_a_verdict_has_no_packet(office: Caller) -> None:
    opening = OpeningFactory()
    assert_problem(office.post(PACKETS, {"job": opening.job.number}), 409, "no_verdict")
    assert not Packet.objects.exists()


@pytest.mark.parametrize("body", [{}, {"job": "J-0001", "booking": "B-0001"}])
def test_a_packet_is_of_a_job_or_of_a_booking(office: Caller, body: Any, job: Any) -> None:
    assert office.post(PACKETS, body).status_code == 400
    assert not Packet.objects.exists()


def test_asking_twice_with_one_key_makes_one_packet(tablet: Caller, job: Any) -> None:
    replies = [tablet.post(PACKETS, {"job": job.number}, key="one-packet-please") for _ in range(2)]
    assert [one.status_code for one in replies] == [202, 202]
    assert replies[0].json() == replies[1].json()
    assert replies[1]["Idempotency-Replayed"] == "true"
    assert Packet.objects.count() == 1


def test_a_newer_packet_supersedes_the_older_and_its_paper_says_so_to_anybody(
    anonymous: Caller, asked: Any
) -> None:
    older = asked()
    assert anonymous.get(f"/p/{older.code}").data == {
        "packet": older.number, "says": "current", "superseded_by": "", "because": "",
    }  # fmt: skip
    newer = asked()
    told = anonymous.get(f"/p/{older.code.lower()}").data
    assert (told["says"], told["superseded_by"]) == ("superseded", newer.number)
    assert told["because"]
    assert anonymous.get(f"/p/{newer.code}").data["says"] == "current"


def test_the_code_on_the_paper_tells_a_stranger_nothing_else(
    anonymous: Caller, asked: Any, job: Any
) -> None:
    packet = asked()
    reply = anonymous.get(f"/p/{packet.code}")
    assert set(reply.data) == {"packet", "says", "superseded_by", "because"}
    text = reply.content.decode()
    customer = job.site.customer
    for secret in (
        customer.name,
        customer.phone,
        customer.email,
        job.site.street_address,
        job.summary,
    ):
        assert secret
        assert secret not in text
    assert_problem(anonymous.get(url(packet)), 401, "not_authenticated")
    assert_problem(anonymous.get(f"{url(packet)}file/"), 401, "not_authenticated")


@pytest.mark.parametrize("code", ["AAAA-AAAA", "nonsense", "x", "A" * 300, "%00"])
def test_a_code_that_is_on_no_paper_is_not_found(anonymous: Caller, code: str, db: None) -> None:
    assert_problem(anonymous.get(f"/p/{code}"), 404, "not_found")


def test_a_tablet_of_another_crew_finds_neither_packet_nor_booking(
    office: Caller, tablet: Caller, job: Any
) -> None:
    crew = CrewFactory()
    booking = office.post(BOOKINGS, {
        "job": job.number, "crew": crew.slug, "visit": "install",
        "local_start": "2026-03-09T09:00", "local_end": "2026-03-09T13:00",
    }).data  # fmt: skip
    packet = office.post(PACKETS, {"booking": booking["id"]}).data
    assert_problem(tablet.get(packet["url"]), 404, "not_found")
    assert_problem(tablet.get(f"{packet['url']}file/"), 404, "not_found")
    foreign = tablet.post(PACKETS, {"booking": booking["id"]})
    absent = tablet.post(PACKETS, {"booking": "B-9999"})
    for reply in (foreign, absent):
        assert_problem(reply, 400, "does_not_exist", "/booking")


@pytest.mark.django_db(transaction=True)
def test_of_packets_asked_for_at_once_one_is_current(office: Caller, job: Any) -> None:
    ask = {"job": job.number}
    replies = in_parallel(4, lambda n: twin(office).post(PACKETS, ask))
    assert [one.status_code for one in replies] == [202] * 4
    assert Packet.objects.filter(superseded_by=None).count() == 1


def test_a_packet_waits_for_the_sweep_when_no_message_arrives(asked: Any) -> None:
    from jobs.packets.tasks import sweep

    packet = asked()
    assert sweep() == 1
    packet.refresh_from_db()
    assert packet.state == "done"
    assert packet.done_at is not None
    assert packet.done_at - timezone.now() < timedelta(seconds=5)
    assert sweep() == 0

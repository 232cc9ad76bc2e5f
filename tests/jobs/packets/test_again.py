"""Does a week's paper come out the same again, and is it said when it does not?"""

import io
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from jobs.packets.again import week_span
from jobs.packets.models import Packet
from jobs.packets.services import packet_set


def run(**options: Any) -> str:
    told = io.StringIO()
    call_command("render_packets", stdout=told, stderr=io.StringIO(), **options)
    return told.getvalue()


def week_of(packet: Packet) -> str:
    year, week, _ = packet.asked_at.isocalendar()
    return f"{year}-W{week:02d}"


@pytest.fixture
def done(asked: Any) -> Packet:
    packet = asked(kind="handover")
    assert packet_set(key=packet.pk)
    packet.refresh_from_db()
    return packet


def test_a_week_is_set_again_with_the_same_bytes_and_nothing_changes(done: Packet) -> None:
    before = Packet.objects.filter(pk=done.pk).values().get()
    assert run(week=week_of(done)) == "1 packets: 1 same bytes.\n"
    assert Packet.objects.filter(pk=done.pk).values().get() == before
    assert run(week="2019-W07") == "0 packets: nothing to do.\n"


def test_a_lost_file_is_put_back_but_not_on_a_dry_run(done: Packet) -> None:
    storage, name = done.file.storage, done.file.name
    storage.delete(name)
    assert run(week=week_of(done), dry_run=True) == "1 packets: 1 file missing.\n"
    assert not storage.exists(name)
    assert run(week=week_of(done)) == "1 packets: 1 file restored.\n"
    assert storage.exists(name)


def test_a_packet_that_gives_other_bytes_is_named(done: Packet) -> None:
    Packet.objects.filter(pk=done.pk).update(file_digest="sha256:" + "0" * 64)
    with pytest.raises(CommandError, match=f"{done.number}: other bytes"):
        run(week=week_of(done))


def test_a_packet_that_cannot_be_set_is_named_with_the_reason(done: Packet) -> None:
    Packet.objects.filter(pk=done.pk).update(data={**done.data, "made_at": "never"})
    with pytest.raises(CommandError, match=f"{done.number}: not set: made_at is 'never'"):
        run(week=week_of(done))


@pytest.mark.parametrize("week", ["2026-W54", "2026-48", "soon", ""])
def test_what_is_no_week_is_refused(week: str, db: None) -> None:
    with pytest.raises(CommandError, match="write one as 2026-W48"):
        run(week=week)


def test_an_iso_week_begins_on_monday() -> None:
    start, end = week_span("2026-W48")
    assert (start.isoformat(), (end - start).days) == ("2026-11-23T00:00:00+00:00", 7)

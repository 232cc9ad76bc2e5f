"""Is there paper for every kind of visit, and does it ask for what that visit needs?"""

import io
from typing import Any

import pypdf
import pytest

from jobs.packets.models import Kind, Packet
from jobs.packets.services import packet_set
from tests.clients import Caller, assert_problem
from tests.factories import OpeningFactory, kit_published

PACKETS = "/api/v1/packets/"


def text_of(packet: Packet) -> str:
    assert packet_set(key=packet.pk), Packet.objects.get(pk=packet.pk).trouble
    with Packet.objects.get(pk=packet.pk).file.open() as file:
        reader = pypdf.PdfReader(io.BytesIO(file.read()))
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


@pytest.mark.parametrize("kind", Kind.values)
def test_every_kind_of_paper_carries_its_numbers(asked: Any, job: Any, kind: str) -> None:
    packet = asked(kind=kind)
    text = text_of(packet)
    for words in (packet.number, packet.code, job.number, packet.data["made_at"], "page 1 of"):
        assert words in text, words


def test_a_survey_packet_asks_for_the_readings_of_the_wanted_kit(office: Caller) -> None:
    opening = OpeningFactory(kit=kit_published())
    reply = office.post(PACKETS, {"job": opening.job.number, "kind": "survey", "paper": "a4"})
    packet = Packet.objects.get(pk=int(reply.data["id"].removeprefix("P-")))
    plan = packet.data["openings"][0]["plan"]
    heights = {one["height"] for one in plan if one["quantity"] == "width"}
    text = text_of(packet)
    assert len(heights) >= 2
    for height in heights:
        assert f"width at {height}" in text
    assert "reader 2" in text


def test_a_survey_packet_of_no_kit_says_how_to_read_each_quantity(office: Caller) -> None:
    opening = OpeningFactory()
    reply = office.post(PACKETS, {"job": opening.job.number, "kind": "survey"})
    text = text_of(Packet.objects.get(pk=int(reply.data["id"].removeprefix("P-"))))
    assert "No kit is wanted yet" in text
    for words in ("near head-rail height", "leans in (+) or away", "Start at the tape's 0"):
        assert words in text


def test_a_receiving_packet_lists_every_panel_and_how_to_claim(asked: Any) -> None:
    packet = asked(kind="receiving")
    opening = packet.data["openings"][0]
    text = text_of(packet)
    for panel in opening["verdict"]["panels"]:
        assert f"{panel['width']} × {panel['height']} × {panel['thickness']}" in text
    assert opening["inputs"]["sheet"]["claim"]["contact"] in text


def test_labels_may_be_printed_on_label_stock_and_nothing_else(
    office: Caller, asked: Any, job: Any
) -> None:
    packet = asked(kind="labels", paper="label")
    labels = len(packet.data["openings"][0]["verdict"]["panels"])
    assert text_of(packet).count(packet.code) >= 2 * labels
    refused = office.post(PACKETS, {"job": job.number, "paper": "label"})
    assert_problem(refused, 400, "labels_only", "/paper")


def test_two_kinds_of_one_job_do_not_supersede_each_other(asked: Any) -> None:
    asked(kind="receiving")
    asked(kind="labels")
    assert not Packet.objects.exclude(superseded_by=None).exists()

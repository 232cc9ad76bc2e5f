"""Is there paper for every kind of visit, and does it ask for what that visit needs?"""

import io
from decimal import Decimal
from typing import Any

import pypdf
import pytest
from django.utils import timezone

from contractor.api.callers import SYSTEM
from fitcheck.kits.models import Kit
from jobs.claims.services import claim_open, claim_settle, evidence_add, statement_add
from jobs.packets.age import CLAIMED, ORDERED, paper_overtaken
from jobs.packets.models import Kind, Packet
from jobs.packets.services import packet_set
from jobs.receiving.models import Delivery, Inspection, Line
from tests.clients import Caller, assert_problem
from tests.factories import MemberFactory, OpeningFactory, fresh_uuid, kit_published
from tests.goods import ArrivalFactory, OrderFactory

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


def ordered(office: Caller, job: Any) -> dict[str, Any]:
    job.openings.update(kit=Kit.objects.get())
    reply = office.post("/api/v1/orders/", {
        "job": job.number, "kind": "kit", "reference": "TB-77", "expected_on": "2026-12-04",
    })  # fmt: skip
    assert reply.status_code == 201, reply.content[:400]
    return dict(reply.data)


def test_a_receiving_packet_lists_what_is_on_order_piece_by_piece(
    office: Caller, asked: Any, job: Any
) -> None:
    order = ordered(office, job)
    text = text_of(asked(kind="receiving"))
    assert f"On order: {order['id']}, {order['supplier']}, their number TB-77" in text
    assert "expected 04 Dec 2026" in text
    assert len(order["lines"]) > 4
    for line in order["lines"]:
        assert f"{order['id']} · {line['id']}" in text
        if line["what"] == "panel":
            for figure in filter(None, (line["size"], line["mass"])):
                assert figure in text


def test_what_is_here_and_sound_is_not_awaited_again(office: Caller, asked: Any, job: Any) -> None:
    ordered(office, job)
    panel, *rest = Line.objects.order_by("pk")
    delivery = Delivery.objects.create(
        id=fresh_uuid(), order=panel.order, carrier="Road", arrived_at=timezone.now(),
        received_by=MemberFactory(), packaging="sound",
    )  # fmt: skip
    Inspection.objects.create(
        id=fresh_uuid(), delivery=delivery, line=panel, condition="sound", count=1,
        inspected_at=timezone.now(),
    )  # fmt: skip
    text = text_of(asked(kind="receiving"))
    assert "Here and sound already: 1 × panel inner." in text
    assert panel.number not in text
    assert all(one.number in text for one in rest)


def test_goods_of_an_opening_without_a_verdict_are_received_too(
    office: Caller, anonymous: Caller
) -> None:
    opening = OpeningFactory()
    line = {"opening": opening.number, "what": "panel", "name": "screen", "size": "900 mm × 2 m"}
    body = {"job": opening.job.number, "kind": "glass", "supplier": "Yarrow (invented)"}
    order = office.post("/api/v1/orders/", {**body, "lines": [line]})
    assert order.status_code == 201, order.content[:400]
    packet = {"job": opening.job.number, "kind": "receiving"}
    reply = office.post(PACKETS, packet)
    assert reply.status_code == 202, reply.content[:400]
    text = text_of(Packet.objects.get(pk=int(reply.data["id"].removeprefix("P-"))))
    assert "screen 900 mm × 2 m" in text
    assert "No kit has been chosen" not in text
    scanned = f"/p/{reply.data['code']}"
    assert anonymous.get(scanned).data["says"] == "current"
    told = office.get(order.data["url"]).data
    office.post(f"{order.data['url']}cancel/", {"why": "Wrong size."}, seen=told["version"])
    assert anonymous.get(scanned).data["because"] == ORDERED


def test_a_claim_s_paper_tells_its_other_side_everything_but_what_the_firm_paid(
    asked: Any, job: Any
) -> None:
    claim = claim_open(
        by=SYSTEM,
        job=job,
        kind="damage",
        against="carrier",
        party="Bramblewick Freight",
        summary="Corner of the inner panel gone",
        delivery=ArrivalFactory(order=OrderFactory(job=job), waybill="BW-77120"),
        evidence=[{"photo": "ab" * 32, "author": "Sunniva Holt", "note": "The corner, close."}],
    )
    statement_add(by=SYSTEM, claim=claim, party="carrier", name="Ivo Brandt", text="It stood.")
    claim_settle(
        by=SYSTEM,
        claim=claim,
        outcome="paid",
        says="In full.",
        cost=Decimal("913.57"),
        currency="USD",
    )
    packet = asked(kind="claim")
    text = text_of(packet)
    for words in (
        claim.number,
        "Bramblewick Freight",
        "BW-77120",
        "The corner, close.",
        "Sunniva Holt",
        "abababababababab (not here yet)",
        "Ivo Brandt",
        "It stood.",
        "Settled: Paid",
        "49 USC 14706",
    ):
        assert words in text, words
    assert "913.57" not in text
    assert "USD" not in text
    assert paper_overtaken(packet=packet) == ""
    evidence_add(by=SYSTEM, claim=claim, note="One more look.")
    assert paper_overtaken(packet=Packet.objects.get(pk=packet.pk)) == CLAIMED

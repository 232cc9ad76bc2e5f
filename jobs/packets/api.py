"""Packets over HTTP: ask, watch, fetch, and look up the code on the paper."""

import re
from datetime import datetime, timedelta
from typing import Any

from django.http import FileResponse
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE, OFFICE, TABLET
from contractor.api.desk import Banner, Desk, Show, Task
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.numbers import key_reader
from contractor.api.problems import FieldProblem, Problem
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, Room
from jobs.bookings.models import Booking
from jobs.packets.age import paper_stale
from jobs.packets.models import Kind, Packet, Paper, Stage, State
from jobs.packets.services import packet_ask, packet_renew, packet_retry
from jobs.packets.shapes import (
    AskPacketSerializer,
    PacketAloneSerializer,
    PacketSerializer,
    PaperAgeSerializer,
)

WATCHED = timedelta(minutes=5)
CODE = re.compile("[0-9A-Za-z-]{4,12}")
ASKERS = frozenset({OFFICE, TABLET, "lead", "measurer"})


class PacketView(ListAndRead, CreateOnce, PatchSeen):
    """Ask for a packet: 202 with a status to watch; its state ends in done or failed with the reason."""

    name = "Packets"
    queryset = Packet.objects.select_related("booking__crew").defer("data")
    serializer_class = PacketSerializer
    letter = "P"
    scope = "packets"
    roles = {
        "list": EVERYONE,
        "retrieve": EVERYONE,
        "file": EVERYONE,
        "create": ASKERS,
        "retry": ASKERS,
        "renew": ASKERS,
    }
    filters = {
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "booking": Filter("booking_id", "Number of the booking.", key_reader("B")),
        "state": Filter("state", "Where it stands.", enum=tuple(State.values)),
        "kind": Filter("kind", "What the paper is for.", enum=tuple(Kind.values)),
    }
    brief = ("id", "url", "state", "file_url")
    desk = Desk(
        add="Ask for a packet",
        done="Asked for",
        searches={"booking": "/api/v1/bookings/", "job": "/api/v1/jobs/"},
        columns=("id", "job", "booking", "kind", "state", "percent", "asked_at", "asked_by"),
        hides=frozenset({"state", "stage", "percent", "trouble", "file_url", "says", "because"}),
        words={
            "kind": ("What it is for", "Left out: the booking's kind of visit."),
            "outdated": (
                "Print although the verdict is outdated",
                "The paper says so on its face.",
            ),
        },
        tasks=(
            Task(
                "renew",
                "Make the new packet",
                "This paper is not to be worked from any more; the reason stands above.",
                done="Asked for the new packet; this one names it",
                when=lambda row: row["says"] == "superseded" and row["superseded_by"] is None,
            ),
            Task(
                "retry",
                "Try this packet again",
                "It was given up; the reason stands above.",
                done="Asked for again",
                when=lambda row: row["state"] == State.FAILED,
            ),
        ),
    )
    http_method_names = ["get", "post", "head", "options"]

    def get_queryset(self) -> Any:
        """Tablets and crews see packets of their own crews' bookings and of jobs not yet booked."""
        rows = super().get_queryset()
        if self.request is not None and self.caller.sees_own_crews_only:
            own = rows.filter(booking__crew__places__member_id=self.caller.member_id)
            return (own | rows.filter(booking=None)).distinct()
        return rows

    def desk_show(self, row: Any) -> Show:
        """Say where the paper stands; the page asks again by itself until it is done or failed."""
        if not row:
            return Show()
        link = {"url": row["file_url"], "link": "Open the PDF"} if row["file_url"] else {}
        told = f"{Stage(row['stage']).label}, {row['percent']} %. {row['trouble']}"
        age = timezone.now() - datetime.fromisoformat(row["asked_at"])
        waits = row["state"] in {State.WANTED, State.RENDERING} and age < WATCHED
        banners = [Banner(row["state"], told, **link)]
        if row["says"] == "superseded":
            newer = row["superseded_by"]
            to = (
                {"url": self.reverse_action("detail", args=[newer]), "link": newer} if newer else {}
            )
            told = f"Not to be worked from: {row['because']}."
            banners.append(Banner("superseded", told, **to))
        return Show(banners, refresh=waits)

    def get_serializer_class(self) -> Any:
        """Ask with one shape, answer with another; one packet alone tells its paper's age too."""
        if self.action == "create":
            return AskPacketSerializer
        return PacketSerializer if self.action == "list" else PacketAloneSerializer

    @extend_schema(
        request=AskPacketSerializer,
        responses={
            202: OpenApiResponse(PacketAloneSerializer, "Asked for; watch the address in Location.")
        },
    )
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Freeze the data, ask a worker for the paper, answer 202 at once."""
        return once(request, self.caller, lambda: self._asked(request))

    def _asked(self, request: Request) -> Response:
        ask = AskPacketSerializer(data=request.data)
        ask.is_valid(raise_exception=True)
        wish = {"paper": Paper.LETTER.value, **ask.validated_data}
        booking = wish.pop("booking", None)
        job = booking.job if booking else wish["job"]
        self._check_own(booking)
        packet = packet_ask(by=self.caller, booking=booking, **{**wish, "job": job})
        return self._accepted(packet)

    def _accepted(self, packet: Packet) -> Response:
        data = PacketAloneSerializer(packet, context=self.get_serializer_context()).data
        return Response(data, 202, headers={"Location": data["url"], "Retry-After": "1"})

    def _check_own(self, booking: Booking | None) -> None:
        """Answer for another crew's booking as for one that is not there."""
        if booking is None or not self.caller.sees_own_crews_only:
            return
        if not booking.crew.places.filter(member_id=self.caller.member_id or 0).exists():
            text = f"There is no {booking.number}."
            absent = FieldProblem("does_not_exist", text, "Send one that exists.")
            raise serializers.ValidationError({"booking": absent.detail})

    @extend_schema(responses={(200, "application/pdf"): OpenApiTypes.BINARY})
    @action(detail=True)
    def file(self, request: Request, **kwargs: Any) -> FileResponse:
        """Give out the PDF."""
        packet = self.get_object()
        if packet.state != State.DONE:
            raise Problem(
                "packet_not_ready",
                f"{packet.number} is {packet.state} ({packet.percent} %).",
                status=409,
                hint="Watch its state; it ends in done or failed.",
                headers={"Retry-After": "1"},
            )
        name = f"{packet.number}.pdf"
        response = FileResponse(packet.file.open(), content_type="application/pdf", filename=name)
        response["X-Content-Type-Options"] = "nosniff"
        return response

    @extend_schema(request=None, responses=PacketAloneSerializer)
    @action(detail=True, methods=["post"])
    def retry(self, request: Request, **kwargs: Any) -> Response:
        """Try a packet again that was given up."""
        return self.act(request, lambda row: packet_retry(by=self.caller, packet=row))

    @extend_schema(request=None, responses=PacketAloneSerializer)
    @action(detail=True, methods=["post"])
    def renew(self, request: Request, **kwargs: Any) -> Response:
        """Ask for the paper that takes this one's place; `superseded_by` names it."""
        return self.act(request, lambda row: packet_renew(by=self.caller, packet=row))


class PaperAgeView(Room):
    """What the code on a packet leads to; open to whoever holds the paper."""

    name = "Is this paper current?"
    queryset = Packet.objects.select_related("superseded_by", "booking__job__site", "booking__crew")
    serializer_class = PaperAgeSerializer
    lookup_field = "code"
    open_to_all = True
    roles = {"retrieve": EVERYONE}
    http_method_names = ["get", "head", "options"]

    def retrieve(self, request: Request, code: str) -> Response:
        """Say current, or superseded by which."""
        rows = self.get_queryset().filter(code=code.upper())
        packet = rows.first() if CODE.fullmatch(code) else None
        if packet is None:
            raise Problem("not_found", "This code is on none of our papers.", status=404)
        newer, why = packet.superseded_by, paper_stale(packet=packet)
        return Response(
            {
                "packet": packet.number,
                "says": "superseded" if why else "current",
                "superseded_by": newer.number if newer else "",
                "because": why,
            }
        )

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
from contractor.api.numbers import NumberField, key_reader
from contractor.api.problems import FieldProblem, Problem
from contractor.api.strict import StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, Room
from jobs.bookings.models import Booking
from jobs.jobs.models import Job
from jobs.packets.age import paper_stale
from jobs.packets.models import Packet, Paper, State
from jobs.packets.services import packet_ask, packet_retry

WATCHED = timedelta(minutes=5)
CODE = re.compile("[0-9A-Za-z-]{4,12}")
ASKERS = frozenset({OFFICE, TABLET, "lead", "measurer"})


class AskPacketSerializer(StrictSerializer):
    """Ask for a packet of a booking, or of a job that is not booked yet."""

    booking = NumberField(
        letter="B",
        queryset=Booking.objects.select_related("job__site__customer", "crew"),
        required=False,
    )
    job = NumberField(
        letter="J", queryset=Job.objects.select_related("site__customer"), required=False
    )
    paper = serializers.ChoiceField(choices=Paper.choices, required=False)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Take exactly one of the two."""
        if ("booking" in attrs) == ("job" in attrs):
            raise Problem(
                "one_of_two", "Name a booking or a job, one of the two.", hint="Send `booking`."
            )
        return attrs


class PacketSerializer(serializers.ModelSerializer):
    """The frozen, numbered paper for one visit, and how far its rendering is."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="packet-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    job = NumberField(letter="J", read_only=True)
    booking = NumberField(letter="B", read_only=True, allow_null=True)
    stage = serializers.CharField(source="get_state_display", read_only=True)
    file_url = serializers.SerializerMethodField(help_text="Empty until done.")
    superseded_by = NumberField(letter="P", read_only=True, allow_null=True)

    class Meta:
        model = Packet
        fields = [
            "id",
            "url",
            "job",
            "booking",
            "paper",
            "code",
            "state",
            "stage",
            "percent",
            "attempts",
            "trouble",
            "file_url",
            "file_digest",
            "digest",
            "asked_by",
            "asked_at",
            "done_at",
            "superseded_by",
            "superseded_why",
            "version",
        ]

    def get_file_url(self, packet: Packet) -> str:
        """Where the PDF is."""
        if packet.state != State.DONE:
            return ""
        address: str = self.context["view"].reverse_action("file", args=[packet.number])
        return address


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
    }
    filters = {
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "booking": Filter("booking_id", "Number of the booking.", key_reader("B")),
        "state": Filter("state", "Where it stands.", enum=tuple(State.values)),
    }
    brief = ("id", "url", "state", "file_url")
    desk = Desk(
        add="Ask for a packet",
        done="Asked for",
        searches={"booking": "/api/v1/bookings/", "job": "/api/v1/jobs/"},
        columns=("id", "job", "booking", "state", "percent", "paper", "asked_at", "asked_by"),
        hides=frozenset({"state", "stage", "percent", "trouble", "file_url"}),
        tasks=(
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
        told = f"{row['stage']}, {row['percent']} %. {row['trouble']}"
        age = timezone.now() - datetime.fromisoformat(row["asked_at"])
        waits = row["state"] in {State.WANTED, State.RENDERING} and age < WATCHED
        return Show([Banner(row["state"], told, **link)], refresh=waits)

    def get_serializer_class(self) -> Any:
        """Ask with one shape, answer with another."""
        return AskPacketSerializer if self.action == "create" else PacketSerializer

    @extend_schema(
        request=AskPacketSerializer,
        responses={
            202: OpenApiResponse(PacketSerializer, "Asked for; watch the address in Location.")
        },
    )
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Freeze the data, ask a worker for the paper, answer 202 at once."""
        return once(request, self.caller, lambda: self._asked(request))

    def _asked(self, request: Request) -> Response:
        ask = AskPacketSerializer(data=request.data)
        ask.is_valid(raise_exception=True)
        booking = ask.validated_data.get("booking")
        job = booking.job if booking else ask.validated_data["job"]
        self._check_own(booking)
        paper = ask.validated_data.get("paper", Paper.LETTER.value)
        packet = packet_ask(by=self.caller, job=job, booking=booking, paper=paper)
        data = PacketSerializer(packet, context=self.get_serializer_context()).data
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

    @extend_schema(request=None, responses=PacketSerializer)
    @action(detail=True, methods=["post"])
    def retry(self, request: Request, **kwargs: Any) -> Response:
        """Try a packet again that was given up."""
        return self.act(request, lambda row: packet_retry(by=self.caller, packet=row))


class PaperAgeSerializer(serializers.Serializer):
    """Is this paper still the one to work from? Nothing else is told to a stranger."""

    packet = serializers.CharField()
    says = serializers.ChoiceField(choices=[("current", "current"), ("superseded", "superseded")])
    superseded_by = serializers.CharField(
        allow_blank=True, help_text="Empty while no newer one has been asked for."
    )
    because = serializers.CharField(allow_blank=True)


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

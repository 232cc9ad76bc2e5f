"""What does the schema call a packet, the asking for one, and the age of its paper?"""

from typing import Any

from rest_framework import serializers

from contractor.api.numbers import NumberField
from contractor.api.problems import Problem
from contractor.api.strict import StrictSerializer
from jobs.bookings.models import Booking
from jobs.jobs.models import Job
from jobs.packets.age import paper_stale
from jobs.packets.models import Kind, Language, Packet, Paper, Stage, State


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
    kind = serializers.ChoiceField(
        choices=Kind.choices,
        required=False,
        help_text="Left out: the booking's kind of visit, or the install packet of a job.",
    )
    paper = serializers.ChoiceField(
        choices=Paper.choices, required=False, help_text="Left out: Letter."
    )
    language = serializers.ChoiceField(
        choices=Language.choices, required=False, help_text="Left out: the customer's, or English."
    )
    outdated = serializers.BooleanField(
        required=False,
        help_text="Print although the verdict is older than the last survey; the paper says so.",
    )

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
    stage = serializers.ChoiceField(choices=Stage.choices, read_only=True)
    file_url = serializers.SerializerMethodField(help_text="Empty until done.")
    superseded_by = NumberField(letter="P", read_only=True, allow_null=True)

    class Meta:
        model = Packet
        fields = [
            "id",
            "url",
            "job",
            "booking",
            "kind",
            "language",
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


class PacketAloneSerializer(PacketSerializer):
    """One packet, with whether its paper is still the one to work from."""

    says = serializers.SerializerMethodField(help_text="current or superseded")
    because = serializers.SerializerMethodField(
        help_text="Why it is not to be worked from any more; empty while it is current."
    )

    class Meta(PacketSerializer.Meta):
        fields = [*PacketSerializer.Meta.fields, "says", "because"]

    def get_says(self, packet: Packet) -> str:
        """Say current or superseded."""
        return "superseded" if paper_stale(packet=packet) else "current"

    def get_because(self, packet: Packet) -> str:
        """Say why it is superseded."""
        return paper_stale(packet=packet)


class PaperAgeSerializer(serializers.Serializer):
    """Is this paper still the one to work from? Nothing else is told to a stranger."""

    packet = serializers.CharField()
    says = serializers.ChoiceField(choices=[("current", "current"), ("superseded", "superseded")])
    superseded_by = serializers.CharField(
        allow_blank=True, help_text="Empty while no newer one has been asked for."
    )
    because = serializers.CharField(allow_blank=True)

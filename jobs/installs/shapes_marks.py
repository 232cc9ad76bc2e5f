"""What shape have saw marks on the wire: who read the distance, and where to saw, or why not?"""

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from contractor.api.fields import MomentField
from contractor.api.strict import StrictSerializer
from fitcheck.checks.shapes import ComputedSerializer, FindingSerializer
from fitcheck.rules.sawmark_read import ENDS
from jobs.installs.models import Mark
from jobs.installs.readers import HOW, OWN, TYPED
from jobs.installs.shapes import choice
from jobs.surveys.shapes import LENGTH, ToolSerializer


class AsFixedSerializer(serializers.Serializer):
    """The distance as it really is, read by one person: itself, or the `record` that holds it."""

    record = serializers.UUIDField(
        required=False,
        help_text="A record of kind as_fixed that the reader put from their own sign-in; then nothing"
        " else stands here.",
    )
    id = serializers.CharField(required=False, help_text="Made by the sender.")
    value = serializers.CharField(help_text=LENGTH)
    read_by = serializers.CharField(help_text="Two different people must have read it.")
    taken_at = serializers.CharField(required=False, help_text="With offset.")
    tool = ToolSerializer()


@extend_schema_field(AsFixedSerializer(many=True))
class AsFixedField(serializers.JSONField):
    """Readings as fixed, which the rules read themselves."""


class MarkInSerializer(StrictSerializer):
    """Ask where to saw: the part, and the distance as two people read it."""

    install = serializers.UUIDField()
    part = serializers.CharField(max_length=80, help_text="As the sheet calls it: `head rail`.")
    as_fixed = AsFixedField()
    end = choice(ENDS, required=False, help_text="Which end the crew means to saw.")
    new_part = serializers.BooleanField(
        required=False,
        help_text="A new part is there, as it came in the box; the miscut one is set aside.",
    )
    typed_why = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=300,
        help_text="Why the second reader is only a typed name, and no sign-in of their own.",
    )
    taken_at = MomentField(help_text="With offset.")
    said_by = serializers.CharField(required=False, max_length=120)


class ReaderSerializer(serializers.Serializer):
    """Who read the distance, and how that is known."""

    name = serializers.CharField()
    member = serializers.CharField(allow_blank=True, help_text="Number of the member, if known.")
    how = choice(HOW, help_text="own: of this crew, by their own sign-in; typed; or not_of_crew.")


class MarkSerializer(serializers.ModelSerializer):
    """A saw mark: released with its length, or held with the reason and what to do."""

    url = serializers.HyperlinkedIdentityField(view_name="mark-detail")
    install = serializers.UUIDField(source="install_id", read_only=True)
    verdict = serializers.UUIDField(source="verdict_id", read_only=True, allow_null=True)
    mark = serializers.CharField(source="length", help_text="Empty when held.")
    exact = ComputedSerializer(source="result.length", allow_null=True, read_only=True)
    worked_out = ComputedSerializer(
        source="result.worked_out", allow_null=True, read_only=True, help_text="No leave to saw."
    )
    saw = serializers.SerializerMethodField(help_text="Which end, and the side of the kerf.")
    hold = serializers.ListField(source="result.hold", child=serializers.CharField())
    rounded = serializers.CharField(source="result.rounded", read_only=True)
    findings = FindingSerializer(source="result.findings", many=True, read_only=True)
    cautions = serializers.ListField(source="result.cautions", child=serializers.CharField())
    as_fixed = AsFixedSerializer(source="body.as_fixed", many=True, read_only=True)
    readers = ReaderSerializer(source="result.readers", many=True, read_only=True, default=[])
    second_reader = choice(
        (OWN, TYPED, "none"),
        source="result.second_reader",
        read_only=True,
        default="none",
        help_text="own: two of the crew by their own sign-ins; typed: a name that somebody typed.",
    )
    typed_why = serializers.CharField(source="result.typed_why", read_only=True, default="")

    class Meta:
        model = Mark
        fields = [
            "id",
            "url",
            "install",
            "part",
            "state",
            "mark",
            "exact",
            "worked_out",
            "saw",
            "hold",
            "rounded",
            "as_fixed",
            "readers",
            "second_reader",
            "typed_why",
            "findings",
            "cautions",
            "verdict",
            "said_by",
            "taken_at",
            "received_at",
        ]

    def get_saw(self, mark: Mark) -> str:
        """How to saw; empty when held."""
        return str(mark.result["saw"] or "")

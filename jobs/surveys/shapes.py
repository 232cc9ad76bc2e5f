"""What shape have surveys on the wire? Described for the schema; bodies are read by body.py."""

from datetime import UTC, datetime
from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema_field, extend_schema_serializer
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.reverse import reverse

from contractor.api.numbers import NumberField
from fitcheck.rules import survey as words
from jobs.surveys.examples import SURVEY_EXAMPLE
from jobs.surveys.models import Photo, Reading, Refused, Survey, Zone
from jobs.surveys.services import Received, photos_missing
from jobs.verdicts.shapes import VerdictSerializer, verdict_told

LENGTH = "A length with its unit: `59 3/8 in`, `1508 mm`."


def _choice(values: Any, **kwargs: Any) -> serializers.ChoiceField:
    return serializers.ChoiceField(choices=[(one, one) for one in values], **kwargs)


class ToolSerializer(serializers.Serializer):
    """What a reading was taken with; it decides the uncertainty."""

    kind = _choice(words.TOOLS)
    accuracy_class = _choice(words.ACCURACY_CLASSES, required=False)
    graduation = serializers.CharField(help_text="Smallest mark: `1/16 in`, `1 mm`.")
    hook = serializers.BooleanField(required=False, help_text="The end of the tape is a hook.")


class ReadingSerializer(serializers.Serializer):
    """One quantity, at one place, by one tool and person, at one time; its id is made by the sender."""

    id = serializers.UUIDField()
    quantity = _choice(words.QUANTITIES)
    side = _choice(words.SIDES, required=False)
    height = serializers.CharField(
        required=False, allow_null=True, help_text="Above the sill. " + LENGTH
    )
    over = serializers.CharField(
        required=False, allow_null=True, help_text="Lean is read over this height."
    )
    value = serializers.CharField(help_text=LENGTH)
    tool = ToolSerializer()
    read_by = serializers.CharField(required=False, help_text="Who read it; default: the caller.")
    taken_at = serializers.DateTimeField(required=False, help_text="Default: the survey's.")
    replaces = serializers.ListField(child=serializers.UUIDField(), required=False)
    note = serializers.CharField(required=False, allow_blank=True)
    confirmed = serializers.BooleanField(
        required=False, help_text="Looked at again: keep it although it lies far from the others."
    )


class ReadingToldSerializer(ReadingSerializer):
    """A reading exactly as it was entered, and in exact millimetres."""

    side = _choice(words.SIDES)
    height = serializers.CharField(allow_null=True)
    over = serializers.CharField(allow_null=True)
    read_by = serializers.CharField()
    taken_at = serializers.CharField()  # type: ignore[assignment]
    value_exact = serializers.CharField(help_text="`1508.125 mm`")
    replaces = serializers.ListField(child=serializers.CharField())
    note = serializers.CharField(allow_blank=True)
    confirmed = serializers.BooleanField()


class ZoneSerializer(serializers.Serializer):
    """A part of a wall or sill with one build-up."""

    id = serializers.UUIDField()
    surface = _choice(words.SURFACES)
    from_height = serializers.CharField(help_text=LENGTH)
    to_height = serializers.CharField(help_text=LENGTH)
    finish = _choice(words.FINISHES)
    finish_thickness = serializers.CharField(required=False, allow_null=True, help_text=LENGTH)
    backing = _choice(words.BACKINGS, required=False)
    backing_thickness = serializers.CharField(required=False, allow_null=True, help_text=LENGTH)
    fit = _choice(words.FITS, required=False)
    structure = _choice(words.STRUCTURES, required=False)
    membrane = _choice(words.MEMBRANES, required=False)
    species = _choice(words.SPECIES, required=False)
    mils = serializers.CharField(
        required=False, allow_null=True, help_text="Of a steel stud, as printed on it: `33 mil`."
    )
    grouted = _choice(words.GROUTED, required=False, help_text="Whether the cells of a block are.")
    unit = serializers.CharField(
        required=False, allow_null=True, help_text="How thick the block is, nominally: `8 in`."
    )
    replaces = serializers.ListField(child=serializers.UUIDField(), required=False)


class ObstructionSerializer(serializers.Serializer):
    """Something in the way, as a box."""

    what = serializers.CharField(
        help_text="Valve, niche, towel bar, toilet, swing of the room door."
    )
    surface = serializers.CharField(required=False)
    from_edge = serializers.CharField(required=False, help_text=LENGTH)
    from_height = serializers.CharField(required=False, help_text=LENGTH)
    width = serializers.CharField(required=False, help_text=LENGTH)
    height = serializers.CharField(required=False, help_text=LENGTH)
    depth = serializers.CharField(required=False, help_text=LENGTH)


@extend_schema_serializer(
    component_name="SurveyPost",
    examples=[
        OpenApiExample("A curb opening with four readings", value=SURVEY_EXAMPLE, request_only=True)
    ],
)
class SurveyInSerializer(serializers.Serializer):
    """What a tablet sends: any part of a full survey; what is still missing is answered."""

    id = serializers.UUIDField(help_text="Made by the tablet, UUIDv7; sending twice is harmless.")
    opening = serializers.CharField(help_text="`O-0001`")
    kit = serializers.CharField(required=False, allow_null=True, help_text="`slug` or `slug:2`.")
    size = serializers.CharField(
        required=False, allow_null=True, help_text="A size code of the kit."
    )
    taken_at = serializers.DateTimeField(help_text="With offset.")
    measured_by = serializers.CharField(required=False, allow_null=True, help_text="`M-0003`")
    app = serializers.CharField(required=False, help_text="The tablet's program and version.")
    supersedes = serializers.UUIDField(required=False, allow_null=True)
    readings = ReadingSerializer(many=True, required=False)
    zones = ZoneSerializer(many=True, required=False)
    obstructions = ObstructionSerializer(many=True, required=False)
    photos = serializers.ListField(child=serializers.CharField(), required=False)
    notes = serializers.CharField(required=False, allow_blank=True)


class SurveySerializer(serializers.ModelSerializer):
    """A survey as it is kept, with the verdict given when it came in."""

    url = serializers.HyperlinkedIdentityField(view_name="survey-detail")
    opening = NumberField(letter="O", read_only=True)
    measured_by = NumberField(letter="M", read_only=True)
    supersedes = serializers.UUIDField(read_only=True, allow_null=True)
    readings = serializers.SerializerMethodField()
    zones = serializers.SerializerMethodField()
    obstructions = ObstructionSerializer(many=True, read_only=True)
    photos = serializers.ListField(child=serializers.CharField(), read_only=True)
    missing_photos = serializers.SerializerMethodField(
        help_text="Named but not yet here; put them."
    )
    verdict = serializers.SerializerMethodField(help_text="Null when no kit was asked about.")

    class Meta:
        model = Survey
        fields = [
            "id",
            "url",
            "opening",
            "measured_by",
            "taken_at",
            "received_at",
            "app",
            "supersedes",
            "digest",
            "readings",
            "zones",
            "obstructions",
            "photos",
            "missing_photos",
            "notes",
            "verdict",
        ]

    @extend_schema_field(ReadingToldSerializer(many=True))
    def get_readings(self, survey: Survey) -> list[dict[str, Any]]:
        """The readings, as entered."""
        return [one.as_told() for one in survey.readings.all()]

    @extend_schema_field(ZoneSerializer(many=True))
    def get_zones(self, survey: Survey) -> list[dict[str, Any]]:
        """The zones, as entered."""
        return [one.as_told() for one in survey.zones.all()]

    @extend_schema_field(serializers.ListField(child=serializers.CharField()))
    def get_missing_photos(self, survey: Survey) -> list[str]:
        """Photos still to be put."""
        return photos_missing(survey.photos)

    @extend_schema_field(VerdictSerializer(allow_null=True))
    def get_verdict(self, survey: Survey) -> Any:
        """The first verdict given from it."""
        verdict = (
            survey.verdicts.select_related("sheet__kit", "opening")
            .order_by("given_at", "pk")
            .first()
        )
        return VerdictSerializer(verdict, context=self.context).data if verdict else None


class SurveyRowSerializer(serializers.ModelSerializer):
    """A survey in a list: without its readings and verdict."""

    url = serializers.HyperlinkedIdentityField(view_name="survey-detail")
    opening = NumberField(letter="O", read_only=True)
    measured_by = NumberField(letter="M", read_only=True)
    supersedes = serializers.UUIDField(read_only=True, allow_null=True)

    class Meta:
        model = Survey
        fields = [
            "id",
            "url",
            "opening",
            "measured_by",
            "taken_at",
            "received_at",
            "app",
            "supersedes",
            "digest",
            "notes",
        ]


def told(received: Received, request: Request) -> dict[str, Any]:
    """Give out a survey just taken in, from the rows at hand and without asking the database again."""
    survey, verdict = received.survey, received.verdict
    readings: list[Reading] = received.readings
    zones: list[Zone] = received.zones
    return {
        "id": str(survey.id),
        "url": reverse("survey-detail", args=[survey.id], request=request),
        "opening": f"O-{survey.opening_id:04d}",
        "measured_by": f"M-{survey.measured_by_id:04d}",
        "taken_at": _moment(survey.taken_at),
        "received_at": _moment(survey.received_at),
        "app": survey.app,
        "supersedes": str(survey.supersedes) if survey.supersedes else None,
        "digest": survey.digest,
        "readings": [one.as_told() for one in readings],
        "zones": [one.as_told() for one in zones],
        "obstructions": survey.obstructions,
        "photos": survey.photos,
        "missing_photos": received.missing_photos,
        "notes": survey.notes,
        "verdict": verdict_told(verdict, request) if verdict else None,
    }


def _moment(moment: datetime) -> str:
    """Print a moment as the serializers do when the survey is read again."""
    return moment.astimezone(UTC).isoformat().replace("+00:00", "Z")


class RefusedSerializer(serializers.ModelSerializer):
    """A body kept aside."""

    url = serializers.HyperlinkedIdentityField(view_name="refused-detail")

    class Meta:
        model = Refused
        fields = ["id", "url", "opening", "code", "body", "caller_name", "at"]


class PhotoSerializer(serializers.ModelSerializer):
    """A photo that is here."""

    url = serializers.HyperlinkedIdentityField(view_name="photo-detail", lookup_field="digest")
    file_url = serializers.HyperlinkedIdentityField(view_name="photo-file", lookup_field="digest")

    class Meta:
        model = Photo
        fields = ["digest", "url", "file_url", "media_type", "width", "height", "received_at"]

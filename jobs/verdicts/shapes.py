"""What shape has a verdict on the wire? The rules' own words, described for the schema."""

from datetime import UTC
from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.reverse import reverse

from contractor.api.numbers import NumberField
from fitcheck.checks.shapes import ResultSerializer
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_outdated


class VerdictSerializer(serializers.ModelSerializer):
    """One frozen answer; `result` is what the rules said."""

    url = serializers.HyperlinkedIdentityField(view_name="verdict-detail")
    opening = NumberField(letter="O", read_only=True)
    survey: Any = serializers.PrimaryKeyRelatedField(read_only=True)
    kit: Any = serializers.SlugRelatedField(source="sheet.kit", slug_field="slug", read_only=True)
    sheet = serializers.CharField(source="sheet.key", read_only=True)
    result = serializers.SerializerMethodField()

    class Meta:
        model = Verdict
        fields = [
            "id",
            "url",
            "opening",
            "survey",
            "kit",
            "sheet",
            "state",
            "result",
            "given_by",
            "given_at",
        ]

    def get_result(self, verdict: Verdict) -> ResultSerializer:
        """What the rules said, kept word for word."""
        return verdict.result  # type: ignore[no-any-return]


def verdict_told(verdict: Verdict, request: Request) -> dict[str, Any]:
    """Give out a verdict as `VerdictSerializer` does, without building one for a single row."""
    return {
        "id": str(verdict.id),
        "url": reverse("verdict-detail", args=[verdict.id], request=request),
        "opening": f"O-{verdict.opening_id:04d}",
        "survey": str(verdict.survey_id),
        "kit": verdict.sheet.kit.slug,
        "sheet": verdict.sheet.key,
        "state": verdict.state,
        "result": verdict.result,
        "given_by": verdict.given_by,
        "given_at": verdict.given_at.astimezone(UTC).isoformat().replace("+00:00", "Z"),
    }


class VerdictToldSerializer(VerdictSerializer):
    """A verdict read later: with whether the opening has changed since."""

    outdated = serializers.SerializerMethodField(
        help_text="The opening was surveyed again, or described otherwise, since."
    )

    class Meta:
        model = Verdict
        fields = [*VerdictSerializer.Meta.fields, "outdated"]

    def get_outdated(self, verdict: Verdict) -> bool:
        """Whether to ask anew before relying on it."""
        return verdict_outdated(verdict=verdict)


class VerdictRowSerializer(VerdictSerializer):
    """A verdict in a list: without what the rules said in full."""

    result = None  # type: ignore[assignment]

    class Meta:
        model = Verdict
        fields = [name for name in VerdictSerializer.Meta.fields if name != "result"]

"""What shape have the opening's own shape, and what is worked out at length beside a verdict?"""

from typing import Any

from rest_framework import serializers

from fitcheck.checks.shapes_deep import VerdictLengthSerializer


class VerdictWidthSerializer(serializers.Serializer):
    """The width at one height of the sheet, by all readings together."""

    height = serializers.CharField()
    width = VerdictLengthSerializer(allow_null=True)
    uncertainty = serializers.CharField(allow_null=True, help_text="Standard, k = 1.")
    trusted = serializers.BooleanField(help_text="False while the readings contradict each other.")


class VerdictPropertySerializer(serializers.Serializer):
    """Lean, taper, racking, level or height."""

    name = serializers.CharField()
    value = VerdictLengthSerializer(allow_null=True)
    uncertainty = serializers.CharField(allow_null=True)


class VerdictShapeSerializer(serializers.Serializer):
    """The opening adjusted from all its readings; findings compare the readings themselves."""

    state = serializers.CharField(help_text="agree, unchecked, corrected or undecided")
    summary = serializers.CharField()
    consistency = serializers.JSONField()
    over = serializers.CharField(help_text="The height over which leans are counted.")
    widths = VerdictWidthSerializer(many=True)
    shape = VerdictPropertySerializer(many=True)
    taken_out = serializers.ListField(child=serializers.JSONField())
    suspected = serializers.ListField(child=serializers.JSONField())
    one_more_reading = serializers.JSONField(
        help_text="Where readings contradict each other: which one more tells. Else see `depth`."
    )
    source: Any = serializers.JSONField()


class VerdictDepthSerializer(serializers.Serializer):
    """What takes longer to say of a verdict; worked out when first asked for, then kept."""

    rules_version = serializers.CharField()
    inputs_digest = serializers.CharField()
    shape = serializers.JSONField(
        help_text="Every reading judged by the others, and the one more that helps most."
    )
    shape_why = serializers.CharField(allow_null=True)
    chance = serializers.JSONField(help_text="That every limit is truly kept, drawn, with bounds.")
    least_change = serializers.JSONField(help_text="What would make it fit; null where it fits.")

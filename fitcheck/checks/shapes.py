"""What shape has what the rules say on the wire? Their own words, described for the schema."""

from typing import Any

from rest_framework import serializers

from fitcheck.checks.shapes_deep import (
    VerdictChanceSerializer,
    VerdictLoadSerializer,
    VerdictPaneSerializer,
    VerdictRailSerializer,
    VerdictSawSerializer,
    VerdictSealingSerializer,
)
from fitcheck.checks.shapes_depth import VerdictShapeSerializer
from fitcheck.checks.shapes_made import VerdictMadeGlassSerializer

STATES = (
    ("fits", "Fits"),
    ("tight", "Tight: inside the guard band"),
    ("fails", "Fails"),
    ("unknown", "Unknown: a reading is missing or in dispute"),
)


class ComputedSerializer(serializers.Serializer):
    """A computed length: millimetres, inches to the firm's mark, and how the inches were rounded."""

    mm = serializers.CharField()
    inch = serializers.CharField()
    inch_mark = serializers.CharField()
    rounded = serializers.ChoiceField(choices=[("up", "up"), ("down", "down")])


class SourceSerializer(serializers.Serializer):
    """Where a limit comes from."""

    document = serializers.CharField()
    edition = serializers.CharField(required=False)
    clause = serializers.CharField(required=False)
    page = serializers.CharField(required=False)
    status = serializers.CharField()


class FindingSerializer(serializers.Serializer):
    """One comparison with margin and source."""

    rule = serializers.CharField()
    question = serializers.CharField()
    place = serializers.CharField()
    reading = serializers.JSONField(help_text="A computed length, a text, or null when missing.")
    limit = serializers.JSONField(help_text="A computed length or a text.")
    sense = serializers.CharField(help_text="least, most, one_of or equal")
    margin = ComputedSerializer(allow_null=True)
    uncertainty = serializers.CharField(allow_null=True, help_text="Standard, k = 1.")
    guard_band = serializers.CharField(allow_null=True)
    chance = serializers.CharField(allow_null=True, help_text="That it truly conforms.")
    state = serializers.ChoiceField(choices=STATES)
    source = SourceSerializer()  # type: ignore[assignment]
    do = serializers.CharField()
    readings = serializers.ListField(child=serializers.CharField())


class MissingSerializer(serializers.Serializer):
    """A reading still to take, and why."""

    quantity = serializers.CharField()
    side = serializers.CharField()
    height = serializers.CharField(allow_null=True)
    why = serializers.CharField()
    rules = serializers.ListField(child=serializers.CharField())


class CutSerializer(serializers.Serializer):
    """A part to be trimmed; predicted until the as-fixed reading is taken on site."""

    part = serializers.CharField()
    count = serializers.IntegerField()
    height = serializers.CharField(allow_null=True)
    distance = ComputedSerializer(allow_null=True)
    deduct = serializers.CharField()
    length = ComputedSerializer(allow_null=True)
    uncertainty = serializers.CharField(allow_null=True)
    allowance = serializers.CharField(allow_null=True)
    stock = serializers.CharField()
    waste = ComputedSerializer(allow_null=True)
    end = serializers.CharField()
    status = serializers.CharField()
    state = serializers.ChoiceField(choices=STATES)
    source = SourceSerializer()  # type: ignore[assignment]

    def get_fields(self) -> dict[str, Any]:
        """Add `from`, which is a word of the language and of the sheet."""
        fields: dict[str, Any] = super().get_fields()
        fields["from"] = serializers.CharField(help_text="width or between_brackets")
        return fields


class FixingSerializer(serializers.Serializer):
    """One kind of hole: by the build-up of its zone, or a question."""

    place = serializers.CharField()
    surface = serializers.CharField()
    height = serializers.CharField(allow_null=True)
    count = serializers.IntegerField()
    zone = serializers.CharField(allow_null=True)
    build_up = serializers.ListField(child=serializers.JSONField())
    stack = ComputedSerializer(allow_null=True)
    bit = serializers.CharField(allow_null=True)
    speed = serializers.CharField(allow_null=True)
    cooling = serializers.CharField(allow_null=True)
    pilot = serializers.JSONField(help_text="Null while it is a question.")
    final_hole = serializers.JSONField(help_text="Null while it is a question.")
    depth = ComputedSerializer(allow_null=True)
    anchor = serializers.CharField(allow_null=True)
    screw = serializers.JSONField(help_text="Null while it is a question.")
    reach = ComputedSerializer(allow_null=True)
    backing_hit = serializers.CharField()
    seal = serializers.CharField(allow_null=True)
    cautions = serializers.ListField(child=serializers.CharField())
    questions = serializers.ListField(child=serializers.CharField())
    state = serializers.ChoiceField(choices=STATES)
    source = SourceSerializer()  # type: ignore[assignment]


class PanelSerializer(serializers.Serializer):
    """One panel of the kit: its mass and the hands it needs."""

    name = serializers.CharField()
    width = serializers.CharField()
    height = serializers.CharField()
    thickness = serializers.CharField()
    mass = serializers.CharField()
    glass_mass = serializers.CharField()
    order = serializers.IntegerField()
    handing = serializers.CharField()
    hands = serializers.IntegerField()
    source = SourceSerializer()  # type: ignore[assignment]


class CautionSerializer(serializers.Serializer):
    """What can hurt somebody, and where."""

    code = serializers.CharField()
    where = serializers.CharField()
    text = serializers.CharField()


class QuestionSerializer(serializers.Serializer):
    """What is not known and is not guessed."""

    about = serializers.CharField()
    text = serializers.CharField()


class ResultSerializer(serializers.Serializer):
    """All findings for a survey and a kit, and what follows from them."""

    rules_version = serializers.CharField()
    inputs_digest = serializers.CharField()
    state = serializers.ChoiceField(choices=STATES)
    size = serializers.CharField(allow_null=True)
    summary = serializers.CharField()
    findings = FindingSerializer(many=True)
    missing = MissingSerializer(many=True)
    disagreements = serializers.ListField(child=serializers.JSONField())
    cuts = CutSerializer(many=True)
    fixings = FixingSerializer(many=True)
    panels = PanelSerializer(many=True)
    hands_needed = serializers.IntegerField(help_text="[persons]")
    sealant = serializers.ListField(child=serializers.JSONField())
    cure_hours = serializers.IntegerField(allow_null=True, help_text="[h]")
    cautions = CautionSerializer(many=True)
    questions = QuestionSerializer(many=True)
    shape = VerdictShapeSerializer(
        required=False, allow_null=True, help_text="From rules version 2, as all below."
    )
    shape_why = serializers.CharField(
        required=False, allow_null=True, help_text="Why no shape is told."
    )
    chance = VerdictChanceSerializer(required=False)
    saw = VerdictSawSerializer(many=True, required=False)
    rail = VerdictRailSerializer(required=False, allow_null=True)
    loads = VerdictLoadSerializer(many=True, required=False)
    panes = VerdictPaneSerializer(many=True, required=False)
    sealing = VerdictSealingSerializer(required=False, allow_null=True)
    made_glass = VerdictMadeGlassSerializer(
        required=False,
        allow_null=True,
        help_text="From rules version 3; null when the sheet describes none.",
    )

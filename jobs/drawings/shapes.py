"""What does the schema say of a drawing: what is asked for, what is told?"""

from typing import Any

from rest_framework import serializers

from contractor.api.numbers import NumberField
from contractor.api.strict import StrictSerializer
from jobs.drawings.age import drawing_stale
from jobs.drawings.content import names_of
from jobs.drawings.models import Drawing, State, What
from jobs.openings.models import Opening
from jobs.verdicts.models import Verdict

ORDER: dict[str, Any] = {
    "edition": "c1048",
    "thickness": "3/8 in",
    "opening": {
        "left_foot": {"right": "0 in", "up": "0 in"},
        "right_foot": {"right": "34 1/4 in", "up": "0 in"},
        "right_head": {"right": "34 3/8 in", "up": "78 in"},
        "left_head": {"right": "0 in", "up": "78 in"},
        "uncertainty": "0.7 mm",
    },
    "gaps": {"left": "1/4 in", "right": "1/4 in", "head": "1/4 in", "foot": "3/8 in"},
    "panels": [
        {
            "name": "door",
            "holes": [
                {
                    "name": "handle",
                    "from": "left",
                    "across": "3 in",
                    "up_from": "foot",
                    "up": "38 in",
                    "diameter": "1/2 in",
                }
            ],
            "hardware_mass": "1.8 kg",
        }
    ],
}


class AskDrawingSerializer(StrictSerializer):
    """Ask for a file: panels cut to size from their order, or an opening from its verdict."""

    opening = NumberField(
        letter="O", queryset=Opening.objects.select_related("job__site", "kit"), required=False
    )
    verdict = serializers.PrimaryKeyRelatedField(
        queryset=Verdict.objects.select_related("sheet", "opening__job__site"),
        required=False,
        help_text="Default: the verdict that stands for the opening.",
    )
    what = serializers.ChoiceField(choices=What.choices)
    order = serializers.JSONField(
        required=False,
        initial=ORDER,
        help_text="For `panels`: the question of the order of panels cut to size. Without its "
        "`opening` the corners are those that the readings give up to `top`. Leave it out for glass "
        "made to measure: the verdict's own order is drawn.",
    )
    format = serializers.ChoiceField(choices=[("dxf", "DXF, millimetres")], default="dxf")


class SignSerializer(StrictSerializer):
    """Sign that panels may be cut as drawn."""

    reason = serializers.CharField(
        required=False,
        max_length=300,
        allow_blank=True,
        help_text="Needed when the rules say tight or unknown of the order.",
    )


class DrawingSerializer(serializers.ModelSerializer):
    """One drawing for outside: how far its file is, its age, and who signed for it."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="drawing-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    opening = NumberField(letter="O", read_only=True)
    verdict: Any = serializers.PrimaryKeyRelatedField(read_only=True, allow_null=True)
    stage = serializers.CharField(source="get_state_display", read_only=True)
    file_url = serializers.SerializerMethodField(help_text="Empty until done.")
    pictures = serializers.SerializerMethodField()
    superseded_by = NumberField(letter="DR", read_only=True, allow_null=True)
    stale = serializers.SerializerMethodField(
        help_text="Why nobody may work from it any more; empty while one may."
    )
    released = serializers.SerializerMethodField(
        help_text="Whether a second person has signed, and the file says so."
    )

    class Meta:
        model = Drawing
        fields = [
            "id",
            "url",
            "opening",
            "verdict",
            "what",
            "says",
            "state",
            "stage",
            "percent",
            "attempts",
            "trouble",
            "file_url",
            "file_digest",
            "digest",
            "pictures",
            "asked_by",
            "asked_at",
            "done_at",
            "signed_by",
            "signed_at",
            "sign_reason",
            "released",
            "superseded_by",
            "stale",
            "version",
        ]

    def get_file_url(self, drawing: Drawing) -> str:
        """Where the file is."""
        if drawing.state != State.DONE:
            return ""
        address: str = self.context["view"].reverse_action("file", args=[drawing.number])
        return address

    def get_pictures(self, drawing: Drawing) -> list[str]:
        """Where its sheets are, as pictures."""
        view = self.context["view"]
        return [
            view.reverse_action("picture", args=[drawing.number, name])
            for name in names_of(drawing)
        ]

    def get_stale(self, drawing: Drawing) -> str:
        """Why it is out of date."""
        return drawing_stale(drawing=drawing)

    def get_released(self, drawing: Drawing) -> bool:
        """Whether the file is for the fabricator."""
        return bool(drawing.signed_by) and drawing.state == State.DONE


class DrawingRowSerializer(DrawingSerializer):
    """A drawing in a list: without its age, which is worked out from the opening's surveys."""

    stale = None  # type: ignore[assignment]

    class Meta:
        model = Drawing
        fields = [name for name in DrawingSerializer.Meta.fields if name != "stale"]

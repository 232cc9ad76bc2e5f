"""Questions that are answered and forgotten: nothing that is posted here is kept."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema, extend_schema_serializer
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE
from contractor.api.desk import Banner, Desk, Picture, Show
from contractor.api.inputs import inputs_checked
from contractor.api.problems import Problem
from contractor.api.views import Room
from fitcheck.check import check
from fitcheck.checks.api_questions import object_of
from fitcheck.checks.desk import TOLD, result_tables
from fitcheck.checks.shapes import ResultSerializer
from fitcheck.drawings.cutbars import svg_cut_bars
from fitcheck.drawings.margins import svg_margins
from fitcheck.kits.services import sheet_find
from fitcheck.rules.length import LengthError, computed, length_parse, mm_text

SCOPE_ROLES = {"create": EVERYONE}
FIT_EXAMPLE: dict[str, Any] = {
    "kit": "osquith-tillybeck",
    "opening": {"enclosure": "alcove", "stands_on": "curb"},
    "readings": [
        {
            "id": "w0",
            "quantity": "width",
            "height": "0 in",
            "value": "58 5/16 in",
            "tool": {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in"},
        }
    ],
    "zones": [],
}


@extend_schema_serializer(
    examples=[
        OpenApiExample(
            "One width, one kit",
            value=FIT_EXAMPLE,
            request_only=True,
        )
    ]
)
class FitQuestionSerializer(serializers.Serializer):
    """Readings and a kit of the catalogue, or a rule sheet of your own."""

    kit = serializers.CharField(required=False, help_text="`slug` or `slug:2`; or send `sheet`.")
    sheet = serializers.JSONField(required=False, help_text="A rule sheet, format 1.")
    opening = serializers.JSONField()
    readings = serializers.ListField(child=serializers.JSONField(), required=False)
    zones = serializers.ListField(child=serializers.JSONField(), required=False)
    size = serializers.CharField(required=False, allow_null=True)
    house = serializers.JSONField(required=False)


class LengthQuestionSerializer(serializers.Serializer):
    """A length as somebody wrote it."""

    length = serializers.CharField(help_text="`59 3/8 in`, `4' 11 3/8\"`, `1508 mm`.")


class LengthAnswerSerializer(serializers.Serializer):
    """The same length, exactly and to the firm's mark both ways."""

    entered = serializers.CharField()
    mm = serializers.CharField(help_text="Exact.")
    down = serializers.JSONField(help_text="Never longer: for what is cut.")
    up = serializers.JSONField(help_text="Never shorter: for what must clear.")


class FitView(Room):
    """Would this kit fit? The same computation as a survey's verdict, kept nowhere."""

    name = "Would it fit?"
    desk = Desk(add="Ask whether it fits", form=False, hides=TOLD, example=lambda: FIT_EXAMPLE)
    serializer_class = FitQuestionSerializer
    scope = ""
    keeps_nothing = True
    roles = SCOPE_ROLES
    pagination_class = None
    http_method_names = ["post", "options"]

    def desk_show(self, row: Any) -> Show:
        """Show an answer as a verdict's page would."""
        if not row:
            return Show()
        pictures = [
            Picture("How near each limit is", svg_margins(row)),
            Picture("Cuts on their stock", svg_cut_bars(row)),
        ]
        return Show([Banner(row["state"], row["summary"])], pictures, result_tables(row))

    @extend_schema(
        request=FitQuestionSerializer,
        responses={200: ResultSerializer},
        operation_id="checks_fit",
    )
    def create(self, request: Request) -> Response:
        """Answer with state, findings, cuts, fixings, what is missing; 200, nothing is made."""
        asked = object_of(request.data)
        sheet = None
        if "kit" in asked:
            if "sheet" in asked:
                raise Problem(
                    "one_of_two",
                    "Send `kit` or `sheet`, not both.",
                    hint="Leave one out.",
                    pointer="/kit",
                )
            found = sheet_find(name=str(asked.pop("kit")))
            sheet = found.parsed()
            asked["sheet"] = found.reference()
        with inputs_checked():
            return Response(check(asked, sheet, sent=True).as_json())


class LengthView(Room):
    """How is a length read? For whoever writes a client."""

    name = "How is a length read?"
    desk = Desk(add="Read this length", form=False, example=lambda: {"length": "59 3/8 in"})
    serializer_class = LengthQuestionSerializer
    scope = ""
    keeps_nothing = True
    roles = SCOPE_ROLES
    pagination_class = None
    http_method_names = ["post", "options"]

    @extend_schema(
        request=LengthQuestionSerializer,
        responses={200: LengthAnswerSerializer},
        operation_id="checks_length",
    )
    def create(self, request: Request) -> Response:
        """Answer with exact millimetres and inches rounded both ways."""
        asked = object_of(request.data)
        strangers = set(asked) - {"length"}
        if strangers:
            name = sorted(strangers)[0]
            raise Problem(
                "unknown_field",
                f"There is no field `{name}` here.",
                hint="Send `length`.",
                pointer=f"/{name}",
            )
        try:
            length = length_parse(asked.get("length"))
        except LengthError as error:
            raise Problem(error.code, str(error), hint=error.hint, pointer="/length") from error
        both: dict[str, Any] = {side: computed(length.nm, side) for side in ("down", "up")}
        return Response({"entered": length.entered, "mm": mm_text(length.nm), **both})

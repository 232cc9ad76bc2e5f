"""Verdicts over HTTP: ask again for another kit, look at the pictures, work a kept one out again."""

from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE, MEASURER, OFFICE, SCHEDULER, TABLET
from contractor.api.desk import Desk, Show
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.inputs import inputs_checked
from contractor.api.numbers import NumberField, key_reader
from contractor.api.pictures import picture
from contractor.api.problems import Problem
from contractor.api.strict import StrictSerializer
from contractor.api.views import ListAndRead
from fitcheck.checks.shapes_depth import VerdictDepthSerializer
from fitcheck.drawings.cutbars import svg_cut_bars
from fitcheck.drawings.elevation import svg_elevation
from fitcheck.drawings.margins import svg_margins
from fitcheck.kits.services import sheet_find
from jobs.openings.models import Opening
from jobs.surveys.models import Survey
from jobs.surveys.services import superseded
from jobs.verdicts.depths import depth_differs, verdict_depth
from jobs.verdicts.desk import verdict_show
from jobs.verdicts.models import State, Verdict
from jobs.verdicts.pictures import NAMES, drawings_of, inputs_of
from jobs.verdicts.services import verdict_give, verdict_replay
from jobs.verdicts.shapes import VerdictRowSerializer, VerdictSerializer, VerdictToldSerializer

READERS = EVERYONE - {SCHEDULER}
SVG = {(200, "image/svg+xml"): OpenApiTypes.STR}


class AskSerializer(StrictSerializer):
    """Ask about a kit from the readings at hand: name an opening, or a survey of it."""

    opening = NumberField(
        letter="O", queryset=Opening.objects.select_related("job__site", "kit"), required=False
    )
    survey = serializers.UUIDField(required=False)
    kit = serializers.CharField(help_text="`slug`: its newest sheet; `slug:2`: that version.")
    size = serializers.CharField(
        required=False, allow_blank=True, help_text="Default: the size that fits best."
    )

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Find the opening either way."""
        if ("opening" in attrs) == ("survey" in attrs):
            raise Problem(
                "one_of_two", "Name an opening or a survey, one of the two.", hint="Send `opening`."
            )
        if "survey" in attrs:
            attrs["opening"] = self._of_survey(attrs.pop("survey"))
        return attrs

    def _of_survey(self, key: Any) -> Opening:
        survey = (
            Survey.objects.select_related("opening__job__site", "opening__kit")
            .filter(pk=key)
            .first()
        )
        if survey is None:
            raise Problem("does_not_exist", f"There is no survey {key}.", pointer="/survey")
        newer = Survey.objects.filter(supersedes=key).first()
        if newer is not None:
            raise superseded(key, newer, "/survey")
        opening: Opening = survey.opening
        return opening


class ReplaySerializer(serializers.Serializer):
    """Does a kept verdict still come out the same?"""

    agrees = serializers.BooleanField()
    differs = serializers.ListField(child=serializers.CharField(), help_text="Members that differ.")
    rules_version = serializers.CharField()


class VerdictView(ListAndRead):
    """Frozen answers; a new one is asked for, an old one is never changed."""

    name = "Verdicts"
    queryset = Verdict.objects.select_related("sheet__kit", "opening__job__site")
    serializer_class = VerdictToldSerializer
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "elevation": READERS,
        "margins": READERS,
        "cuts": READERS,
        "drawing": READERS,
        "replay": READERS,
        "depth": READERS,
        "create": frozenset({OFFICE, MEASURER, TABLET, "lead"}),
    }
    filters = {
        "opening": Filter("opening_id", "Number of the opening.", key_reader("O")),
        "kit": Filter("sheet__kit__slug", "Short name of the kit."),
        "state": Filter("state", "What it says.", enum=tuple(State.values)),
    }
    brief = ("id", "url", "opening", "kit", "state")
    desk = Desk(
        add="Ask for a verdict",
        done="Verdict given",
        searches={"opening": "/api/v1/openings/", "kit": "/api/v1/kits/"},
        columns=("id", "state", "opening", "kit", "sheet", "given_at", "given_by"),
        hides=frozenset({"result"}),
    )
    http_method_names = ["get", "post", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """Draw the verdict on its own page."""
        return verdict_show(self.get_object(), is_own_page=True) if self.detail else Show()

    def get_serializer_class(self) -> Any:
        """Ask with one shape, answer with another, and give lists the short one."""
        shapes = {"create": AskSerializer, "list": VerdictRowSerializer}
        return shapes.get(self.action, VerdictToldSerializer)

    def get_queryset(self) -> Any:
        """Leave what the rules said out of lists."""
        rows = super().get_queryset()
        return rows.defer("inputs", "result") if self.action == "list" else rows

    @extend_schema(request=AskSerializer, responses={201: VerdictSerializer})
    def create(self, request: Request) -> Response:
        """Work out a verdict for another kit from the readings at hand."""
        return once(request, self.caller, lambda: self._given(request))

    def _given(self, request: Request) -> Response:
        ask = AskSerializer(data=request.data)
        ask.is_valid(raise_exception=True)
        asked = ask.validated_data
        with inputs_checked():
            verdict = verdict_give(
                by=self.caller,
                opening=asked["opening"],
                sheet=sheet_find(name=asked["kit"]),
                size=asked.get("size") or None,
            )
        data = VerdictSerializer(verdict, context=self.get_serializer_context()).data
        return Response(data, 201, headers={"Location": data["url"]})

    @extend_schema(responses=SVG)
    @action(detail=True, url_path="elevation.svg")
    def elevation(self, request: Request, **kwargs: Any) -> HttpResponse:
        """Draw the opening from the front, with the kit in it."""
        verdict = self.get_object()
        return picture(svg_elevation(inputs_of(verdict), verdict.result))

    @extend_schema(responses=SVG)
    @action(detail=True, url_path="margins.svg")
    def margins(self, request: Request, **kwargs: Any) -> HttpResponse:
        """Draw each finding's margin as a bar."""
        return picture(svg_margins(self.get_object().result))

    @extend_schema(responses=SVG)
    @action(detail=True, url_path="cuts.svg")
    def cuts(self, request: Request, **kwargs: Any) -> HttpResponse:
        """Draw each cut on its stock."""
        return picture(svg_cut_bars(self.get_object().result))

    @extend_schema(
        responses=SVG,
        parameters=[OpenApiParameter("name", str, "path", enum=NAMES, description="Which one.")],
    )
    @action(detail=True, url_path="drawings/(?P<name>[a-z0-9-]+)")
    def drawing(self, request: Request, name: str, **kwargs: Any) -> HttpResponse:
        """Draw one of the verdict's drawings: elevation, plan, section, holes, handing, glass, cuts."""
        drawn = drawings_of(self.get_object())
        if name not in drawn:
            raise Problem(
                "not_found",
                f"This verdict has no drawing {name}.",
                status=404,
                hint=f"It has {', '.join(drawn)}.",
            )
        return picture(drawn[name][1]())

    @extend_schema(responses=VerdictDepthSerializer)
    @action(detail=True)
    def depth(self, request: Request, **kwargs: Any) -> Response:
        """Say more: every reading judged, the one more that helps most, the chance, the least change.

        Worked out when first asked for, then kept beside the verdict; from rules version 2.
        """
        return Response(verdict_depth(verdict=self.get_object()))

    @extend_schema(responses=ReplaySerializer)
    @action(detail=True)
    def replay(self, request: Request, **kwargs: Any) -> Response:
        """Work this verdict out again from its kept inputs and compare."""
        verdict = self.get_object()
        differs = verdict_replay(verdict=verdict)
        differs += ["depth"] if depth_differs(verdict) else []
        return Response(
            {"agrees": not differs, "differs": differs, "rules_version": verdict.rules_version}
        )

"""Openings over HTTP."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import OFFICE, PEOPLE, TABLET
from contractor.api.desk import Banner, Desk, Show, Task
from contractor.api.filters import Filter
from contractor.api.many import CreateMany, many_schema
from contractor.api.numbers import NumberField, key_reader
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from contractor.notices.services import row_change
from fitcheck.kits.models import Kit
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.openings.services import opening_add, opening_drop, opening_take_up
from jobs.verdicts.desk import verdict_show
from jobs.verdicts.services import verdict_standing

READERS = PEOPLE | {TABLET}
WRITERS = frozenset({OFFICE, TABLET, "measurer"})


class OpeningSerializer(StrictModelSerializer):
    """The hole in the bathroom that will hold one enclosure."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="opening-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    job = NumberField(letter="J", queryset=Job.objects.all())
    kit = serializers.SlugRelatedField(
        slug_field="slug",
        queryset=Kit.objects.all(),
        required=False,
        allow_null=True,
        help_text="Short name of the kit decided on; null while open.",
    )

    class Meta:
        model = Opening
        fields = [
            "id",
            "url",
            "job",
            "name",
            "enclosure",
            "stands_on",
            "shower_head_side",
            "kit",
            "notes",
            "dropped_why",
            "version",
        ]
        read_only_fields = ["dropped_why", "version"]


class WhySerializer(StrictSerializer):
    """Why it is done."""

    why = serializers.CharField(max_length=300)


@many_schema("Opening", OpeningSerializer, OpeningSerializer)
class OpeningView(ListAndRead, CreateOnce, CreateMany, PatchSeen):
    """Openings of all jobs."""

    name = "Openings"
    queryset = Opening.objects.select_related("kit")
    serializer_class = OpeningSerializer
    letter = "O"
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "create": WRITERS,
        "many": WRITERS,
        "partial_update": WRITERS,
        "drop": frozenset({OFFICE}),
        "take_up": frozenset({OFFICE}),
    }
    filters = {
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "kit": Filter("kit__slug", "Short name of the kit decided on."),
    }
    search = ("name", "job__summary")
    brief = ("id", "url", "name")
    desk = Desk(
        add="Add an opening",
        edit="Save the opening",
        done="Opening saved",
        searches={"job": "/api/v1/jobs/", "kit": "/api/v1/kits/"},
        columns=("id", "name", "job", "enclosure", "stands_on", "shower_head_side", "kit"),
        tasks=(
            Task(
                "drop",
                "Leave it out of the job",
                "Nothing is asked of it any more; the job goes on with its other openings.",
                WhySerializer,
                done="Left out",
                when=lambda row: not row["dropped_why"],
            ),
            Task(
                "take_up",
                "Take it into the job again",
                "The job waits for it again.",
                WhySerializer,
                done="Taken up",
                when=lambda row: bool(row["dropped_why"]),
            ),
        ),
        words={"dropped_why": ("Left out because", "")},
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """Show the verdict that counts for this opening, if there is one."""
        if not self.detail:
            return Show()
        verdict = verdict_standing(opening=self.get_object())
        if verdict is None:
            return Show([Banner("unknown", "No verdict yet: survey it, or ask for one.")])
        told = verdict_show(verdict)
        return Show(told.banners, told.pictures)

    def make(self, **values: Any) -> Opening:
        """Add the opening."""
        return opening_add(by=self.caller, **values)

    def change(self, row: Opening, **values: Any) -> Opening:
        """Change the opening."""
        return row_change(
            row=row,
            by=self.caller,
            type="opening.changed",
            values=values,
            reason=reason_of(self.request),
        )

    @extend_schema(request=WhySerializer, responses=OpeningSerializer)
    @action(detail=True, methods=["post"])
    def drop(self, request: Request, **kwargs: Any) -> Response:
        """Leave the opening out of its job, saying why."""
        why = self._why(request)
        return self.act(request, lambda row: opening_drop(by=self.caller, opening=row, why=why))

    @extend_schema(request=WhySerializer, responses=OpeningSerializer)
    @action(detail=True, methods=["post"], url_path="take-up", url_name="take_up")
    def take_up(self, request: Request, **kwargs: Any) -> Response:
        """Take the opening into its job again, saying why."""
        why = self._why(request)
        return self.act(request, lambda row: opening_take_up(by=self.caller, opening=row, why=why))

    def _why(self, request: Request) -> str:
        body = WhySerializer(data=request.data)
        body.is_valid(raise_exception=True)
        return str(body.validated_data["why"])

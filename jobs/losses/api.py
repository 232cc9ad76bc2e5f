"""Costs of error over HTTP: recorded one by one, summed, drawn."""

from datetime import date
from typing import Any

from django.http import HttpResponse
from django.urls import reverse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import LEAD, OFFICE, PEOPLE, TABLET, YARD
from contractor.api.desk import Banner, Desk, Picture, Show, Table
from contractor.api.filters import Filter
from contractor.api.money import CurrencyField, MoneyField
from contractor.api.numbers import NumberField, key_reader
from contractor.api.pictures import picture
from contractor.api.problems import Problem
from contractor.api.strict import StrictModelSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from contractor.people.models import Crew
from fitcheck.kits.models import Kit
from jobs.claims.models import Claim
from jobs.jobs.models import Job
from jobs.losses.chart import svg_losses
from jobs.losses.models import Cause, CostState, Kind, Loss
from jobs.losses.services import BY, loss_change, loss_record, losses_sums, saves_sums, total_of
from jobs.openings.models import Opening

READERS = PEOPLE | {TABLET}
WRITERS = frozenset({OFFICE, LEAD, YARD, TABLET})


class LossSerializer(StrictModelSerializer):
    """One error and what it cost."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="loss-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    job = NumberField(letter="J", queryset=Job.objects.select_related("site"))
    opening = NumberField(
        letter="O", queryset=Opening.objects.select_related("kit"), required=False, allow_null=True
    )
    claim = NumberField(letter="CL", queryset=Claim.objects.all(), required=False, allow_null=True)
    crew = serializers.SlugRelatedField(
        slug_field="slug", queryset=Crew.objects.all(), required=False, allow_null=True
    )
    kit = serializers.SlugRelatedField(
        slug_field="slug",
        queryset=Kit.objects.all(),
        required=False,
        allow_null=True,
        help_text="Else the opening's.",
    )
    happened_on = serializers.DateField(required=False)
    record: Any = serializers.PrimaryKeyRelatedField(
        read_only=True, allow_null=True, help_text="What was recorded at a hold point, if it was."
    )
    cost_says = serializers.SerializerMethodField(
        help_text="The cost in words, or that it is missing."
    )
    cost = MoneyField(
        required=False, help_text="Leave it out while nobody knows it; it is asked for later."
    )
    currency = CurrencyField(default="USD")

    class Meta:
        model = Loss
        fields = [
            "id",
            "url",
            "job",
            "opening",
            "kind",
            "cause",
            "says",
            "cost",
            "currency",
            "cost_state",
            "cost_says",
            "crew",
            "kit",
            "claim",
            "record",
            "happened_on",
            "recorded_at",
            "version",
        ]
        read_only_fields = ["cost_state", "recorded_at", "version"]

    def get_cost_says(self, row: Loss) -> str:
        """In words."""
        return row.cost_says


class SumSerializer(serializers.Serializer):
    """What one cause, crew, kit or kind cost."""

    name = serializers.CharField()
    label = serializers.CharField()  # type: ignore[assignment]
    cost = serializers.CharField()
    currency = serializers.CharField()
    count = serializers.IntegerField()
    missing = serializers.IntegerField(help_text="Of how many nobody has written the cost.")


class SaveSerializer(serializers.Serializer):
    """How often a guard stopped an error, by the notices that tell of it."""

    guard = serializers.CharField()
    says = serializers.CharField()
    count = serializers.IntegerField()


class SumsSerializer(serializers.Serializer):
    """What leaks and what the guards saved."""

    by = serializers.ChoiceField(choices=sorted(BY))
    since = serializers.DateField(allow_null=True)
    sums = SumSerializer(many=True)
    total = serializers.DictField(child=serializers.CharField(), help_text="By currency.")
    saves = SaveSerializer(many=True)


QUESTION = [
    OpenApiParameter("by", OpenApiTypes.STR, enum=sorted(BY), description="Default: cause."),
    OpenApiParameter("since", OpenApiTypes.DATE, description="From this day on; else all."),
]


class LossView(ListAndRead, CreateOnce, PatchSeen):
    """Every remake, miscut and call-back with its cause, and what the guards saved."""

    name = "Costs of error"
    queryset = Loss.objects.select_related("crew", "kit")
    serializer_class = LossSerializer
    letter = "L"
    reads = dict.fromkeys(("sums", "chart"), frozenset({"by", "since"}))
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "create": WRITERS,
        "partial_update": frozenset({OFFICE}),
        "sums": READERS,
        "chart": READERS,
    }
    filters = {
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "cause": Filter("cause", "Why.", enum=tuple(Cause.values)),
        "kind": Filter("kind", "What was done again.", enum=tuple(Kind.values)),
        "cost_state": Filter("cost_state", "Is it written?", enum=tuple(CostState.values)),
        "crew": Filter("crew__slug", "Short name of the crew."),
        "kit": Filter("kit__slug", "Short name of the kit."),
    }
    search = ("says", "job__summary")
    brief = ("id", "url", "job", "cause")
    desk = Desk(
        add="Record an error",
        edit="Save",
        done="Recorded",
        searches={
            "job": "/api/v1/jobs/",
            "opening": "/api/v1/openings/",
            "claim": "/api/v1/claims/",
            "kit": "/api/v1/kits/",
        },
        columns=(
            "id",
            "happened_on",
            "kind",
            "cause",
            "says",
            "cost_says",
            "crew",
            "job",
        ),
        hides=frozenset({"cost", "currency", "cost_state"}),
        page_words=frozenset({"by"}),
        words={
            "kind": ("What was done again", ""),
            "says": ("In words", "What happened."),
            "cost": (
                "Cost",
                "Such as 120.00; USD when no currency is named. Empty: not known yet, asked for later.",
            ),
            "cost_says": ("Cost", ""),
        },
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """Hang the chart above the list, and beside it what the guards saved."""
        if self.detail:
            return Show(banners=_asks_for_cost(row))
        asked = self.request.query_params.get("by", "cause")
        by = asked if asked in BY else "cause"
        saves = saves_sums()
        svg = svg_losses(by, losses_sums(rows=Loss.objects.all(), by=by), saves)
        itself = f"{self.reverse_action('chart')}?by={by}"
        saved = [[one["says"], str(one["count"])] for one in saves]
        here = self.reverse_action("list")
        return Show(
            banners=_costs_missing(here),
            pictures=[Picture(f"What leaks, by {by}, and what was saved", svg, itself)],
            tables=[Table("What the guards saved", ("Stopped", "How often"), saved)],
            links=[("Each refusal", reverse("save-list"))]
            + [(f"By {one}", f"{here}?by={one}") for one in BY if one != by],
        )

    def make(self, **values: Any) -> Loss:
        """Record it."""
        return loss_record(by=self.caller, **values)

    def change(self, row: Loss, **values: Any) -> Loss:
        """Correct it."""
        return loss_change(by=self.caller, loss=row, reason=reason_of(self.request), **values)

    @extend_schema(parameters=QUESTION, responses=SumsSerializer)
    @action(detail=False)
    def sums(self, request: Request) -> Response:
        """Sum by cause, crew, kit or kind, and count what the guards saved."""
        by, since = self._asked(request)
        sums = losses_sums(rows=_since(since), by=by)
        told = {"by": by, "since": since, "sums": sums, "total": total_of(sums)}
        return Response({**told, "saves": saves_sums(since=since)})

    @extend_schema(parameters=QUESTION, responses={(200, "image/svg+xml"): OpenApiTypes.STR})
    @action(detail=False, url_path="chart.svg")
    def chart(self, request: Request) -> HttpResponse:
        """Draw the sums as bars, and below them what the guards stopped."""
        by, since = self._asked(request)
        sums = losses_sums(rows=_since(since), by=by)
        return picture(svg_losses(by, sums, saves_sums(since=since)))

    def _asked(self, request: Request) -> tuple[str, date | None]:
        by, since = request.query_params.get("by", "cause"), request.query_params.get("since")
        if by not in BY:
            hint = f"Send one of: {', '.join(BY)}."
            raise Problem("filter_value", f"`by` is {by!r}.", hint=hint, pointer="/by")
        try:
            return by, date.fromisoformat(since) if since else None
        except ValueError:
            raise Problem(
                "filter_value",
                f"`since` is {since!r}.",
                hint="Send a day, 2026-03-07.",
                pointer="/since",
            ) from None


def _costs_missing(here: str) -> list[Banner]:
    """Say on top of the list how many costs nobody has written, and lead to them."""
    count = Loss.objects.filter(cost_state=CostState.MISSING).count()
    if not count:
        return []
    what = "1 error has no cost" if count == 1 else f"{count} errors have no cost"
    url = f"{here}?cost_state={CostState.MISSING}"
    return [Banner("missing", f"{what} written yet; the sums count them as nothing.", url, "Show")]


def _asks_for_cost(row: Any) -> list[Banner]:
    if not row or row["cost_state"] != CostState.MISSING:
        return []
    text = "Cost missing: nobody has written what this cost. Write it under Change this entry."
    return [Banner("missing", text)]


def _since(since: date | None) -> Any:
    rows = Loss.objects.all()
    return rows if since is None else rows.filter(happened_on__gte=since)

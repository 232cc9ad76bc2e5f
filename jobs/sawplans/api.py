"""Saw plans over HTTP: ask, watch, read, see each bar."""

from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import (
    OpenApiExample,
    OpenApiParameter,
    OpenApiResponse,
    extend_schema,
    extend_schema_view,
)
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import LEAD, OFFICE, PEOPLE, TABLET, YARD
from contractor.api.desk import Desk, Show, Task
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.pictures import picture
from contractor.api.problems import Problem
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen
from fitcheck.drawings.bars import svg_bars
from jobs.sawplans.desk import bars_of, plan_show
from jobs.sawplans.models import SawPlan, State
from jobs.sawplans.services import saw_plan_ask, saw_plan_retry
from jobs.sawplans.shapes import AskSawPlanSerializer, SawPlanRowSerializer, SawPlanSerializer

READERS = PEOPLE | {TABLET}
ASKERS = frozenset({OFFICE, LEAD, YARD})
EXAMPLE: dict[str, Any] = {
    "week": "2026-03-04",
    "bar_length": "144 in",
    "bar_cost": "64.00",
    "saw": {"kerf": "1/8 in", "trim": "1/4 in", "least_useful": "24 in"},
}


@extend_schema_view(list=extend_schema(responses=SawPlanRowSerializer(many=True)))
class SawPlanView(ListAndRead, CreateOnce, PatchSeen):
    """How a week's parts are sawn from the bars: which part from which bar, what is left, what is proven.

    Lengths are predicted ones plus the sheet's allowance, released marks where there are any. A plan
    releases no mark: each part is sawn to its own released mark. A worker lays the bars out; watch the
    plan's state.
    """

    name = "Saw plans"
    queryset = SawPlan.objects.all()
    serializer_class = SawPlanSerializer
    letter = "SP"
    scope = "none"
    reads = {"bars": frozenset({"bar"})}
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "bars": READERS,
        "create": ASKERS,
        "retry": ASKERS,
    }
    filters = {"state": Filter("state", "Where it stands.", enum=tuple(State.values))}
    brief = ("id", "url", "state", "bars_url")
    desk = Desk(
        add="Ask for a saw plan",
        done="Asked for",
        lacks=frozenset({"stock", "pieces"}),
        needs=frozenset({"week", "bar_length"}),
        columns=("id", "week_of", "state", "percent", "asked_at", "asked_by"),
        hides=frozenset(
            {"state", "stage", "percent", "trouble", "pieces", "left_out", "result", "bars_url"}
        ),
        words={
            "week": ("Week", "Any day of the week whose installs are sawn for."),
            "bar_length": ("Length of a new bar", "With its unit: 144 in, 3.6 m."),
            "bar_cost": ("Cost of a new bar", "Left out: bars are counted, not their money."),
            "saw": ("The saw", "Left out: as the firm has it."),
            "trim": ("Trim at each end", "Of a new bar, its kerf included."),
            "least_useful": ("Shortest offcut to keep", "With its unit."),
            "convention": ("How kerfs are counted", "One between two parts, or one for each."),
        },
        example=lambda: EXAMPLE,
        tasks=(
            Task(
                "retry",
                "Try this plan again",
                "It was given up; the reason stands above.",
                done="Asked for again",
                when=lambda row: row["state"] == State.FAILED,
            ),
        ),
    )
    http_method_names = ["get", "post", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """Say how far it is, or show the bars."""
        return plan_show(row) if row else Show()

    def get_queryset(self) -> Any:
        """Lists need neither parts nor bars."""
        rows = super().get_queryset()
        return rows.defer("asked", "left_out", "result") if self.action == "list" else rows

    def get_serializer_class(self) -> Any:
        """Ask with one shape, answer with another."""
        shapes = {"create": AskSawPlanSerializer, "list": SawPlanRowSerializer}
        return shapes.get(self.action, SawPlanSerializer)

    @extend_schema(
        request=AskSawPlanSerializer,
        responses={
            202: OpenApiResponse(SawPlanSerializer, "Asked for; watch the address in Location.")
        },
        examples=[OpenApiExample("A week", value=EXAMPLE, request_only=True)],
    )
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Freeze parts and bars, ask a worker for the plan, answer 202 at once."""
        return once(request, self.caller, lambda: self._asked(request))

    def _asked(self, request: Request) -> Response:
        ask = AskSawPlanSerializer(data=request.data)
        ask.is_valid(raise_exception=True)
        plan = saw_plan_ask(by=self.caller, **ask.validated_data)
        data = SawPlanSerializer(plan, context=self.get_serializer_context()).data
        return Response(data, 202, headers={"Location": data["url"], "Retry-After": "1"})

    @extend_schema(
        parameters=[OpenApiParameter("bar", int, description="Only this bar, by its number.")],
        responses={(200, "image/svg+xml"): OpenApiTypes.STR},
    )
    @action(detail=True)
    def bars(self, request: Request, **kwargs: Any) -> HttpResponse:
        """Draw every bar with its parts, or one."""
        plan = self.get_object()
        if plan.result is None:
            raise Problem(
                "plan_not_ready",
                f"{plan.number} is {plan.state} ({plan.percent} %).",
                status=409,
                hint="Watch its state; it ends in done or failed.",
                headers={"Retry-After": "1"},
            )
        return picture(
            svg_bars(_wanted(plan, request.query_params.get("bar", "")), str(plan.number))
        )

    @extend_schema(request=None, responses=SawPlanSerializer)
    @action(detail=True, methods=["post"])
    def retry(self, request: Request, **kwargs: Any) -> Response:
        """Try a plan again that was given up."""
        return self.act(request, lambda row: saw_plan_retry(by=self.caller, plan=row))


def _wanted(plan: SawPlan, number: str) -> list[dict[str, Any]]:
    every = bars_of(plan.result)
    if not number:
        return every
    found = [bar for bar in every if str(bar["number"]) == number]
    if not found:
        raise Problem(
            "filter_value",
            f"{plan.number} has no bar {number[:20]!r}.",
            hint=f"Its bars are numbered 1 to {len(every)}.",
            pointer="/bar",
        )
    return found

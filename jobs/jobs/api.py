"""Jobs over HTTP."""

from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE, OFFICE, SCHEDULER
from contractor.api.desk import Desk, Show
from contractor.api.filters import Filter
from contractor.api.many import CreateMany, many_schema
from contractor.api.numbers import key_reader
from contractor.api.pictures import picture
from contractor.api.problems import Problem
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from contractor.notices.services import row_change
from jobs.bookings.way_in import way_in_of
from jobs.jobs.desk import job_show, strip_of
from jobs.jobs.life import job_move, may_move
from jobs.jobs.models import Job, State
from jobs.jobs.moves import ACTIONS, WHO
from jobs.jobs.services import job_open
from jobs.jobs.shapes import (
    JobMoveSerializer,
    JobRowSerializer,
    JobSerializer,
    JobWayInSerializer,
)
from jobs.losses.saves import refusals_counted

OFFICE_ONLY = frozenset({OFFICE})
MOVERS = frozenset().union(*WHO.values())


@many_schema("Job", JobSerializer, JobSerializer)
class JobView(ListAndRead, CreateOnce, CreateMany, PatchSeen):
    """What the firm has been asked to do, and how far it is."""

    name = "Jobs"
    queryset = Job.objects.select_related("site").prefetch_related("openings")
    serializer_class = JobSerializer
    letter = "J"
    scope = "jobs"
    roles = {
        "list": EVERYONE,
        "retrieve": EVERYONE,
        "create": OFFICE_ONLY,
        "many": OFFICE_ONLY,
        "partial_update": OFFICE_ONLY,
        "move": MOVERS,
        "strip": EVERYONE - {SCHEDULER},
        "way_in": EVERYONE,
    }
    filters = {
        "site": Filter("site_id", "Number of the site.", key_reader("S")),
        "customer": Filter("site__customer_id", "Number of the customer.", key_reader("C")),
        "state": Filter("state", "How far it is.", enum=tuple(State.values)),
    }
    search = ("summary", "site__street_address", "site__customer__name")
    brief = ("id", "url", "summary")
    desk = Desk(
        add="Open a job",
        edit="Save the job",
        done="Job saved",
        searches={"site": "/api/v1/sites/"},
        columns=("id", "summary", "state", "site", "openings", "opened_at"),
        hides=frozenset({"next", "moves"}),
        words={"survey_again_at": ("To be measured again since", "")},
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def get_serializer_class(self) -> Any:
        """Give lists the short shape, which asks no guard."""
        return JobRowSerializer if self.action == "list" else JobSerializer

    def desk_show(self, row: Any) -> Show:
        """Show how far the job is, what comes next and what belongs to it."""
        return job_show(self.get_object(), row, self.caller) if self.detail else Show()

    def make(self, **values: Any) -> Job:
        """Open the job."""
        return job_open(by=self.caller, **values)

    def change(self, row: Job, **values: Any) -> Job:
        """Change the job."""
        return row_change(
            row=row,
            by=self.caller,
            type="job.changed",
            values=values,
            reason=reason_of(self.request),
        )

    @extend_schema(request=JobMoveSerializer, responses=JobSerializer)
    @action(detail=True, methods=["post"])
    def move(self, request: Request, **kwargs: Any) -> Response:
        """Move the job on or back by one of its `moves`; 409 `not_yet` says which guard holds it."""
        body = JobMoveSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        told = body.validated_data
        if not may_move(by=self.caller, action=told["action"]):
            raise Problem(
                "role_not_allowed",
                f"As {self.caller.role} you may not do this ({told['action']}).",
                status=403,
                hint=f"Open to: {', '.join(sorted(WHO[ACTIONS[told['action']].who]))}.",
            )
        with refusals_counted(by=self.caller, about=self.get_object):
            return self.act(request, lambda row: job_move(by=self.caller, job=row, **told))

    @extend_schema(responses=JobWayInSerializer)
    @action(detail=True, url_path="way-in")
    def way_in(self, request: Request, **kwargs: Any) -> Response:
        """Hold every panel of the job's verdicts against the site's way in, the tightest place named."""
        return Response(way_in_of(self.get_object()))

    @extend_schema(responses={(200, "image/svg+xml"): OpenApiTypes.STR})
    @action(detail=True, url_path="strip.svg")
    def strip(self, request: Request, **kwargs: Any) -> HttpResponse:
        """Draw how far the job is."""
        job = self.get_object()
        return picture(strip_of(job, JobSerializer(context={"request": request}).get_next(job)))

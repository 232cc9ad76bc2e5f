"""Deadlines and warranties over HTTP: what runs out next, and what is still promised."""

from datetime import date
from typing import Any

from django.http import HttpResponse
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import OFFICE, PEOPLE, TABLET
from contractor.api.desk import Desk, Picture, Show, Task
from contractor.api.filters import Filter
from contractor.api.numbers import key_reader
from contractor.api.paging import CursorPages
from contractor.api.pictures import picture
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen
from jobs.claims.models import Deadline, Warranty
from jobs.claims.picture import svg_deadlines
from jobs.claims.services import deadline_meet
from jobs.claims.shapes import DeadlineSerializer, FileSerializer, WarrantySerializer
from jobs.claims.warranty import warranty_note
from jobs.jobs.moments import day_at

READERS = PEOPLE | {TABLET}
OFFICE_ONLY = frozenset({OFFICE})
SHOWN = 20


class SoonestFirst(CursorPages):
    """What runs out first stands first."""

    ordering: Any = ("ends_on", "pk")


class DeadlineView(ListAndRead, PatchSeen):
    """Deadlines of open claims that nobody has met, the next one first."""

    name = "Deadlines"
    queryset = Deadline.objects.select_related("claim__job__site")
    serializer_class = DeadlineSerializer
    pagination_class = SoonestFirst
    letter = "DL"
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "met": OFFICE_ONLY,
        "timeline": READERS,
    }
    filters = {
        "claim": Filter("claim_id", "Number of the claim.", key_reader("CL")),
        "who": Filter("who", "Whose deadline: us, carrier, maker, customer."),
        "until": Filter("ends_on__lte", "Running out by this day.", lambda t: _day(t)),
    }
    brief = ("id", "url", "claim", "clock", "ends_on", "days_left")
    desk = Desk(
        form=False,
        columns=("id", "ends_on", "days_left", "clock", "who", "claim", "claim_summary", "do"),
        tasks=(
            Task(
                "met",
                "It was done",
                "Say when and how; kept with the claim.",
                FileSerializer,
                done="Noted",
                when=lambda row: row["met_on"] is None,
            ),
        ),
    )
    http_method_names = ["get", "post", "head", "options"]

    def get_queryset(self) -> Any:
        """List only what still runs; any single one may be read."""
        rows = super().get_queryset()
        return rows if self.detail else rows.filter(met_on=None, claim__settled_at=None)

    def desk_show(self, row: Any) -> Show:
        """Hang the days that are left above the list."""
        if self.detail:
            return Show()
        itself = self.reverse_action("timeline")
        return Show(pictures=[Picture("Days that are left", self._drawn(), itself)])

    def _drawn(self) -> str:
        rows = self.get_queryset().order_by("ends_on", "pk")[:SHOWN]
        return svg_deadlines([_bar(one) for one in rows])

    @extend_schema(request=FileSerializer, responses=DeadlineSerializer)
    @action(detail=True, methods=["post"])
    def met(self, request: Request, **kwargs: Any) -> Response:
        """Record that what the clock asks for was done."""
        body = FileSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        told = body.validated_data
        return self.act(request, lambda row: deadline_meet(by=self.caller, deadline=row, **told))

    @extend_schema(responses={(200, "image/svg+xml"): OpenApiTypes.STR})
    @action(detail=False, url_path="timeline.svg")
    def timeline(self, request: Request) -> HttpResponse:
        """Draw the deadlines that run, by the days that are left."""
        return picture(self._drawn())


def _bar(row: Deadline) -> dict[str, Any]:
    today = day_at(timezone.now(), row.claim.job.site.time_zone)
    return {
        "what": f"{row.claim.number} {row.clock}",
        "ends_on": row.ends_on.isoformat(),
        "left": (row.ends_on - today).days,
        "who": row.who,
    }


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError("a day, 2026-03-07") from None


class WarrantyView(ListAndRead, CreateOnce):
    """What is promised for installed kits, until when. Noted by itself when a job is installed."""

    name = "Warranties"
    queryset = Warranty.objects.select_related("site__customer", "sheet__kit")
    serializer_class = WarrantySerializer
    letter = "W"
    roles = {"list": READERS, "retrieve": READERS, "create": OFFICE_ONLY}
    filters = {
        "site": Filter("site_id", "Number of the site.", key_reader("S")),
        "customer": Filter("site__customer_id", "Who owns the site now.", key_reader("C")),
        "opening": Filter("opening_id", "Number of the opening.", key_reader("O")),
    }
    search = ("site__street_address", "sheet__kit__name")
    brief = ("id", "url", "opening", "ends_on")
    desk = Desk(
        add="Note a warranty",
        done="Noted",
        searches={"opening": "/api/v1/openings/"},
        columns=("id", "site", "customer", "opening", "sheet", "installed_on", "ends_on"),
    )
    http_method_names = ["get", "post", "head", "options"]

    def make(self, **values: Any) -> Warranty:
        """Note what the sheet promises, for an install from before there were records."""
        return warranty_note(by=self.caller, **values)

"""Bookings over HTTP."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any
from urllib.parse import urlencode

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse

from contractor.api.callers import EVERYONE, LEAD, OFFICE, SCHEDULER, TABLET
from contractor.api.desk import Desk, Picture, Show, Task
from contractor.api.filters import Filter
from contractor.api.forms import form_value
from contractor.api.many import CreateMany, many_schema
from contractor.api.moments import of_our_age
from contractor.api.numbers import key_reader
from contractor.api.pictures import picture
from contractor.api.problems import Problem
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen
from jobs.bookings.api_shapes import (
    BookingSerializer,
    CancelSerializer,
    ConfirmSerializer,
    MoveSerializer,
    NoShowSerializer,
    check_span,
)
from jobs.bookings.models import STANDING, Booking, State, Visit
from jobs.bookings.services import (
    booking_cancel,
    booking_confirm,
    booking_make,
    booking_move,
    booking_no_show,
)
from jobs.bookings.week import monday_of, week_strip
from jobs.jobs.models import Job
from jobs.losses.saves import refusals_counted

BOOKERS = frozenset({OFFICE, SCHEDULER})

BOOKING_DESK = Desk(
    add="Book a visit",
    done="Booked",
    lacks=frozenset({"starts_at", "ends_at"}),
    stands_for={"starts_at": "local_start", "ends_at": "local_end"},
    searches={"job": "/api/v1/jobs/"},
    columns=("id", "local", "visit", "job", "crew", "state", "override_name"),
    hides=frozenset({"starts_at", "ends_at"}),
    tasks=(
        Task(
            "move",
            "Move booking",
            "To another time or crew; leave empty what stays.",
            MoveSerializer,
            done="Moved",
            when=lambda row: row["state"] in STANDING,
        ),
        Task(
            "confirm",
            "Confirm booking",
            "What was held is then promised; verdict, goods and crew are asked once more.",
            ConfirmSerializer,
            done="Confirmed",
            when=lambda row: row["state"] == State.HELD,
        ),
        Task(
            "no_show",
            "Record a no-show",
            "The crew came and nobody let it in.",
            NoShowSerializer,
            done="No-show recorded",
            when=lambda row: row["state"] == State.BOOKED and row["starts_at"] < _now_text(),
        ),
        Task(
            "cancel",
            "Cancel booking",
            "The crew's time is free again, and the follow-up is dropped.",
            CancelSerializer,
            done="Cancelled",
            when=lambda row: row["state"] in STANDING,
        ),
    ),
    page_words=frozenset({"monday"}),
    needs=frozenset({"local_start", "local_end"}),
    form_first=True,
    words={
        "job": ("Job", "Its number; or type some words of it or of the street, and choose."),
        "local_start": ("Starts", "By the clock at the site."),
        "local_end": ("Ends", "By the clock at the site."),
        "fold": ("If that hour comes twice", "Only in the night when the clocks go back."),
        "hold_hours": ("Hold only, for hours", "Leave empty to book; a hold must be confirmed."),
        "override_name": ("Override by", "Who answers for what is against this visit."),
        "override_reason": ("Override because", "Kept with the booking and in the history."),
    },
)


@many_schema("Booking", BookingSerializer, BookingSerializer)
class BookingView(ListAndRead, CreateOnce, CreateMany, PatchSeen):
    """The crews' promised time. Overlapping bookings of one crew are impossible."""

    name = "Bookings"
    queryset = Booking.objects.select_related("job__site", "crew")
    serializer_class = BookingSerializer
    letter = "B"
    scope = "bookings"
    reads = {"week": frozenset({"monday"})}
    roles = {
        "list": EVERYONE,
        "retrieve": EVERYONE,
        "create": BOOKERS,
        "many": BOOKERS,
        "move": BOOKERS,
        "confirm": BOOKERS,
        "cancel": BOOKERS,
        "no_show": BOOKERS | {LEAD, TABLET},
        "week": EVERYONE,
    }
    filters = {
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "crew": Filter("crew__slug", "Short name of the crew."),
        "visit": Filter("visit", "What for.", enum=tuple(Visit.values)),
        "state": Filter("state", "How it stands.", enum=tuple(State.values)),
        "from": Filter("ends_at__gt", "Ending after this moment.", lambda t: _moment(t)),
        "until": Filter("starts_at__lt", "Starting before this moment.", lambda t: _moment(t)),
    }
    search = ("job__summary", "job__site__street_address")
    brief = ("id", "url", "job", "crew", "local")
    desk = BOOKING_DESK
    http_method_names = ["get", "post", "head", "options"]
    wanted_job: Job | None = None

    def desk_show(self, row: Any) -> Show:
        """Hang the week's strip above the list: that of `monday`, of what was sent, or this one."""
        free = reverse("free-time-list", request=self.request)
        if self.detail:
            asked = urlencode({"job": row["job"], "visit": row["visit"]}) if row else ""
            return Show(links=[("Find another time", f"{free}?{asked}"), *self._onward(row)])
        sent = (form_value(self.request, "local_start") or "")[:10]
        monday = monday_of(self.request.query_params.get("monday") or sent)
        strip = week_strip(monday.isoformat(), self.get_queryset())
        here = self.reverse_action("list")
        near = {
            name: f"{here}?monday={(monday + timedelta(days=days)).date()}"
            for name, days in (("earlier", -7), ("later", 7))
        }
        itself = f"{self.reverse_action('week')}?monday={monday.date()}"
        week = Picture("The crews' week", strip, itself, **near)
        return Show(pictures=[week], links=[("Find free time", free)])

    def _onward(self, row: Any) -> list[tuple[str, str]]:
        """Lead on to the paper of a visit, and to its installs."""
        asked = urlencode({"booking": row["id"]}) if row else ""
        links = [
            ("Ask for its packet", f"{reverse('packet-list', request=self.request)}?{asked}#add")
        ]
        if row and row["visit"] == Visit.INSTALL:
            room = reverse("install-list", request=self.request)
            begun = self.get_object().installs.exists()
            says, where = ("Its installs", "") if begun else ("Start the install", "#add")
            links.append((says, f"{room}?{asked}{where}"))
        return links

    def desk_next(self, data: Any) -> str:
        """Lead from a new booking to the week that it is in."""
        week = monday_of(data["starts_at"][:10]).date()
        return f"{self.reverse_action('list')}?monday={week}"

    def get_queryset(self) -> Any:
        """Tablets and crews see their own crews' bookings; another's is simply not there."""
        rows = super().get_queryset()
        if self.request is not None and self.caller.sees_own_crews_only:
            return rows.filter(crew__places__member_id=self.caller.member_id).distinct()
        return rows

    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Book; what a guard refuses is counted as saved."""
        with refusals_counted(by=self.caller, about=lambda: self.wanted_job):
            return super().create(request, *args, **kwargs)

    def one(self, data: Any, key: str | None) -> Response:
        """Book one of many; what a guard refuses is counted as saved, as if it had been sent alone."""
        self.wanted_job = None
        with refusals_counted(by=self.caller, about=lambda: self.wanted_job):
            return super().one(data, key)

    def act(self, request: Request, work: Callable[[Any], Any]) -> Response:
        """Do one action on a booking; what a guard refuses is counted as saved."""
        with refusals_counted(by=self.caller, about=lambda: self.get_object().job):
            return super().act(request, work)

    def make(self, **values: Any) -> Booking:
        """Book; only the office may answer for a verdict that is against it."""
        self._check_override(values)
        self.wanted_job = values["job"]
        return booking_make(by=self.caller, **values)

    def _check_override(self, values: Any) -> None:
        if values.get("override_name") and self.caller.role != OFFICE:
            raise Problem(
                "override_needs_office",
                "Only the office may override what is against a visit.",
                status=403,
                hint="Leave override_name out, or let the office book.",
                pointer="/override_name",
            )

    @extend_schema(request=MoveSerializer, responses=BookingSerializer)
    @action(detail=True, methods=["post"])
    def move(self, request: Request, **kwargs: Any) -> Response:
        """Move the booking to another time or crew, saying why."""
        body = MoveSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        return self.act(request, lambda row: self._moved(row, dict(body.validated_data)))

    def _moved(self, row: Booking, values: dict[str, Any]) -> Booking:
        self._check_override(values)
        reason = values.pop("reason")
        values = MoveSerializer().moments(values, row.job.site.time_zone)
        check_span(values.get("starts_at", row.starts_at), values.get("ends_at", row.ends_at))
        return booking_move(by=self.caller, booking=row, reason=reason, **values)

    @extend_schema(request=ConfirmSerializer, responses=BookingSerializer)
    @action(detail=True, methods=["post"])
    def confirm(self, request: Request, **kwargs: Any) -> Response:
        """Promise what was only held; every guard is asked anew."""
        body = ConfirmSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        told = body.validated_data
        self._check_override(told)
        name, reason = told.get("override_name", ""), told.get("override_reason", "")
        return self.act(
            request,
            lambda row: booking_confirm(by=self.caller, booking=row, name=name, reason=reason),
        )

    @extend_schema(request=NoShowSerializer, responses=BookingSerializer)
    @action(detail=True, methods=["post"])
    def no_show(self, request: Request, **kwargs: Any) -> Response:
        """Record that the crew came and nobody let it in, saying what it found."""
        body = NoShowSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        why = body.validated_data["why"]
        return self.act(request, lambda row: booking_no_show(by=self.caller, booking=row, why=why))

    @extend_schema(request=CancelSerializer, responses=BookingSerializer)
    @action(detail=True, methods=["post"])
    def cancel(self, request: Request, **kwargs: Any) -> Response:
        """Give the time back, saying why."""
        body = CancelSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        why = body.validated_data["why"]
        return self.act(request, lambda row: booking_cancel(by=self.caller, booking=row, why=why))

    @extend_schema(
        parameters=[
            OpenApiParameter("monday", OpenApiTypes.DATE, description="Default: this week's.")
        ],
        responses={(200, "image/svg+xml"): OpenApiTypes.STR},
    )
    @action(detail=False, url_path="week.svg")
    def week(self, request: Request) -> HttpResponse:
        """Draw a week: crews as rows, days as columns, each visit in its site's time."""
        return picture(week_strip(request.query_params.get("monday"), self.get_queryset()))


def _now_text() -> str:
    return datetime.now(UTC).isoformat()


def _moment(text: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise ValueError("a time with offset, 2026-03-07T09:00:00-05:00") from None
    if moment.tzinfo is None or not of_our_age(moment):
        raise ValueError("a time with offset, 2026-03-07T09:00:00-05:00")
    return moment

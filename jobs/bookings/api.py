"""Bookings over HTTP."""

from datetime import datetime, timedelta
from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE, OFFICE, SCHEDULER
from contractor.api.desk import Desk, Picture, Show, Task
from contractor.api.fields import MomentField
from contractor.api.filters import Filter
from contractor.api.forms import form_value
from contractor.api.moments import of_our_age
from contractor.api.numbers import NumberField, key_reader
from contractor.api.pictures import picture
from contractor.api.problems import Problem
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen
from contractor.people.models import Crew
from jobs.bookings.models import Booking, State, Visit
from jobs.bookings.services import booking_cancel, booking_make, booking_move
from jobs.bookings.times import EARLIER, LATER, NONE, check_not_skipped, moment_of_wall_time
from jobs.bookings.week import monday_of, week_strip
from jobs.jobs.models import Job

BOOKERS = frozenset({OFFICE, SCHEDULER})
LONGEST = timedelta(days=3)


@extend_schema_field({"type": "string", "examples": ["2026-03-07T09:00"]})
class WallTimeField(serializers.Field):
    """A clock's reading at the site, `2026-03-07T09:00`; the site's own zone says which moment it is."""

    def to_internal_value(self, data: Any) -> datetime:
        """Read a time without an offset."""
        try:
            wall = datetime.fromisoformat(data) if isinstance(data, str) else None
        except ValueError:
            wall = None
        if wall is None or wall.tzinfo is not None or not of_our_age(wall):
            raise serializers.ValidationError(
                "Send the site's wall time without an offset, for example 2026-03-07T09:00.",
                "wall_time",
            )
        return wall

    def to_representation(self, value: Any) -> str:
        """Never given out; see `local`."""
        return str(value)


class SpanMixin(StrictSerializer):
    """A span, either as moments with offset or as the site's wall time."""

    starts_at = MomentField(required=False, help_text="With offset. Or send local_start.")
    ends_at = MomentField(required=False, help_text="With offset. Or send local_end.")
    local_start = WallTimeField(
        required=False,
        write_only=True,
        help_text="The site's wall time: 2026-03-07T09:00.",
        style={"input_type": "datetime-local", "base_template": "input.html"},
    )
    local_end = WallTimeField(
        required=False,
        write_only=True,
        help_text="The site's wall time.",
        style={"input_type": "datetime-local", "base_template": "input.html"},
    )
    fold = serializers.ChoiceField(
        choices=[(NONE, "not in doubt"), (EARLIER, "the earlier"), (LATER, "the later")],
        required=False,
        write_only=True,
        help_text="Which one, when the hour comes twice.",
    )

    def moments(self, attrs: dict[str, Any], zone: str) -> dict[str, Any]:
        """Turn whichever was sent into two moments."""
        fold = attrs.pop("fold", NONE)
        for name, wall_name in (("starts_at", "local_start"), ("ends_at", "local_end")):
            wall = attrs.pop(wall_name, None)
            if wall is not None and name in attrs:
                text = f"Send `{name}` or `{wall_name}`, not both."
                raise Problem(
                    "one_of_two", text, hint=f"Leave `{wall_name}` out.", pointer=f"/{wall_name}"
                )
            if wall is not None:
                attrs[name] = moment_of_wall_time(wall, zone, fold, f"/{wall_name}")
            elif name in attrs:
                attrs[name] = check_not_skipped(attrs[name], zone, f"/{name}")
        return attrs


def check_span(starts_at: datetime | None, ends_at: datetime | None) -> None:
    """Refuse a span without an end, the wrong way round, or absurdly long.

    Raises:
        Problem: naming the field at fault.
    """
    for name, value, wall in (
        ("starts_at", starts_at, "local_start"),
        ("ends_at", ends_at, "local_end"),
    ):
        if value is None:
            hint = f"Send `{name}` with an offset, or `{wall}` in the site's wall time."
            raise Problem("required", f"`{name}` is missing.", hint=hint, pointer=f"/{name}")
    assert starts_at is not None  # noqa: S101
    assert ends_at is not None  # noqa: S101
    if ends_at <= starts_at:
        raise Problem(
            "ends_before_start",
            "The visit ends before it starts.",
            hint="Send a later end.",
            pointer="/ends_at",
        )
    if ends_at - starts_at > LONGEST:
        raise Problem(
            "span_too_long",
            "One booking is at most 3 days.",
            hint="Book each visit by itself.",
            pointer="/ends_at",
        )


class BookingSerializer(SpanMixin, StrictModelSerializer):
    """A crew's time promised at a site."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="booking-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    job = NumberField(letter="J", queryset=Job.objects.select_related("site"))
    crew = serializers.SlugRelatedField(
        slug_field="slug", queryset=Crew.objects.filter(is_active=True)
    )
    local = serializers.CharField(
        read_only=True, help_text="The span in the site's own time, in words."
    )
    override_name = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=120,
        help_text="Who answers for an install that no verdict covers.",
    )
    override_reason = serializers.CharField(required=False, allow_blank=True, max_length=300)
    overridden = serializers.ListField(
        child=serializers.DictField(child=serializers.CharField()), read_only=True
    )

    class Meta:
        model = Booking
        fields = [
            "id",
            "url",
            "job",
            "crew",
            "visit",
            "local_start",
            "local_end",
            "fold",
            "starts_at",
            "ends_at",
            "local",
            "state",
            "hands_needed",
            "override_name",
            "override_reason",
            "overridden",
            "notes",
            "cancelled_why",
            "version",
        ]
        read_only_fields = ["state", "hands_needed", "cancelled_why", "version"]

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Settle the times in the site's zone."""
        attrs = self.moments(attrs, attrs["job"].site.time_zone)
        check_span(attrs.get("starts_at"), attrs.get("ends_at"))
        return attrs


class MoveSerializer(SpanMixin):
    """Where a booking is moved to; leave out what stays."""

    crew = serializers.SlugRelatedField(
        slug_field="slug", queryset=Crew.objects.filter(is_active=True), required=False
    )
    reason = serializers.CharField(max_length=300)


class CancelSerializer(StrictSerializer):
    """Why a booking is cancelled."""

    why = serializers.CharField(max_length=300)


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
            when=lambda row: row["state"] == State.BOOKED,
        ),
        Task(
            "cancel",
            "Cancel booking",
            "The crew's time is free again, and the follow-up is dropped.",
            CancelSerializer,
            done="Cancelled",
            when=lambda row: row["state"] == State.BOOKED,
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
        "override_name": ("Override by", "Who answers for an install that no verdict covers."),
        "override_reason": ("Override because", "Kept with the booking and in the history."),
    },
)


class BookingView(ListAndRead, CreateOnce, PatchSeen):
    """The crews' promised time. Overlapping bookings of one crew are impossible."""

    name = "Bookings"
    queryset = Booking.objects.select_related("job__site", "crew")
    serializer_class = BookingSerializer
    letter = "B"
    scope = "bookings"
    roles = {
        "list": EVERYONE,
        "retrieve": EVERYONE,
        "create": BOOKERS,
        "move": BOOKERS,
        "cancel": BOOKERS,
        "week": EVERYONE,
    }
    filters = {
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "crew": Filter("crew__slug", "Short name of the crew."),
        "visit": Filter("visit", "What for.", enum=tuple(Visit.values)),
        "state": Filter("state", "booked or cancelled.", enum=tuple(State.values)),
        "from": Filter("ends_at__gt", "Ending after this moment.", lambda t: _moment(t)),
        "until": Filter("starts_at__lt", "Starting before this moment.", lambda t: _moment(t)),
    }
    search = ("job__summary", "job__site__street_address")
    brief = ("id", "url", "job", "crew", "local")
    desk = BOOKING_DESK
    http_method_names = ["get", "post", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """Hang the week's strip above the list: that of `monday`, of what was sent, or this one."""
        if self.detail:
            return Show()
        sent = (form_value(self.request, "local_start") or "")[:10]
        monday = monday_of(self.request.query_params.get("monday") or sent)
        strip = week_strip(monday.isoformat(), self.get_queryset())
        here = self.reverse_action("list")
        near = {
            name: f"{here}?monday={(monday + timedelta(days=days)).date()}"
            for name, days in (("earlier", -7), ("later", 7))
        }
        itself = f"{self.reverse_action('week')}?monday={monday.date()}"
        return Show(pictures=[Picture("The crews' week", strip, itself, **near)])

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

    def make(self, **values: Any) -> Booking:
        """Book; only the office may answer for a verdict that is against it."""
        if values.get("override_name") and self.caller.role != OFFICE:
            raise Problem(
                "override_needs_office",
                "Only the office may override a verdict.",
                status=403,
                hint="Leave override_name out, or let the office book.",
                pointer="/override_name",
            )
        return booking_make(by=self.caller, **values)

    @extend_schema(request=MoveSerializer, responses=BookingSerializer)
    @action(detail=True, methods=["post"])
    def move(self, request: Request, **kwargs: Any) -> Response:
        """Move the booking to another time or crew, saying why."""
        body = MoveSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        return self.act(request, lambda row: self._moved(row, dict(body.validated_data)))

    def _moved(self, row: Booking, values: dict[str, Any]) -> Booking:
        reason = values.pop("reason")
        values = MoveSerializer().moments(values, row.job.site.time_zone)
        check_span(values.get("starts_at", row.starts_at), values.get("ends_at", row.ends_at))
        return booking_move(by=self.caller, booking=row, reason=reason, **values)

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


def _moment(text: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise ValueError("a time with offset, 2026-03-07T09:00:00-05:00") from None
    if moment.tzinfo is None or not of_our_age(moment):
        raise ValueError("a time with offset, 2026-03-07T09:00:00-05:00")
    return moment

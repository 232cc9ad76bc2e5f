"""Plans of a day over HTTP: asked for, watched, edited, accepted or declined."""

from typing import Any
from zoneinfo import ZoneInfo

from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import OFFICE, SCHEDULER
from contractor.api.desk import Banner, Desk, Picture, Show, Table, Task
from contractor.api.desk_values import shown
from contractor.api.fields import MomentField
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen
from contractor.people.models import Crew
from jobs.bookings.api_shapes import WallTimeField
from jobs.bookings.times import NONE, moment_of_wall_time
from jobs.plans.deciding import plan_accept, plan_edit
from jobs.plans.models import DayPlan, State
from jobs.plans.picture import day_pictures, move_words
from jobs.plans.services import plan_ask, plan_decline, plan_retry

PLANNERS = frozenset({OFFICE})
READERS = frozenset({OFFICE, SCHEDULER})
MOST_SECONDS = 40


class BookingNumber(serializers.RegexField):
    """The number of a booking: `B-0007`."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(r"^B-\d{4,15}$", **kwargs)


class PlannedMoveSerializer(serializers.Serializer):
    """One visit's place before and after."""

    booking = serializers.CharField()
    version = serializers.IntegerField(help_text="Of the booking, when the plan was asked for.")
    crew_before = serializers.CharField()
    crew_after = serializers.CharField()
    starts_before = serializers.DateTimeField()
    ends_before = serializers.DateTimeField()
    starts_after = serializers.DateTimeField()
    ends_after = serializers.DateTimeField()
    time_zone = serializers.CharField(help_text="Of the site.")


class DayPlanSerializer(StrictModelSerializer):
    """A proposal for one day; nothing moves until it is accepted."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="plan-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    day = serializers.DateField(help_text="By the clock of each visit's site.")
    crews = serializers.SlugRelatedField(
        slug_field="slug",
        many=True,
        required=False,
        write_only=True,
        queryset=Crew.objects.filter(is_active=True),
        help_text="Empty: every crew.",
    )
    keep = serializers.ListField(
        child=BookingNumber(),
        required=False,
        write_only=True,
        max_length=300,
        help_text="Bookings that stay where they are.",
    )
    shift_hours = serializers.IntegerField(
        required=False,
        write_only=True,
        min_value=0,
        max_value=12,
        help_text="How far a visit may move from its promised time; empty: 3 hours.",
    )
    seconds = serializers.IntegerField(
        required=False,
        min_value=1,
        max_value=MOST_SECONDS,
        help_text="How long the solver looks; empty: 10.",
    )
    moves = PlannedMoveSerializer(many=True, read_only=True)

    class Meta:
        model = DayPlan
        fields = [
            "id",
            "url",
            "day",
            "crews",
            "keep",
            "shift_hours",
            "seconds",
            "state",
            "percent",
            "trouble",
            "moves",
            "drive_before",
            "drive_after",
            "asked_by",
            "asked_at",
            "done_at",
            "decided_why",
            "version",
        ]
        read_only_fields = [
            "state",
            "percent",
            "trouble",
            "drive_before",
            "drive_after",
            "asked_by",
            "asked_at",
            "done_at",
            "decided_why",
            "version",
        ]


class AcceptSerializer(StrictSerializer):
    """All moves, or only those of some bookings."""

    only = serializers.ListField(
        child=BookingNumber(), required=False, max_length=300, help_text="Empty: all of them."
    )


class DeclineSerializer(StrictSerializer):
    """Why the day stays as it is."""

    why = serializers.CharField(max_length=300)


class EditSerializer(StrictSerializer):
    """One visit of the proposal, and where it goes instead."""

    booking = BookingNumber()
    leave = serializers.BooleanField(
        required=False, default=False, help_text="Leave this visit where it is booked."
    )
    crew = serializers.SlugRelatedField(
        slug_field="slug", queryset=Crew.objects.filter(is_active=True), required=False
    )
    starts_at = MomentField(required=False, help_text="With offset. Or send local_start.")
    local_start = WallTimeField(
        required=False,
        help_text="By the clock at the site.",
        style={"input_type": "datetime-local", "base_template": "input.html"},
    )


def _is(state: State) -> Any:
    return lambda row: row["state"] == state


PLAN_DESK = Desk(
    add="Ask for a plan",
    done="Asked for",
    columns=("id", "day", "state", "drive_before", "drive_after", "asked_by", "asked_at"),
    hides=frozenset({"moves"}),
    lacks=frozenset({"starts_at"}),
    searches={"keep": "/api/v1/bookings/", "only": "/api/v1/bookings/"},
    words={
        "drive_before": ("Drive as booked [min]", ""),
        "drive_after": ("Drive as proposed [min]", ""),
        "only": ("Only these", "Numbers of bookings; empty: all of them."),
        "leave": ("Leave it where it is booked", ""),
        "local_start": ("Starts", "By the clock at the site; empty: as proposed."),
        "seconds": ("Seconds to look", "Empty: 10."),
        "shift_hours": ("Hours to move by, at most", "Empty: 3."),
        "keep": ("Keep", "Numbers of bookings that stay where they are."),
        "trouble": ("Remark", ""),
    },
    tasks=(
        Task(
            "accept",
            "Accept the plan",
            "Moves the visits; every guard is asked once more, and when one refuses nothing moves.",
            AcceptSerializer,
            done="Accepted",
            when=lambda row: row["state"] == State.DONE and bool(row["moves"]),
        ),
        Task(
            "edit",
            "Change one move",
            "Only the proposal changes.",
            EditSerializer,
            done="Changed",
            when=_is(State.DONE),
        ),
        Task(
            "decline",
            "Decline the plan",
            "The day stays as it is.",
            DeclineSerializer,
            done="Declined",
            when=_is(State.DONE),
        ),
        Task("retry", "Try again", "Asks a worker anew.", done="Asked for", when=_is(State.FAILED)),
    ),
)


class DayPlanView(ListAndRead, CreateOnce, PatchSeen):
    """Better orders for a day's visits, worked out by a worker and decided on by the office."""

    name = "Day plans"
    queryset = DayPlan.objects.all()
    serializer_class = DayPlanSerializer
    letter = "DP"
    scope = "bookings"
    roles = {
        "list": READERS,
        "retrieve": READERS,
        **{one: PLANNERS for one in ("create", "accept", "edit", "decline", "retry")},
    }
    filters = {
        "day": Filter("day", "ISO date."),
        "state": Filter("state", "How it stands.", enum=tuple(State.values)),
    }
    brief = ("id", "url", "day", "state", "percent")
    desk = PLAN_DESK
    http_method_names = ["get", "post", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """Show the day as booked and as proposed, and each move in words."""
        if not self.detail or not row:
            return Show()
        plan = self.get_object()
        waits = plan.state in {State.WANTED, State.SOLVING}
        saved = (plan.drive_before or 0) - (plan.drive_after or 0)
        said = {
            State.WANTED: "Waiting for a worker.",
            State.SOLVING: f"Looking for a better order: {plan.percent} %.",
            State.DONE: f"{len(plan.moves)} visits would move; {saved} min less driving.",
            State.ACCEPTED: f"{len(plan.moves)} visits were moved; {saved} min less driving.",
        }.get(State(plan.state), plan.get_state_display())
        heads = ("Booking", "Crew", "From", "To")
        moves = "What was moved" if plan.state == State.ACCEPTED else "What would move"
        lines = [[shown(one, "") for one in words] for words in map(move_words, plan.moves)]
        pictures = [Picture(title, svg) for title, svg in day_pictures(plan)]
        tables = [] if waits else [Table(moves, heads, lines, "Nothing.")]
        return Show([Banner(plan.state, said)], pictures, tables, refresh=waits)

    @extend_schema(
        request=DayPlanSerializer,
        responses={
            202: OpenApiResponse(DayPlanSerializer, "Asked for; watch the address in Location.")
        },
    )
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Copy the day and ask a worker; 202 with the address where it can be watched."""
        return once(request, self.caller, lambda: self._asked(request))

    def _asked(self, request: Request) -> Response:
        response = self._made(request.data)
        response.status_code = 202
        return response

    def make(self, **values: Any) -> DayPlan:
        """Ask for the plan."""
        crews = values.pop("crews", None) or list(Crew.objects.filter(is_active=True))
        keep = frozenset(values.pop("keep", []))
        return plan_ask(by=self.caller, crews=crews, keep=keep, **values)

    @extend_schema(request=AcceptSerializer)
    @action(detail=True, methods=["post"])
    def accept(self, request: Request, **kwargs: Any) -> Response:
        """Move the proposed visits, all or only some, in one transaction."""
        body = AcceptSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        only = body.validated_data.get("only") or None
        return self.act(request, lambda row: plan_accept(by=self.caller, plan=row, only=only))

    @extend_schema(request=EditSerializer)
    @action(detail=True, methods=["post"])
    def edit(self, request: Request, **kwargs: Any) -> Response:
        """Change one move of the proposal, or leave that visit where it is."""
        body = EditSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        return self.act(request, lambda row: self._edited(row, dict(body.validated_data)))

    def _edited(self, row: DayPlan, values: dict[str, Any]) -> DayPlan:
        wall = values.pop("local_start", None)
        if wall is not None:
            zones = [
                one["time_zone"]
                for one in row.asked["visits"]
                if one["booking"] == values["booking"]
            ]
            zone = ZoneInfo(zones[0] if zones else "UTC").key
            values["starts_at"] = moment_of_wall_time(wall, zone, NONE, "/local_start")
        return plan_edit(by=self.caller, plan=row, **values)

    @extend_schema(request=DeclineSerializer)
    @action(detail=True, methods=["post"])
    def decline(self, request: Request, **kwargs: Any) -> Response:
        """Leave the day as it is, saying why."""
        body = DeclineSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        why = body.validated_data["why"]
        return self.act(request, lambda row: plan_decline(by=self.caller, plan=row, why=why))

    @extend_schema(request=None)
    @action(detail=True, methods=["post"])
    def retry(self, request: Request, **kwargs: Any) -> Response:
        """Ask anew for a plan that was given up."""
        return self.act(request, lambda row: plan_retry(by=self.caller, plan=row))

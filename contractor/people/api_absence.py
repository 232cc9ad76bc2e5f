"""Days off, closed days and public holidays over HTTP."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import LEAD, OFFICE, PEOPLE, SCHEDULER
from contractor.api.desk import Desk, Show, Table, Task
from contractor.api.desk_values import shown
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.numbers import NumberField, key_reader
from contractor.api.problems import Problem
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, Room
from contractor.people.absence import (
    closed_day_add,
    closed_day_drop,
    closed_day_keep,
    day_off_give,
    day_off_withdraw,
    holidays_propose,
)
from contractor.people.api_crews import REGION
from contractor.people.models import ClosedDay, ClosedState, DayOff, Member

OFFICE_ONLY = frozenset({OFFICE})
PLANNERS = frozenset({OFFICE, LEAD})
READERS = PEOPLE | {SCHEDULER}


class WithdrawSerializer(StrictSerializer):
    """Why a day off is withdrawn."""

    why = serializers.CharField(max_length=300)


class DayOffSerializer(StrictModelSerializer):
    """Days on which a member stays at home; the first and the last are both free."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="day-off-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    member = NumberField(letter="M", queryset=Member.objects.filter(is_active=True))

    class Meta:
        model = DayOff
        fields = [
            "id",
            "url",
            "member",
            "first_day",
            "last_day",
            "why",
            "stands",
            "withdrawn_why",
            "version",
        ]
        read_only_fields = ["stands", "withdrawn_why", "version"]

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Refuse days the wrong way round."""
        if attrs["last_day"] < attrs["first_day"]:
            raise Problem(
                "ends_before_start",
                "The last day is before the first.",
                hint="For one day off send the same day twice.",
                pointer="/last_day",
            )
        return attrs


class DayOffView(ListAndRead, CreateOnce, PatchSeen):
    """Who of the firm stays at home, and when."""

    name = "Days off"
    queryset = DayOff.objects.select_related("member")
    serializer_class = DayOffSerializer
    letter = "DO"
    roles = {
        "list": PLANNERS,
        "retrieve": PLANNERS,
        "create": OFFICE_ONLY,
        "withdraw": OFFICE_ONLY,
    }
    filters = {"member": Filter("member_id", "Number of the member.", key_reader("M"))}
    search = ("member__name", "why")
    desk = Desk(
        add="Give days off",
        done="Kept",
        searches={"member": "/api/v1/members/"},
        columns=("id", "member", "first_day", "last_day", "why", "stands"),
        words={"stands": ("Stands", "")},
        tasks=(
            Task(
                "withdraw",
                "Withdraw these days off",
                "The member works on these days after all.",
                WithdrawSerializer,
                done="Withdrawn",
                when=lambda row: row["stands"],
            ),
        ),
    )
    http_method_names = ["get", "post", "head", "options"]

    def make(self, **values: Any) -> DayOff:
        """Give the days off."""
        return day_off_give(by=self.caller, **values)

    @extend_schema(request=WithdrawSerializer)
    @action(detail=True, methods=["post"])
    def withdraw(self, request: Request, **kwargs: Any) -> Response:
        """Let the member work after all, saying why."""
        body = WithdrawSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        why = body.validated_data["why"]
        return self.act(request, lambda row: day_off_withdraw(by=self.caller, row=row, why=why))


class ClosedDaySerializer(StrictModelSerializer):
    """A day on which the crews of a region stay at home."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="closed-day-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    region = serializers.CharField(validators=[REGION], help_text="ISO 3166: US-IL, or US.")

    class Meta:
        model = ClosedDay
        fields = ["id", "url", "region", "day", "name", "state", "version"]
        read_only_fields = ["state", "version"]
        validators: list[Any] = []


class ClosedDayView(ListAndRead, CreateOnce, PatchSeen):
    """Days on which the crews of a region do not work; only kept ones count."""

    name = "Closed days"
    queryset = ClosedDay.objects.all()
    serializer_class = ClosedDaySerializer
    letter = "CD"
    scope = "crews"
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "create": OFFICE_ONLY,
        "keep": OFFICE_ONLY,
        "drop": OFFICE_ONLY,
    }
    filters = {
        "region": Filter("region", "ISO 3166 code."),
        "state": Filter("state", "Decided or not.", enum=tuple(ClosedState.values)),
    }
    desk = Desk(
        add="Close a day",
        done="Kept",
        columns=("id", "day", "name", "region", "state"),
        tasks=(
            Task(
                "keep",
                "Keep this day closed",
                "The region's crews stay at home.",
                done="Kept",
                when=lambda row: row["state"] != ClosedState.KEPT,
            ),
            Task(
                "drop",
                "Work on this day",
                "It does not count as closed.",
                done="Dropped",
                when=lambda row: row["state"] != ClosedState.DROPPED,
            ),
        ),
    )
    http_method_names = ["get", "post", "head", "options"]

    def make(self, **values: Any) -> ClosedDay:
        """Close the day."""
        return closed_day_add(by=self.caller, **values)

    @extend_schema(request=None)
    @action(detail=True, methods=["post"])
    def keep(self, request: Request, **kwargs: Any) -> Response:
        """Decide that the region stays at home on this day."""
        return self.act(request, lambda row: closed_day_keep(by=self.caller, row=row))

    @extend_schema(request=None)
    @action(detail=True, methods=["post"])
    def drop(self, request: Request, **kwargs: Any) -> Response:
        """Decide that the region works on this day."""
        return self.act(request, lambda row: closed_day_drop(by=self.caller, row=row))


class HolidaysAskSerializer(StrictSerializer):
    """Whose public holidays, of which year."""

    region = serializers.CharField(validators=[REGION], help_text="ISO 3166: US-IL.")
    year = serializers.IntegerField(min_value=2000, max_value=2100)
    keep = serializers.BooleanField(
        required=False, default=False, help_text="Close on all of them without deciding each."
    )


class HolidaysAnswerSerializer(serializers.Serializer):
    """The region's days of that year, as they now stand."""

    id = serializers.CharField()
    days = ClosedDaySerializer(many=True)


class HolidayView(Room):
    """Propose a region's public holidays as closed days."""

    name = "Public holidays"
    serializer_class = HolidaysAskSerializer
    pagination_class = None
    roles = {"create": OFFICE_ONLY}
    desk = Desk(add="Propose a year's holidays", hides=frozenset({"days"}))
    http_method_names = ["post", "options"]

    def desk_show(self, row: Any) -> Show:
        """Show the days, each leading to its own page where it is kept or dropped."""
        if not row:
            return Show()
        heads = ("Number", "Day", "Name", "State")
        names = ("id", "day", "name", "state")
        rows = [[shown(one[name], name) for name in names] for one in row["days"]]
        return Show(tables=[Table("Closed days of this region", heads, rows, "None.")])

    @extend_schema(request=HolidaysAskSerializer, responses={201: HolidaysAnswerSerializer})
    def create(self, request: Request) -> Response:
        """Write the days that the region has no row for, as proposals unless `keep` is true."""
        return once(request, self.caller, lambda: self._proposed(request))

    def _proposed(self, request: Request) -> Response:
        body = HolidaysAskSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        asked = body.validated_data
        days = holidays_propose(by=self.caller, **asked)
        told = ClosedDaySerializer(days, many=True, context=self.get_serializer_context()).data
        return Response({"id": f"{asked['region']}:{asked['year']}", "days": told}, status=201)

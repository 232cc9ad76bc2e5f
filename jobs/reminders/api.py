"""Messages over HTTP: what is due, what was sent, what is late or in trouble, and what to do about it."""

from typing import Any
from zoneinfo import ZoneInfo

from django.utils.html import format_html_join
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import OFFICE
from contractor.api.desk import Banner, Desk, Show, Table, Task
from contractor.api.filters import Filter
from contractor.api.numbers import NumberField, key_reader
from contractor.api.strict import StrictSerializer
from contractor.api.views import ListAndRead, PatchSeen
from jobs.reminders.choices import State
from jobs.reminders.models import Reminder
from jobs.reminders.services import (
    STOPPED,
    WAITING,
    reminder_again,
    reminder_cancel,
    reminder_snooze,
)

OFFICE_ONLY = frozenset({OFFICE})


class ReminderSerializer(serializers.ModelSerializer):
    """One message due at one moment; `about` is what it speaks of, `local` its time by the site's clock."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="reminder-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    rule: Any = serializers.SlugRelatedField(slug_field="slug", read_only=True)
    job = NumberField(letter="J", read_only=True, allow_null=True)
    booking = NumberField(letter="B", read_only=True, allow_null=True)
    local = serializers.SerializerMethodField(help_text="When it is due, by the site's clock.")
    stage = serializers.CharField(source="get_state_display", read_only=True)

    class Meta:
        model = Reminder
        fields = [
            "id",
            "url",
            "rule",
            "rule_version",
            "about",
            "job",
            "booking",
            "due_at",
            "local",
            "channel",
            "to",
            "language",
            "subject",
            "text",
            "message_id",
            "state",
            "stage",
            "attempts",
            "sent_at",
            "trouble",
            "planned_at",
            "version",
        ]

    def get_local(self, row: Reminder) -> str:
        """Say when, in the site's own time."""
        local = row.due_at.astimezone(ZoneInfo(row.time_zone))
        return f"{local:%a} {local.day} {local:%b %Y, %H:%M} ({row.time_zone})"


class SnoozeSerializer(StrictSerializer):
    """Until which morning a message is put off."""

    until = serializers.DateField(help_text="It goes out that morning, by the site's clock.")
    why = serializers.CharField(max_length=300, required=False, allow_blank=True)


class DropSerializer(StrictSerializer):
    """Why a message is not to be sent."""

    why = serializers.CharField(max_length=300)


def _is(*states: str) -> Any:
    return lambda row: row["state"] in states


class ReminderView(ListAndRead, PatchSeen):
    """What customers, crews and the office will be told, and when."""

    name = "Reminders"
    queryset = Reminder.objects.select_related("rule")
    serializer_class = ReminderSerializer
    letter = "RM"
    roles = {
        "list": OFFICE_ONLY,
        "retrieve": OFFICE_ONLY,
        "snooze": OFFICE_ONLY,
        "cancel": OFFICE_ONLY,
        "again": OFFICE_ONLY,
    }
    filters = {
        "state": Filter("state", "Where it stands.", enum=tuple(State.values)),
        "rule": Filter("rule__slug", "Short name of the rule."),
        "booking": Filter("booking_id", "Number of the booking.", key_reader("B")),
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "about": Filter("about", "Number of what it speaks of."),
    }
    brief = ("id", "url", "rule", "about", "state")
    desk = Desk(
        columns=("id", "state", "local", "job", "about", "to", "subject", "trouble"),
        hides=frozenset({"due_at", "text", "subject", "stage", "trouble"}),
        tasks=(
            Task(
                "again",
                "Send it after all",
                "Under the same Message-ID, by day, at the next sweep.",
                done="It will be sent",
                when=_is(*STOPPED),
            ),
            Task(
                "snooze",
                "Put off",
                "To a later morning.",
                SnoozeSerializer,
                done="Put off",
                when=_is(*WAITING),
            ),
            Task(
                "cancel",
                "Do not send",
                "",
                DropSerializer,
                done="Dropped",
                when=_is(*WAITING),
            ),
        ),
        words={"local": ("Due", "By the site's clock."), "to": ("To", "")},
    )
    http_method_names = ["get", "post", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """Say where the message stands, and show it as it is read."""
        if not row:
            return Show()
        told = f"{row['stage']}. {row['trouble']}".strip()
        read = format_html_join("", "{}<br>", ((line,) for line in row["text"].splitlines()))
        letter = Table("As it is read", ("Subject", "Text"), [[row["subject"], read]])
        return Show([Banner(row["state"], told)], tables=[letter])

    @extend_schema(request=SnoozeSerializer, responses=ReminderSerializer)
    @action(detail=True, methods=["post"])
    def snooze(self, request: Request, **kwargs: Any) -> Response:
        """Put the message off to the morning of a later day."""
        body = SnoozeSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        told = body.validated_data
        return self.act(request, lambda row: reminder_snooze(by=self.caller, reminder=row, **told))

    @extend_schema(request=DropSerializer, responses=ReminderSerializer)
    @action(detail=True, methods=["post"])
    def cancel(self, request: Request, **kwargs: Any) -> Response:
        """Drop the message, saying why."""
        body = DropSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        why = body.validated_data["why"]
        return self.act(request, lambda row: reminder_cancel(by=self.caller, reminder=row, why=why))

    @extend_schema(request=None, responses=ReminderSerializer)
    @action(detail=True, methods=["post"])
    def again(self, request: Request, **kwargs: Any) -> Response:
        """Send a message after all that was late, given up or cancelled."""
        return self.act(request, lambda row: reminder_again(by=self.caller, reminder=row))

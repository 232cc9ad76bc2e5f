"""Reminders over HTTP: what is due, what was sent, what is in trouble."""

from rest_framework import serializers

from contractor.api.callers import OFFICE
from contractor.api.desk import Desk
from contractor.api.filters import Filter
from contractor.api.numbers import NumberField, key_reader
from contractor.api.views import ListAndRead
from jobs.reminders.models import Reminder, State

OFFICE_ONLY = frozenset({OFFICE})


class ReminderSerializer(serializers.ModelSerializer):
    """One message due at one moment."""

    url = serializers.HyperlinkedIdentityField(view_name="reminder-detail")
    booking = NumberField(letter="B", read_only=True)

    class Meta:
        model = Reminder
        fields = [
            "id",
            "url",
            "booking",
            "kind",
            "due_at",
            "to",
            "subject",
            "text",
            "state",
            "attempts",
            "sent_at",
            "trouble",
        ]


class ReminderView(ListAndRead):
    """What customers will be told, and when."""

    name = "Reminders"
    queryset = Reminder.objects.select_related("booking")
    serializer_class = ReminderSerializer
    roles = {"list": OFFICE_ONLY, "retrieve": OFFICE_ONLY}
    filters = {
        "state": Filter("state", "Where it stands.", enum=tuple(State.values)),
        "booking": Filter("booking_id", "Number of the booking.", key_reader("B")),
    }
    desk = Desk(columns=("id", "booking", "kind", "due_at", "to", "subject", "state", "trouble"))
    http_method_names = ["get", "head", "options"]

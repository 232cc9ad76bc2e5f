"""What the guards saved, refusal by refusal, over HTTP."""

from datetime import date

from rest_framework import serializers

from contractor.api.callers import PEOPLE, TABLET
from contractor.api.desk import Desk
from contractor.api.filters import Filter
from contractor.api.numbers import NumberField, key_reader
from contractor.api.views import ListAndRead
from jobs.losses.models import Save
from jobs.losses.saves import GUARDS

READERS = PEOPLE | {TABLET}


class SaveRowSerializer(serializers.ModelSerializer):
    """One refusal by one guard: what it said, to whom, and whether somebody answered for it after all."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="save-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    job = NumberField(letter="J", read_only=True)
    stopped = serializers.SerializerMethodField(help_text="What it stopped, in words.")

    class Meta:
        model = Save
        fields = [
            "id",
            "url",
            "job",
            "guard",
            "stopped",
            "says",
            "day",
            "caller_name",
            "overridden",
            "said_at",
            "version",
        ]

    def get_stopped(self, row: Save) -> str:
        """In the words of the page."""
        return GUARDS.get(row.guard, row.guard)


class SaveView(ListAndRead):
    """What the guards stopped, each once a day for a job; the costs of error show it beside what leaks."""

    name = "Guards' saves"
    queryset = Save.objects.all()
    serializer_class = SaveRowSerializer
    letter = "SV"
    roles = {"list": READERS, "retrieve": READERS}
    filters = {
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "guard": Filter("guard", "Which guard.", enum=tuple(GUARDS)),
        "since": Filter("day__gte", "From this day on.", lambda text: _day(text)),
    }
    brief = ("id", "url", "job", "guard", "day")
    desk = Desk(form=False, columns=("id", "day", "stopped", "says", "job", "caller_name"))
    http_method_names = ["get", "head", "options"]


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError("a day, 2026-03-07") from None

"""Rules over HTTP: who is told what and when; the office edits them as data."""

from datetime import time
from typing import Any

from rest_framework import serializers

from contractor.api.callers import OFFICE
from contractor.api.desk import Desk, Show, Table
from contractor.api.problems import FieldProblem
from contractor.api.strict import StrictModelSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from jobs.bookings.models import Visit
from jobs.reminders.choices import From
from jobs.reminders.heard import CHOICES
from jobs.reminders.models import Rule
from jobs.reminders.rules import rule_change, rule_create
from jobs.reminders.words import WORDS, unknown_words

OFFICE_ONLY = frozenset({OFFICE})
TEXTS = ("subject", "text", "subject_es", "text_es")
MOST_DAYS, MOST_HOURS = 400, 240


def _heard(**kwargs: Any) -> serializers.ListField:
    child = serializers.ChoiceField(choices=CHOICES)
    return serializers.ListField(child=child, required=False, **kwargs)


class RuleSerializer(StrictModelSerializer):
    """After something, by so much, unless something else: tell somebody this."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="reminder-rule-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    hears = _heard(help_text="What makes a message be planned, or planned anew.")
    unless = _heard(help_text="What makes a planned message needless.")
    visits = serializers.ListField(
        child=serializers.ChoiceField(choices=Visit.choices),
        required=False,
        help_text="Only for these visits; none: for all.",
    )
    offset_days = serializers.IntegerField(
        required=False,
        min_value=-MOST_DAYS,
        max_value=MOST_DAYS,
        help_text="Days by the site's calendar; below zero: before.",
    )
    offset_hours = serializers.IntegerField(
        required=False, min_value=-MOST_HOURS, max_value=MOST_HOURS, help_text="Besides, in hours."
    )
    at = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=5,
        help_text="At this clock time of the site, `09:00`; empty: the time of what is counted from.",
    )
    late_after_hours = serializers.IntegerField(
        required=False,
        min_value=1,
        max_value=2000,
        help_text="So long after its time it is no longer sent by itself but marked late.",
    )

    class Meta:
        model = Rule
        fields = [
            "id",
            "url",
            "slug",
            "name",
            "is_on",
            "hears",
            "visits",
            "counts_from",
            "offset_days",
            "offset_hours",
            "at",
            "working_days",
            "at_night",
            "unless",
            "same",
            "whom",
            "channel",
            "sense",
            "late_after_hours",
            "subject",
            "text",
            "subject_es",
            "text_es",
            "version",
        ]
        read_only_fields = ["version"]

    def validate_at(self, value: str) -> str:
        """Take `HH:MM` or nothing."""
        try:
            if value and time.fromisoformat(value).strftime("%H:%M") != value:
                raise ValueError
        except ValueError:
            text = f"{value!r} is no clock time."
            raise FieldProblem("clock_time", text, "Send for example 09:00.") from None
        return value

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Refuse a word that nobody can fill, and a rule that nothing can ever start."""
        for name in TEXTS:
            self._check_words(name, attrs.get(name, ""))
        hears = attrs.get("hears", getattr(self.instance, "hears", []))
        counts = attrs.get("counts_from", getattr(self.instance, "counts_from", From.NOTICE))
        if not hears and counts != From.EACH_MORNING:
            detail = FieldProblem(
                "hears_nothing", "This rule hears nothing.", "Choose what it listens to."
            ).detail
            raise serializers.ValidationError({"hears": detail})
        return attrs

    def _check_words(self, name: str, text: str) -> None:
        try:
            unknown = unknown_words(text)
        except ValueError:
            unknown = ["{"]
        if unknown:
            told = f"Nobody can fill {', '.join(unknown)}."
            hint = "Words in braces: " + ", ".join(sorted(WORDS)) + "."
            raise serializers.ValidationError(
                {name: FieldProblem("unknown_word", told, hint).detail}
            )


class RuleView(ListAndRead, CreateOnce, PatchSeen):
    """The rules by which people are told; every change is kept in the history."""

    name = "Reminder rules"
    queryset = Rule.objects.all()
    serializer_class = RuleSerializer
    letter = "RR"
    roles = dict.fromkeys(("list", "retrieve", "create", "partial_update"), OFFICE_ONLY)
    search = ("name", "slug", "subject")
    brief = ("id", "url", "slug", "name", "is_on")
    desk = Desk(
        add="Add a rule",
        edit="Save the rule",
        done="Rule saved",
        columns=("id", "name", "is_on", "whom", "counts_from", "offset_days", "at", "channel"),
        words={
            "slug": ("Short name", ""),
            "is_on": ("In force", ""),
            "hears": ("After", "What makes a message be planned."),
            "unless": ("Unless meanwhile", "What makes it needless."),
            "same": ("About the same", "What must be the same for it to be needless."),
            "visits": ("Only for", "None: for every visit."),
            "at": ("At", "By the site's clock, 09:00; empty: at the time counted from."),
            "whom": ("To", ""),
            "sense": ("Worth sending", ""),
            "subject": (
                "Subject",
                "Words in braces are filled in; the list stands on a rule's page.",
            ),
            "subject_es": ("Subject in Spanish", ""),
            "text_es": ("Text in Spanish", ""),
        },
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """List the words that a text may use."""
        rows = [[f"{{{name}}}", says] for name, says in WORDS.items()]
        return Show(
            tables=[Table("Words for the text", ("Write", "It becomes"), rows)] if row else []
        )

    def make(self, **values: Any) -> Rule:
        """Add the rule."""
        return rule_create(by=self.caller, **values)

    def change(self, row: Rule, **values: Any) -> Rule:
        """Change the rule."""
        return rule_change(by=self.caller, rule=row, reason=reason_of(self.request), **values)

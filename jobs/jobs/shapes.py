"""How does a job stand on the wire? With what comes next, whose it is, and what blocks it."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from contractor.api.numbers import NumberField
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.customers.models import Site
from fitcheck.checks.site_questions import PASSAGE
from jobs.jobs.life import Step, job_steps
from jobs.jobs.models import Job
from jobs.jobs.moves import ACTIONS, FORWARD


class BlockSerializer(serializers.Serializer):
    """A guard that holds the job, why, and what would satisfy it."""

    guard = serializers.CharField()
    why = serializers.CharField()
    hint = serializers.CharField()


class StepSerializer(serializers.Serializer):
    """One move that the job could make."""

    action = serializers.ChoiceField(choices=sorted(ACTIONS))
    title = serializers.CharField()
    says = serializers.CharField()
    to = serializers.CharField(help_text="The state that it leads to.")
    who = serializers.CharField(help_text="Whose it is, by role; the office may do every one.")
    by_itself = serializers.BooleanField(help_text="Follows once the rows say so.")
    back = serializers.BooleanField(help_text="A way back rather than on.")
    needs_reason = serializers.BooleanField(help_text="Possible now, with a reason.")
    blocked_by = BlockSerializer(many=True)


class WayPlaceSerializer(serializers.Serializer):
    """A place of the site's way in, and which of its sizes nobody has told."""

    name = serializers.CharField()
    missing = serializers.ListField(child=serializers.CharField(), help_text="Fields of the site.")


class PanelWaySerializer(serializers.Serializer):
    """How one panel gets in, packed all round."""

    opening = serializers.CharField()
    name = serializers.CharField()
    size = serializers.CharField(help_text="Of the glass itself: width and height.")
    state = serializers.CharField(help_text="Unknown while anything is to be asked.")
    tightest = PASSAGE(allow_null=True)
    says = serializers.CharField()


class JobWayInSerializer(serializers.Serializer):
    """How every panel of a job gets in, and what is still to be asked of the site."""

    job = serializers.CharField()
    site = serializers.CharField()
    state = serializers.CharField(help_text="The worst of all panels.")
    asks = serializers.ListField(child=serializers.CharField())
    places = WayPlaceSerializer(many=True)
    panels = PanelWaySerializer(many=True)


class JobRowSerializer(StrictModelSerializer):
    """Work at one site, for one or several openings, as in lists."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="job-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    site = NumberField(letter="S", queryset=Site.objects.all())
    time_zone = serializers.CharField(source="site.time_zone", read_only=True)
    openings = NumberField(letter="O", many=True, read_only=True)

    class Meta:
        model = Job
        fields = [
            "id",
            "url",
            "site",
            "time_zone",
            "summary",
            "openings",
            "state",
            "survey_again_at",
            "opened_at",
            "version",
        ]
        read_only_fields = ["state", "survey_again_at", "opened_at", "version"]


class JobSerializer(JobRowSerializer):
    """Work at one site, for one or several openings, with what comes next."""

    next = serializers.SerializerMethodField()
    moves = serializers.SerializerMethodField()

    class Meta(JobRowSerializer.Meta):
        fields = [*JobRowSerializer.Meta.fields[:-1], "next", "moves", "version"]

    def _steps(self, job: Job) -> list[Step]:
        found: list[Step] | None = getattr(job, "_steps", None)
        if found is None:
            found = job._steps = job_steps(job=job)  # type: ignore[attr-defined]
        return found

    @extend_schema_field(StepSerializer(allow_null=True))
    def get_next(self, job: Job) -> dict[str, Any] | None:
        """What leads the job on; null at the end of its life."""
        on = [one for one in self._steps(job) if (job.state, one.action) in FORWARD]
        return on[0].as_json() if on else None

    @extend_schema_field(StepSerializer(many=True))
    def get_moves(self, job: Job) -> list[dict[str, Any]]:
        """Every move from here, ways back included."""
        return [one.as_json() for one in self._steps(job)]


class JobMoveSerializer(StrictSerializer):
    """Which move, and why."""

    action = serializers.ChoiceField(
        choices=[(name, one.title) for name, one in ACTIONS.items()],
        help_text="One of the job's `moves`.",
    )
    reason = serializers.CharField(required=False, allow_blank=True, max_length=300, default="")

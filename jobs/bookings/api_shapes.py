"""How do bookings stand on the wire? Times with offset or by the site's clock, overrides, holds."""

from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from contractor.api.fields import MomentField
from contractor.api.moments import of_our_age
from contractor.api.numbers import NumberField
from contractor.api.problems import Problem
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.people.models import Crew
from jobs.bookings.models import Booking
from jobs.bookings.times import EARLIER, LATER, NONE, check_not_skipped, moment_of_wall_time
from jobs.jobs.models import Job

LONGEST = timedelta(days=3)
LONGEST_HOLD = 14 * 24


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


class OverrideMixin(StrictSerializer):
    """Who answers for what is against a visit, and why."""

    override_name = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=120,
        help_text="Who answers for what is against this visit.",
    )
    override_reason = serializers.CharField(required=False, allow_blank=True, max_length=300)


class BookingSerializer(SpanMixin, OverrideMixin, StrictModelSerializer):
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
    hold_hours = serializers.IntegerField(
        required=False,
        write_only=True,
        min_value=1,
        max_value=LONGEST_HOLD,
        help_text="Hold the time for so many hours only; it must then be confirmed.",
    )
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
            "hold_hours",
            "held_until",
            "hands_needed",
            "override_name",
            "override_reason",
            "overridden",
            "notes",
            "cancelled_why",
            "no_show_why",
            "version",
        ]
        read_only_fields = [
            "state",
            "held_until",
            "hands_needed",
            "cancelled_why",
            "no_show_why",
            "version",
        ]

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Settle the times in the site's zone."""
        attrs = self.moments(attrs, attrs["job"].site.time_zone)
        check_span(attrs.get("starts_at"), attrs.get("ends_at"))
        hours = attrs.pop("hold_hours", None)
        if hours:
            attrs["held_until"] = timezone.now() + timedelta(hours=hours)
        return attrs


class MoveSerializer(SpanMixin, OverrideMixin):
    """Where a booking is moved to; leave out what stays."""

    crew = serializers.SlugRelatedField(
        slug_field="slug", queryset=Crew.objects.filter(is_active=True), required=False
    )
    reason = serializers.CharField(max_length=300)


class ConfirmSerializer(OverrideMixin):
    """Nothing, or who answers for what is against the visit."""


class NoShowSerializer(StrictSerializer):
    """What the crew found."""

    why = serializers.CharField(max_length=300, help_text="Nobody opened; the site was locked …")


class CancelSerializer(StrictSerializer):
    """Why a booking is cancelled."""

    why = serializers.CharField(max_length=300)

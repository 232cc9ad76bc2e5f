"""Crews over HTTP: who goes out together, when, from where, and what the van's rack carries."""

from typing import Any

from django.core.validators import RegexValidator
from rest_framework import serializers

from contractor.api.callers import EVERYONE, OFFICE
from contractor.api.desk import Desk
from contractor.api.fields import DegreesField, ZoneField
from contractor.api.numbers import NumberField
from contractor.api.problems import FieldProblem, Problem
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from contractor.notices.services import row_change
from contractor.people.hours import DAYS, spans_read, spans_text
from contractor.people.models import Crew, Member
from contractor.people.services import crew_create
from fitcheck.rules.quantity import mass_parse

OFFICE_ONLY = frozenset({OFFICE})
REGION = RegexValidator(
    r"^[A-Z]{2}(-[A-Z0-9]{1,3})?$",
    "Send an ISO 3166 code: `US-IL`, or `US` for the whole country.",
    "region",
)


class SpansField(serializers.CharField):
    """The hours of one weekday: `08:00-12:00, 12:30-16:30`; empty means a day at home."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(required=False, allow_blank=True, max_length=80, **kwargs)

    def to_internal_value(self, data: Any) -> str:
        """Read and write anew, so that equal hours are equal texts."""
        try:
            return spans_text(spans_read(super().to_internal_value(data)))
        except ValueError as error:
            raise FieldProblem("hours", str(error), "Send 08:00-12:00, 12:30-16:30.") from error


class HoursSerializer(StrictSerializer):
    """The weekly pattern, by the clock of the crew's own zone."""

    monday = SpansField(help_text="08:00-16:30, or 08:00-12:00, 12:30-16:30; empty: at home.")
    tuesday = SpansField()
    wednesday = SpansField()
    thursday = SpansField()
    friday = SpansField()
    saturday = SpansField()
    sunday = SpansField()

    def to_representation(self, instance: Any) -> dict[str, str]:
        """Name every day."""
        return {day: instance.get(day, "") for day in DAYS}


class MassField(serializers.CharField):
    """A mass with its unit, kept as it was entered: `180 kg`, `400 lb`."""

    def to_internal_value(self, data: Any) -> str:
        """Check that the text is a mass and keep the text."""
        text: str = super().to_internal_value(data)
        try:
            if text:
                mass_parse(text)
        except ValueError as error:
            raise FieldProblem(
                "mass", f"{text!r} is no mass with its unit.", f"{error}."
            ) from error
        return text


class PlaceSerializer(serializers.Serializer):
    """One member's place in a crew."""

    id = serializers.CharField(source="member.number", read_only=True)
    name = serializers.CharField(source="member.name", read_only=True)
    lead = serializers.BooleanField(source="is_lead", read_only=True)
    qualifications = serializers.ListField(
        child=serializers.CharField(), source="member.qualifications", read_only=True
    )


class CrewSerializer(StrictModelSerializer):
    """A crew, its people and how many hands that makes."""

    id = serializers.SlugField(source="slug", help_text="Short name, used in addresses: `north`.")
    url = serializers.HyperlinkedIdentityField(view_name="crew-detail", lookup_field="slug")
    members = PlaceSerializer(source="places", many=True, read_only=True)
    member_ids = serializers.ListField(
        child=NumberField(letter="M", queryset=Member.objects.filter(is_active=True)),
        write_only=True,
        min_length=1,
        help_text="Numbers of its members, the lead first.",
    )
    hands = serializers.SerializerMethodField(help_text="Active members [persons].")
    active = serializers.BooleanField(source="is_active", read_only=True)
    time_zone = ZoneField(
        required=False, allow_blank=True, max_length=60, help_text="Of its hours: America/Chicago."
    )
    hours = HoursSerializer(required=False)
    region = serializers.CharField(
        required=False,
        allow_blank=True,
        validators=[REGION],
        help_text="Whose closed days count for it, ISO 3166: US-IL.",
    )
    rack_mass = MassField(
        required=False,
        allow_blank=True,
        max_length=20,
        help_text="Glass that the van's rack carries: 180 kg or 400 lb.",
    )
    start_latitude = DegreesField(most=90, required=False, allow_null=True)
    start_longitude = DegreesField(most=180, required=False, allow_null=True)

    class Meta:
        model = Crew
        fields = [
            "id",
            "url",
            "name",
            "members",
            "member_ids",
            "hands",
            "active",
            "time_zone",
            "hours",
            "region",
            "rack_mass",
            "start_latitude",
            "start_longitude",
            "version",
        ]
        read_only_fields = ["version"]

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Hours need the zone of their clock, and keep the days that a change does not name."""
        hours = {**self._kept("hours", {}), **attrs.get("hours", {})}
        zone = attrs.get("time_zone", self._kept("time_zone", ""))
        if any(hours.values()) and not zone:
            raise Problem(
                "zone_missing",
                "Working hours need the time zone of their clock.",
                hint="Send `time_zone`, for example America/Chicago.",
                pointer="/time_zone",
            )
        if "hours" in attrs:
            attrs["hours"] = hours
        return attrs

    def _kept(self, name: str, none: Any) -> Any:
        return getattr(self.instance, name) if self.instance is not None else none

    def get_fields(self) -> dict[str, Any]:
        """Fix a crew's short name and its people once it is formed."""
        fields: dict[str, Any] = super().get_fields()
        if isinstance(self.instance, Crew):
            fields["id"].read_only = True
            fields.pop("member_ids")
        return fields

    def get_hands(self, crew: Crew) -> int:
        """Count without another query where the places are at hand."""
        return sum(place.member.is_active for place in crew.places.all())

    def validate_id(self, value: str) -> str:
        """Refuse a name that is taken."""
        if Crew.objects.filter(slug=value).exists():
            raise FieldProblem(
                "unique", f"There is a crew {value} already.", "Choose another short name."
            )
        return value

    def validate_member_ids(self, value: list[Member]) -> list[Member]:
        """Refuse a member who is named twice."""
        for index, member in enumerate(value):
            if member in value[:index]:
                text = f"{member.number} is named twice."
                raise FieldProblem("named_twice", text, "Name each member once.")
        return value


class CrewView(ListAndRead, CreateOnce, PatchSeen):
    """The firm's crews."""

    name = "Crews"
    queryset = Crew.objects.prefetch_related("places__member")
    serializer_class = CrewSerializer
    lookup_field = "slug"
    scope = "crews"
    roles = {
        "list": EVERYONE,
        "retrieve": EVERYONE,
        "create": OFFICE_ONLY,
        "partial_update": OFFICE_ONLY,
    }
    search = ("name", "slug")
    brief = ("id", "url", "name", "hands")
    desk = Desk(
        add="Form a crew",
        edit="Save the crew",
        words={
            "id": ("Short name", "Used in addresses: north."),
            "member_ids": ("Members", "Numbers; the lead first."),
        },
        done="Crew formed",
        searches={"member_ids": "/api/v1/members/"},
        columns=("id", "name", "hands", "time_zone", "region", "rack_mass", "active"),
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def make(self, **values: Any) -> Crew:
        """Form the crew; the first of its members leads it."""
        members: list[Member] = values.pop("member_ids")
        return crew_create(by=self.caller, members=members, lead=members[0], **values)

    def change(self, row: Crew, **values: Any) -> Crew:
        """Change its name, hours, region, rack or start; its people stay."""
        return row_change(
            row=row,
            by=self.caller,
            type="crew.changed",
            values=values,
            reason=reason_of(self.request),
        )

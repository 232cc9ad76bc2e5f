"""What shape have installs and records on the wire?"""

import re
from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from contractor.api.fields import LengthField, MomentField
from contractor.api.numbers import NumberField
from contractor.api.problems import FieldProblem
from contractor.api.strict import StrictSerializer
from fitcheck.checks.shapes import ComputedSerializer
from jobs.bookings.models import Booking
from jobs.claims.models import Against
from jobs.installs.models import Install, Kind, Record
from jobs.installs.order import SETTLED
from jobs.installs.second import HOW
from jobs.installs.stand import snags_open, walked_of
from jobs.installs.stops import LEAK_RESULTS, YES
from jobs.installs.told import stops_told, what_next
from jobs.losses.models import Cause
from jobs.losses.models import Kind as Again
from jobs.openings.models import Opening
from jobs.surveys.services import photos_missing
from jobs.surveys.shapes import LENGTH, ReadingSerializer, ToolSerializer

DIGEST = re.compile(r"[0-9a-f]{64}")


def choice(values: Any, **kwargs: Any) -> serializers.ChoiceField:
    """A field that takes one of these values, which are their own words."""
    return serializers.ChoiceField(choices=[(one, one) for one in values], **kwargs)


class DigestField(serializers.CharField):
    """A photo's name: the SHA-256 of what was put."""

    def to_internal_value(self, data: Any) -> str:
        """Check that it is one."""
        text: str = super().to_internal_value(data)
        if not DIGEST.fullmatch(text):
            hint = "Put the image to /api/v1/photos/{sha256}/ and name it here."
            raise FieldProblem("not_a_digest", "A photo is named by its SHA-256.", hint)
        return text


@extend_schema_field(ReadingSerializer(many=True))
class RowsField(serializers.JSONField):
    """Readings, which the rules read themselves with every mistake at its pointer."""


class StartSerializer(StrictSerializer):
    """Start the install of one opening of a booked visit."""

    booking = NumberField(letter="B", queryset=Booking.objects.select_related("job__site", "crew"))
    opening = NumberField(
        letter="O",
        queryset=Opening.objects.select_related("job__site", "kit"),
        required=False,
        help_text="Which one; not needed when the job has one only.",
    )
    started_at = MomentField(
        required=False, help_text="With offset, by the clock on site. Default: now."
    )
    app = serializers.CharField(required=False, allow_blank=True, max_length=60)
    notes = serializers.CharField(required=False, allow_blank=True, max_length=4000)


class ValueSerializer(StrictSerializer):
    """A length that was read, by its name at the stop, and the tool."""

    name = serializers.CharField(max_length=40)
    value = LengthField(help_text=LENGTH)
    tool = ToolSerializer()


class RecordInSerializer(StrictSerializer):
    """What was recorded at a stop, with its own time; it may arrive late and in any order."""

    install = serializers.UUIDField()
    kind = serializers.ChoiceField(choices=Kind.choices)
    stop = serializers.CharField(required=False, allow_blank=True, max_length=80)
    taken_at = MomentField(help_text="When it was found or done, with offset.")
    said_by = serializers.CharField(
        required=False, max_length=120, help_text="Default: the caller."
    )
    second_person = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=120,
        help_text="Who looked as well, where they cannot say so themselves by a record of kind looked.",
    )
    typed_why = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=300,
        help_text="Why the second person is only a typed name, and no sign-in of their own.",
    )
    yes = serializers.MultipleChoiceField(
        choices=list(YES.items()), required=False, help_text="What was looked at and is so."
    )
    found = choice(("right", "not_right"), required=False)
    readings = RowsField(required=False)
    values = ValueSerializer(many=True, required=False)
    result = choice(LEAK_RESULTS, required=False)
    sawn = LengthField(required=False, help_text="How long the part is as sawn. " + LENGTH)
    photos = serializers.ListField(child=DigestField(), required=False, max_length=50)
    sealant = serializers.CharField(
        required=False, max_length=80, help_text="Which sealant the bead is of."
    )
    celsius = serializers.RegexField(r"^-?\d{1,2}(\.\d)?$", required=False)
    humidity = serializers.RegexField(r"^\d{1,3}(\.\d)?$", required=False)
    fixes = serializers.UUIDField(required=False, help_text="The snag that was put right.")
    cause = serializers.ChoiceField(
        choices=Cause.choices, required=False, help_text="Why something must be done again."
    )
    again = serializers.ChoiceField(
        choices=Again.choices, required=False, help_text="What must be done again."
    )
    owed_by = serializers.ChoiceField(
        choices=Against.choices,
        required=False,
        help_text="Who is to make it good; a maker or carrier opens a claim.",
    )
    piece = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=120,
        help_text="Which piece of glass or part must come anew: its number, G-0007, or its name.",
    )
    reason = serializers.CharField(required=False, allow_blank=True, max_length=300)
    note = serializers.CharField(required=False, allow_blank=True, max_length=2000)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Each kind names what it cannot do without."""
        kind = attrs["kind"]
        wanted = {
            Kind.STOP: ("stop",),
            Kind.SKIP: ("stop", "reason"),
            Kind.SAWN: ("stop", "sawn"),
            Kind.AS_FIXED: ("stop", "values"),
            Kind.LOOKED: ("stop",),
            Kind.SNAG: ("note",),
            Kind.SNAG_FIXED: ("fixes",),
        }
        for name in wanted.get(kind, ()):
            if not attrs.get(name):
                text = f"`{name}` is missing: a record of kind {kind} needs it."
                raise serializers.ValidationError(
                    {name: FieldProblem("required", text, f"Send `{name}`.").detail}
                )
        if kind == Kind.AS_FIXED and len(attrs["values"]) != 1:
            wrong = FieldProblem("one_reading", "A reading as fixed is one length.", "Send one.")
            raise serializers.ValidationError({"values": wrong.detail})
        if kind not in {Kind.STOP, Kind.SAWN, Kind.SNAG}:
            _refuse_harm(attrs)
        if kind == Kind.SAWN and attrs.get("piece"):
            wrong = FieldProblem("not_of_this_kind", "The part sawn is known.", "Leave it out.")
            raise serializers.ValidationError({"piece": wrong.detail})
        return attrs


def _refuse_harm(attrs: dict[str, Any]) -> None:
    """Cause and claim belong to what went wrong."""
    for name in {"cause", "again", "owed_by", "piece"} & set(attrs):
        text = f"`{name}` belongs to a stop, a sawn part or a snag."
        wrong = FieldProblem("not_of_this_kind", text, "Leave it out, or send a snag.")
        raise serializers.ValidationError({name: wrong.detail})


class StopNeedSerializer(serializers.Serializer):
    """One thing to record at a stop."""

    kind = serializers.CharField(
        help_text="reading, yes, photo, second_person, value, result, mark or handover"
    )
    says = serializers.CharField(required=False)
    name = serializers.CharField(required=False)
    quantity = serializers.CharField(required=False)
    side = serializers.CharField(required=False)
    height = serializers.CharField(required=False)
    part = serializers.CharField(required=False)
    choices = serializers.ListField(child=serializers.CharField(), required=False)


class StopSerializer(serializers.Serializer):
    """A hold point: what to do and to record there, and where it stands."""

    key = serializers.CharField()
    title = serializers.CharField()
    says = serializers.CharField()
    needs = StopNeedSerializer(many=True)
    state = serializers.CharField(help_text="open, done, held or skipped")
    by = serializers.CharField(allow_blank=True)
    at = serializers.DateTimeField(allow_null=True)
    fact = serializers.CharField(allow_blank=True, help_text="Id of the record, mark or handover.")
    do = serializers.ListField(child=serializers.CharField())
    out_of_order = serializers.ListField(
        child=serializers.CharField(), help_text="Ids of facts that came before their turn."
    )


class InstallSerializer(serializers.ModelSerializer):
    """An install under way, with its stops and what is next."""

    url = serializers.HyperlinkedIdentityField(view_name="install-detail")
    booking = NumberField(letter="B", read_only=True)
    opening = NumberField(letter="O", read_only=True)
    job = serializers.SerializerMethodField()
    sheet = serializers.CharField(source="sheet.key", read_only=True)
    state = serializers.CharField(read_only=True, help_text="under_way, curing or cured")
    next = serializers.SerializerMethodField(help_text="What is next, in one sentence.")
    stops = serializers.SerializerMethodField()
    snags = serializers.SerializerMethodField(help_text="What is still to be put right.")

    class Meta:
        model = Install
        fields = [
            "id",
            "url",
            "job",
            "booking",
            "opening",
            "state",
            "next",
            "sheet",
            "size",
            "door",
            "started_by",
            "started_at",
            "received_at",
            "app",
            "notes",
            "finished_at",
            "earliest_use",
            "cure",
            "cured_at",
            "stops",
            "snags",
            "version",
        ]

    def get_job(self, install: Install) -> str:
        """The job's number."""
        return f"J-{install.booking.job_id:04d}"

    def get_next(self, install: Install) -> str:
        """What is next."""
        return what_next(install, self._walked(install))

    @extend_schema_field(StopSerializer(many=True))
    def get_stops(self, install: Install) -> list[dict[str, Any]]:
        """The stops in order."""
        return stops_told(self._walked(install))

    @extend_schema_field(serializers.ListField(child=serializers.DictField()))
    def get_snags(self, install: Install) -> list[dict[str, str]]:
        """Snags that nobody has put right yet."""
        return snags_open(install)

    def _walked(self, install: Install) -> Any:
        """Walk the stops once for an answer."""
        if getattr(install, "walked", None) is None:
            install.walked = walked_of(install)  # type: ignore[attr-defined]
        return install.walked  # type: ignore[attr-defined]


class InstallRowSerializer(InstallSerializer):
    """An install in a list."""

    class Meta(InstallSerializer.Meta):
        fields = [
            one
            for one in InstallSerializer.Meta.fields
            if one not in {"stops", "snags", "next", "cure", "notes"}
        ]


class ComparedSerializer(serializers.Serializer):
    """A reading on site held against the survey."""

    quantity = serializers.CharField()
    side = serializers.CharField()
    height = serializers.CharField(allow_null=True)
    read = serializers.CharField()
    read_by = serializers.CharField()
    surveyed = ComputedSerializer(allow_null=True)
    apart = ComputedSerializer(allow_null=True)
    within = ComputedSerializer(allow_null=True)
    state = serializers.CharField(help_text="agrees, apart, not surveyed or disputed")
    do = serializers.CharField()


class SecondSerializer(serializers.Serializer):
    """The second person at a stop, and how that is known."""

    name = serializers.CharField(allow_blank=True)
    member = serializers.CharField(allow_blank=True, help_text="Number of the member, if known.")
    how = choice(HOW, help_text="own: of this crew, by their own sign-in; typed; or none.")
    why = serializers.CharField(allow_blank=True, help_text="Why only typed.")
    lacks = serializers.CharField(allow_blank=True, help_text="What is wanting, in words.")


class OutcomeSerializer(serializers.Serializer):
    """What a record does for its stop."""

    missing = serializers.ListField(child=serializers.CharField())
    compared = ComparedSerializer(many=True)
    do = serializers.ListField(child=serializers.CharField())
    second = SecondSerializer(
        default=None, allow_null=True, help_text="Where the stop asks for a second person."
    )
    confirms = serializers.CharField(
        default="", help_text="Of a look: the record of the stop that it settled."
    )
    first = serializers.CharField(default="", help_text="Of a look: who recorded that stop.")
    piece = serializers.CharField(
        default="", help_text="Number of the piece that must come anew, as it was named."
    )


class RecordSerializer(serializers.ModelSerializer):
    """A record as it is kept. `counts` is false when it came before its turn: it is kept and told."""

    url = serializers.HyperlinkedIdentityField(view_name="install-record-detail")
    install = serializers.UUIDField(source="install_id", read_only=True)
    outcome = OutcomeSerializer(read_only=True)
    counts = serializers.SerializerMethodField()
    first = serializers.SerializerMethodField(
        help_text="When it does not count: which stop comes first and what would settle it."
    )
    missing_photos = serializers.SerializerMethodField(help_text="Named but not here yet.")
    loss = serializers.SerializerMethodField(help_text="The loss that it opened; else empty.")
    claim = serializers.SerializerMethodField(
        help_text="The claim that it opened or added to, not told to the other side yet; else empty."
    )

    class Meta:
        model = Record
        fields = [
            "id",
            "url",
            "install",
            "kind",
            "stop",
            "state",
            "counts",
            "first",
            "outcome",
            "body",
            "missing_photos",
            "loss",
            "claim",
            "said_by",
            "taken_at",
            "received_at",
        ]

    def get_counts(self, record: Record) -> bool:
        """Whether it came in its turn."""
        return not self.get_first(record)

    def get_first(self, record: Record) -> str:
        """Which stop comes first."""
        key = str(record.pk)
        walked = walked_of(record.install)
        early = {one.key for own in walked for one in own.out_of_order}
        if key not in early:
            return ""
        wanting = next(one for one in walked if one.state_at(record.taken_at) not in SETTLED)
        return f"{wanting.stop['title']} comes first. {' '.join(wanting.wants)}"

    @extend_schema_field(serializers.ListField(child=serializers.CharField()))
    def get_missing_photos(self, record: Record) -> list[str]:
        """Photos still to be put."""
        return photos_missing(record.body.get("photos", []))

    def get_loss(self, record: Record) -> str:
        """Number of the loss."""
        loss = getattr(record, "loss", None)
        return loss.number if loss else ""

    def get_claim(self, record: Record) -> str:
        """Number of the claim."""
        loss = getattr(record, "loss", None)
        return loss.claim.number if loss and loss.claim else ""


class RecordRowSerializer(RecordSerializer):
    """A record in a list."""

    class Meta(RecordSerializer.Meta):
        fields = [
            one
            for one in RecordSerializer.Meta.fields
            if one not in {"counts", "first", "missing_photos", "loss", "claim"}
        ]

"""How do claims, their deadlines and warranties stand on the wire?"""

from typing import Any

from django.utils import timezone
from rest_framework import serializers

from contractor.api.fields import MomentField
from contractor.api.money import CurrencyField, MoneyField
from contractor.api.numbers import NumberField
from contractor.api.problems import FieldProblem
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from jobs.bookings.models import Booking
from jobs.claims.models import Against, Claim, Deadline, Evidence, Outcome, Statement, Warranty
from jobs.jobs.models import Job
from jobs.jobs.moments import day_at
from jobs.openings.models import Opening
from jobs.receiving.models import Line
from jobs.receiving.shapes import DigestField

MOST_EVIDENCE, MOST_PIECES = 40, 50


class EvidenceInSerializer(StrictSerializer):
    """A photo by its digest, or a note, or both."""

    photo = DigestField(required=False, allow_blank=True, help_text="Its digest, once put here.")
    taken_at = MomentField(required=False, help_text="Now when empty.")
    author = serializers.CharField(max_length=120, required=False, help_text="Else you.")
    note = serializers.CharField(max_length=500, required=False, allow_blank=True)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Refuse evidence that is neither."""
        if not attrs.get("photo") and not attrs.get("note"):
            raise FieldProblem("nothing_sent", "This shows nothing.", "Send a photo or a note.")
        return attrs


class DeskEvidenceSerializer(EvidenceInSerializer):
    """A photo from a browser, or a note, or both."""

    upload = serializers.FileField(required=False, allow_empty_file=True)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """A photo that comes along is enough."""
        return attrs if attrs.get("upload") else super().validate(attrs)


class EvidenceSerializer(serializers.ModelSerializer):
    """One piece of evidence."""

    class Meta:
        model = Evidence
        fields = ["photo", "note", "author", "taken_at", "received_at"]


class StatementInSerializer(StrictSerializer):
    """What somebody said."""

    party = serializers.ChoiceField(choices=Against.choices, style={"called": "Who speaks"})
    name = serializers.CharField(max_length=120)
    text = serializers.CharField(
        max_length=4000, style={"base_template": "textarea.html", "rows": 4}
    )
    said_at = MomentField(required=False, help_text="Now when empty.")


class StatementSerializer(serializers.ModelSerializer):
    """One statement."""

    class Meta:
        model = Statement
        fields = ["party", "name", "text", "said_at", "received_at"]


class DeadlineSerializer(StrictModelSerializer):
    """By the end of which day who must do what; days left by the site's calendar."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="deadline-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    claim = NumberField(letter="CL", read_only=True)
    claim_summary = serializers.CharField(source="claim.summary", read_only=True)
    days_left = serializers.SerializerMethodField()
    source = serializers.DictField(read_only=True)  # type: ignore[assignment]

    class Meta:
        model = Deadline
        fields = [
            "id",
            "url",
            "claim",
            "claim_summary",
            "clock",
            "who",
            "began_on",
            "ends_on",
            "days_left",
            "do",
            "note",
            "source",
            "met_on",
            "met_how",
            "version",
        ]
        read_only_fields = fields

    def get_days_left(self, row: Deadline) -> int:
        """Days from today at the site to the last day [days]; below zero when it has run out."""
        return (row.ends_on - day_at(timezone.now(), row.claim.job.site.time_zone)).days


class ClaimRowSerializer(StrictModelSerializer):
    """A claim, as in lists."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="claim-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    job = NumberField(letter="J", queryset=Job.objects.select_related("site"))
    opening = NumberField(
        letter="O", queryset=Opening.objects.select_related("job"), required=False, allow_null=True
    )
    found_on = serializers.DateField(required=False)

    class Meta:
        model = Claim
        fields = [
            "id",
            "url",
            "job",
            "opening",
            "kind",
            "against",
            "party",
            "summary",
            "found_on",
            "filed_on",
            "refused_on",
            "state",
            "outcome",
            "outcome_says",
            "cost",
            "currency",
            "opened_at",
            "settled_at",
            "version",
        ]
        read_only_fields = [
            "filed_on",
            "refused_on",
            "state",
            "outcome",
            "outcome_says",
            "cost",
            "currency",
            "opened_at",
            "settled_at",
            "version",
        ]


class ClaimSerializer(ClaimRowSerializer):
    """A claim with its evidence, statements, deadlines, remake and visits."""

    delivery = serializers.UUIDField(source="delivery_id", read_only=True, allow_null=True)
    sheet = serializers.CharField(source="sheet.key", default="", read_only=True)
    remake = NumberField(letter="OR", read_only=True, allow_null=True)
    visits = NumberField(letter="B", many=True, read_only=True)
    evidence = EvidenceSerializer(many=True, read_only=True)
    statements = StatementSerializer(many=True, read_only=True)
    deadlines = DeadlineSerializer(many=True, read_only=True)

    class Meta(ClaimRowSerializer.Meta):
        fields = [
            *ClaimRowSerializer.Meta.fields[:-1],
            "delivery",
            "sheet",
            "remake",
            "visits",
            "deadlines",
            "evidence",
            "statements",
            "version",
        ]


class ClaimInSerializer(ClaimRowSerializer):
    """Open a claim, with its evidence."""

    evidence = EvidenceInSerializer(many=True, required=False, max_length=MOST_EVIDENCE)  # type: ignore[call-arg]

    class Meta(ClaimRowSerializer.Meta):
        fields = [*ClaimRowSerializer.Meta.fields, "evidence"]


class FileSerializer(StrictSerializer):
    """When and how the other side was told."""

    on = serializers.DateField()
    how = serializers.CharField(max_length=300)


class RefuseSerializer(StrictSerializer):
    """When and why the other side refuses."""

    on = serializers.DateField()
    why = serializers.CharField(max_length=300)


class SettleSerializer(StrictSerializer):
    """What came of it, and what it cost the firm."""

    outcome = serializers.ChoiceField(choices=Outcome.choices)
    says = serializers.CharField(max_length=300)
    cost = MoneyField(required=False)
    currency = CurrencyField(required=False, allow_blank=True)


class RemakeSerializer(StrictSerializer):
    """From whom the pieces come anew, and which, where the claim does not know them."""

    pieces = serializers.ListField(
        child=NumberField(letter="G", queryset=Line.objects.select_related("order")),
        required=False,
        max_length=MOST_PIECES,
        help_text="Such as G-0007. Without it: what was found amiss of the claim's delivery.",
    )
    supplier = serializers.CharField(max_length=120, required=False)
    reference = serializers.CharField(max_length=60, required=False, allow_blank=True)
    expected_on = serializers.DateField(required=False)


class VisitSerializer(StrictSerializer):
    """A visit made for the claim."""

    booking = NumberField(letter="B", queryset=Booking.objects.all())


class WarrantySerializer(StrictModelSerializer):
    """What the sheet of an installed kit promises. It follows the site, whoever owns it."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="warranty-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    site = NumberField(letter="S", read_only=True)
    customer = NumberField(
        letter="C", source="site.customer", read_only=True, help_text="Who owns the site now."
    )
    opening = NumberField(letter="O", queryset=Opening.objects.select_related("job__site"))
    sheet = serializers.CharField(source="sheet.key", read_only=True)
    source = serializers.DictField(read_only=True)  # type: ignore[assignment]

    class Meta:
        model = Warranty
        fields = [
            "id",
            "url",
            "site",
            "customer",
            "opening",
            "sheet",
            "installed_on",
            "ends_on",
            "terms",
            "source",
            "noted_at",
            "version",
        ]
        read_only_fields = ["ends_on", "terms", "noted_at", "version"]

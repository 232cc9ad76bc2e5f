"""How do orders, deliveries and inspections stand on the wire?"""

import re
from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from contractor.api.fields import MomentField
from contractor.api.numbers import NumberField
from contractor.api.problems import FieldProblem
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.people.models import Member
from fitcheck.kits.models import RuleSheet
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.receiving.models import (
    Condition,
    Delivery,
    Inspection,
    Kind,
    Line,
    Order,
    Packaging,
    What,
)
from jobs.receiving.standing import lines_standing

DIGEST = re.compile(r"[0-9a-f]{64}")
MOST_PIECES, MOST_LINES, MOST_PHOTOS = 999, 100, 40


class DigestField(serializers.CharField):
    """The SHA-256 of a photo, as it was put under."""

    def to_internal_value(self, data: Any) -> str:
        """Check that it is a digest."""
        text: str = super().to_internal_value(data)
        if text and not DIGEST.fullmatch(text):
            raise FieldProblem(
                "not_a_digest",
                f"{text!r} is no SHA-256 digest.",
                "Put the photo under its digest first, and send those 64 letters.",
            )
        return text


class SheetKeyField(serializers.SlugRelatedField):
    """A rule sheet by kit and number; never a list of all."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(slug_field="key", queryset=RuleSheet.objects.all(), **kwargs)


class LineInSerializer(StrictSerializer):
    """One kind of piece that must come."""

    opening = NumberField(letter="O", queryset=Opening.objects.all(), required=False)
    what = serializers.ChoiceField(choices=What.choices, default=What.PANEL)
    name = serializers.CharField(max_length=120)
    size = serializers.CharField(max_length=120, required=False, allow_blank=True)
    mass = serializers.CharField(max_length=20, required=False, allow_blank=True)
    count = serializers.IntegerField(min_value=1, max_value=MOST_PIECES, default=1)
    remakes = NumberField(
        letter="G",
        queryset=Line.objects.select_related("opening"),
        required=False,
        help_text="The piece that this one makes good.",
    )


class GoodsLineSerializer(serializers.ModelSerializer):
    """One kind of piece, and how it stands."""

    id = serializers.CharField(source="number")
    opening = NumberField(letter="O", read_only=True)
    sheet = serializers.CharField(source="sheet.key", default="")
    remakes = NumberField(letter="G", read_only=True, allow_null=True)
    state = serializers.SerializerMethodField()
    missing = serializers.SerializerMethodField()

    class Meta:
        model = Line
        fields = [
            "id",
            "opening",
            "what",
            "name",
            "size",
            "mass",
            "count",
            "state",
            "missing",
            "sheet",
            "remakes",
        ]

    def _standing(self, line: Line) -> Any:
        return self.context.get("standing", {}).get(line.remakes_id or line.pk)

    @extend_schema_field(
        serializers.ChoiceField(choices=[*Condition.values, "awaited", "not_expected"])
    )
    def get_state(self, line: Line) -> str:
        """How it stands, pieces that came anew counted in; a remake is awaited until it is looked over."""
        found = self._standing(line)
        if found is None:
            return "not_expected"
        anew = line.remakes_id is not None and line.pk not in self.context["looked"]
        return "awaited" if anew and found.missing else str(found.state)

    def get_missing(self, line: Line) -> int:
        """How many are not here and sound [-]."""
        found = self._standing(line)
        return found.missing if found is not None else 0


class OrderRowSerializer(StrictModelSerializer):
    """Goods ordered for a job, as in lists."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="order-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    job = NumberField(letter="J", queryset=Job.objects.select_related("site"))
    kind = serializers.ChoiceField(choices=Kind.choices, default=Kind.KIT)

    class Meta:
        model = Order
        fields = [
            "id",
            "url",
            "job",
            "kind",
            "supplier",
            "reference",
            "expected_on",
            "state",
            "cancelled_why",
            "notes",
            "ordered_at",
            "version",
        ]
        read_only_fields = ["state", "cancelled_why", "ordered_at", "version"]


class OrderSerializer(OrderRowSerializer):
    """Goods ordered for a job, with every piece that must come."""

    lines = serializers.SerializerMethodField()
    deliveries = serializers.SerializerMethodField()

    class Meta(OrderRowSerializer.Meta):
        fields = [*OrderRowSerializer.Meta.fields[:-1], "lines", "deliveries", "version"]

    @extend_schema_field(GoodsLineSerializer(many=True))
    def get_lines(self, order: Order) -> Any:
        """The pieces, each as it stands now."""
        whole = Line.objects.filter(order__job=order.job_id).select_related("order", "sheet__kit")
        standing = {one.line.pk: one for one in lines_standing(lines=whole)}
        own = [one for one in whole if one.order_id == order.pk]
        looked = set(Inspection.objects.filter(line__in=own).values_list("line_id", flat=True))
        context = {"standing": standing, "looked": looked}
        return GoodsLineSerializer(own, many=True, context=context).data

    @extend_schema_field(serializers.ListField(child=serializers.UUIDField()))
    def get_deliveries(self, order: Order) -> list[str]:
        """What came of it."""
        return [str(one) for one in order.deliveries.values_list("pk", flat=True)]


class OrderInSerializer(OrderRowSerializer):
    """Order goods; without `lines` a kit's pieces are read from its sheet, single ones are those amiss."""

    lines = LineInSerializer(many=True, required=False, max_length=MOST_LINES)  # type: ignore[call-arg]

    class Meta(OrderRowSerializer.Meta):
        fields = [*OrderRowSerializer.Meta.fields, "lines"]


class PieceSerializer(StrictSerializer):
    """How pieces of one line were found."""

    line = NumberField(letter="G", queryset=Line.objects.select_related("order", "opening"))
    condition = serializers.ChoiceField(choices=Condition.choices)
    count = serializers.IntegerField(min_value=1, max_value=MOST_PIECES, default=1)
    note = serializers.CharField(max_length=500, required=False, allow_blank=True)


class DeskPieceSerializer(PieceSerializer):
    """How pieces of one line were found, with a photo from a browser."""

    photo = serializers.FileField(required=False, allow_empty_file=True)


class InspectionPartSerializer(PieceSerializer):
    """One inspection as it is sent, with the id that was made where it was made."""

    id = serializers.UUIDField()
    photos = serializers.ListField(
        child=DigestField(), required=False, max_length=MOST_PHOTOS, help_text="Their digests."
    )
    inspected_by = serializers.CharField(max_length=120, required=False)
    inspected_at = MomentField(required=False)
    replaces = serializers.ListField(
        child=serializers.UUIDField(), required=False, max_length=MOST_PHOTOS
    )


class InspectionInSerializer(InspectionPartSerializer):
    """One later inspection; its id stands in the address."""

    delivery = serializers.PrimaryKeyRelatedField(
        queryset=Delivery.objects.select_related("order__job__site"),
        pk_field=serializers.UUIDField(),
    )
    id = serializers.UUIDField(required=False)


class InspectionSerializer(serializers.ModelSerializer):
    """How pieces were found, as it is kept."""

    url = serializers.HyperlinkedIdentityField(view_name="inspection-detail")
    line = NumberField(letter="G", read_only=True)
    order = NumberField(letter="OR", source="delivery.order", read_only=True)
    delivery = serializers.UUIDField(source="delivery_id")
    photos = serializers.ListField(child=serializers.CharField())
    replaces = serializers.ListField(child=serializers.CharField())

    class Meta:
        model = Inspection
        fields = [
            "id",
            "url",
            "delivery",
            "order",
            "line",
            "condition",
            "count",
            "photos",
            "note",
            "inspected_by",
            "inspected_at",
            "replaces",
            "received_at",
        ]


class ArrivalSerializer(StrictSerializer):
    """What came, by whom, how it looked at the door."""

    carrier = serializers.CharField(max_length=120)
    waybill = serializers.CharField(max_length=60, required=False, allow_blank=True)
    packaging = serializers.ChoiceField(choices=Packaging.choices, default=Packaging.SOUND)
    noted_at_door = serializers.BooleanField(
        default=False, help_text="Whether damage was written on the carrier's receipt."
    )
    notes = serializers.CharField(max_length=4000, required=False, allow_blank=True)


class ArrivedInSerializer(ArrivalSerializer):
    """A delivery as it is sent; its id stands in the address."""

    order = NumberField(letter="OR", queryset=Order.objects.select_related("job__site"))
    arrived_at = MomentField()
    received_by = NumberField(letter="M", queryset=Member.objects.all(), required=False)
    inspections = InspectionPartSerializer(many=True, required=False, max_length=MOST_LINES)  # type: ignore[call-arg]


class ArrivedSerializer(serializers.ModelSerializer):
    """A delivery as it is kept; `claim` is the one that its inspections opened."""

    url = serializers.HyperlinkedIdentityField(view_name="arrival-detail")
    order = NumberField(letter="OR", read_only=True)
    received_by = NumberField(letter="M", read_only=True)
    inspections = InspectionSerializer(many=True)
    claims = NumberField(letter="CL", many=True, read_only=True)
    missing_photos = serializers.SerializerMethodField()

    class Meta:
        model = Delivery
        fields = [
            "id",
            "url",
            "order",
            "carrier",
            "waybill",
            "arrived_at",
            "received_by",
            "packaging",
            "noted_at_door",
            "notes",
            "inspections",
            "claims",
            "missing_photos",
            "received_at",
        ]

    @extend_schema_field(serializers.ListField(child=serializers.CharField()))
    def get_missing_photos(self, delivery: Delivery) -> list[str]:
        """Photos that are named and not here; put them under their digests."""
        missing: list[str] = self.context.get("missing_photos", [])
        return missing

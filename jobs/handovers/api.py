"""Handovers and signatures over HTTP."""

import re
from typing import IO, Any

from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.by_digest import ImageByDigest, image_schema
from contractor.api.desk import Desk
from contractor.api.facts_put import uuid_read
from contractor.api.fields import MomentField
from contractor.api.filters import Filter
from contractor.api.numbers import key_reader
from contractor.api.problems import FieldProblem
from contractor.api.strict import StrictSerializer
from jobs.handovers.models import Handover, Signature
from jobs.handovers.services import handover_make, signature_missing
from jobs.handovers.signatures import signature_keep
from jobs.installs.api_facts import CREWS, READERS, FactView
from jobs.installs.posted import own_install, sent_of

DIGEST = re.compile(r"[0-9a-f]{64}")
VALUES = (
    "person",
    "person_is",
    "label_shown",
    "care_sheet_given",
    "tempered_told",
    "use_told",
    "signature",
    "unsigned_why",
    "follow_up_on",
    "notes",
)


class HandoverInSerializer(StrictSerializer):
    """Who took the work over, what they were told, and their signature or why there is none."""

    install = serializers.UUIDField()
    person = serializers.CharField(max_length=120, help_text="The person by name.")
    person_is = serializers.CharField(
        required=False, allow_blank=True, max_length=60, help_text="Owner, tenant, caretaker."
    )
    label_shown = serializers.BooleanField(help_text="The label on the glass was shown.")
    care_sheet_given = serializers.BooleanField()
    tempered_told = serializers.BooleanField(
        help_text="That tempered glass can break without warning, all at once, was told."
    )
    use_told = serializers.BooleanField(
        required=False, help_text="From when it may be used was told."
    )
    signature = serializers.CharField(
        required=False, allow_blank=True, help_text="SHA-256 of the image put to signatures/."
    )
    unsigned_why = serializers.CharField(required=False, allow_blank=True, max_length=300)
    follow_up_on = serializers.DateField(
        required=False, allow_null=True, help_text="Day planned for the follow-up visit."
    )
    taken_at = MomentField(help_text="When it was signed, with offset.")
    said_by = serializers.CharField(required=False, max_length=120)
    notes = serializers.CharField(required=False, allow_blank=True, max_length=4000)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Signed, or with the reason why not: one of the two."""
        signature = attrs.get("signature", "")
        if signature and not DIGEST.fullmatch(signature):
            hint = "Put the image to /api/v1/signatures/{sha256}/ and name it here."
            wrong = FieldProblem("not_a_digest", "A signature is named by its SHA-256.", hint)
            raise serializers.ValidationError({"signature": wrong.detail})
        if bool(signature) == bool(attrs.get("unsigned_why")):
            text = "A handover is signed, or says why it is not: one of the two."
            wrong = FieldProblem("one_of_two", text, "Send `signature` or `unsigned_why`.")
            raise serializers.ValidationError({"unsigned_why": wrong.detail})
        return attrs


class HandoverSerializer(serializers.ModelSerializer):
    """A handover as it is kept."""

    url = serializers.HyperlinkedIdentityField(view_name="handover-detail")
    install = serializers.UUIDField(source="install_id", read_only=True)
    lacks = serializers.SerializerMethodField(help_text="What is still to be done.")
    signature_missing = serializers.SerializerMethodField(help_text="Named but not here yet.")

    class Meta:
        model = Handover
        fields = [
            "id",
            "url",
            "install",
            *VALUES,
            "lacks",
            "signature_missing",
            "said_by",
            "signed_at",
            "received_at",
        ]

    def get_lacks(self, row: Handover) -> list[str]:
        """What keeps it from counting."""
        return row.lacks()

    def get_signature_missing(self, row: Handover) -> bool:
        """Whether the image is still to be put."""
        return signature_missing(row)


class HandoverRowSerializer(HandoverSerializer):
    """A handover in a list."""

    class Meta(HandoverSerializer.Meta):
        fields = [one for one in HandoverSerializer.Meta.fields if one != "signature_missing"]


class HandoverView(FactView):
    """Handovers: who took the work over, what they were told, and their signature."""

    name = "Handovers"
    queryset = Handover.objects.select_related("install")
    serializer_class = HandoverSerializer
    roles = {"list": READERS, "retrieve": READERS, "update": CREWS}
    filters = {
        "install": Filter("install_id", "Id of the install.", uuid_read),
        "job": Filter("install__booking__job_id", "Number of the job.", key_reader("J")),
    }
    brief = ("id", "url", "install", "person", "signed_at")
    desk = Desk(
        form=False,
        columns=("id", "install", "person", "signed_at", "unsigned_why", "follow_up_on"),
        hides=frozenset({"signature"}),
    )

    def get_serializer_class(self) -> Any:
        """Give lists the short shape."""
        return HandoverRowSerializer if self.action == "list" else HandoverSerializer

    @extend_schema(
        request=HandoverInSerializer,
        responses={
            201: HandoverSerializer,
            200: OpenApiResponse(HandoverSerializer, "It was here."),
        },
    )
    def update(self, request: Request, pk: str) -> Response:
        """Keep a handover under the id that the tablet made."""
        return self.put_fact(request, pk)

    def taken(self, request: Request, key: Any) -> tuple[Handover, bool]:
        """Read the body and keep it."""
        return handover_taken(self, request, key, request.data)


def handover_taken(view: Any, request: Request, key: Any, data: Any) -> tuple[Handover, bool]:
    """Take one handover in, from a tablet or from a form of the desk."""
    body = HandoverInSerializer(data=data)
    body.is_valid(raise_exception=True)
    values = body.validated_data
    install = own_install(view.caller, values["install"])
    sent = sent_of(request, view.caller, key, values)
    own = {name: values[name] for name in VALUES if name in values}
    return handover_make(by=view.caller, install=install, sent=sent, values=own)


class SignatureSerializer(serializers.ModelSerializer):
    """A signature that is here."""

    url = serializers.HyperlinkedIdentityField(view_name="signature-detail", lookup_field="digest")
    file_url = serializers.HyperlinkedIdentityField(
        view_name="signature-file", lookup_field="digest"
    )

    class Meta:
        model = Signature
        fields = ["digest", "url", "file_url", "media_type", "received_at"]


@image_schema(SignatureSerializer)
class SignatureView(ImageByDigest):
    """Signatures, put under the SHA-256 of what is sent: a PNG, or an SVG of plain strokes."""

    name = "Signature"
    queryset = Signature.objects.all()
    serializer_class = SignatureSerializer
    roles = {"retrieve": READERS, "update": CREWS, "file": READERS}

    def keep(self, digest: str, stream: IO[bytes]) -> tuple[Signature, bool]:
        """Keep a signature."""
        return signature_keep(by=self.caller, digest=digest, stream=stream)

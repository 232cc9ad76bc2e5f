"""Members, tablets and integrations over HTTP."""

from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import OFFICE, PEOPLE
from contractor.api.desk import Desk, Task
from contractor.api.fields import MomentField
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.numbers import NumberField, key_reader
from contractor.api.problems import FieldProblem
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from contractor.notices.services import row_change
from contractor.people.models import Integration, Member, Qualification, Role, Tablet
from contractor.people.services import (
    integration_issue,
    member_create,
    tablet_issue,
    token_revoke,
)

OFFICE_ONLY = frozenset({OFFICE})
SCOPES = (
    "bookings:read",
    "bookings:write",
    "crews:read",
    "changes:read",
    "jobs:read",
    "packets:read",
)
TOKEN_DAYS = 90


class MemberSerializer(StrictModelSerializer):
    """One person of the firm."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="member-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    qualifications = serializers.MultipleChoiceField(choices=Qualification.choices, required=False)
    active = serializers.BooleanField(source="is_active", required=False, default=True)

    class Meta:
        model = Member
        fields = [
            "id",
            "url",
            "login",
            "name",
            "role",
            "email",
            "phone",
            "qualifications",
            "active",
            "version",
        ]
        read_only_fields = ["version"]

    def validate_qualifications(self, value: set[str]) -> list[str]:
        """Keep them in one order."""
        return sorted(value)


class MemberView(ListAndRead, CreateOnce, PatchSeen):
    """The firm's members."""

    name = "Members"
    queryset = Member.objects.all()
    serializer_class = MemberSerializer
    letter = "M"
    roles = {
        "list": PEOPLE,
        "retrieve": PEOPLE,
        "create": OFFICE_ONLY,
        "partial_update": OFFICE_ONLY,
    }
    filters = {"role": Filter("role", "What they do.", enum=tuple(Role.values))}
    search = ("name", "login")
    brief = ("id", "url", "name", "role")
    desk = Desk(
        add="Add a member",
        edit="Save the member",
        done="Member saved",
        columns=("id", "name", "login", "role", "phone", "qualifications", "active"),
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def make(self, **values: Any) -> Member:
        """Add the member; a password is set by the command `set_password`."""
        return member_create(by=self.caller, **values)

    def change(self, row: Member, **values: Any) -> Member:
        """Change the member."""
        return row_change(
            row=row,
            by=self.caller,
            type="member.changed",
            values=values,
            reason=reason_of(self.request),
        )


class RevokeSerializer(StrictSerializer):
    """Why a token is revoked."""

    why = serializers.CharField(max_length=300, help_text="For example `lost at the station`.")


class TokenSerializer(StrictModelSerializer):
    """A token without its secret; `token` is shown in the answer that makes it, and never again."""

    id = serializers.CharField(source="number", read_only=True)
    expires_at = MomentField(required=False)
    token = serializers.CharField(read_only=True, required=False)

    def validate_expires_at(self, value: datetime) -> datetime:
        """Refuse a token that would never be good."""
        if value <= timezone.now():
            raise FieldProblem("in_the_past", "This moment is past.", "Send one that is to come.")
        return value

    def to_representation(self, instance: Any) -> Any:
        """Show the secret only where it was just made."""
        data = super().to_representation(instance)
        if "token" in self.fields:
            data["token"] = getattr(instance, "fresh_token", "")
        return data


class TabletSerializer(TokenSerializer):
    """A tablet's token."""

    url = serializers.HyperlinkedIdentityField(
        view_name="tablet-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    holder = NumberField(letter="M", queryset=Member.objects.filter(is_active=True))

    class Meta:
        model = Tablet
        fields = [
            "id",
            "url",
            "name",
            "holder",
            "expires_at",
            "revoked_at",
            "revoked_why",
            "token",
            "version",
        ]
        read_only_fields = ["revoked_at", "revoked_why", "version"]


class IntegrationSerializer(TokenSerializer):
    """A program's token."""

    url = serializers.HyperlinkedIdentityField(
        view_name="integration-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    scopes = serializers.ListField(
        child=serializers.ChoiceField(choices=[(s, s) for s in SCOPES]), min_length=1
    )

    class Meta:
        model = Integration
        fields = [
            "id",
            "url",
            "name",
            "scopes",
            "expires_at",
            "revoked_at",
            "revoked_why",
            "token",
            "version",
        ]
        read_only_fields = ["revoked_at", "revoked_why", "version"]


REVOKE = Task(
    "revoke",
    "Revoke this token",
    "At once and for good; the tablet or program is locked out.",
    RevokeSerializer,
    done="Token revoked",
    when=lambda row: not row["revoked_at"],
)


class TokenView(ListAndRead, CreateOnce, PatchSeen):
    """What tablets and integrations share."""

    desk = Desk(
        add="Issue a token",
        words={
            "expires_at": ("Expires", "With offset, 2027-02-23T17:00:00-06:00; empty: in 90 days.")
        },
        searches={"holder": "/api/v1/members/"},
        columns=("id", "name", "holder", "scopes", "expires_at", "revoked_at", "revoked_why"),
        tasks=(REVOKE,),
    )

    roles = {name: OFFICE_ONLY for name in ("list", "retrieve", "create", "revoke")}
    http_method_names = ["get", "post", "head", "options"]

    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Issue a token; a repeated key answers without the secret, which is kept nowhere."""
        return once(request, self.caller, lambda: self._made(request.data), secret="token")  # noqa: S106

    @extend_schema(request=RevokeSerializer)
    @action(detail=True, methods=["post"])
    def revoke(self, request: Request, **kwargs: Any) -> Response:
        """Revoke the token at once, saying why."""
        body = RevokeSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        why = body.validated_data["why"]
        return self.act(request, lambda row: self.take_back(row, why))

    def take_back(self, row: Any, why: str) -> Any:
        """Call the service that revokes."""
        return token_revoke(by=self.caller, row=row, why=why)


class TabletView(TokenView):
    """Tablets in the field and their expiring tokens."""

    name = "Tablets"
    queryset = Tablet.objects.all()
    serializer_class = TabletSerializer
    letter = "T"
    filters = {"holder": Filter("holder_id", "Number of the holder.", key_reader("M"))}

    def make(self, **values: Any) -> Tablet:
        """Issue the token."""
        values.setdefault("expires_at", timezone.now() + timedelta(days=TOKEN_DAYS))
        tablet, token = tablet_issue(by=self.caller, **values)
        tablet.fresh_token = token  # type: ignore[attr-defined]
        return tablet


class IntegrationView(TokenView):
    """Programs of others and their expiring tokens."""

    name = "Integrations"
    queryset = Integration.objects.all()
    serializer_class = IntegrationSerializer
    letter = "I"

    def make(self, **values: Any) -> Integration:
        """Issue the token."""
        values.setdefault("expires_at", timezone.now() + timedelta(days=TOKEN_DAYS))
        row, token = integration_issue(by=self.caller, **values)
        row.fresh_token = token  # type: ignore[attr-defined]
        return row

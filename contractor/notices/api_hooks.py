"""Webhooks over HTTP: who hears of what, what was delivered, sending once more."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import OFFICE
from contractor.api.desk import Banner, Desk, Show, Task
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.numbers import NumberField, key_reader
from contractor.api.problems import FieldProblem
from contractor.api.strict import StrictModelSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from contractor.notices.hooks import delivery_resend, endpoint_add, endpoint_change
from contractor.notices.models import Delivery, DeliveryState, Endpoint
from contractor.notices.posting import Refused, address_check

OFFICE_ONLY = frozenset({OFFICE})
SETTLED = (DeliveryState.DONE, DeliveryState.FAILED)


class EndpointSerializer(StrictModelSerializer):
    """Where a program hears of notices; signed by Standard Webhooks with the secret shown once."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="webhook-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    address = serializers.URLField(max_length=500, help_text="Where to post, https.")
    types = serializers.ListField(
        child=serializers.RegexField(r"^[a-z_]+\.[a-z_]+$", max_length=60),
        required=False,
        help_text="Types of notices such as `booking.made`; none: all.",
    )
    token = serializers.CharField(
        read_only=True, default="", help_text="The secret that signs; shown this once."
    )

    class Meta:
        model = Endpoint
        fields = ["id", "url", "name", "address", "types", "token", "is_on", "off_why", "version"]
        read_only_fields = ["off_why", "version"]

    def validate_address(self, value: str) -> str:
        """Refuse at once what would never be posted to."""
        try:
            address_check(value)
        except Refused as refused:
            hint = "Send an https address of the public net."
            raise FieldProblem("address_refused", str(refused), hint) from refused
        return value

    def to_representation(self, instance: Any) -> Any:
        """Show the secret only where it was just made."""
        data = super().to_representation(instance)
        if "token" in self.fields:
            data["token"] = getattr(instance, "fresh_secret", "")
        return data


class EndpointView(ListAndRead, CreateOnce, PatchSeen):
    """Endpoints that hear of what happens here, each delivery signed, tried for days and logged."""

    name = "Webhooks"
    queryset = Endpoint.objects.all()
    serializer_class = EndpointSerializer
    letter = "WH"
    roles = dict.fromkeys(("list", "retrieve", "create", "partial_update"), OFFICE_ONLY)
    brief = ("id", "url", "name", "is_on")
    desk = Desk(
        add="Add a webhook",
        edit="Save the webhook",
        done="Webhook saved",
        columns=("id", "name", "address", "types", "is_on", "off_why"),
        words={"is_on": ("Turned on", ""), "off_why": ("Turned off because", "")},
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Add an endpoint; its secret is in this answer and nowhere after."""
        return once(request, self.caller, lambda: self._made(request.data), secret="token")  # noqa: S106

    def make(self, **values: Any) -> Endpoint:
        """Add the endpoint."""
        row, secret = endpoint_add(by=self.caller, **values)
        row.fresh_secret = secret  # type: ignore[attr-defined]
        return row

    def change(self, row: Endpoint, **values: Any) -> Endpoint:
        """Change the endpoint."""
        return endpoint_change(by=self.caller, row=row, reason=reason_of(self.request), **values)


class DeliverySerializer(serializers.ModelSerializer):
    """One notice for one endpoint, and what came of it."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="delivery-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    endpoint = NumberField(letter="WH", read_only=True)
    event = serializers.UUIDField(source="notice.event", read_only=True)
    type = serializers.CharField(source="notice.type", read_only=True)
    about = serializers.CharField(source="notice.about", read_only=True)

    class Meta:
        model = Delivery
        fields = [
            "id",
            "url",
            "endpoint",
            "event",
            "type",
            "about",
            "state",
            "attempts",
            "next_try",
            "status_code",
            "trouble",
            "done_at",
            "version",
        ]


class DeliveryView(ListAndRead, PatchSeen):
    """The log of deliveries; a settled one can be sent once more under the same id."""

    name = "Deliveries"
    queryset = Delivery.objects.select_related("notice")
    serializer_class = DeliverySerializer
    letter = "WD"
    roles = dict.fromkeys(("list", "retrieve", "resend"), OFFICE_ONLY)
    filters = {
        "endpoint": Filter("endpoint_id", "Number of the webhook.", key_reader("WH")),
        "state": Filter("state", "Where it stands.", enum=tuple(DeliveryState.values)),
        "type": Filter("notice__type", "For example `booking.made`."),
    }
    brief = ("id", "url", "state")
    desk = Desk(
        columns=("id", "endpoint", "type", "about", "state", "attempts", "status_code", "trouble"),
        tasks=(
            Task(
                "resend",
                "Send it again",
                "Under the same id, at the next sweep.",
                done="It will be sent again",
                when=lambda row: row["state"] in SETTLED,
            ),
        ),
    )
    http_method_names = ["get", "post", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """Say where the delivery stands."""
        return Show([Banner(row["state"], row["trouble"])]) if row else Show()

    @extend_schema(request=None, responses=DeliverySerializer)
    @action(detail=True, methods=["post"])
    def resend(self, request: Request, **kwargs: Any) -> Response:
        """Send a settled delivery once more."""
        return self.act(request, lambda row: delivery_resend(by=self.caller, row=row))

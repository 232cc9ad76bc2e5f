"""Customers and their sites over HTTP."""

from typing import Any

from django.core.validators import RegexValidator
from rest_framework import serializers

from contractor.api.callers import OFFICE, PEOPLE, TABLET
from contractor.api.desk import Desk
from contractor.api.fields import DegreesField, LengthField, ZoneField
from contractor.api.filters import Filter
from contractor.api.many import CreateMany, many_schema
from contractor.api.numbers import NumberField, key_reader
from contractor.api.problems import Problem
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from contractor.customers.models import Customer, Site
from contractor.customers.services import customer_create, site_create
from contractor.notices.services import row_change

READERS = PEOPLE | {TABLET}
OFFICE_ONLY = frozenset({OFFICE})
ROLES = {
    "list": READERS,
    "retrieve": READERS,
    "create": OFFICE_ONLY,
    "many": OFFICE_ONLY,
    "partial_update": OFFICE_ONLY,
}
E164 = RegexValidator(
    r"^\+[1-9]\d{6,14}$",
    "Send the number as ITU-T E.164: + and 7 to 15 digits, `+15555550123`.",
    "phone",
)


class CustomerSerializer(StrictModelSerializer):
    """Somebody who has a bathroom."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="customer-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    phone = serializers.CharField(required=False, allow_blank=True, validators=[E164])

    class Meta:
        model = Customer
        fields = [
            "id",
            "url",
            "name",
            "email",
            "phone",
            "language",
            "preferred_channel",
            "notes",
            "version",
        ]
        read_only_fields = ["version"]


@many_schema("Customer", CustomerSerializer, CustomerSerializer)
class CustomerView(ListAndRead, CreateOnce, CreateMany, PatchSeen):
    """The firm's customers."""

    name = "Customers"
    queryset = Customer.objects.all()
    serializer_class = CustomerSerializer
    letter = "C"
    roles = ROLES
    search = ("name", "email", "phone")
    brief = ("id", "url", "name")
    desk = Desk(
        add="Add a customer",
        edit="Save the customer",
        done="Customer saved",
        columns=("id", "name", "email", "phone", "language", "preferred_channel"),
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def make(self, **values: Any) -> Customer:
        """Add the customer."""
        return customer_create(by=self.caller, **values)

    def change(self, row: Customer, **values: Any) -> Customer:
        """Change the customer."""
        return row_change(
            row=row,
            by=self.caller,
            type="customer.changed",
            values=values,
            reason=reason_of(self.request),
        )


class AddressSerializer(StrictSerializer):
    """A postal address by the names of schema.org's PostalAddress."""

    streetAddress = serializers.CharField(source="street_address", max_length=200)
    extendedAddress = serializers.CharField(
        source="extended_address",
        max_length=200,
        required=False,
        allow_blank=True,
        help_text="Flat, floor.",
    )
    addressLocality = serializers.CharField(source="address_locality", max_length=120)
    addressRegion = serializers.CharField(
        source="address_region", max_length=60, required=False, allow_blank=True
    )
    postalCode = serializers.CharField(
        source="postal_code", max_length=20, required=False, allow_blank=True
    )
    addressCountry = serializers.RegexField(
        r"^[A-Z]{2}$",
        source="address_country",
        required=False,
        help_text="Two letters, ISO 3166-1.",
    )


class WayInSerializer(StrictSerializer):
    """How glass gets in; leave out what was not measured."""

    door_width = LengthField(required=False, allow_blank=True)
    door_height = LengthField(required=False, allow_blank=True)
    corridor_width = LengthField(required=False, allow_blank=True)
    stair_width = LengthField(required=False, allow_blank=True)
    lift_width = LengthField(required=False, allow_blank=True)
    lift_depth = LengthField(required=False, allow_blank=True)
    lift_height = LengthField(required=False, allow_blank=True)


class SiteSerializer(StrictModelSerializer):
    """A house or flat."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="site-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    customer = NumberField(letter="C", queryset=Customer.objects.all())
    address = AddressSerializer(source="*")
    time_zone = ZoneField(max_length=60, help_text="IANA name, for example `America/Chicago`.")
    latitude = DegreesField(most=90, required=False, allow_null=True)
    longitude = DegreesField(most=180, required=False, allow_null=True)
    way_in = WayInSerializer(source="*", required=False)
    year_built = serializers.IntegerField(
        required=False,
        allow_null=True,
        min_value=1600,
        max_value=2200,
        help_text="Before 1978 lead, to 1980 asbestos cautions are printed.",
    )

    class Meta:
        model = Site
        fields = [
            "id",
            "url",
            "customer",
            "address",
            "time_zone",
            "latitude",
            "longitude",
            "access_notes",
            "year_built",
            "way_in",
            "version",
        ]
        read_only_fields = ["version"]

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Refuse half a place."""
        halves = [
            attrs.get(name, getattr(self.instance, name, None)) is None
            for name in ("latitude", "longitude")
        ]
        if halves[0] != halves[1]:
            raise Problem(
                "half_a_place",
                "A place needs latitude and longitude.",
                hint="Send both, or neither.",
                pointer="/latitude" if halves[0] else "/longitude",
            )
        return attrs


@many_schema("Site", SiteSerializer, SiteSerializer)
class SiteView(ListAndRead, CreateOnce, CreateMany, PatchSeen):
    """Where the work is."""

    name = "Sites"
    queryset = Site.objects.all()
    serializer_class = SiteSerializer
    letter = "S"
    roles = ROLES
    filters = {"customer": Filter("customer_id", "Number of the customer.", key_reader("C"))}
    search = ("street_address", "address_locality", "customer__name")
    brief = ("id", "url", "address")
    desk = Desk(
        add="Add a site",
        edit="Save the site",
        done="Site saved",
        searches={"customer": "/api/v1/customers/"},
        columns=("id", "customer", "address", "time_zone", "year_built"),
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def make(self, **values: Any) -> Site:
        """Add the site."""
        return site_create(by=self.caller, **values)

    def change(self, row: Site, **values: Any) -> Site:
        """Change the site."""
        return row_change(
            row=row,
            by=self.caller,
            type="site.changed",
            values=values,
            reason=reason_of(self.request),
        )

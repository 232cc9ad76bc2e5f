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
from fitcheck.rules.way_in_kinds import DOOR, PASSES, SIZES, STRAIGHT_IN
from fitcheck.rules.way_in_told import way_told

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


def _size(says: str = "") -> LengthField:
    """A clear size of the way in, with its unit."""
    return LengthField(required=False, allow_blank=True, help_text=says or None)


class WayInSerializer(StrictSerializer):
    """How glass gets in: what it passes, and each place's clear sizes, the least if there are several."""

    passes = serializers.ListField(
        child=serializers.ChoiceField(choices=list(PASSES.items())),
        required=False,
        help_text="What the glass passes beyond the door; straight_in: nothing else. A place whose "
        "sizes are told and whose kind is not is taken as the harder one: a corner, a quarter turn.",
    )
    door_width = _size("Clear, of the narrowest door.")
    door_height = _size("Clear, of the lowest door.")
    corridor_width = _size("Clear, at its narrowest before the corner.")
    corridor_beyond = _size("Beyond the corner. Default: as before it.")
    corridor_height = _size("Under lamps and beams.")
    stair_width = _size("Clear, between walls and handrails.")
    stair_headroom = _size("Above the nosings, upright.")
    stair_rise = _size("Of one step.")
    stair_going = _size("Of one step, from nosing to nosing.")
    landing_depth = _size("Of the landing where the stair turns.")
    landing_width = _size("Across both flights, for a half turn.")
    landing_height = _size("Least, above the landing.")
    lift_width = _size("Of the car.")
    lift_depth = _size("Of the car.")
    lift_height = _size("Of the car.")
    lift_door_width = _size("Clear, of the lift's door.")
    lift_door_height = _size("Clear, of the lift's door.")

    def validate_passes(self, value: list[str]) -> list[str]:
        """Keep each once, in the order of the way."""
        return [kind for kind in PASSES if kind in value]


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
    way_in_asks = serializers.SerializerMethodField(
        help_text="What is still to be asked of the way in before an install is booked."
    )
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
            "way_in_asks",
            "version",
        ]
        read_only_fields = ["version"]

    def get_way_in_asks(self, site: Site) -> list[str]:
        """Ask for what is missing of the way in."""
        return list(way_told(site.way_in()).asks)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Refuse half a place, and a way that is both straight in and more."""
        self._check_straight(attrs)
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

    def _check_straight(self, attrs: dict[str, Any]) -> None:
        """A site straight in has no corridor, stair or lift that glass passes."""
        own = self.instance.way_in() if isinstance(self.instance, Site) else {}
        way = {**own, **{name: attrs[name] for name in ("passes", *SIZES) if name in attrs}}
        kinds = way.get("passes") or []
        more = [name for name in kinds if name != STRAIGHT_IN]
        more += [name for name in SIZES if name not in DOOR and way.get(name)]
        if STRAIGHT_IN in kinds and more:
            raise Problem(
                "straight_in_and_more",
                f"The way is told as straight in on one level, and with more: {', '.join(more)}.",
                hint="Leave straight_in out, or empty the others.",
                pointer="/way_in/passes",
            )


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

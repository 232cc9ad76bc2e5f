"""The vans' stock over HTTP: the list of parts, their movements, and what is to be loaded."""

from typing import Any

from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE, OFFICE, SCHEDULER, YARD
from contractor.api.desk import Banner, Desk, Show, Table
from contractor.api.facts_put import answered, key_of, new_key, object_of, uuid_read
from contractor.api.fields import MomentField
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.strict import StrictModelSerializer, StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from contractor.people.models import Crew
from fitcheck.rules import sealing
from fitcheck.rules.strict import InputErrors
from jobs.installs.api_facts import CREWS
from jobs.installs.models import Install
from jobs.installs.posted import absent, own_install, put, sent_of
from jobs.stock.models import Item, Kind, Move, Movement, VanItem
from jobs.stock.services import item_add, item_change, stock_move

READERS = EVERYONE - {SCHEDULER}
STORE = frozenset({OFFICE, YARD})
MOVERS = CREWS | {YARD}


class ItemSerializer(StrictModelSerializer):
    """A kind of part that vans carry."""

    id = serializers.SlugField(source="slug", max_length=50)
    url = serializers.HyperlinkedIdentityField(
        view_name="stock-item-detail", lookup_field="slug", lookup_url_kwarg="slug"
    )
    data_sheet = serializers.DictField(
        required=False,
        help_text="Of a sealant: title, edition and rows of its product data sheet.",
    )

    class Meta:
        model = Item
        fields = [
            "id",
            "url",
            "name",
            "kind",
            "unit",
            "reload_below",
            "reload_to",
            "data_sheet",
            "is_active",
            "version",
        ]
        read_only_fields = ["version"]

    def validate_data_sheet(self, value: dict[str, Any]) -> dict[str, Any]:
        """Let the rules read a product's data as they will when a bead cures."""
        if value:
            asked = {"cure": {"product": value, "celsius": "20", "humidity": "50"}}
            try:
                sealing.answer(asked)
            except InputErrors as wrong:
                told = "; ".join(one.detail for one in wrong.errors)
                raise serializers.ValidationError(told[:300], "data_sheet") from wrong
        return value


class ItemView(ListAndRead, CreateOnce, PatchSeen):
    """What vans carry: anchors, screws, sealant. Office and yard keep the list."""

    name = "Stock items"
    queryset = Item.objects.all()
    serializer_class = ItemSerializer
    lookup_field = "slug"
    roles = {"list": READERS, "retrieve": READERS, "create": STORE, "partial_update": STORE}
    filters = {"kind": Filter("kind", "What sort of thing.", enum=tuple(Kind.values))}
    search = ("name", "slug")
    brief = ("id", "url", "name")
    desk = Desk(
        add="Add a part",
        edit="Save the part",
        columns=("id", "name", "kind", "unit", "reload_below", "reload_to", "is_active"),
        lacks=frozenset({"data_sheet"}),
        words={
            "reload_below": ("Load up below", "A van with fewer is loaded up."),
            "reload_to": ("Load up to", "Up to this many."),
        },
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def make(self, **values: Any) -> Item:
        """Add it."""
        return item_add(by=self.caller, **values)

    def change(self, row: Item, **values: Any) -> Item:
        """Change it."""
        return item_change(by=self.caller, item=row, reason=reason_of(self.request), **values)


class MovementInSerializer(StrictSerializer):
    """So many were loaded, used or counted in a crew's van."""

    crew = serializers.SlugRelatedField(slug_field="slug", queryset=Crew.objects.all())
    item = serializers.SlugRelatedField(slug_field="slug", queryset=Item.objects.all())
    move = serializers.ChoiceField(choices=Move.choices)
    amount = serializers.IntegerField(min_value=0, max_value=100_000)
    install = serializers.UUIDField(
        required=False, allow_null=True, help_text="The install that it was used at."
    )
    taken_at = MomentField(required=False, help_text="With offset. Default: now.")
    said_by = serializers.CharField(required=False, allow_blank=True, max_length=120)
    note = serializers.CharField(required=False, allow_blank=True, max_length=300)


class MovementSerializer(serializers.ModelSerializer):
    """A movement as it is kept; `short` says how many more were used than there were."""

    url = serializers.HyperlinkedIdentityField(view_name="stock-movement-detail")
    crew: Any = serializers.SlugRelatedField(slug_field="slug", read_only=True)
    item: Any = serializers.SlugRelatedField(slug_field="slug", read_only=True)
    install = serializers.UUIDField(source="install_id", read_only=True, allow_null=True)

    class Meta:
        model = Movement
        fields = [
            "id",
            "url",
            "crew",
            "item",
            "move",
            "amount",
            "short",
            "install",
            "note",
            "said_by",
            "taken_at",
            "received_at",
        ]


class MovementView(ListAndRead, CreateOnce):
    """Every movement of every van's stock. Put one under the tablet's own UUID; nothing is changed later."""

    name = "Stock movements"
    queryset = Movement.objects.select_related("crew", "item")
    serializer_class = MovementSerializer
    roles = {"list": READERS, "retrieve": READERS, "create": MOVERS, "update": MOVERS}
    filters = {
        "crew": Filter("crew__slug", "Short name of the crew."),
        "item": Filter("item__slug", "Short name of the item."),
        "move": Filter("move", "What happened.", enum=tuple(Move.values)),
        "install": Filter("install_id", "Id of the install.", uuid_read),
    }
    brief = ("id", "url", "crew", "item", "move", "amount")
    desk = Desk(
        add="Write down a movement",
        done="Written down",
        searches={"item": "/api/v1/stock-items/"},
        columns=("id", "crew", "item", "move", "amount", "short", "said_by", "taken_at"),
        words={
            "taken_at": ("When", "Empty: now. Else with offset, 2027-03-02T08:10:00-06:00."),
            "short": ("Short by", "More was used than there was: load or count the van."),
        },
    )
    http_method_names = ["get", "post", "put", "head", "options"]

    def get_queryset(self) -> Any:
        """Crews see their own van."""
        rows = super().get_queryset()
        if self.request is not None and self.caller.sees_own_crews_only:
            return rows.filter(crew__places__member_id=self.caller.member_id).distinct()
        return rows

    def get_serializer_class(self) -> Any:
        """Take one shape, answer with another."""
        is_write = self.action in {"create", "update"} and self.request.method != "GET"
        return MovementInSerializer if is_write else MovementSerializer

    @extend_schema(
        request=MovementInSerializer,
        responses={
            201: MovementSerializer,
            200: OpenApiResponse(MovementSerializer, "It was here."),
        },
    )
    def update(self, request: Request, pk: str) -> Response:
        """Keep a movement under the id that the tablet made; a shortfall is said and kept."""
        key, raw = key_of(pk), object_of(request.data)
        about = str(raw.get("crew", ""))
        moved: Response = put(self.caller, key, raw, about, lambda: self._moved(key))
        return moved

    @extend_schema(request=MovementInSerializer, responses={201: MovementSerializer})
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Write a movement down from a browser."""
        return once(request, self.caller, lambda: self._moved(new_key()))

    def _moved(self, key: Any) -> Response:
        body = MovementInSerializer(data=self.request.data)
        body.is_valid(raise_exception=True)
        values = dict(body.validated_data)
        self._check_own(values["crew"])
        install: Install | None = None
        if values.get("install"):
            install = own_install(self.caller, values["install"])
        note = {"note": values.get("note", "")}
        movement, is_new = stock_move(
            by=self.caller,
            sent=sent_of(self.request, self.caller, key, values, body=note),
            crew=values["crew"],
            item=values["item"],
            move=values["move"],
            amount=values["amount"],
            install=install,
        )
        context = self.get_serializer_context()
        return answered(MovementSerializer(movement, context=context).data, is_new=is_new)

    def _check_own(self, crew: Crew) -> None:
        """Answer for another crew's van as for one that is not there."""
        own = crew.places.filter(member_id=self.caller.member_id or 0)
        if self.caller.sees_own_crews_only and not own.exists():
            raise serializers.ValidationError(absent("crew", f"There is no crew {crew.slug}."))


class VanItemSerializer(serializers.ModelSerializer):
    """How many of one item are in one van, and how many to load."""

    url = serializers.HyperlinkedIdentityField(view_name="van-stock-detail")
    crew: Any = serializers.SlugRelatedField(slug_field="slug", read_only=True)
    item: Any = serializers.SlugRelatedField(slug_field="slug", read_only=True)
    name = serializers.CharField(source="item.name", read_only=True)
    unit = serializers.CharField(source="item.unit", read_only=True)
    short = serializers.IntegerField(
        read_only=True, help_text="Used beyond what was there, since the van was last counted."
    )

    class Meta:
        model = VanItem
        fields = [
            "id",
            "url",
            "crew",
            "item",
            "name",
            "unit",
            "on_hand",
            "short",
            "to_load",
            "version",
        ]


class VanStockView(ListAndRead):
    """What is in each van, and what is to be loaded before it goes out."""

    name = "Van stock"
    queryset = VanItem.objects.select_related("crew", "item")
    serializer_class = VanItemSerializer
    roles = {"list": READERS, "retrieve": READERS}
    filters = {
        "crew": Filter("crew__slug", "Short name of the crew."),
        "item": Filter("item__slug", "Short name of the item."),
    }
    brief = ("id", "crew", "item", "on_hand", "to_load")
    desk = Desk(
        columns=("id", "crew", "name", "on_hand", "unit", "to_load", "short"),
        words={
            "on_hand": ("On hand", ""),
            "to_load": ("To load", ""),
            "short": ("Short by", "Used beyond what was there: count the van."),
        },
    )
    http_method_names = ["get", "head", "options"]

    def get_queryset(self) -> Any:
        """Crews see their own van."""
        rows = super().get_queryset()
        if self.request is not None and self.caller.sees_own_crews_only:
            return rows.filter(crew__places__member_id=self.caller.member_id).distinct()
        return rows

    def desk_show(self, row: Any) -> Show:
        """Say on top what each van must load, and which one must be counted."""
        if self.detail:
            return Show()
        rows = list(self.get_queryset().filter(to_load__gt=0).order_by("crew__slug", "item__name"))
        lines = [
            (one.crew.name, one.item.name, f"{one.to_load} × {one.item.unit}", one.on_hand)
            for one in rows
        ]
        heads = ("Van", "Part", "To load", "On hand")
        short = self.get_queryset().filter(short__gt=0)
        banners = [
            Banner(
                "short",
                f"{one.crew.name}, {one.item.name}: {one.short} more were used than were written "
                "down as there. Count that van.",
            )
            for one in short
        ]
        none = "Every van has what it needs."
        return Show(banners, tables=[Table("To load", heads, lines, none=none)])

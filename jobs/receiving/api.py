"""Orders, deliveries and inspections over HTTP."""

from typing import Any
from uuid import UUID

from django.utils import timezone
from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from uuid_utils.compat import uuid7

from contractor.api.callers import LEAD, OFFICE, PEOPLE, TABLET, YARD
from contractor.api.desk import Desk, Press, Show, Table, Task
from contractor.api.facts import digest_of
from contractor.api.facts_put import answered, key_of, object_of, put
from contractor.api.filters import Filter
from contractor.api.numbers import key_reader
from contractor.api.problems import Problem
from contractor.api.strict import StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen
from contractor.people.models import Member
from jobs.receiving.models import Condition, Delivery, Inspection, Kind, Order, OrderState
from jobs.receiving.orders import order_cancel, order_place
from jobs.receiving.services import Came, delivery_receive, pieces_inspect
from jobs.receiving.shapes import (
    ArrivalSerializer,
    ArrivedInSerializer,
    ArrivedSerializer,
    DeskPieceSerializer,
    InspectionInSerializer,
    InspectionSerializer,
    OrderInSerializer,
    OrderRowSerializer,
    OrderSerializer,
)
from jobs.surveys.aside import keep_aside
from jobs.surveys.photos import photo_of_form

READERS = PEOPLE | {TABLET}
RECEIVERS = frozenset({OFFICE, YARD, LEAD, TABLET})
OFFICE_ONLY = frozenset({OFFICE})


class OrderWhySerializer(StrictSerializer):
    """Why an order is cancelled."""

    why = serializers.CharField(max_length=300)


def _placed(row: Any) -> bool:
    return bool(row["state"] == OrderState.PLACED)


ORDER_DESK = Desk(
    add="Order goods",
    done="Ordered",
    searches={"job": "/api/v1/jobs/", "line": "/api/v1/orders/"},
    columns=("id", "job", "kind", "supplier", "reference", "expected_on", "state"),
    lacks=frozenset({"lines"}),
    hides=frozenset({"lines", "deliveries"}),
    tasks=(
        Task(
            "arrive",
            "A delivery came",
            "Look at the packaging before you sign; have damage written on the carrier's receipt.",
            ArrivalSerializer,
            done="Delivery recorded; now look over each piece",
            when=_placed,
        ),
        Task(
            "inspect",
            "Look a piece over",
            "A piece that is not sound opens a claim in the same step, with the photo as evidence.",
            DeskPieceSerializer,
            done="Inspection recorded",
            when=lambda row: bool(row["deliveries"]),
        ),
        Task(
            "cancel",
            "Cancel the order",
            "Only while nothing has come of it.",
            OrderWhySerializer,
            done="Cancelled",
            when=lambda row: _placed(row) and not row["deliveries"],
        ),
    ),
    words={
        "kind": (
            "What",
            "A boxed kit's pieces are read from its sheet, glass from a verdict that fits; single "
            "pieces are those found amiss.",
        ),
        "line": ("Piece", "Its number from the table above, such as G-0007."),
        "noted_at_door": ("Damage is on the receipt", "It helps against the carrier."),
    },
)


class OrderView(ListAndRead, CreateOnce, PatchSeen):
    """Goods on order, piece by piece, and what has come of them."""

    name = "Orders"
    queryset = Order.objects.select_related("job__site")
    serializer_class = OrderSerializer
    letter = "OR"
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "create": OFFICE_ONLY,
        "arrive": RECEIVERS,
        "inspect": RECEIVERS,
        "cancel": OFFICE_ONLY,
    }
    filters = {
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "kind": Filter("kind", "What is ordered.", enum=tuple(Kind.values)),
        "state": Filter("state", "Placed or cancelled.", enum=tuple(OrderState.values)),
    }
    search = ("supplier", "reference", "job__summary")
    brief = ("id", "url", "job", "supplier")
    desk = ORDER_DESK
    http_method_names = ["get", "post", "head", "options"]

    def get_serializer_class(self) -> Any:
        """Give lists the short shape, and orders being placed their lines."""
        shapes = {"list": OrderRowSerializer, "create": OrderInSerializer}
        return shapes.get(self.action, OrderSerializer)

    @extend_schema(request=OrderInSerializer, responses={201: OrderSerializer})
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Order goods; 201 with every piece that must come."""
        return super().create(request, *args, **kwargs)

    def _made(self, data: Any) -> Response:
        body = OrderInSerializer(data=data, context=self.get_serializer_context())
        body.is_valid(raise_exception=True)
        row = order_place(by=self.caller, **body.validated_data)
        data = OrderSerializer(row, context=self.get_serializer_context()).data
        return Response(data, status=201, headers={"Location": data["url"]})

    def desk_show(self, row: Any) -> Show:
        """Show the pieces, each with the button that finds it sound."""
        return Show(tables=[_pieces(self, row)]) if self.detail else Show()

    @extend_schema(request=ArrivalSerializer, responses=OrderSerializer)
    @action(detail=True, methods=["post"])
    def arrive(self, request: Request, **kwargs: Any) -> Response:
        """Record at a desk that a delivery came just now."""
        body = ArrivalSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        return self.act(request, lambda row: self._arrived(row, body.validated_data))

    def _arrived(self, order: Order, told: dict[str, Any]) -> Order:
        delivery_receive(
            by=self.caller,
            key=uuid7(),
            digest="",
            order=order,
            received_by=_member(self, None),
            inspections=[],
            arrived_at=timezone.now(),
            **told,
        )
        order.refresh_from_db()
        return order

    @extend_schema(request=DeskPieceSerializer, responses=OrderSerializer)
    @action(detail=True, methods=["post"])
    def inspect(self, request: Request, **kwargs: Any) -> Response:
        """Record at a desk how a piece of the last delivery was found."""
        body = DeskPieceSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        return self.act(request, lambda row: self._inspected(row, dict(body.validated_data)))

    def _inspected(self, order: Order, told: dict[str, Any]) -> Order:
        delivery = order.deliveries.select_related("order__job__site").last()
        if delivery is None:
            raise Problem(
                "nothing_came",
                f"Nothing of {order.number} has come.",
                status=409,
                hint="Record the delivery first.",
            )
        photo = told.pop("photo", None)
        if photo:
            told["photos"] = [photo_of_form(by=self.caller, upload=photo)]
        pieces_inspect(
            by=self.caller,
            delivery=delivery,
            inspections=[{**told, "id": uuid7(), "inspected_at": timezone.now()}],
        )
        order.refresh_from_db()
        return order

    @extend_schema(request=OrderWhySerializer, responses=OrderSerializer)
    @action(detail=True, methods=["post"])
    def cancel(self, request: Request, **kwargs: Any) -> Response:
        """Expect the goods no longer, saying why."""
        body = OrderWhySerializer(data=request.data)
        body.is_valid(raise_exception=True)
        why = body.validated_data["why"]
        return self.act(request, lambda row: order_cancel(by=self.caller, order=row, why=why))


def _pieces(view: OrderView, row: Any) -> Table:
    path = view.reverse_action("inspect", args=[row["id"]])
    may = view.caller.role in RECEIVERS and row["deliveries"] and _placed(row)
    rows = []
    for one in row["lines"]:
        says = f"{one['id']} {one['name']}"
        values = {
            "line": one["id"],
            "condition": Condition.SOUND.value,
            "count": one["missing"],
            "_version": row["version"],
        }
        button = Press("All sound", path, values, says) if may and one["state"] == "awaited" else ""
        text = f"{one['count']} × {one['name']}"
        rows.append(
            [one["id"], text, one["size"], one["mass"], one["opening"], one["state"], button]
        )
    heads = ("Piece", "What", "Size", "Mass", "Opening", "Found", "")
    return Table("What must come", heads, rows, none="No piece is named.")


def _member(view: Any, named: Member | None) -> Member:
    if named is not None:
        return named
    found = Member.objects.filter(pk=view.caller.member_id).first()
    if found is None:
        raise Problem(
            "required",
            "It is not said who took it in.",
            hint="Send `received_by`, a member's number.",
            pointer="/received_by",
        )
    return found


class FactView(ListAndRead):
    """What arrivals and inspections share: each is put under the id that its sender made."""

    roles = {"list": READERS, "retrieve": READERS, "update": RECEIVERS}
    http_method_names = ["get", "put", "head", "options"]
    takes: Any = None

    def put_fact(self, request: Request, pk: str) -> Response:
        """Keep the fact, or say why not; 200 when it was here."""
        key, raw = key_of(pk), object_of(request.data)
        body = self.takes(data=raw)
        body.is_valid(raise_exception=True)
        told = dict(body.validated_data)
        if told.pop("id", key) != key:
            raise Problem(
                "two_ids", "The body names another id than the address.", hint="Leave it out."
            )
        about, kept = self.order_of(told).number, {"id": str(key), **raw}
        own: Any = {"by": self.caller, "type": "goods.refused", "about": about}
        came = put(
            lambda: self.taken(key, told, digest_of(raw)),
            aside=lambda: keep_aside(raw=kept, **own),
        )
        return answered(self.answer(came), is_new=came.is_new)

    def order_of(self, told: dict[str, Any]) -> Order:
        """Say which order the fact belongs to."""
        raise NotImplementedError

    def taken(self, key: UUID, told: dict[str, Any], digest: str) -> Came:
        """Call the room's service; each subclass says which."""
        raise NotImplementedError

    def answer(self, came: Came) -> Any:
        """Tell the row as it is kept."""
        return self.get_serializer(came.row).data


class ArrivalView(FactView):
    """What carriers brought. Put one under the id that you made: sending it twice is harmless."""

    name = "Arrivals"
    queryset = Delivery.objects.select_related("order__job__site", "received_by").prefetch_related(
        "inspections__line", "inspections__delivery__order", "claims"
    )
    serializer_class = ArrivedSerializer
    takes = ArrivedInSerializer
    filters = {
        "order": Filter("order_id", "Number of the order.", key_reader("OR")),
        "job": Filter("order__job_id", "Number of the job.", key_reader("J")),
    }
    search = ("carrier", "waybill")
    brief = ("id", "url", "order")
    desk = Desk(form=False, columns=("id", "order", "carrier", "arrived_at", "packaging", "claims"))

    @extend_schema(
        request=ArrivedInSerializer,
        responses={
            201: ArrivedSerializer,
            200: OpenApiResponse(ArrivedSerializer, "It was here already; nothing changed."),
        },
    )
    def update(self, request: Request, pk: str) -> Response:
        """Take a delivery in with its inspections; what is amiss opens a claim in the same step."""
        return self.put_fact(request, pk)

    def order_of(self, told: dict[str, Any]) -> Order:
        """The order that the delivery was for."""
        order: Order = told["order"]
        return order

    def taken(self, key: UUID, told: dict[str, Any], digest: str) -> Came:
        """Take the delivery in."""
        told["received_by"] = _member(self, told.get("received_by"))
        told.setdefault("inspections", [])
        return delivery_receive(by=self.caller, key=key, digest=digest, **told)

    def answer(self, came: Came) -> Any:
        """Tell the delivery with its inspections, and photos that are still to come."""
        context = {**self.get_serializer_context(), "missing_photos": came.missing_photos}
        return ArrivedSerializer(self.get_queryset().get(pk=came.row.pk), context=context).data


class InspectionView(FactView):
    """How pieces were found. A later look is put under its own id and names what it replaces."""

    name = "Inspections"
    queryset = Inspection.objects.select_related("delivery__order", "line")
    serializer_class = InspectionSerializer
    takes = InspectionInSerializer
    filters = {
        "order": Filter("delivery__order_id", "Number of the order.", key_reader("OR")),
        "condition": Filter("condition", "How it was found.", enum=tuple(Condition.values)),
    }
    brief = ("id", "url", "line", "condition")
    desk = Desk(
        form=False, columns=("id", "order", "line", "count", "condition", "note", "inspected_at")
    )

    @extend_schema(
        request=InspectionInSerializer,
        responses={
            201: InspectionSerializer,
            200: OpenApiResponse(InspectionSerializer, "It was here already; nothing changed."),
        },
    )
    def update(self, request: Request, pk: str) -> Response:
        """Record how a piece was found when it was looked at again."""
        return self.put_fact(request, pk)

    def order_of(self, told: dict[str, Any]) -> Order:
        """The order whose delivery was looked over."""
        order: Order = told["delivery"].order
        return order

    def taken(self, key: UUID, told: dict[str, Any], digest: str) -> Came:
        """Record the look."""
        own = {"delivery": told.pop("delivery"), "inspections": [{**told, "id": key}]}
        return pieces_inspect(by=self.caller, digest=digest, **own)

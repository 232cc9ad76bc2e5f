"""Drawings over HTTP: ask, watch, look, fetch the file, sign as a second person."""

from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.http import FileResponse, HttpResponse
from django.urls import reverse
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import (
    OpenApiExample,
    OpenApiParameter,
    OpenApiResponse,
    extend_schema,
)
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE, LEAD, MEASURER, OFFICE, SCHEDULER, TABLET, YARD
from contractor.api.desk import Banner, Desk, Picture, Show, Task
from contractor.api.filters import Filter, is_page
from contractor.api.idempotency import once
from contractor.api.inputs import inputs_checked
from contractor.api.numbers import key_reader
from contractor.api.pictures import picture
from contractor.api.problems import Problem
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen
from fitcheck.drawings.write_svg import svg_write
from jobs.drawings.content import names_of, sheets_of
from jobs.drawings.models import Drawing, State, What
from jobs.drawings.services import drawing_ask, drawing_retry, drawing_sign
from jobs.drawings.shapes import (
    ORDER,
    AskDrawingSerializer,
    DrawingRowSerializer,
    DrawingSerializer,
    SignSerializer,
)
from jobs.openings.models import Opening

DXF = "image/vnd.dxf"
READERS = EVERYONE - {SCHEDULER}
ASKERS = frozenset({OFFICE, MEASURER, LEAD, YARD, TABLET})
WATCHED = timedelta(minutes=5)
EXAMPLE = {"opening": "O-0001", "what": "panels", "order": ORDER}


def _verdict_id(text: str) -> UUID:
    try:
        return UUID(text)
    except ValueError as error:
        raise ValueError("the id of a verdict") from error


class DrawingView(ListAndRead, CreateOnce, PatchSeen):
    """Ask for a drawing: 202 with a status to watch; its state ends in done or failed with the reason."""

    name = "Drawings"
    queryset = Drawing.objects.select_related(
        "opening__job__site", "opening__kit", "verdict__sheet", "superseded_by"
    )
    serializer_class = DrawingSerializer
    letter = "DR"
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "file": READERS,
        "picture": READERS,
        "create": ASKERS,
        "retry": ASKERS,
        "sign": ASKERS,
    }
    filters = {
        "opening": Filter("opening_id", "Number of the opening.", key_reader("O")),
        "verdict": Filter("verdict_id", "Id of the verdict that it is drawn from.", _verdict_id),
        "what": Filter("what", "What is drawn.", enum=tuple(What.values)),
        "state": Filter("state", "Where it stands.", enum=tuple(State.values)),
    }
    brief = ("id", "url", "state", "file_url")
    desk = Desk(
        add="Ask for a drawing",
        done="Asked for",
        searches={"opening": "/api/v1/openings/"},
        columns=("id", "opening", "what", "state", "signed_by", "asked_at", "asked_by"),
        hides=frozenset({"stage", "percent", "trouble", "file_url", "pictures", "stale", "says"}),
        words={"order": ("Order of panels", "As the question of the order asks, in JSON.")},
        lacks=frozenset({"verdict", "format"}),
        example=lambda: EXAMPLE,
        tasks=(
            Task(
                "sign",
                "Sign for the fabricator",
                "Look at every figure in the pictures. Nothing can be cut after tempering.",
                shape=SignSerializer,
                done="Signed; it is drawn anew",
                when=lambda row: (
                    row["what"] == What.PANELS
                    and row["state"] == State.DONE
                    and not row["signed_by"]
                ),
            ),
            Task(
                "retry",
                "Try this drawing again",
                "It was given up; the reason stands above.",
                done="Asked for again",
                when=lambda row: row["state"] == State.FAILED,
            ),
        ),
    )
    http_method_names = ["get", "post", "head", "options"]

    def get_serializer_class(self) -> Any:
        """Ask with one shape, answer with another, and give lists the short one."""
        shapes = {"create": AskDrawingSerializer, "list": DrawingRowSerializer}
        return shapes.get(self.action, DrawingSerializer)

    def desk_show(self, row: Any) -> Show:
        """Say where the file stands and show its sheets; the page asks again until it is done."""
        if not row:
            return Show()
        drawing = self.get_object()
        link = {"url": row["file_url"], "link": "Get the DXF"} if row["file_url"] else {}
        banners = [
            Banner(row["state"], f"{row['stage']}, {row['percent']} %. {row['trouble']}", **link)
        ]
        if drawing.what == What.PANELS:
            banners.append(_signature(row))
        if row.get("stale"):
            banners.append(Banner("unknown", f"Not to be worked from: {row['stale']}."))
        age = timezone.now() - datetime.fromisoformat(row["asked_at"])
        waits = row["state"] in {State.WANTED, State.DRAWING} and age < WATCHED
        return Show(banners, _pictures(drawing), refresh=waits)

    @extend_schema(
        request=AskDrawingSerializer,
        responses={202: OpenApiResponse(DrawingSerializer, "Watch the address in Location.")},
        examples=[OpenApiExample("A door cut to size", value=EXAMPLE, request_only=True)],
    )
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Freeze what is to be drawn, ask a worker for the file, answer 202 at once."""
        return once(request, self.caller, lambda: self._asked(request))

    def _asked(self, request: Request) -> Response:
        ask = AskDrawingSerializer(data=request.data)
        ask.is_valid(raise_exception=True)
        asked = ask.validated_data
        with inputs_checked("/order"):
            drawing = drawing_ask(
                by=self.caller,
                opening=_opening(asked),
                what=asked["what"],
                order=_order(asked, from_page=is_page(request)),
                verdict=asked.get("verdict"),
            )
        data = DrawingSerializer(drawing, context=self.get_serializer_context()).data
        return Response(data, 202, headers={"Location": data["url"], "Retry-After": "1"})

    @extend_schema(responses={(200, DXF): OpenApiTypes.BINARY, 304: None})
    @action(detail=True)
    def file(self, request: Request, **kwargs: Any) -> FileResponse | HttpResponse:
        """Give out the DXF; its entity tag is its digest."""
        drawing = self.get_object()
        if drawing.state != State.DONE:
            raise Problem(
                "drawing_not_ready",
                f"{drawing.number} is {drawing.state} ({drawing.percent} %).",
                status=409,
                hint="Watch its state; it ends in done or failed.",
                headers={"Retry-After": "1"},
            )
        tag = f'"{drawing.file_digest}"'
        if tag in [one.strip() for one in request.headers.get("If-None-Match", "").split(",")]:
            return HttpResponse(status=304, headers={"ETag": tag})
        name = f"{drawing.number}-{'signed' if drawing.signed_by else 'draft'}.dxf"
        response = FileResponse(drawing.file.open(), content_type=DXF, filename=name)
        response["ETag"] = tag
        response["X-Content-Type-Options"] = "nosniff"
        return response

    @extend_schema(
        responses={(200, "image/svg+xml"): OpenApiTypes.STR},
        parameters=[OpenApiParameter("name", str, "path", description="front, panel-1, elevation")],
    )
    @action(detail=True, url_path="pictures/(?P<name>[a-z0-9-]+)")
    def picture(self, request: Request, name: str, **kwargs: Any) -> HttpResponse:
        """Show one of its sheets as a picture."""
        drawing = self.get_object()
        names = names_of(drawing)
        if name not in names:
            raise Problem(
                "not_found",
                f"{drawing.number} has no sheet {name}.",
                status=404,
                hint=f"It has {', '.join(names)}.",
            )
        return picture(svg_write(sheets_of(drawing)[names.index(name)]))

    @extend_schema(request=None, responses=DrawingSerializer)
    @action(detail=True, methods=["post"])
    def retry(self, request: Request, **kwargs: Any) -> Response:
        """Try a drawing again that was given up."""
        return self.act(request, lambda row: drawing_retry(by=self.caller, drawing=row))

    @extend_schema(request=SignSerializer, responses=DrawingSerializer)
    @action(detail=True, methods=["post"])
    def sign(self, request: Request, **kwargs: Any) -> Response:
        """Sign, as another person than the asker, that the panels may be cut as drawn."""
        ask = SignSerializer(data=request.data)
        ask.is_valid(raise_exception=True)
        reason = ask.validated_data.get("reason", "")
        return self.act(
            request, lambda row: drawing_sign(by=self.caller, drawing=row, reason=reason)
        )


def _opening(asked: dict[str, Any]) -> Opening:
    """Find the opening by either way of naming it."""
    verdict, opening = asked.get("verdict"), asked.get("opening")
    if verdict is None and opening is None:
        raise Problem(
            "one_of_two",
            "Name an opening or a verdict.",
            hint="Send `opening`.",
            pointer="/opening",
        )
    if verdict is not None and opening is not None and verdict.opening_id != opening.pk:
        raise Problem(
            "another_opening",
            f"This verdict is not about {opening.number}.",
            hint="Leave one of the two out.",
            pointer="/verdict",
        )
    return opening or verdict.opening  # type: ignore[no-any-return,union-attr]


def _order(asked: dict[str, Any], *, from_page: bool) -> dict[str, Any] | None:
    """Take the order of panels; a page's form carries an example of one whatever is asked for."""
    order = asked.get("order")
    if order is not None and asked["what"] != What.PANELS:
        if from_page:
            return None
        raise Problem(
            "not_wanted",
            "An elevation is drawn from a verdict, not from an order.",
            hint="Leave `order` out.",
            pointer="/order",
        )
    if order is None or isinstance(order, dict):
        return order
    raise Problem(
        "not_an_object", "`order` is one object.", hint="See the example.", pointer="/order"
    )


def _signature(row: Any) -> Banner:
    if row["signed_by"]:
        return Banner("done", f"Signed by {row['signed_by']}. {row['sign_reason']}")
    return Banner(
        "wanted", f"Draft, not for cutting: nobody but {row['asked_by']} has seen it yet."
    )


def _pictures(drawing: Drawing) -> list[Picture]:
    return [
        Picture(
            sheet.title, svg_write(sheet), reverse("drawing-picture", args=[drawing.number, name])
        )
        for name, sheet in zip(names_of(drawing), sheets_of(drawing), strict=True)
    ]

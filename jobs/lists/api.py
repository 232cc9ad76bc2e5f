"""Lists over HTTP: send one in, see every bad row, take it over; and take lists out."""

import base64
import binascii
from typing import Any

from django.http import HttpResponse
from django.urls import reverse
from django.utils.html import format_html
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import OFFICE
from contractor.api.desk import Banner, Desk, Show, Table, Task
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.problems import FieldProblem, Problem
from contractor.api.strict import StrictSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, Room
from jobs.lists.api_rows import LISTS
from jobs.lists.models import Kind, ListImport, Mode, State
from jobs.lists.services import WAITS, list_receive, list_retry, list_take_over
from jobs.lists.table import csv_write, workbook_write

OFFICE_ONLY = frozenset({OFFICE})
CSV = "text/csv"
WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
TOLD = 200


class ReceiveSerializer(StrictSerializer):
    """A list as a file, as CSV text, or as a workbook in base64; one of the three."""

    kind = serializers.ChoiceField(choices=Kind.choices)
    file = serializers.FileField(required=False, help_text="CSV in UTF-8, or a workbook (.xlsx).")
    text = serializers.CharField(
        required=False, trim_whitespace=False, help_text="CSV as text, the first row names columns."
    )
    workbook = serializers.CharField(required=False, help_text="A workbook (.xlsx) in base64.")
    name = serializers.CharField(required=False, max_length=120, help_text="What to call it.")

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Take exactly one of the three, as bytes."""
        given = [name for name in ("file", "text", "workbook") if name in attrs]
        if len(given) != 1:
            raise Problem(
                "one_of_three",
                "Send the list once: as file, as text, or as workbook.",
                hint="Choose a file.",
                pointer="/file",
            )
        return {"kind": attrs["kind"], **_content(attrs, given[0])}


def _content(attrs: dict[str, Any], given: str) -> dict[str, Any]:
    if given == "file":
        return {"name": attrs.get("name") or attrs["file"].name, "content": attrs["file"].read()}
    if given == "text":
        return {"name": attrs.get("name", "text"), "content": attrs["text"].encode()}
    try:
        content = base64.b64decode(attrs["workbook"], validate=True)
    except (ValueError, binascii.Error):
        detail = FieldProblem("base64", "This is no base64.", "Encode the file's bytes.").detail
        raise serializers.ValidationError({"workbook": detail}) from None
    return {"name": attrs.get("name", "workbook"), "content": content}


class BadCellSerializer(serializers.Serializer):
    """One mistake at its row and column."""

    row = serializers.IntegerField(
        help_text="As the file counts, the names of columns being row 1."
    )
    column = serializers.CharField(allow_blank=True)
    value = serializers.CharField(allow_blank=True)
    code = serializers.CharField()
    detail = serializers.CharField()
    hint = serializers.CharField(allow_blank=True, help_text="What to write instead.")


class ImportSerializer(serializers.ModelSerializer):
    """A list that came in, what the dry run says of it, and whether it was taken over."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="import-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    stage = serializers.CharField(source="get_state_display", read_only=True)
    problems = BadCellSerializer(many=True, read_only=True)

    class Meta:
        model = ListImport
        fields = [
            "id",
            "url",
            "kind",
            "name",
            "digest",
            "state",
            "stage",
            "mode",
            "rows",
            "new",
            "changed",
            "same",
            "bad",
            "problems",
            "trouble",
            "asked_by",
            "asked_at",
            "done_at",
            "version",
        ]


class TakeOverSerializer(StrictSerializer):
    """All rows or none, or the good ones only."""

    mode = serializers.ChoiceField(choices=Mode.choices)


class ImportView(ListAndRead, CreateOnce, PatchSeen):
    """Lists sent in: every one is first only looked through; nothing is written before you say so."""

    name = "Lists"
    queryset = ListImport.objects.defer("content")
    serializer_class = ImportSerializer
    letter = "LI"
    roles = dict.fromkeys(("list", "retrieve", "create", "take_over", "retry"), OFFICE_ONLY)
    filters = {
        "kind": Filter("kind", "What the rows are.", enum=tuple(Kind.values)),
        "state": Filter("state", "Where it stands.", enum=tuple(State.values)),
    }
    brief = ("id", "url", "kind", "state", "bad")
    desk = Desk(
        add="Look a list through",
        done="Looked through; nothing is written yet",
        lacks=frozenset({"text", "workbook", "name"}),
        columns=("id", "kind", "name", "state", "rows", "new", "changed", "same", "bad"),
        hides=frozenset({"problems", "stage", "trouble"}),
        form_first=True,
        needs=frozenset({"file"}),
        tasks=(
            Task(
                "take_over",
                "Take it over",
                "Writes the rows; choose what happens if some are bad.",
                TakeOverSerializer,
                done="Taken over",
                when=lambda row: row["state"] == State.CHECKED,
            ),
            Task(
                "retry",
                "Look it through again",
                "It was given up; the reason stands above.",
                when=lambda row: row["state"] == State.FAILED,
            ),
        ),
        words={
            "kind": ("What the rows are", ""),
            "file": (
                "File",
                "CSV in UTF-8 or a workbook (.xlsx); the first row names the columns.",
            ),
            "mode": ("If rows are bad", ""),
            "bad": ("Bad rows", ""),
            "new": ("New rows", ""),
            "changed": ("Changed rows", ""),
            "same": ("Rows already so", ""),
        },
    )
    http_method_names = ["get", "post", "head", "options"]

    def get_serializer_class(self) -> Any:
        """Receive with one shape, answer with another."""
        return ReceiveSerializer if self.action == "create" else ImportSerializer

    def desk_show(self, row: Any) -> Show:
        """Above the lists where lists are taken out; on a list's page every bad row."""
        if not row or "problems" not in row:
            return Show(tables=[_ways_out()])
        waits = row["state"] in {*WAITS, State.CHECKING, State.TAKING}
        bad = f"{row['bad']} of {row['rows']} rows are bad. " if row["bad"] else ""
        told = f"{row['stage']}. {bad}{row['trouble']}".strip()
        heads = ("Row", "Column", "There stands", "What is wrong", "Write instead")
        lines = [
            [one[n] for n in ("row", "column", "value", "detail", "hint")]
            for one in row["problems"][:TOLD]
        ]
        table = Table("Bad rows", heads, lines, none="No row is bad.")
        return Show([Banner(row["state"], told)], tables=[table], refresh=waits)

    def desk_next(self, data: Any) -> str:
        """Lead from a list that was sent to what was found in it."""
        return str(data["url"])

    @extend_schema(
        request=ReceiveSerializer,
        responses={
            201: OpenApiResponse(ImportSerializer, "Looked through; see `problems`."),
            202: OpenApiResponse(ImportSerializer, "A long one; watch the address in Location."),
        },
    )
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Receive a list and look it through: a dry run that tells every bad row."""
        return once(request, self.caller, lambda: self._received(request))

    def _received(self, request: Request) -> Response:
        body = ReceiveSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        return self._told(list_receive(by=self.caller, **body.validated_data), 201)

    def _told(self, row: ListImport, status: int) -> Response:
        data = ImportSerializer(row, context=self.get_serializer_context()).data
        headers = {"Location": data["url"]}
        if row.state in WAITS:
            return Response(data, 202, headers={**headers, "Retry-After": "2"})
        return Response(data, status, headers=headers if status == 201 else {})

    @extend_schema(
        request=TakeOverSerializer,
        responses={
            200: OpenApiResponse(ImportSerializer, "Taken over, or told which rows are bad."),
            202: OpenApiResponse(ImportSerializer, "A long one; watch its state."),
        },
    )
    @action(detail=True, methods=["post"], url_path="take-over", url_name="take_over")
    def take_over(self, request: Request, **kwargs: Any) -> Response:
        """Write the rows: all or none, or the good ones. Rows that are there already stay as they are."""
        body = TakeOverSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        mode = body.validated_data["mode"]
        answer = self.act(request, lambda row: list_take_over(by=self.caller, row=row, mode=mode))
        if answer.data["state"] in WAITS:
            answer.status_code = 202
        return answer

    @extend_schema(request=None, responses=ImportSerializer)
    @action(detail=True, methods=["post"])
    def retry(self, request: Request, **kwargs: Any) -> Response:
        """Look a list through anew that was given up."""
        return self.act(request, lambda row: list_retry(by=self.caller, row=row))


class ColumnSerializer(serializers.Serializer):
    """One column of a list."""

    name = serializers.CharField()
    needed = serializers.BooleanField()
    says = serializers.CharField(allow_blank=True)


class ExportSerializer(serializers.Serializer):
    """What a list of this kind looks like, and where it is taken out."""

    kind = serializers.ChoiceField(choices=Kind.choices)
    columns = ColumnSerializer(many=True)
    csv_url = serializers.CharField()
    workbook_url = serializers.CharField()


class ExportView(Room):
    """Lists taken out: what is taken out may be sent in again unchanged."""

    name = "Lists out"
    queryset = ListImport.objects.none()
    serializer_class = ExportSerializer
    lookup_field = "kind"
    lookup_value_regex = "[a-z]+"
    roles = dict.fromkeys(("retrieve", "csv", "workbook"), OFFICE_ONLY)
    http_method_names = ["get", "head", "options"]

    def _kind(self) -> str:
        kind: str = self.kwargs["kind"]
        if kind not in LISTS:
            hint = f"There are: {', '.join(LISTS)}."
            raise Problem("not_found", f"There is no list of {kind}.", status=404, hint=hint)
        return kind

    def retrieve(self, request: Request, kind: str) -> Response:
        """Name the columns and what to write into them."""
        lines = LISTS[self._kind()]
        columns = [
            {"name": name, "needed": name in lines.needed, "says": lines.says.get(name, "")}
            for name in lines.columns
        ]
        return Response(
            {
                "kind": kind,
                "columns": columns,
                "csv_url": self.reverse_action("csv", args=[kind]),
                "workbook_url": self.reverse_action("workbook", args=[kind]),
            }
        )

    @extend_schema(responses={(200, CSV): OpenApiTypes.STR})
    @action(detail=True)
    def csv(self, request: Request, kind: str) -> HttpResponse:
        """Take the list out as CSV in UTF-8."""
        lines = LISTS[self._kind()]
        return _file(csv_write(lines.columns, lines.rows()), CSV, f"{kind}.csv")

    @extend_schema(responses={(200, WORKBOOK): OpenApiTypes.BINARY})
    @action(detail=True)
    def workbook(self, request: Request, kind: str) -> HttpResponse:
        """Take the list out as a workbook (.xlsx)."""
        lines = LISTS[self._kind()]
        made = workbook_write(kind, lines.columns, lines.rows())
        return _file(made, WORKBOOK, f"{kind}.xlsx")


def _file(content: bytes, media: str, name: str) -> HttpResponse:
    headers = {
        "Content-Disposition": f'attachment; filename="{name}"',
        "X-Content-Type-Options": "nosniff",
    }
    return HttpResponse(content, content_type=media, headers=headers)


def _ways_out() -> Table:
    """Where each kind is taken out, and what its columns are."""
    rows = [
        [
            Kind(kind).label,
            format_html(
                '<a href="{}">CSV</a>, <a href="{}">workbook</a>',
                reverse("export-csv", args=[kind]),
                reverse("export-workbook", args=[kind]),
            ),
            ", ".join(lines.columns),
        ]
        for kind, lines in LISTS.items()
    ]
    return Table("Take a list out, or see how one looks", ("List", "Take out", "Columns"), rows)

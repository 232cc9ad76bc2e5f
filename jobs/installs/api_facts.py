"""Records and saw marks over HTTP: put under the tablet's own ids, whenever the line allows."""

from typing import Any

from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE, HELPER, LEAD, OFFICE, SCHEDULER, TABLET
from contractor.api.desk import Desk
from contractor.api.facts_put import answered, key_of, object_of, uuid_read
from contractor.api.filters import Filter
from contractor.api.inputs import inputs_checked
from contractor.api.views import ListAndRead
from jobs.installs.marks import mark_ask
from jobs.installs.models import Kind, Mark, MarkState, Record, RecordState
from jobs.installs.posted import (
    own_install,
    person_of,
    plain_body,
    put,
    rows_filled,
    sent_of,
)
from jobs.installs.readers import rows_with_records
from jobs.installs.reread import readings_read
from jobs.installs.services import record_receive
from jobs.installs.shapes import RecordInSerializer, RecordRowSerializer, RecordSerializer
from jobs.installs.shapes_marks import MarkInSerializer, MarkSerializer

READERS = EVERYONE - {SCHEDULER}
CREWS = frozenset({TABLET, LEAD, HELPER, OFFICE})


class FactView(ListAndRead):
    """What records and marks share: a crew sees its own, and a fact is put under its sender's id."""

    http_method_names = ["get", "put", "head", "options"]

    def get_queryset(self) -> Any:
        """Leave other crews' installs out."""
        rows = super().get_queryset()
        if self.request is not None and self.caller.sees_own_crews_only:
            member = self.caller.member_id
            return rows.filter(install__booking__crew__places__member_id=member).distinct()
        return rows

    def put_fact(self, request: Request, pk: str) -> Response:
        """Keep the fact, or say why not; 200 when it was here."""
        key, raw = key_of(pk), object_of(request.data)
        named = str(raw.get("install", ""))
        row, is_new = put(self.caller, key, raw, named, lambda: self.taken(request, key))
        data = self.serializer_class(row, context=self.get_serializer_context()).data  # type: ignore[misc]
        return answered(data, is_new=is_new)

    def taken(self, request: Request, key: Any) -> tuple[Any, bool]:
        """Call the room's service; each subclass says which."""
        raise NotImplementedError


class RecordView(FactView):
    """What was recorded at stops, skips, snags, and that the work is finished. Nothing is thrown away."""

    name = "Install records"
    queryset = Record.objects.select_related("install")
    serializer_class = RecordSerializer
    roles = {"list": READERS, "retrieve": READERS, "update": CREWS}
    filters = {
        "install": Filter("install_id", "Id of the install.", uuid_read),
        "stop": Filter("stop", "Key of the stop."),
        "kind": Filter("kind", "What it says.", enum=tuple(Kind.values)),
        "state": Filter("state", "What it does for its stop.", enum=tuple(RecordState.values)),
    }
    brief = ("id", "url", "install", "stop", "state")
    desk = Desk(
        form=False, columns=("id", "install", "kind", "stop", "state", "said_by", "taken_at")
    )

    def get_serializer_class(self) -> Any:
        """Give lists the short shape."""
        return RecordRowSerializer if self.action == "list" else RecordSerializer

    @extend_schema(
        request=RecordInSerializer,
        responses={201: RecordSerializer, 200: OpenApiResponse(RecordSerializer, "It was here.")},
    )
    def update(self, request: Request, pk: str) -> Response:
        """Keep a record under the id that the tablet made; its answer says what it does for its stop."""
        return self.put_fact(request, pk)

    def taken(self, request: Request, key: Any) -> tuple[Record, bool]:
        """Read the body, let the rules read the readings, keep it."""
        return record_taken(self, request, key, request.data)


def record_taken(view: Any, request: Request, key: Any, data: Any) -> tuple[Record, bool]:
    """Take one record in, from a tablet or from a form of the desk."""
    body = RecordInSerializer(data=data)
    body.is_valid(raise_exception=True)
    values = body.validated_data
    install = own_install(view.caller, values["install"])
    said_by = person_of(view.caller, request, values)
    rows = rows_filled(
        values.get("readings", []), said_by, values["taken_at"], ("read_by", "taken_at")
    )
    with inputs_checked():
        readings = readings_read(rows)
    told = plain_body(values, **({"readings": rows} if rows else {}))
    sent = sent_of(request, view.caller, key, values, body=told, readings=readings)
    stop = values.get("stop", "")
    return record_receive(
        by=view.caller, install=install, sent=sent, kind=values["kind"], stop=stop
    )


class MarkView(FactView):
    """Where to saw: released when two people, the survey and the order of work agree, else held."""

    name = "Saw marks"
    queryset = Mark.objects.select_related("install")
    serializer_class = MarkSerializer
    roles = {"list": READERS, "retrieve": READERS, "update": CREWS}
    filters = {
        "install": Filter("install_id", "Id of the install.", uuid_read),
        "part": Filter("part", "Which part."),
        "state": Filter("state", "released or held.", enum=tuple(MarkState.values)),
    }
    brief = ("id", "url", "part", "state", "mark")
    desk = Desk(
        form=False, columns=("id", "install", "part", "state", "mark", "said_by", "taken_at")
    )

    @extend_schema(
        request=MarkInSerializer,
        responses={201: MarkSerializer, 200: OpenApiResponse(MarkSerializer, "It was here.")},
    )
    def update(self, request: Request, pk: str) -> Response:
        """Ask where to saw: 201 at once with the released mark, or held with the reason."""
        return self.put_fact(request, pk)

    def taken(self, request: Request, key: Any) -> tuple[Mark, bool]:
        """Read the body and put the question."""
        return mark_taken(self, request, key, request.data)


def mark_taken(view: Any, request: Request, key: Any, data: Any) -> tuple[Mark, bool]:
    """Ask for one mark, for a tablet or for a form of the desk."""
    body = MarkInSerializer(data=data)
    body.is_valid(raise_exception=True)
    values = body.validated_data
    install = own_install(view.caller, values["install"])
    said_by = person_of(view.caller, request, values)
    rows = rows_with_records(values["as_fixed"], install=install, part=values["part"])
    rows = rows_filled(rows, said_by, values["taken_at"], ("read_by", "taken_at"))
    sent = sent_of(
        request, view.caller, key, values, body=plain_body(values, as_fixed=rows), readings=()
    )
    return mark_ask(
        by=view.caller,
        install=install,
        sent=sent,
        part=values["part"],
        end=values.get("end", ""),
        typed_why=values.get("typed_why", ""),
    )

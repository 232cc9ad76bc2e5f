"""Installs over HTTP: started under the tablet's own id, read with their stops, tended at the desk."""

from typing import Any

from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import HELPER, LEAD, OFFICE, Caller
from contractor.api.desk import Show
from contractor.api.facts_put import answered, key_of, new_key, object_of
from contractor.api.filters import Filter
from contractor.api.idempotency import once
from contractor.api.inputs import inputs_checked
from contractor.api.numbers import key_reader
from contractor.api.problems import Problem
from contractor.api.views import CreateOnce, ListAndRead
from jobs.bookings.models import Booking
from jobs.handovers.api import HandoverSerializer, handover_taken
from jobs.installs.api_facts import CREWS, READERS, mark_taken, record_taken
from jobs.installs.desk import INSTALL_DESK, install_show
from jobs.installs.forms import (
    DeskHandoverSerializer,
    DeskLookSerializer,
    DeskSkipSerializer,
    DeskSnagSerializer,
    DeskStopSerializer,
    EmptySerializer,
    check_nothing_open,
    form_body,
    handover_body,
    look_body,
    skip_body,
    stop_body,
)
from jobs.installs.forms_cuts import (
    DeskMarkSerializer,
    DeskReadSerializer,
    DeskSawnSerializer,
    mark_body,
    read_body,
    sawn_body,
)
from jobs.installs.models import Install, Kind
from jobs.installs.posted import absent, put, sent_of
from jobs.installs.services import install_start
from jobs.installs.shapes import (
    InstallRowSerializer,
    InstallSerializer,
    RecordSerializer,
    StartSerializer,
)
from jobs.installs.shapes_marks import MarkSerializer
from jobs.openings.models import Opening

AT_A_DESK = frozenset({LEAD, OFFICE})


def check_own(caller: Caller, booking: Booking) -> None:
    """Answer for another crew's booking as for one that is not there.

    Raises:
        ValidationError: the caller is in no crew of this booking.
    """
    if not caller.sees_own_crews_only:
        return
    if not booking.crew.places.filter(member_id=caller.member_id or 0).exists():
        raise serializers.ValidationError(absent("booking", f"There is no {booking.number}."))


def opening_of(booking: Booking, named: Opening | None) -> Opening:
    """The opening that is meant: the one named, or the only one of the job.

    Raises:
        Problem: it must be named, or it belongs to another job.
    """
    openings = list(booking.job.openings.select_related("job__site", "kit"))
    names = ", ".join(one.number for one in openings) or "none yet"
    hint = f"Openings of {booking.job.number}: {names}."
    if named is None and len(openings) != 1:
        text = f"{booking.job.number} has {len(openings)} openings: say which."
        raise Problem("opening_needed", text, hint=hint, pointer="/opening")
    if named is not None and named.job_id != booking.job_id:
        text = f"{named.number} is no opening of {booking.job.number}."
        raise Problem("opening_of_another_job", text, hint=hint, pointer="/opening")
    return named or openings[0]


class InstallView(ListAndRead, CreateOnce):
    """Installs under way. Put one under the tablet's own UUID, then its records and saw marks."""

    name = "Installs"
    queryset = Install.objects.select_related("booking__job__site", "opening", "sheet__kit")
    serializer_class = InstallSerializer
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "create": CREWS,
        "update": CREWS,
        "stop": AT_A_DESK,
        "skip": AT_A_DESK,
        "mark": AT_A_DESK,
        "read": AT_A_DESK | {HELPER},
        "looked": AT_A_DESK | {HELPER},
        "snag": AT_A_DESK,
        "sawn": AT_A_DESK,
        "finish": AT_A_DESK,
        "handover": AT_A_DESK,
    }
    filters = {
        "job": Filter("booking__job_id", "Number of the job.", key_reader("J")),
        "booking": Filter("booking_id", "Number of the booking.", key_reader("B")),
        "opening": Filter("opening_id", "Number of the opening.", key_reader("O")),
    }
    brief = ("id", "url", "opening", "state")
    desk = INSTALL_DESK
    http_method_names = ["get", "post", "put", "head", "options"]

    def get_queryset(self) -> Any:
        """Crews see their own visits; the facts of one install come along with it."""
        rows = super().get_queryset()
        if self.action == "retrieve":
            rows = rows.prefetch_related("records", "marks", "handovers")
        if self.request is not None and self.caller.sees_own_crews_only:
            return rows.filter(booking__crew__places__member_id=self.caller.member_id).distinct()
        return rows

    def get_serializer_class(self) -> Any:
        """Start with one shape, answer with another, and give lists the short one."""
        if self.action in {"create", "update"} and self.request.method != "GET":
            return StartSerializer
        return InstallRowSerializer if self.action == "list" else InstallSerializer

    def desk_show(self, row: Any) -> Any:
        """Show stops, pictures and saw marks on an install's own page."""
        return install_show(self.get_object(), self.caller) if self.detail else Show()

    @extend_schema(
        request=StartSerializer,
        responses={
            201: InstallSerializer,
            200: OpenApiResponse(
                InstallSerializer, "Started already, under this id or by another tablet."
            ),
        },
    )
    def update(self, request: Request, pk: str) -> Response:
        """Start an install under the id that the tablet made; sending twice is harmless."""
        key, raw = key_of(pk), object_of(request.data)
        return put(self.caller, key, raw, str(raw.get("opening", "")), lambda: self._start(key))  # type: ignore[no-any-return]

    @extend_schema(request=StartSerializer, responses={201: InstallSerializer})
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Start an install from a browser, which makes no ids."""
        return once(request, self.caller, lambda: self._start(new_key()))

    def _start(self, key: Any) -> Response:
        request = self.request
        body = StartSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        values = body.validated_data
        check_own(self.caller, values["booking"])
        opening = opening_of(values["booking"], values.get("opening"))
        sent = sent_of(request, self.caller, key, values)
        install, is_new = install_start(
            by=self.caller, sent=sent, booking=values["booking"], opening=opening
        )
        context = self.get_serializer_context()
        return answered(InstallSerializer(install, context=context).data, is_new=is_new)

    @extend_schema(request=DeskStopSerializer, responses={201: RecordSerializer})
    @action(detail=True, methods=["post"])
    def stop(self, request: Request, **kwargs: Any) -> Response:
        """Record the next stop from a browser; one that comes too early is refused here."""
        return self._from_form(
            DeskStopSerializer, lambda values: stop_body(self.get_object(), values)
        )

    @extend_schema(request=DeskSkipSerializer, responses={201: RecordSerializer})
    @action(detail=True, methods=["post"])
    def skip(self, request: Request, **kwargs: Any) -> Response:
        """Let a stop be passed, as a lead, saying why."""
        return self._from_form(
            DeskSkipSerializer, lambda values: skip_body(self.get_object(), values)
        )

    @extend_schema(request=DeskSnagSerializer, responses={201: RecordSerializer})
    @action(detail=True, methods=["post"])
    def snag(self, request: Request, **kwargs: Any) -> Response:
        """Write down what is left to be put right."""
        return self._from_form(DeskSnagSerializer, lambda values: {"kind": Kind.SNAG, **values})

    @extend_schema(request=DeskSawnSerializer, responses={201: RecordSerializer})
    @action(detail=True, methods=["post"])
    def sawn(self, request: Request, **kwargs: Any) -> Response:
        """Say how long a part was sawn; too short is a miscut, and is told as one."""
        return self._from_form(DeskSawnSerializer, sawn_body)

    @extend_schema(request=None, responses={201: RecordSerializer})
    @action(detail=True, methods=["post"])
    def finish(self, request: Request, **kwargs: Any) -> Response:
        """Say that the work is finished; refused while a stop is open, which it names."""
        check_nothing_open(self.get_object())
        return self._from_form(EmptySerializer, lambda values: {"kind": Kind.FINISH})

    @extend_schema(request=DeskReadSerializer, responses={201: RecordSerializer})
    @action(detail=True, methods=["post"])
    def read(self, request: Request, **kwargs: Any) -> Response:
        """Send the distance as you read it yourself, from your own sign-in, for the saw mark."""
        return self._from_form(DeskReadSerializer, read_body)

    @extend_schema(request=DeskLookSerializer, responses={201: RecordSerializer})
    @action(detail=True, methods=["post"])
    def looked(self, request: Request, **kwargs: Any) -> Response:
        """Say that you looked as well at the next stop, as its second person, from your own sign-in."""
        return self._from_form(
            DeskLookSerializer, lambda values: look_body(self.get_object(), values, self.caller)
        )

    @extend_schema(request=DeskMarkSerializer, responses={201: MarkSerializer})
    @action(detail=True, methods=["post"])
    def mark(self, request: Request, **kwargs: Any) -> Response:
        """Ask where to saw, with the distance as two people read it."""
        return once(request, self.caller, lambda: self._marked())

    @extend_schema(request=DeskHandoverSerializer, responses={201: HandoverSerializer})
    @action(detail=True, methods=["post"])
    def handover(self, request: Request, **kwargs: Any) -> Response:
        """Hand the work over from a browser: signed, or with the reason why not."""
        return once(request, self.caller, lambda: self._handed_over())

    def _handed_over(self) -> Response:
        form = DeskHandoverSerializer(data=self.request.data)
        form.is_valid(raise_exception=True)
        body = handover_body(self.get_object(), dict(form.validated_data), self.caller)
        row, _ = handover_taken(self, self.request, new_key(), body)
        context = self.get_serializer_context()
        return answered(HandoverSerializer(row, context=context).data, is_new=True)

    def _from_form(self, shape: Any, body_of: Any) -> Response:
        """Keep one record that was written in a form."""

        def kept() -> Response:
            form = shape(data=self.request.data)
            form.is_valid(raise_exception=True)
            body = form_body(self.get_object(), dict(form.validated_data), body_of, self.caller)
            record, _ = record_taken(self, self.request, new_key(), body)
            context = self.get_serializer_context()
            return answered(RecordSerializer(record, context=context).data, is_new=True)

        return once(self.request, self.caller, kept)

    def _marked(self) -> Response:
        form = DeskMarkSerializer(data=self.request.data)
        form.is_valid(raise_exception=True)
        body = mark_body(self.get_object(), dict(form.validated_data), self.caller)
        with inputs_checked():
            mark, _ = mark_taken(self, self.request, new_key(), body)
        context = self.get_serializer_context()
        return answered(MarkSerializer(mark, context=context).data, is_new=True)

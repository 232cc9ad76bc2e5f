"""Surveys and photos over HTTP: readings in, verdict out."""

from typing import IO, Any, cast

from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from uuid_utils.compat import uuid7

from contractor.api.by_digest import ImageByDigest, image_schema
from contractor.api.callers import EVERYONE, HELPER, MEASURER, OFFICE, SCHEDULER, TABLET, YARD
from contractor.api.desk import Desk, Show
from contractor.api.facts_put import answered, object_of, put
from contractor.api.filters import Filter
from contractor.api.many import CreateMany, many_schema
from contractor.api.numbered import key_of
from contractor.api.numbers import key_reader
from contractor.api.problems import Problem
from contractor.api.views import ListAndRead
from contractor.people.models import Member
from jobs.surveys.aside import keep_aside
from jobs.surveys.body import SurveyBody, body_read
from jobs.surveys.examples import SURVEY_EXAMPLE
from jobs.surveys.models import Photo, Refused, Survey
from jobs.surveys.photos import photo_keep
from jobs.surveys.services import Received, survey_receive
from jobs.surveys.shapes import (
    PhotoSerializer,
    RefusedSerializer,
    SurveyInSerializer,
    SurveyRowSerializer,
    SurveySerializer,
    told,
)
from jobs.verdicts.desk import verdict_show

READERS = EVERYONE - {SCHEDULER}
WRITERS = frozenset({OFFICE, MEASURER, TABLET, "lead"})


@many_schema("Survey", SurveyInSerializer, SurveySerializer)
class SurveyView(ListAndRead, CreateMany):
    """Surveys of openings. Post one with readings, zones and a kit: the answer carries the verdict."""

    name = "Surveys"
    queryset = Survey.objects.select_related("opening", "measured_by").prefetch_related(
        "readings", "zones"
    )
    serializer_class = SurveySerializer
    roles = {"list": READERS, "retrieve": READERS, "create": WRITERS, "many": WRITERS}
    needs_key = False
    filters = {
        "opening": Filter("opening_id", "Number of the opening.", key_reader("O")),
        "job": Filter("opening__job_id", "Number of the job.", key_reader("J")),
    }
    brief = ("id", "url", "opening", "taken_at")
    desk = Desk(
        add="Post survey",
        done="Survey received",
        form=False,
        columns=("id", "opening", "measured_by", "taken_at", "received_at", "notes"),
        hides=frozenset({"verdict"}),
        example=lambda: {**SURVEY_EXAMPLE, "id": str(uuid7())},
    )
    http_method_names = ["get", "post", "head", "options"]

    def desk_show(self, row: Any) -> Show:
        """Show the pictures of the verdict that was given from this survey."""
        if not self.detail:
            return Show()
        verdict = self.get_object().verdicts.select_related("sheet__kit", "opening__job__site")
        first = verdict.order_by("given_at", "pk").first()
        told = verdict_show(first) if first else Show()
        return Show(told.banners, told.pictures)

    def get_queryset(self) -> Any:
        """Leave the readings out of lists."""
        rows = super().get_queryset()
        return rows.prefetch_related(None) if self.action == "list" else rows

    def get_serializer_class(self) -> Any:
        """Give lists the short shape."""
        return SurveyRowSerializer if self.action == "list" else SurveySerializer

    @extend_schema(
        request=SurveyInSerializer,
        responses={
            201: SurveySerializer,
            200: OpenApiResponse(
                SurveySerializer, "The same survey was here already; nothing changed."
            ),
        },
    )
    def create(self, request: Request) -> Response:
        """Take a survey in: 201 with the verdict; 200 when the same body came before."""
        return self.one(request.data, None)

    def one(self, data: Any, key: str | None) -> Response:
        """Take one survey in; its own id makes it harmless to send twice."""
        raw = object_of(data)
        own: Any = {
            "by": self.caller,
            "type": "survey.refused",
            "about": str(raw.get("opening", "")),
        }
        received = put(lambda: self._received(raw), aside=lambda: keep_aside(raw=raw, **own))
        return answered(told(received, self.request), is_new=received.is_new)

    def _received(self, raw: dict[str, Any]) -> Received:
        body = body_read(raw, self.caller.name)
        opening, author = _key(body.opening, "O", "/opening"), self._author(body)
        return survey_receive(by=self.caller, body=body, opening=opening, author=author)

    def _author(self, body: SurveyBody) -> Member:
        if body.measured_by is None and self.caller.member_id is not None:
            return cast("Member", self.request.user)
        author = Member.objects.filter(pk=_key(body.measured_by, "M", "/measured_by")).first()
        if author is None:
            raise Problem(
                "does_not_exist",
                f"There is no {body.measured_by}.",
                hint="Send one that exists.",
                pointer="/measured_by",
            )
        return author


def _key(text: Any, letter: str, pointer: str) -> int:
    try:
        return key_of(text, letter)
    except ValueError as error:
        raise Problem(
            "not_a_number",
            f"{text!r} is no number of this kind.",
            hint=f"Send {error}.",
            pointer=pointer,
        ) from error


class RefusedView(ListAndRead):
    """Bodies refused because their ids were taken by other content, kept so that nothing is lost."""

    name = "Refused surveys"
    queryset = Refused.objects.all()
    serializer_class = RefusedSerializer
    roles = {"list": frozenset({OFFICE}), "retrieve": frozenset({OFFICE})}
    filters = {"opening": Filter("opening", "Number of the opening.")}
    http_method_names = ["get", "head", "options"]


@image_schema(PhotoSerializer)
class PhotoView(ImageByDigest):
    """Photos of openings, goods and installs, put under the SHA-256 of what is sent."""

    name = "Photo"
    queryset = Photo.objects.all()
    serializer_class = PhotoSerializer
    roles = {"retrieve": READERS, "update": WRITERS | {HELPER, YARD}, "file": READERS}

    def keep(self, digest: str, stream: IO[bytes]) -> tuple[Photo, bool]:
        """Keep a photo."""
        return photo_keep(by=self.caller, digest=digest, stream=stream)

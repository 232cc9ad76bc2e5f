"""Claims over HTTP: opened with evidence, told, answered, settled."""

from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.html import format_html
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import LEAD, MEASURER, OFFICE, PEOPLE, TABLET, YARD, Caller
from contractor.api.desk import Banner, Desk, Show, Table, Task
from contractor.api.desk_values import shown
from contractor.api.filters import Filter
from contractor.api.numbers import key_reader
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen
from jobs.claims.models import Against, Claim, Kind, State
from jobs.claims.services import (
    claim_file,
    claim_open,
    claim_refuse,
    claim_remake,
    claim_settle,
    claim_visit,
    evidence_add,
    statement_add,
)
from jobs.claims.shapes import (
    ClaimInSerializer,
    ClaimRowSerializer,
    ClaimSerializer,
    DeskEvidenceSerializer,
    FileSerializer,
    RefuseSerializer,
    RemakeSerializer,
    SettleSerializer,
    StatementInSerializer,
    VisitSerializer,
)
from jobs.surveys.models import Photo
from jobs.surveys.photos import photo_of_form

READERS = PEOPLE | {TABLET}
FINDERS = frozenset({OFFICE, YARD, LEAD, MEASURER, TABLET})
OFFICE_ONLY = frozenset({OFFICE})
SOON = 3


def _is(*states: State) -> Callable[[Any], bool]:
    return lambda row: row["state"] in states


TASKS = (
    Task(
        "file",
        "Told to the other side",
        "From this day their clocks run; yours for telling are met.",
        FileSerializer,
        done="Filed",
        when=_is(State.OPEN),
    ),
    Task("say", "Add a statement", "Kept as it is said; never changed.", StatementInSerializer),
    Task("show", "Add evidence", "A photo, or a note, or both.", DeskEvidenceSerializer),
    Task(
        "remake",
        "Order the pieces anew",
        "What is damaged, short or wrong of this claim's delivery; else the pieces that you name.",
        RemakeSerializer,
        done="Ordered",
        when=lambda row: not row["remake"],
    ),
    Task("visit", "Note a visit", "A booking of the same job.", VisitSerializer),
    Task(
        "refuse",
        "The other side refuses",
        "",
        RefuseSerializer,
        done="Refusal noted",
        when=_is(State.FILED),
    ),
    Task(
        "settle",
        "Settle the claim",
        "What came of it, and what it cost the firm. “Nothing yet” withdraws it.",
        SettleSerializer,
        done="Settled",
        when=_is(State.OPEN, State.FILED, State.REFUSED),
    ),
)


def _left(days: int) -> str:
    many = "day" if abs(days) == 1 else "days"
    return f"{days} {many} left" if days >= 0 else f"run out {-days} {many} ago"


def _tables(row: Any) -> list[Table]:
    clocks = [
        [
            shown(one["id"]),
            one["clock"],
            one["who"],
            one["ends_on"],
            one["met_on"] or ("" if row["settled_at"] else _left(one["days_left"])),
            one["do"],
            " ".join(str(one["source"].get(name) or "") for name in ("document", "clause", "page")),
        ]
        for one in row["deadlines"]
    ]
    seen = [
        [one["note"], one["author"], shown(one["taken_at"], "taken_at"), _photo(one["photo"])]
        for one in row["evidence"]
    ]
    said = [
        [one["name"], one["party"], shown(one["said_at"], "said_at"), one["text"]]
        for one in row["statements"]
    ]
    heads = ("Deadline", "Clock", "Whose", "Ends on", "Left, or met on", "What to do", "Source")
    return [
        Table("Deadlines", heads, clocks, none="None runs."),
        Table("Evidence", ("What", "Whose", "When", "Photo"), seen, none="None yet."),
        Table("Statements", ("Name", "For the", "When", "Said"), said, none="None yet."),
    ]


def _photo(digest: str) -> Any:
    """Lead to a photo that is here."""
    if not digest or not Photo.objects.filter(pk=digest).exists():
        return "not here yet" if digest else ""
    return format_html('<a href="{}">photo</a>', reverse("photo-file", kwargs={"digest": digest}))


class ClaimView(ListAndRead, CreateOnce, PatchSeen):
    """Damage and warranty: of whom, on what evidence, by when, and what came of it."""

    name = "Claims"
    queryset = Claim.objects.select_related("job__site", "sheet__kit")
    serializer_class = ClaimSerializer
    letter = "CL"
    roles = {
        "list": READERS,
        "retrieve": READERS,
        "create": FINDERS,
        "show": FINDERS,
        "say": FINDERS,
        "file": OFFICE_ONLY,
        "refuse": OFFICE_ONLY,
        "settle": OFFICE_ONLY,
        "remake": OFFICE_ONLY,
        "visit": OFFICE_ONLY,
    }
    filters = {
        "job": Filter("job_id", "Number of the job.", key_reader("J")),
        "state": Filter("state", "Where it stands.", enum=tuple(State.values)),
        "kind": Filter("kind", "Damage or warranty.", enum=tuple(Kind.values)),
        "against": Filter("against", "Who is to make it good.", enum=tuple(Against.values)),
    }
    search = ("summary", "party", "job__summary")
    brief = ("id", "url", "job", "summary")
    desk = Desk(
        add="Open a claim",
        done="Claim opened",
        searches={
            "job": "/api/v1/jobs/",
            "opening": "/api/v1/openings/",
            "booking": "/api/v1/bookings/",
        },
        columns=("id", "summary", "kind", "against", "party", "job", "found_on", "state"),
        lacks=frozenset({"evidence", "photo"}),
        hides=frozenset({"deadlines", "evidence", "statements"}),
        tasks=TASKS,
        words={
            "party": ("Other side", "The maker, carrier or person."),
            "upload": ("Photo", "Kept as it is, under its digest."),
            "found_on": ("Found on", "The day; today at the site when empty."),
            "says": ("In words", "Kept in the history."),
        },
    )
    http_method_names = ["get", "post", "head", "options"]

    def get_queryset(self) -> Any:
        """Fetch what a single claim shows, once."""
        rows = super().get_queryset()
        if self.action == "list":
            return rows
        return rows.prefetch_related(
            "evidence", "statements", "deadlines__claim__job__site", "visits"
        )

    def get_serializer_class(self) -> Any:
        """Give lists the short shape, and claims being opened their evidence."""
        shapes = {"list": ClaimRowSerializer, "create": ClaimInSerializer}
        return shapes.get(self.action, ClaimSerializer)

    @extend_schema(request=ClaimInSerializer, responses={201: ClaimSerializer})
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Open a claim; 201 with its deadlines."""
        return super().create(request, *args, **kwargs)

    def _made(self, data: Any) -> Response:
        body = ClaimInSerializer(data=data, context=self.get_serializer_context())
        body.is_valid(raise_exception=True)
        told = dict(body.validated_data)
        told["evidence"] = [
            {"author": self.caller.name, **one} for one in told.get("evidence") or []
        ]
        row = claim_open(by=self.caller, **told)
        data = ClaimSerializer(row, context=self.get_serializer_context()).data
        return Response(data, status=201, headers={"Location": data["url"]})

    def desk_show(self, row: Any) -> Show:
        """Say on top which deadline comes next."""
        if not self.detail:
            return Show()
        paper = f"{reverse('packet-list')}?{urlencode({'job': row['job'], 'kind': 'claim'})}#add"
        links = [("Paper for the other side", paper)]
        return Show(self._banner(row), tables=_tables(row), links=links)

    def _banner(self, row: Any) -> list[Banner]:
        if row["settled_at"]:
            return []
        open_ones = [one for one in row["deadlines"] if one["met_on"] is None]
        if not open_ones:
            return []
        one = min(open_ones, key=lambda told: told["ends_on"])
        left = one["days_left"]
        words = _left(left)
        state = "late" if left < 0 else "soon" if left <= SOON else "runs"
        text = f"{one['clock']} by the end of {one['ends_on']} ({words}). {one['do']}"
        return [Banner(state, text, one["url"], "To the deadline")]

    def _do(self, request: Request, shape: Any, service: Any) -> Response:
        body = shape(data=request.data)
        body.is_valid(raise_exception=True)
        told = body.validated_data
        return self.act(
            request, lambda row: self._fresh(service(by=self.caller, claim=row, **told))
        )

    def _fresh(self, claim: Claim) -> Claim:
        found: Claim = self.get_queryset().get(pk=claim.pk)
        return found

    @extend_schema(request=DeskEvidenceSerializer, responses=ClaimSerializer)
    @action(detail=True, methods=["post"])
    def show(self, request: Request, **kwargs: Any) -> Response:
        """Add evidence: a photo by its digest or from a form, or a note."""
        return self._do(request, DeskEvidenceSerializer, self._shown)

    def _shown(self, *, by: Caller, claim: Claim, upload: Any = None, **told: Any) -> Claim:
        if upload:
            told["photo"] = photo_of_form(by=by, upload=upload)
        return evidence_add(by=by, claim=claim, **told)

    @extend_schema(request=StatementInSerializer, responses=ClaimSerializer)
    @action(detail=True, methods=["post"])
    def say(self, request: Request, **kwargs: Any) -> Response:
        """Add what somebody said."""
        return self._do(request, StatementInSerializer, statement_add)

    @extend_schema(request=FileSerializer, responses=ClaimSerializer)
    @action(detail=True, methods=["post"])
    def file(self, request: Request, **kwargs: Any) -> Response:
        """Record that the other side was told."""
        return self._do(request, FileSerializer, claim_file)

    @extend_schema(request=RefuseSerializer, responses=ClaimSerializer)
    @action(detail=True, methods=["post"])
    def refuse(self, request: Request, **kwargs: Any) -> Response:
        """Record that the other side refuses."""
        return self._do(request, RefuseSerializer, claim_refuse)

    @extend_schema(request=SettleSerializer, responses=ClaimSerializer)
    @action(detail=True, methods=["post"])
    def settle(self, request: Request, **kwargs: Any) -> Response:
        """Record what came of it and what it cost."""
        return self._do(request, SettleSerializer, claim_settle)

    @extend_schema(request=RemakeSerializer, responses=ClaimSerializer)
    @action(detail=True, methods=["post"])
    def remake(self, request: Request, **kwargs: Any) -> Response:
        """Order the claim's pieces anew."""
        return self._do(request, RemakeSerializer, claim_remake)

    @extend_schema(request=VisitSerializer, responses=ClaimSerializer)
    @action(detail=True, methods=["post"])
    def visit(self, request: Request, **kwargs: Any) -> Response:
        """Note a visit made for the claim."""
        return self._do(request, VisitSerializer, claim_visit)

"""What stands on one page of the desk: a row, a list, or a map, and the forms that go with it."""

from collections.abc import Mapping
from contextlib import suppress
from functools import cached_property
from typing import Any

from django.urls import NoReverseMatch, reverse
from rest_framework.exceptions import APIException
from rest_framework.request import Request, override_method
from rest_framework.response import Response

from contractor.api import desk_forms
from contractor.api.desk import Banner, Desk, Show, desk_of
from contractor.api.desk_forms import Form, Wrong
from contractor.api.desk_values import NOTHING, label, shown
from contractor.api.problems import MEDIA_TYPE, Problem
from contractor.api.roles import caller_of

NOT_ON_CARDS = frozenset({"id", "expanded", "url", "version", "digest", "file_digest", "token"})


class Page:
    """One page; the template reads its members."""

    def __init__(self, view: Any, request: Request, response: Response, data: Any) -> None:
        self.view, self.request, self.response, self.data = view, request, response, data
        self.desk: Desk = desk_of(view)
        self.is_problem = response.status_code >= 400 and MEDIA_TYPE in str(response.content_type)
        self.action = getattr(view, "action", None) or ""
        self.kind = self._kind()

    def _kind(self) -> str:
        if hasattr(self.view, "desk_map"):
            return "map"
        detail = getattr(self.view, "detail", None)
        return {True: "row", False: "list"}.get(detail, "plain")  # type: ignore[arg-type]

    @cached_property
    def room(self) -> str:
        """The name of the room, whichever of its actions was asked."""
        return str(getattr(self.view, "called", "") or self.view.get_view_name())

    @cached_property
    def name(self) -> str:
        """The page's heading."""
        if self.kind != "row":
            return self.room
        row = self.row if isinstance(self.row, Mapping) else {}
        key = str(row.get("id") or row.get("slug") or next(iter(self.view.kwargs.values()), ""))
        one = self.room.removesuffix("s")
        if len(key) >= 30 and row.get("opening"):
            return f"{one} of {row['opening']}"
        return f"{one} {key if len(key) < 30 else '…' + key[-12:]}"

    @property
    def crumbs(self) -> list[tuple[str, str]]:
        """The way back: the desk, the room."""
        if self.kind == "map":
            return []
        way = [("Desk", reverse("api-root"))]
        if self.kind == "row":
            with suppress(NoReverseMatch):
                way.append((self.room, reverse(f"{self.view.basename}-list")))
        return way

    @property
    def history_url(self) -> str:
        """Where every change of this row is told."""
        row = self.row if self.kind == "row" and isinstance(self.row, Mapping) else {}
        key = row.get("id") if "version" in row else ""
        return f"{reverse('history-list')}?about={key}" if key else ""

    @cached_property
    def problem(self) -> Mapping[str, Any] | None:
        """What was refused, if anything was; a form that is only opened is not refused."""
        if not self.is_problem or self._only_opened:
            return None
        return self.data  # type: ignore[no-any-return]

    @property
    def _only_opened(self) -> bool:
        return self.response.status_code == 405 and self.request.method in {"GET", "HEAD"}

    @cached_property
    def row(self) -> Any:
        """The row of the page; read again when the answer was a refusal."""
        answered = self.kind == "plain" or (self.kind == "list" and self.action == "create")
        if (self.kind == "row" or answered) and not self.is_problem:
            return self.data
        if self.kind != "row":
            return None
        with suppress(APIException), override_method(self.view, self.request, "GET"):
            self.view.check_permissions(self.request)
            return self.view.get_serializer(self._instance).data
        return None

    @cached_property
    def _instance(self) -> Any:
        return self.view.get_object()

    @property
    def version(self) -> Any:
        """The version that the page shows and a write from it has seen."""
        return self.row.get("version") if isinstance(self.row, Mapping) else None

    @cached_property
    def token(self) -> str:
        """A secret that is shown this once."""
        return str(self.row.get("token") or "") if isinstance(self.row, Mapping) else ""

    @cached_property
    def facts(self) -> list[tuple[str, Any]]:
        """The row's members in words."""
        row = self.row if isinstance(self.row, Mapping) else {}
        return [
            (self._called(name), shown(value, name))
            for name, value in row.items()
            if name not in NOT_ON_CARDS | self.desk.hides and value not in ("", None, [], {})
        ]

    @property
    def rows(self) -> list[Mapping[str, Any]]:
        """The rows of a list."""
        if self.kind != "list" or self.is_problem:
            return []
        found = self.data.get("results", []) if isinstance(self.data, Mapping) else self.data
        return found if isinstance(found, list) else []

    @cached_property
    def columns(self) -> list[str]:
        """Which members of a row stand in a list: what the room says, else its plain texts."""
        first = self.rows[0] if self.rows else {}
        named = [one for one in self.desk.columns if one in first]
        return named or [
            name
            for name, value in first.items()
            if name not in {"url", "version", "digest"} and not isinstance(value, dict | list)
        ]

    @property
    def heads(self) -> list[str]:
        """The heads of the columns."""
        return [self._called(name) for name in self.columns]

    def _called(self, name: str) -> str:
        return self.desk.words.get(name, (label(name), ""))[0]

    @property
    def lines(self) -> list[list[Any]]:
        """The cells of the rows; the first leads to the row's own page."""
        return [[self._cell(row, name) for name in self.columns] for row in self.rows]

    def _cell(self, row: Mapping[str, Any], name: str) -> dict[str, Any]:
        value = row.get(name)
        if name == self.columns[0] and row.get("url"):
            text = str(value) if len(str(value)) < 30 else "…" + str(value)[-12:]
            return {"text": text, "url": row["url"]}
        text = shown(value, name)
        return {"text": "" if text == NOTHING else text, "url": ""}

    @property
    def paginator(self) -> Any:
        """The pages before and after, where there are any."""
        paginator = getattr(self.view, "paginator", None)
        return (
            paginator if self.rows and getattr(paginator, "display_page_controls", False) else None
        )

    @property
    def filters(self) -> list[dict[str, Any]]:
        """Plain inputs for the list's filters, holding what was asked."""
        if self.kind != "list" or "get" not in getattr(self.view, "action_map", {}):
            return []
        asked = self.request.query_params
        found = [
            {
                "name": n,
                "label": label(n),
                "says": f.says,
                "enum": f.enum,
                "value": asked.get(n, ""),
            }
            for n, f in getattr(self.view, "filters", {}).items()
        ]
        if getattr(self.view, "search", ()):
            says = "Any part of the words."
            q = {"name": "q", "label": "Search", "says": says, "value": asked.get("q", "")}
            found.insert(0, q)
        return found

    @property
    def is_filtered(self) -> bool:
        """Whether the list is narrowed."""
        return any(one["value"] for one in self.filters)

    @cached_property
    def show(self) -> Show:
        """Pictures, tables and the sentence on top, as the room tells them."""
        tell = getattr(self.view, "desk_show", None)
        if tell is None or (self.kind == "row" and self.row is None):
            return Show()
        try:
            told: Show = tell(self.row)
        except Problem as refused:
            return Show([Banner("unknown", f"{refused.detail} {refused.hint}")])
        return told

    @property
    def jumps(self) -> list[Form]:
        """Forms further down, to be reached from the top."""
        return [] if self.problem or self.form_first else self.forms

    @property
    def form_first(self) -> bool:
        """Whether the form stands above the list, because it is what people come for."""
        return self.desk.form_first and self.kind == "list" and not self.problem

    @property
    def map(self) -> Any:
        """The tasks of the desk, for the map."""
        return self.view.desk_map(caller_of(self.request)) if self.kind == "map" else []

    @cached_property
    def json_url(self) -> str:
        """Where the same answer stands as JSON."""
        query = self.request.query_params.copy()
        query["format"] = "json"
        return f"{self.request.path}?{query.urlencode()}"

    @cached_property
    def forms(self) -> list[Form]:
        """Every form that this caller may use here."""
        if self.response.status_code in {401, 403}:
            return []
        if self.kind == "list":
            return [one for one in [self._add_form()] if one]
        if self.kind == "row" and isinstance(self.row, Mapping) and self.row.get("url"):
            return [*self._task_forms(), *[one for one in [self._edit_form()] if one]]
        return []

    @property
    def wrongs(self) -> list[Wrong]:
        """The errors for the summary; each knows the id of the input that it is about."""
        told = [one for form in self.forms for one in form.wrongs]
        return told or (
            desk_forms.wrongs_of(self.problem, self.desk, set()) if self.problem else []
        )

    def _may(self, action: str) -> bool:
        return caller_of(self.request).role in self.view.roles.get(action, frozenset())

    def _add_form(self) -> Form | None:
        if "post" not in getattr(self.view, "action_map", {}) or not self._may("create"):
            return None
        with override_method(self.view, self.request, "POST"):
            serializer = self.view.get_serializer()
        form = Form("add", self.desk.add, self.desk.add, self.request.path)
        form.is_open = self.problem is not None
        desk_forms.prefill(serializer, self._asked)
        self._fill(form, serializer, self.request.method == "POST")
        return form

    @property
    def _asked(self) -> Mapping[str, Any]:
        """What a fresh form holds: words of the address, or the question that was just answered."""
        if self.desk.question and self.request.method == "POST":
            sent = desk_forms.posted(self.request)
            return sent if isinstance(sent, Mapping) else {}
        return self.request.query_params

    def _edit_form(self) -> Form | None:
        if "patch" not in getattr(self.view, "action_map", {}) or not self._may("partial_update"):
            return None
        with override_method(self.view, self.request, "PATCH"):
            serializer = self.view.get_serializer(self._instance, partial=True)
        form = Form("edit", "Change this entry", self.desk.edit, self.request.path, "PATCH")
        form.version, form.asks_why = self.version, True
        self._fill(form, serializer, self.request.method == "PATCH")
        return form

    def _task_forms(self) -> list[Form]:
        tasks = [t for t in self.desk.tasks if self._may(t.name) and t.when(self.row)]
        forms = []
        for task in tasks:
            name = f"{self.view.basename}-{task.name}"
            kwargs = {k: v for k, v in self.view.kwargs.items() if k != "format"}
            form = Form(task.name, task.button, task.button, reverse(name, kwargs=kwargs))
            form.says, form.version = task.says, self.version
            if task.shape is not None:
                shape = task.shape()
                desk_forms.drop(shape, task.lacks(self.row))
                self._fill(form, shape, self.action == task.name, raw=False)
            forms.append(form)
        return forms

    def _fill(self, form: Form, serializer: Any, is_sent: bool, *, raw: bool = True) -> None:
        """Draw a form's fields, with what was sent and what was wrong when this is the form sent."""
        desk_forms.drop(serializer, self.desk.lacks)
        desk_forms.guide(serializer, self.desk, form.id)
        sent = desk_forms.posted(self.request) if is_sent and self.problem else None
        if sent is not None or (is_sent and self.problem):
            names = desk_forms.writable(serializer) if self.desk.form else set()
            form.wrongs = desk_forms.wrongs_of(self.problem or {}, self.desk, names, form.id)
            form.is_open = True
            desk_forms.fill(serializer, sent if isinstance(sent, Mapping) else {}, form.wrongs)
        form.html = desk_forms.form_html(serializer) if self.desk.form else ""
        if raw:
            form.raw = self._raw_text(serializer, sent)

    def _raw_text(self, serializer: Any, sent: Any) -> str:
        if sent is not None:
            return desk_forms.raw_text(sent)
        if self.desk.example is not None and serializer.instance is None:
            return desk_forms.raw_text(self.desk.example())
        names = desk_forms.writable(serializer)
        return desk_forms.raw_text({k: v for k, v in serializer.data.items() if k in names})

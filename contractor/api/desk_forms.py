"""Which forms stand on a page, what do they hold, and which errors stand beside which field?"""

import json
import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

from django.http import QueryDict
from rest_framework.exceptions import APIException, ParseError
from rest_framework.fields import ListField
from rest_framework.relations import RelatedField
from rest_framework.renderers import HTMLFormRenderer
from rest_framework.request import Request
from rest_framework.utils.serializer_helpers import ReturnDict

from contractor.api.desk import Desk
from contractor.api.desk_values import label
from contractor.api.fields import MomentField

LONG = 140  # characters of an error that still stand well beside a field


@dataclass(frozen=True, slots=True)
class Wrong:
    """One error in words, linked to the field that it is about, if there is one."""

    text: str
    hint: str
    name: str = ""
    form: str = ""
    called: str = ""

    @property
    def at(self) -> str:
        """The id of the field's input on the page."""
        return f"{self.form}-{self.name.replace('.', '-')}"

    @property
    def label(self) -> str:
        """The field's name in words."""
        return self.called or label(self.name.rpartition(".")[2])


@dataclass(slots=True)
class Form:
    """One form of a page."""

    id: str
    title: str
    button: str
    action: str
    method: str = "POST"
    html: str = ""
    raw: str | None = None
    says: str = ""
    version: Any = None
    asks_why: bool = False
    is_open: bool = False
    wrongs: list[Wrong] = field(default_factory=list)


def posted(request: Request) -> Any:
    """Read what was sent; None when it could not be read at all."""
    with suppress(APIException, ParseError):
        return request.data
    return None


def wrongs_of(
    problem: Mapping[str, Any], desk: Desk, names: set[str], form: str = ""
) -> list[Wrong]:
    """Tell a problem's errors, each with the field of the form that it belongs to."""
    found = []
    for one in problem.get("errors") or [{**problem, "pointer": ""}]:
        path = [part for part in str(one.get("pointer", "")).split("/") if part]
        if path:
            path[0] = desk.stands_for.get(path[0], path[0])
        name = ".".join(path) if path and path[0] in names else ""
        called = desk.words.get(name, ("", ""))[0]
        text, hint = (_in_words(str(one.get(part, "")), desk) for part in ("detail", "hint"))
        found.append(Wrong(text, hint, name, form, called))
    return found


def _in_words(text: str, desk: Desk) -> str:
    """Call the fields as the form calls them."""
    for name, (called, _) in desk.words.items():
        text = re.sub(rf"`?\b{name}\b`?", f"“{called}”", text) if "_" in name else text
    return text


def _beside(wrong: Wrong) -> str:
    """Say in short, beside the field, what the summary says in full."""
    if len(wrong.text) < LONG:
        return f"{wrong.text} {wrong.hint}".strip()
    return wrong.text.partition(". ")[0] + ". In full above."


def fill(serializer: Any, data: Any, wrongs: list[Wrong]) -> None:
    """Give a form back what was sent, and put each error beside its field."""
    errors: dict[str, Any] = {}
    for wrong in wrongs:
        *parents, last = wrong.name.split(".")
        inner = errors
        for parent in parents:
            inner = inner.setdefault(parent, {})
        if isinstance(inner, dict):
            inner.setdefault(last or "non_field_errors", []).append(_beside(wrong))
    serializer.initial_data = data
    serializer._validated_data = {}
    serializer._errors = ReturnDict(errors, serializer=serializer)


def drop(serializer: Any, names: frozenset[str]) -> None:
    """Take fields out of a form that the page does not offer."""
    for name in names & set(serializer.fields):
        serializer.fields.pop(name)


def guide(serializer: Any, desk: Desk, prefix: str) -> None:
    """Give each field its id on the page and, for another row's number, where to look it up."""
    _guide(serializer.fields, desk, prefix)


def _guide(fields: Any, desk: Desk, prefix: str) -> None:
    for name, one in fields.items():
        style = dict(one.style)
        style["id"] = f"{prefix}-{name}"
        if isinstance(one, MomentField):
            style["input_type"] = "text"  # the browser's own clock input sends no offset
        child = getattr(one, "child", None)
        style["boxes"] = hasattr(child, "choices") and not isinstance(child, RelatedField)
        style["places"] = "1234"
        own = (style.get("called", label(name)), one.help_text)
        called, says = own if "called" in style else desk.words.get(name, own)
        one.label = called
        style["says"] = str(says or "").replace("`", "")
        one.required = one.required or (prefix == "add" and name in desk.needs)
        if name in desk.searches:
            style["search"] = desk.searches[name]
            if not isinstance(one, ListField):
                style["base_template"] = "input.html"
        one.style = style
        if hasattr(one, "fields"):
            _guide(one.fields, desk, style["id"])


def prefill(serializer: Any, words: Mapping[str, Any]) -> None:
    """Let an empty form begin with what is known: a link to it may name a job or a day."""
    for name, one in serializer.fields.items():
        if words.get(name) and not one.read_only:
            one.initial = words[name]


def writable(serializer: Any) -> set[str]:
    """Name the fields that a form of this shape shows."""
    return {name for name, one in serializer.fields.items() if not one.read_only}


def form_html(serializer: Any) -> str:
    """Draw the fields; empty when there is none to fill."""
    if not writable(serializer):
        return ""
    style = {"template_pack": "rest_framework/horizontal"}
    drawn: str = HTMLFormRenderer().render(serializer.data, None, {"style": style})
    return drawn


def raw_text(data: Any) -> str:
    """Write a body as somebody would edit it."""
    if isinstance(data, QueryDict):
        data = {k: v for k, v in data.items() if not k.startswith(("_", "csrf"))}
    return json.dumps(data, indent=2, ensure_ascii=False, default=str)

"""How does the browsable API look to the office? As a desk with forms that fit the task."""

import uuid
from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from django.conf import settings
from django.contrib import messages
from django.template.loader import render_to_string
from django.urls import reverse
from rest_framework.renderers import BrowsableAPIRenderer
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import NOBODY
from contractor.api.desk import desk_of
from contractor.api.desk_page import Page
from contractor.api.roles import caller_of

# No script but our own file, nothing from elsewhere; the drawings carry style attributes.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)


class DeskRenderer(BrowsableAPIRenderer):
    """The framework's pages with our own templates, and forms that carry version and key."""

    template = "rest_framework/api.html"

    def render(
        self, data: Any, accepted_media_type: str | None = None, renderer_context: Any = None
    ) -> str:
        """Answer with a page; a write that went well leads on to the page of what it made."""
        self.accepted_media_type = accepted_media_type or ""
        self.renderer_context = renderer_context or {}
        request, response = renderer_context["request"], renderer_context["response"]
        response["Content-Type"] = "text/html; charset=utf-8"
        response["Content-Security-Policy"] = POLICY
        response["Referrer-Policy"] = "same-origin"
        target = _leads_on(request, response, data, renderer_context["view"])
        if target:
            response.status_code = 303
            response["Location"] = target
            return ""
        context = self.get_context(data, accepted_media_type, renderer_context)
        return render_to_string(self.template, context, request=request._request)

    def get_context(self, data: Any, accepted: str | None, context: Any) -> dict[str, Any]:
        """Gather what the page shows: the row or the rows, the pictures, the forms and what is wrong."""
        view, request, response = context["view"], context["request"], context["response"]
        page = Page(view, request, response, data)
        return {
            **shell(request),
            "name": page.name,
            "page": page,
            "breadcrumblist": page.crumbs,
            "description": self.get_description(view, response.status_code),
            "paginator": page.paginator,
            "raw": self._raw(page, accepted, context),
            "idempotency_key": str(uuid.uuid4()),
            "row_version": page.version,
        }

    def _raw(self, page: Page, accepted: str | None, context: Any) -> str:
        """The answer as a program gets it; lists link to it instead of carrying it twice."""
        renderer = None if page.row is None else self.get_default_renderer(page.view)
        if renderer is None:
            return ""
        return self.get_content(renderer, page.row, accepted, dict(context))


def shell(request: Any) -> dict[str, Any]:
    """What stands on every page: the firm's name and who is logged in, in which role."""
    caller = caller_of(request) if isinstance(request, Request) else NOBODY
    return {
        "firm": settings.FIRM["name"],
        "caller": None if caller is NOBODY else caller,
        "user": getattr(request, "user", None),
    }


def _leads_on(request: Request, response: Response, data: Any, view: Any) -> str:
    """Where a person goes from here instead of reading this answer; empty to stay."""
    if response.status_code == 401 and request.method == "GET":
        return f"{reverse('login')}?{urlencode({'next': request.get_full_path()})}"
    wrote = request.method in {"POST", "PATCH"} and response.status_code in {200, 201, 202}
    if not wrote or not isinstance(data, Mapping) or not data.get("url") or data.get("token"):
        return ""
    task = getattr(view, "action", "") or ""
    done = {one.name: one.done for one in desk_of(view).tasks}.get(task, desk_of(view).done)
    name = data.get("id") or data.get("slug") or ""
    told = f"{done}: {name}" if len(str(name)) < 20 else f"{done}."
    when = data.get("local")
    messages.success(request._request, f"{told}, {when}" if when else told)
    onward = getattr(view, "desk_next", None)
    return str(onward(data) if onward and task == "create" else data["url"])

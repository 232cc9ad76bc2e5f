"""How does every refusal look? As RFC 9457 problem details with a code, pointers and hints."""

from collections.abc import Mapping
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from rest_framework import exceptions

MEDIA_TYPE = "application/problem+json"
TYPE_PREFIX = "/api/v1/problems/"

HINTS = {
    "required": "Send this field.",
    "null": "Send a value; null is not accepted here.",
    "blank": "Send a text that is not empty.",
    "invalid_choice": "Send one of the values listed in the schema.",
    "does_not_exist": "Send the number or key of one that exists.",
    "invalid": "Send the kind of value that the schema describes.",
    "max_length": "Send a shorter text.",
    "min_length": "Send more.",
    "max_value": "Send a smaller number.",
    "min_value": "Send a larger number.",
    "empty": "Send at least one.",
    "unique": "Choose another; this one is taken.",
    "not_a_list": "Send a JSON array.",
    "not_found": "See /api/v1/ for what is served, and its lists for what there is.",
    "not_acceptable": "Send Accept: application/json.",
    "throttled": "Wait as long as Retry-After says.",
    "not_authenticated": "Log in, or send `Authorization: Bearer <token>`.",
    "authentication_failed": "Ask the office for a new token; this one is wrong, expired or revoked.",
    "method_not_allowed": "See the Allow header for what this address takes.",
    "unsupported_media_type": "Send Content-Type: application/json.",
    "parse_error": "Send one well-formed JSON object.",
}
ANY_HINT = "The detail says what is wrong; the schema says what this takes."


class Problem(exceptions.APIException):
    """A refusal with a status, a stable code and, where one field is at fault, its pointer."""

    def __init__(
        self,
        code: str,
        detail: str,
        *,
        status: int = 400,
        hint: str = "",
        pointer: str | None = None,
        errors: list[dict[str, str]] | None = None,
        headers: Mapping[str, str] | None = None,
        **extra: Any,
    ) -> None:
        super().__init__(detail=detail, code=code)
        self.status_code = status
        self.code, self.hint, self.extra = code, hint or hint_of(code), extra
        self.headers = dict(headers or {})
        self.errors = errors or []
        if pointer is not None:
            own = {"code": code, "detail": detail, "hint": self.hint}
            self.errors = [{"pointer": pointer, **own}]


class FieldProblem(exceptions.ValidationError):
    """A field's own refusal that brings its hint along."""

    def __init__(self, code: str, detail: str, hint: str) -> None:
        super().__init__([HintedDetail(detail, code, hint)])


class HintedCode(str):
    """An error's code that carries what to send instead.

    The framework makes every error text anew on its way up and keeps nothing of it but the code.
    """

    hint: str

    def __new__(cls, code: str, hint: str) -> "HintedCode":
        self = super().__new__(cls, code)
        self.hint = hint
        return self


class HintedDetail(exceptions.ErrorDetail):
    """An error text with a code that carries what to send instead."""

    def __new__(cls, string: str, code: str, hint: str) -> "HintedDetail":
        return super().__new__(cls, string, HintedCode(code, hint))


def hint_of(code: str) -> str:
    """Say what to send instead: what the code itself carries, or what is usual for it."""
    return getattr(code, "hint", "") or HINTS.get(str(code), ANY_HINT)


def problem_body(
    code: str, detail: str, status_code: int, *, hint: str = "", **extra: Any
) -> dict[str, Any]:
    """Build the body of one problem; `type` leads to the page that explains the code."""
    return {
        "type": TYPE_PREFIX + code,
        "title": TITLES.get(status_code, "Refused"),
        "status": status_code,
        "code": code,
        "detail": detail,
        "hint": hint,
        "errors": [],
        **extra,
    }


TITLES = {
    400: "The request cannot be understood",
    401: "Not logged in",
    403: "Not allowed",
    404: "Not found",
    405: "Method not allowed",
    406: "No such representation",
    409: "In conflict with what is there",
    412: "Changed since you read it",
    413: "Too large",
    415: "Unsupported media type",
    422: "Understood, but refused by a rule",
    428: "Say which version you saw",
    429: "Too many requests",
    500: "Our fault",
    503: "Busy or out of order",
}


def plain(
    request: HttpRequest, code: str, detail: str, status_code: int, hint: str = ""
) -> HttpResponse:
    """Answer a problem outside the HTTP framework: a page where a browser asks for one, else JSON."""
    body = problem_body(code, detail, status_code, hint=hint)
    if "text/html" in request.headers.get("Accept", ""):
        context = {"problem": body, "firm": settings.FIRM["name"], "name": body["title"]}
        return render(request, "desk/refused.html", context, status=status_code)
    return JsonResponse(body, status=status_code, content_type=MEDIA_TYPE)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer an address that is none of ours."""
    detail = f"Nothing is served at {request.path}."
    return plain(request, "not_found", detail, 404, "See /api/v1/ for the map.")


def broken(request: HttpRequest) -> HttpResponse:
    """Answer an error that no handler foresaw."""
    return plain(request, "internal_error", "Something broke here.", 500)


def csrf_failed(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form that came without its token."""
    hint = "Load the page again and send the form from there."
    return plain(request, "csrf_failed", reason, 403, hint)

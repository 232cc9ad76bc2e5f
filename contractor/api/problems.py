"""How does every refusal look? As RFC 9457 problem details with a code, pointers and hints."""

import logging
from collections.abc import Iterator, Mapping
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, OperationalError
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from rest_framework import exceptions, status
from rest_framework.response import Response
from rest_framework.views import set_rollback

log = logging.getLogger(__name__)
MEDIA_TYPE = "application/problem+json"
TYPE_PREFIX = "/api/v1/problems/"

HINTS = {
    "required": "Send this field.",
    "null": "Send a value; null is not accepted here.",
    "blank": "Send a text that is not empty.",
    "invalid_choice": "Send one of the values listed in the schema.",
    "does_not_exist": "Send the number or key of one that exists.",
    "not_authenticated": "Log in, or send `Authorization: Bearer <token>`.",
    "authentication_failed": "Ask the office for a new token; this one is wrong, expired or revoked.",
    "method_not_allowed": "See the Allow header for what this address takes.",
    "unsupported_media_type": "Send Content-Type: application/json.",
    "parse_error": "Send one well-formed JSON object.",
}


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
        self.code, self.hint, self.extra = code, hint, extra
        self.headers = dict(headers or {})
        self.errors = errors or []
        if pointer is not None:
            self.errors = [{"pointer": pointer, "code": code, "detail": detail, "hint": hint}]


class FieldProblem(exceptions.ValidationError):
    """A field's own refusal that brings its hint along."""

    def __init__(self, code: str, detail: str, hint: str) -> None:
        super().__init__([HintedDetail(detail, code, hint)])


class HintedDetail(exceptions.ErrorDetail):
    """An error text that carries what to send instead."""

    hint: str

    def __new__(cls, string: str, code: str, hint: str) -> "HintedDetail":
        self = super().__new__(cls, string, code)
        self.hint = hint
        return self  # type: ignore[return-value]


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


def handle(exc: Exception, context: Mapping[str, Any]) -> Response:
    """Turn any exception of a view into a problem; an unforeseen one is logged and becomes a 500."""
    set_rollback()
    exc = _named(exc)
    if not isinstance(exc, exceptions.APIException):
        log.error("Unforeseen error", exc_info=exc)
        return _response(problem_body("internal_error", "Something broke here.", 500), {})
    headers = dict(getattr(exc, "headers", {}))
    if getattr(exc, "auth_header", None):
        headers["WWW-Authenticate"] = exc.auth_header  # type: ignore[attr-defined]
    if getattr(exc, "wait", None):
        headers["Retry-After"] = str(max(1, round(exc.wait)))  # type: ignore[attr-defined]
    return _response(_body(exc), headers)


def _named(exc: Exception) -> Exception:
    if isinstance(exc, Http404):
        return exceptions.NotFound()
    if isinstance(exc, PermissionDenied):
        return exceptions.PermissionDenied()
    if isinstance(exc, IntegrityError):
        log.warning("A constraint refused a write: %s", exc)
        return Problem(
            "conflict",
            "Another write of the same thing came first.",
            status=409,
            hint="Read it again and decide anew.",
        )
    if isinstance(exc, OperationalError):
        log.warning("The database was busy: %s", exc)
        return Problem(
            "database_busy",
            "The database did not answer in time; nothing was written.",
            status=503,
            hint="Send the same request again.",
            headers={"Retry-After": "2"},
        )
    return exc


def _body(exc: exceptions.APIException) -> dict[str, Any]:
    if isinstance(exc, Problem):
        return problem_body(
            exc.code,
            str(exc.detail),
            exc.status_code,
            hint=exc.hint,
            **{"errors": exc.errors, **exc.extra},
        )
    if isinstance(exc, exceptions.ValidationError):
        errors = list(_flatten(exc.detail, ""))
        first = errors[0] if errors else {"code": "invalid", "detail": "", "hint": ""}
        code = first["code"] if len(errors) == 1 else "invalid"
        count = "One field is" if len(errors) == 1 else f"{len(errors)} fields are"
        detail = f"{count} not as they should be: {first['detail']}"
        return problem_body(code, detail, 400, hint=first["hint"], errors=errors)
    code = str(getattr(exc.detail, "code", exc.default_code))
    return problem_body(code, str(exc.detail), exc.status_code, hint=HINTS.get(code, ""))


def _flatten(detail: Any, pointer: str) -> Iterator[dict[str, str]]:
    if isinstance(detail, Mapping):
        for key, value in detail.items():
            own = "" if key == "non_field_errors" else "/" + str(key).replace("~", "~0").replace(
                "/", "~1"
            )
            yield from _flatten(value, pointer + own)
    elif isinstance(detail, list):
        for index, value in enumerate(detail):
            nested = isinstance(value, Mapping | list)
            yield from _flatten(value, f"{pointer}/{index}" if nested else pointer)
    else:
        code = str(getattr(detail, "code", "invalid"))
        hint = getattr(detail, "hint", HINTS.get(code, ""))
        yield {"pointer": pointer, "code": code, "detail": str(detail), "hint": hint}


def _response(body: dict[str, Any], headers: dict[str, str]) -> Response:
    response = Response(body, status=body["status"], headers=headers)
    response.content_type = MEDIA_TYPE
    return response


def plain(code: str, detail: str, status_code: int, hint: str = "") -> HttpResponse:
    """Answer a problem outside the HTTP framework (Django's own 404, 500 and CSRF pages)."""
    return JsonResponse(
        problem_body(code, detail, status_code, hint=hint),
        status=status_code,
        content_type=MEDIA_TYPE,
    )


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer an address that is none of ours."""
    return plain("not_found", f"Nothing is served at {request.path}.", 404, "See /api/v1/ for the map.")


def broken(request: HttpRequest) -> HttpResponse:
    """Answer an error that no handler foresaw."""
    return plain("internal_error", "Something broke here.", status.HTTP_500_INTERNAL_SERVER_ERROR)


def csrf_failed(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form that came without its token."""
    return plain("csrf_failed", reason, 403, "Load the page again and send the form from there.")

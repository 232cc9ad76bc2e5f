"""How does an exception of a view become a problem? One handler for all of them."""

import logging
import re
from collections.abc import Iterator, Mapping
from typing import Any

from django.conf import settings
from django.core.exceptions import PermissionDenied, RequestDataTooBig, SuspiciousOperation
from django.db import IntegrityError, OperationalError
from django.http import Http404
from rest_framework import exceptions
from rest_framework.response import Response
from rest_framework.views import set_rollback

from contractor.api.problems import MEDIA_TYPE, Problem, hint_of, problem_body

log = logging.getLogger(__name__)


NO_SUCH = re.compile(r"^Object with \w+=(.+) does not exist\.$")


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


def told_of(exc: Exception) -> list[dict[str, str]]:
    """List what one refusal says, each mistake with its pointer, code, text and hint."""
    named = _named(exc)
    assert isinstance(named, exceptions.APIException)  # noqa: S101
    body = _body(named)
    own = {"pointer": "", **{name: body[name] for name in ("code", "detail", "hint")}}
    return body["errors"] or [own]


def _named(exc: Exception) -> Exception:
    if isinstance(exc, Http404):
        return exceptions.NotFound()
    if isinstance(exc, PermissionDenied):
        return exceptions.PermissionDenied()
    if isinstance(exc, RequestDataTooBig):
        most = settings.DATA_UPLOAD_MAX_MEMORY_SIZE // 1024
        detail = f"The body is larger than {most} KiB."
        return Problem("body_too_large", detail, status=413, hint="Send less at once.")
    if isinstance(exc, SuspiciousOperation):
        return Problem("not_understood", str(exc), hint="Send JSON, or a form with fewer fields.")
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
        many = len(errors)
        what = "One field is not as it" if many == 1 else f"{many} fields are not as they"
        detail = f"{what} should be: {first['detail']}"
        return problem_body(code, detail, 400, hint=first["hint"], errors=errors)
    code = str(getattr(exc.detail, "code", exc.default_code))
    return problem_body(code, str(exc.detail), exc.status_code, hint=hint_of(code))


def _flatten(detail: Any, pointer: str) -> Iterator[dict[str, str]]:
    if isinstance(detail, Mapping):
        for key, value in detail.items():
            own = (
                ""
                if key == "non_field_errors"
                else "/" + str(key).replace("~", "~0").replace("/", "~1")
            )
            yield from _flatten(value, pointer + own)
    elif isinstance(detail, list):
        for index, value in enumerate(detail):
            nested = isinstance(value, Mapping | list)
            yield from _flatten(value, f"{pointer}/{index}" if nested else pointer)
    else:
        code = getattr(detail, "code", "invalid")
        told = {"code": str(code), "detail": _in_words(str(detail)), "hint": hint_of(code)}
        yield {"pointer": pointer, **told}


def _in_words(text: str) -> str:
    """The framework's sentence about a row that is not there, without its own words for columns."""
    found = NO_SUCH.match(text)
    return f"There is no {found[1]!r}." if found else text


def _response(body: dict[str, Any], headers: dict[str, str]) -> Response:
    response = Response(body, status=body["status"], headers=headers)
    response.content_type = MEDIA_TYPE
    return response

"""A caller of the API as the tests have it: it sends keys and versions, and its replies are checked."""

import json
import uuid
from http.cookies import SimpleCookie
from typing import Any

from django.http import HttpResponse
from rest_framework.test import APIClient

from tests.schema_check import check_reply

AUTO = "auto"


class Caller(APIClient):
    """An API client whose every reply is held against the schema.

    `key` is the Idempotency-Key: made anew for each POST of a token, none for a session; `seen` is
    the version that goes into If-Match.
    """

    token = ""
    member: Any = None
    row: Any = None

    def request(self, **kwargs: Any) -> Any:
        """Send, and check the reply."""
        response = super().request(**kwargs)
        self._check(response)
        return response

    @classmethod
    def unchecked(cls, caller: "Caller") -> APIClient:
        """The same caller without the check, for replies that no schema promises (a 500)."""
        other = APIClient(raise_request_exception=False)
        other.cookies = caller.cookies
        return other

    def _check(self, response: HttpResponse) -> None:
        asked = response.request  # type: ignore[attr-defined]
        streaming = getattr(response, "streaming", False)
        check_reply(
            asked["REQUEST_METHOD"],
            asked["PATH_INFO"],
            asked.get("QUERY_STRING", ""),
            response.status_code,
            response.get("Content-Type", ""),
            b"" if streaming else response.content,
        )

    def with_token(self, token: str) -> "Caller":
        """Call with a bearer token from now on."""
        self.token = token
        self.credentials(HTTP_AUTHORIZATION=f"Bearer {token}")
        return self

    def post(  # type: ignore[override]
        self,
        path: str,
        data: Any = None,
        *,
        key: str | None = AUTO,
        seen: Any = None,
        headers: dict[str, str] | None = None,
        **extra: Any,
    ) -> Any:
        """POST JSON with a key and, for a row's action, the version seen."""
        sent = dict(headers or {})
        if key == AUTO:
            key = str(uuid.uuid4()) if self.token else None
        if key is not None:
            sent["Idempotency-Key"] = key
        body = {} if data is None else data
        return super().post(path, body, headers=_with_version(sent, seen), **extra)

    def patch(  # type: ignore[override]
        self,
        path: str,
        data: Any = None,
        *,
        seen: Any = None,
        headers: dict[str, str] | None = None,
        **extra: Any,
    ) -> Any:
        """PATCH JSON saying which version was seen, if any."""
        body = {} if data is None else data
        return super().patch(path, body, headers=_with_version(dict(headers or {}), seen), **extra)


def _with_version(headers: dict[str, str], seen: Any) -> dict[str, str]:
    if seen is not None:
        headers["If-Match"] = f'"{seen}"' if isinstance(seen, int) else str(seen)
    return headers


def twin(caller: Caller) -> Caller:
    """The same caller once more, for a thread of its own."""
    other = Caller()
    other.cookies = SimpleCookie({name: one.value for name, one in caller.cookies.items()})
    return other.with_token(caller.token) if caller.token else other


def assert_problem(
    response: Any, status: int, code: str, pointer: str | None = None
) -> dict[str, Any]:
    """Assert that a reply refuses with a code, at a pointer if one is given, and says what to send."""
    assert response.status_code == status, response.content[:600]
    assert response["Content-Type"] == "application/problem+json"
    body: dict[str, Any] = json.loads(response.content)
    assert (body["code"], body["status"]) == (code, status)
    assert body["type"].endswith(code)
    assert body["title"]
    assert body["detail"]
    assert body["hint"]
    if pointer is not None:
        assert pointer in [one["pointer"] for one in body["errors"]], body["errors"]
    return body

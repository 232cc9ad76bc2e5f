"""A caller of the API as the tests have it: it sends keys and versions, and its replies are checked."""

import uuid
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

"""What does every reply carry, and every log line? The version, the limits left, a request id."""

import json
import logging
import uuid
from collections.abc import Callable
from contextvars import ContextVar

from django.conf import settings
from django.http import HttpRequest, HttpResponse

request_id: ContextVar[str] = ContextVar("request_id", default="-")


class EnvelopeMiddleware:
    """Add the headers that every reply under /api/ has."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer with version, request id, limits and no caching."""
        token = request_id.set(uuid.uuid4().hex)
        try:
            response = self.get_response(request)
            response["API-Version"] = settings.SPECTACULAR_SETTINGS["VERSION"]
            response["Request-Id"] = request_id.get()
            if request.path.startswith("/api/"):
                response.headers.setdefault("Cache-Control", "no-store")
            limit = getattr(request, "limit", None)
            if limit:
                allowed, remaining, seconds = limit
                response["RateLimit-Policy"] = f'"caller";q={allowed};w=60'
                response["RateLimit"] = f'"caller";r={remaining};t={int(seconds)}'
            return response
        finally:
            request_id.reset(token)


class LineFormatter(logging.Formatter):
    """One JSON object a line, with the request's id."""

    def format(self, record: logging.LogRecord) -> str:
        """Write the record; an exception's trace stays in one member."""
        line = {
            "at": self.formatTime(record, "%Y-%m-%dT%H:%M:%S%z"),
            "level": record.levelname,
            "from": record.name,
            "says": record.getMessage(),
            "request": request_id.get(),
        }
        if record.exc_info:
            line["trace"] = self.formatException(record.exc_info)
        return json.dumps(line)

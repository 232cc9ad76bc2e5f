"""Which version did the writer see? A write must say so, and a stale one is refused."""

from typing import Any

from rest_framework.request import Request

from contractor.api.forms import form_value
from contractor.api.problems import Problem


def etag(version: int) -> str:
    """Print a version as a strong entity tag (RFC 9110, 8.8.3)."""
    return f'"{version}"'


def seen_version(request: Request) -> str:
    """Read the version that the writer saw, from If-Match or the browser's form.

    Raises:
        Problem: 428 when the request says none.
    """
    tag = request.headers.get("If-Match")
    if tag is None:
        version = form_value(request, "_version")
        tag = f'"{version}"' if version else None
    if tag is None:
        raise Problem(
            "version_missing",
            "This write does not say which version it saw.",
            status=428,
            hint="Send If-Match with the ETag of your last read.",
        )
    return tag.strip()


def check_version(request: Request, current: int, **now: Any) -> None:
    """Refuse a write that saw an older version.

    Raises:
        Problem: 412 with the current version and state.
    """
    seen = seen_version(request)
    if seen != "*" and etag(current) not in [one.strip() for one in seen.split(",")]:
        raise Problem(
            "version_stale",
            f"You saw version {seen}; it is now {etag(current)}.",
            status=412,
            hint="Read it again, decide anew, and send that version in If-Match.",
            current=now,
        )

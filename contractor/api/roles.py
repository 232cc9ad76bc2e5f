"""May this kind of caller do this here? Every action of every view names its roles."""

from typing import Any

from rest_framework.permissions import BasePermission
from rest_framework.request import Request

from contractor.api.callers import NOBODY, SCHEDULER, Caller
from contractor.api.problems import Problem

SAFE = frozenset({"GET", "HEAD", "OPTIONS"})


def caller_of(request: Request) -> Caller:
    """Tell who calls; worked out once per request by the people room."""
    found: Caller | None = getattr(request._request, "caller", None)
    if found is None:
        found = request.user.caller(request.auth) if request.user.is_authenticated else NOBODY
        request._request.caller = found  # type: ignore[attr-defined]
    return found


def action_of(view: Any, request: Request) -> str:
    """Name the action that a method leads to (`list`, `create`, …), for views without one too."""
    return getattr(view, "action", None) or request.method.lower()  # type: ignore[union-attr]


class RolePermission(BasePermission):
    """Allow what the view's `roles` table lists, and nothing by omission.

    A view says `roles = {"list": {...}, "create": {...}}` with names from callers.py, and for a
    scheduling tool `scope = "bookings"`: reading needs `bookings:read`, writing `bookings:write`;
    an empty scope needs none.
    """

    def has_permission(self, request: Request, view: Any) -> bool:
        """Answer from the table; refuse with what is needed."""
        caller = caller_of(request)
        if caller is NOBODY:
            return getattr(view, "open_to_all", False)
        action = action_of(view, request)
        if action in {"options", "metadata"} or request.method == "OPTIONS":
            return True
        if action not in view.roles and getattr(view, "action", action) is None:
            return True  # no such method here; the framework answers 405
        allowed = view.roles.get(action, frozenset())
        if caller.role not in allowed:
            raise Problem(
                "role_not_allowed",
                f"As {caller.role} you may not do this ({action}).",
                status=403,
                hint=f"Open to: {', '.join(sorted(allowed))}.",
            )
        if caller.role == SCHEDULER and view.scope:
            verb = "read" if request.method in SAFE else "write"
            needed = f"{view.scope}:{verb}"
            if needed not in caller.scopes:
                raise Problem(
                    "scope_missing",
                    f"This token lacks the scope {needed}.",
                    status=403,
                    hint="Ask the office to issue a token with this scope.",
                )
        return True

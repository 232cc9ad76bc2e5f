"""How are many rows made with one request? Each by itself, so that a bad one holds up no good one."""

from typing import Any
from uuid import NAMESPACE_OID, uuid5

from drf_spectacular.utils import extend_schema, extend_schema_view, inline_serializer
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.handler import handle
from contractor.api.idempotency import key_of
from contractor.api.problems import Problem
from contractor.api.schema import ProblemSerializer
from contractor.api.views import Room

MOST = 100


def many_schema(noun: str, sent: Any, told: Any) -> Any:
    """Describe a room's `many`: what one item looks like, and what its row."""
    body = inline_serializer(
        f"{noun}Many", {"items": sent(many=True, help_text=f"1 to {MOST} of them.")}
    )
    result = inline_serializer(
        f"{noun}ManyResult",
        {
            "index": serializers.IntegerField(help_text="Which item, counted from 0."),
            "status": serializers.IntegerField(help_text="As if it had been sent alone."),
            "row": told(allow_null=True),
            "problem": ProblemSerializer(allow_null=True),
        },
        many=True,
    )
    answer = inline_serializer(f"{noun}ManyResults", {"results": result})
    return extend_schema_view(many=extend_schema(request=body, responses={200: answer}))


class CreateMany(Room):
    """A room that makes many rows at once; `one` makes one of them, harmless to do twice."""

    needs_key = True

    @action(detail=False, methods=["post"])
    def many(self, request: Request) -> Response:
        """Make up to 100 rows. Each is made or refused by itself; the results stand in the order sent.

        Sent again with the same Idempotency-Key, what was made is answered again and only what was
        refused is tried anew.
        """
        items = _items(request.data)
        key = key_of(request, self.caller) if self.needs_key else None
        return Response({"results": [self._result(n, one, key) for n, one in enumerate(items)]})

    def one(self, data: Any, key: str | None) -> Response:
        """Make one row of a body; every subclass says how."""
        raise NotImplementedError

    def _result(self, index: int, data: Any, key: str | None) -> dict[str, Any]:
        own_key = str(uuid5(NAMESPACE_OID, f"{key} {index}")) if key else None
        try:
            made = self.one(data, own_key)
        except Exception as refused:  # each is answered like a request of its own
            told = handle(refused, {"view": self, "request": self.request})
            problem = _at_its_place(told.data, index)
            return {"index": index, "status": told.status_code, "row": None, "problem": problem}
        return {"index": index, "status": made.status_code, "row": made.data, "problem": None}


def _items(data: Any) -> list[Any]:
    if not isinstance(data, dict) or set(data) != {"items"} or not isinstance(data["items"], list):
        raise Problem(
            "not_an_object",
            "Many rows are sent as one JSON object with the member `items`, a list.",
            hint='Send {"items": [...]}, each item as you would send it alone.',
        )
    if not 1 <= len(data["items"]) <= MOST:
        raise Problem(
            "too_many_items",
            f"Here are {len(data['items'])} items.",
            hint=f"Send 1 to {MOST} at once.",
            pointer="/items",
        )
    return data["items"]


def _at_its_place(problem: dict[str, Any], index: int) -> dict[str, Any]:
    """Let each pointer lead into the body that was sent."""
    errors = [
        {**one, "pointer": f"/items/{index}{one['pointer']}"} for one in problem.get("errors", [])
    ]
    return {**problem, "errors": errors}

"""What does the schema say beyond the framework's own? Problems, versions, keys, security, roles."""

from typing import Any

from drf_spectacular.extensions import OpenApiAuthenticationExtension
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers

from contractor.api.expanding import expandable
from contractor.api.parsers import BytesParser, PhotoParser


class ErrorSerializer(serializers.Serializer):
    """One field at fault."""

    pointer = serializers.CharField(help_text="JSON Pointer (RFC 6901) into the body.")
    code = serializers.CharField()
    detail = serializers.CharField()
    hint = serializers.CharField(help_text="What to send instead.")


class ProblemSerializer(serializers.Serializer):
    """A refusal, as RFC 9457 problem details. `code` is stable; texts may be improved at any time."""

    type = serializers.CharField()
    title = serializers.CharField()
    status = serializers.IntegerField()
    code = serializers.CharField()
    detail = serializers.CharField()
    hint = serializers.CharField(allow_blank=True)
    errors = ErrorSerializer(many=True)  # type: ignore[assignment]


PROBLEMS = {
    "GET": ("400", "401", "403", "404", "406", "409", "429", "503"),
    "POST": ("400", "401", "403", "404", "409", "412", "413", "415", "422", "428", "429", "503"),
    "PUT": ("400", "401", "403", "404", "409", "413", "415", "429", "503"),
    "PATCH": ("400", "401", "403", "404", "409", "412", "415", "428", "429", "503"),
}
MEDIA = "application/problem+json"


class Schema(AutoSchema):
    """Describe each operation with its problems and headers."""

    method: str
    view: Any

    def get_response_serializers(self) -> Any:
        """Say 201 where a row is made."""
        own: Any = super().get_response_serializers()
        return own if isinstance(own, dict) else {"201" if self._makes() else "200": own}

    def _get_response_bodies(self, direction: Any = "response") -> dict[str, Any]:
        """Add one problem for each way in which the operation may refuse.

        Here and not among the serializers, which a view's own `responses` put out of force.
        """
        bodies: dict[str, Any] = super()._get_response_bodies(direction)
        for code in PROBLEMS.get(self.method, ()):
            if code not in bodies:
                told = self._get_response_for_code(  # type: ignore[no-untyped-call]
                    ProblemSerializer, code, [MEDIA], direction
                )
                bodies[code] = told
        return bodies

    def _makes(self) -> bool:
        return self.method == "POST" and getattr(self.view, "action", "") == "create"

    def get_override_parameters(self) -> list[Any]:
        """Add the parameters that every room shares."""
        action = getattr(self.view, "action", "")
        found: list[Any] = []
        makes = self._makes() or (action == "many" and self.view.needs_key)
        if makes and not getattr(self.view, "keeps_nothing", False):
            found.append(
                OpenApiParameter(
                    "Idempotency-Key",
                    str,
                    OpenApiParameter.HEADER,
                    description="A UUID made once for this request; sent again it gives the same answer. "
                    "Tablets and programs must send it, but for surveys, whose own id does the same.",
                )
            )
        if hasattr(self.view, "act") and (self.method == "PATCH" or self._is_row_action(action)):
            found.append(
                OpenApiParameter(
                    "If-Match",
                    str,
                    OpenApiParameter.HEADER,
                    required=True,
                    description="The ETag of your last read.",
                )
            )
        chooses = getattr(self.view, "small_answers", False)
        if self.method == "GET" and action in {"list", "retrieve"} and chooses:
            found += self._small_answers()
        return found

    def _is_row_action(self, action: str) -> bool:
        return self.method == "POST" and action not in {"", "create", "many", None}

    def _small_answers(self) -> list[OpenApiParameter]:
        names = [
            OpenApiParameter("fields", str, description="Only these fields, by comma."),
            OpenApiParameter("omit", str, description="All but these fields, by comma."),
        ]
        whole = expandable(_made(self.view.get_serializer_class()))
        if whole:
            text = (
                f"Rows to give out whole in `expanded`, by comma, of: {', '.join(sorted(whole))}."
            )
            names.append(OpenApiParameter("expand", str, description=text))
        if self.view.brief:
            text = "The shortest useful answer."
            names.append(OpenApiParameter("brief", str, enum=["true"], description=text))
        return names

    def _map_basic_serializer(self, serializer: Any, direction: Any) -> dict[str, Any]:
        """Tell of the member that `expand` adds to an answer."""
        told: dict[str, Any] = super()._map_basic_serializer(serializer, direction)  # type: ignore[no-untyped-call]
        names = expandable(_made(serializer)) if direction == "response" else {}
        if names:
            rows = {"type": ["object", "null"], "additionalProperties": True}
            told["properties"]["expanded"] = {
                "type": "object",
                "description": "Only with `expand`: the rows asked for, as their rooms' lists give them.",
                "properties": {name: rows for name in sorted(names)},
            }
        return told

    def map_parsers(self) -> list[str]:
        """Name the bodies of programs; forms are for the browser only."""
        if PhotoParser in getattr(self.view, "parser_classes", []):
            return [PhotoParser.media_type, BytesParser.media_type]
        if self.method == "PATCH":
            return ["application/merge-patch+json", "application/json"]
        return ["application/json"]

    def get_extensions(self) -> dict[str, Any]:
        """Say which roles may do it."""
        roles = getattr(self.view, "roles", {}).get(getattr(self.view, "action", ""), ())
        return {**super().get_extensions(), "x-roles": sorted(roles)}


def _made(serializer: Any) -> Any:
    return serializer() if isinstance(serializer, type) else serializer


class BearerScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    """How tablets and programs say who they are."""

    target_class = "contractor.people.tokens.BearerAuthentication"
    name = "token"

    def get_security_definition(self, auto_schema: Any) -> dict[str, Any]:
        """Describe the bearer token."""
        return {"type": "http", "scheme": "bearer", "bearerFormat": "tab_… or int_…"}


class SessionScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    """How people at a browser say who they are."""

    target_class = "contractor.api.sessions.SessionAuthentication"
    name = "session"

    def get_security_definition(self, auto_schema: Any) -> dict[str, Any]:
        """Describe the cookie."""
        return {"type": "apiKey", "in": "cookie", "name": "sessionid"}


def finish(result: dict[str, Any], generator: Any, request: Any, public: bool) -> dict[str, Any]:
    """Say what holds for every reply: its version, and where the limits stand."""
    for path in result["paths"].values():
        for operation in path.values():
            for response in operation["responses"].values():
                headers = response.setdefault("headers", {})
                headers["API-Version"] = {"schema": {"type": "string"}}
                headers["RateLimit"] = {"schema": {"type": "string"}}
    return result

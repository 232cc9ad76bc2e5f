"""Is this reply one that the schema promises? Path, method, status, content type and body."""

import copy
import json
import re
from functools import cache
from typing import Any

from drf_spectacular.generators import SchemaGenerator
from jsonschema_rs import Draft202012Validator, Registry

PROBLEM = "application/problem+json"
API = "/api/v1/"
SMALL_ANSWERS = ("fields=", "omit=", "brief=")


@cache
def schema() -> dict[str, Any]:
    """Generate the schema once for the whole run."""
    made: dict[str, Any] = SchemaGenerator().get_schema(request=None, public=True)  # type: ignore[no-untyped-call]
    return json.loads(json.dumps(made, default=str))  # type: ignore[no-any-return]


@cache
def _paths() -> list[tuple[re.Pattern[str], str]]:
    """Patterns of all paths, those with fewer variables first."""
    names = sorted(schema()["paths"], key=lambda one: (one.count("{"), one))
    return [
        (re.compile(re.sub(r"\\{[^/]+?\\}", "[^/]+", re.escape(one)) + "$"), one) for one in names
    ]


@cache
def _registry(closed: bool) -> Registry:
    """The schema's document, either closed to undescribed members or open to left-out ones."""
    document = copy.deepcopy(schema())
    for name, one in document["components"]["schemas"].items():
        if not closed:
            one.pop("required", None)
        elif one.get("type") == "object" and "properties" in one and name != "Problem":
            one.setdefault("additionalProperties", False)
    return Registry([("urn:schema", document)])


@cache
def validator(pointer: str, closed: bool) -> Draft202012Validator:
    """What holds a value against a place of the schema, or against one that lacks members if not `closed`."""
    asked = {"$ref": f"urn:schema#{pointer}"}
    return Draft202012Validator(asked, registry=_registry(closed), validate_formats=True)


def _escape(name: str) -> str:
    return name.replace("~", "~0").replace("/", "~1").replace("{", "%7B").replace("}", "%7D")


def operation_of(method: str, path: str) -> str | None:
    """Find the path template that serves a method at an address."""
    for pattern, name in _paths():
        if pattern.match(path) and method.lower() in schema()["paths"][name]:
            return name
    return None


def check_reply(
    method: str, path: str, query: str, status: int, content_type: str, body: bytes
) -> None:
    """Fail when a reply of the API is not as the schema says."""
    media = content_type.partition(";")[0].strip()
    inside = path.startswith((API, "/p/"))
    if not inside or media == "text/html" or method in {"OPTIONS", "HEAD"} or path == API:
        return
    if status == 405:
        _check_body("/components/schemas/Problem", body, query, (method, path, status))
        return
    name = operation_of(method, path)
    if name is None:
        assert status in {401, 404}, f"{method} {path} answered {status} but is in no schema"
        assert media == PROBLEM, f"{method} {path} answered {status} as {media}"
        _check_body("/components/schemas/Problem", body, query, (method, path, status))
        return
    _check_documented(method, name, status, media, body, query)


def _check_documented(
    method: str, name: str, status: int, media: str, body: bytes, query: str
) -> None:
    responses = schema()["paths"][name][method.lower()]["responses"]
    assert str(status) in responses, (
        f"{method} {name}: undocumented status {status}: {body[:500]!r}"
    )
    known = responses[str(status)].get("content", {})
    shape = media if media in known else re.sub("/.*", "/*", media)
    assert shape in known, f"{method} {name} {status}: undocumented content type {media}"
    if not media.endswith("json"):
        return
    pointer = "/paths/" + _escape(name)
    pointer += f"/{method.lower()}/responses/{status}/content/{_escape(shape)}/schema"
    _check_body(pointer, body, query, (method, name, status))


def _check_body(pointer: str, body: bytes, query: str, where: tuple[Any, ...]) -> None:
    closed = not any(one in query for one in SMALL_ANSWERS)
    errors = validator(pointer, closed).iter_errors(json.loads(body))
    told = [f"{error.instance_path}: {error.message[:300]}" for error in errors]
    assert not told, f"{where}: the reply is not as the schema says: {told}"

"""Is the schema whole, valid, and the same every time?"""

import json

import pytest
from django.core.management import call_command
from drf_spectacular.drainage import GENERATOR_STATS
from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.renderers import OpenApiJsonRenderer
from openapi_spec_validator import validate

from contractor.config.urls import router
from tests.clients import Caller
from tests.factories import CustomerFactory
from tests.schema_check import check_reply, schema
from tests.world import address, routes


def built() -> bytes:
    made = SchemaGenerator().get_schema(request=None, public=True)  # type: ignore[no-untyped-call]
    text: bytes = OpenApiJsonRenderer().render(made, renderer_context={})
    return text


@pytest.fixture(scope="module")
def first() -> bytes:
    """The schema as it was built first, and what the building told."""
    GENERATOR_STATS.reset()
    return built()


def test_the_schema_is_built_without_a_warning(first: bytes) -> None:
    assert len(first) > 100_000
    assert not GENERATOR_STATS._warn_cache
    assert not GENERATOR_STATS._error_cache


def test_the_schema_is_valid_openapi() -> None:
    assert schema()["openapi"].startswith("3.1")
    validate(schema())


def test_the_schema_is_built_the_same_byte_for_byte(first: bytes) -> None:
    assert built() == first


def test_the_command_writes_what_is_served(
    first: bytes, capsys: pytest.CaptureFixture[str]
) -> None:
    call_command("spectacular", "--format", "openapi-json", "--fail-on-warn")
    assert json.loads(capsys.readouterr().out) == json.loads(first)


def test_every_route_of_the_router_is_in_the_schema() -> None:
    served = {(method, address(*route.split("."), "{}")) for route, (method, _) in routes().items()}
    told = {
        (method, "/".join("{}" if one.startswith("{") else one for one in path.split("/")))
        for path, operations in schema()["paths"].items()
        for method in operations
        if method in {"get", "post", "put", "patch", "delete"}
    }
    assert served <= told, sorted(served - told)
    outside = {path for _, path in told - served}
    assert outside <= {"/p/{}", "/p/{}/"}, "a documented address that is in no router"


def test_every_operation_has_a_name_of_its_own_and_says_what_it_does() -> None:
    operations = [
        one
        for path in schema()["paths"].values()
        for method, one in path.items()
        if method != "parameters"
    ]
    names = [one["operationId"] for one in operations]
    assert len(names) == len(set(names))
    assert all(one.get("description") for one in operations), [
        one["operationId"] for one in operations if not one.get("description")
    ]


def test_every_operation_tells_its_refusals() -> None:
    for path, operations in schema()["paths"].items():
        for method, one in operations.items():
            answers = one["responses"]
            assert {"400", "429"} <= set(answers), (method, path)
            problem = answers["400"]["content"]["application/problem+json"]["schema"]
            assert problem == {"$ref": "#/components/schemas/Problem"}, (method, path)


def test_the_matrix_of_the_schema_is_the_view_s_own() -> None:
    views = {noun: view for _, view, noun in router.registry}
    for route, (method, _) in routes().items():
        noun, _, action = route.partition(".")
        path = address(noun, action, "{}")
        told = [
            operations[method]["x-roles"]
            for name, operations in schema()["paths"].items()
            if "/".join("{}" if one.startswith("{") else one for one in name.split("/")) == path
            and method in operations
        ]
        assert told == [sorted(views[noun].roles[action])], route


@pytest.mark.django_db
def test_a_reply_that_the_schema_does_not_promise_fails_the_test_that_got_it(
    office: Caller,
) -> None:
    path = f"/api/v1/customers/{CustomerFactory().number}/"
    right = office.get(path).json()

    def check(**changed: object) -> None:
        body = {name: one for name, one in (right | changed).items() if one is not None}
        check_reply("GET", path, "", 200, "application/json", json.dumps(body).encode())

    check()
    for wrong in ({"name": 7}, {"name": None}, {"stranger": 1}, {"created_at": "yesterday"}):
        with pytest.raises(AssertionError, match="not as the schema says"):
            check(**wrong)

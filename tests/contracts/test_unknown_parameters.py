"""Does every reading route refuse a parameter that it does not know, and heed those it describes?"""

from typing import Any

import pytest

from tests.clients import Caller, assert_problem
from tests.schema_check import operation_of, schema
from tests.world import World, routes

READS = [name for name, (method, _) in routes().items() if method == "get"]


@pytest.mark.parametrize("route", READS)
def test_a_parameter_that_is_not_known_is_refused_by_name(
    route: str, callers: dict[str, Caller], world: World
) -> None:
    answer = callers["office"].get(world.path(route) + "?stranger=1")
    told = assert_problem(answer, 400, "unknown_filter", "/stranger")
    assert "`stranger`" in told["detail"]


@pytest.mark.parametrize("route", [one for one in READS if one.endswith((".list", ".retrieve"))])
def test_fields_are_chosen_where_the_schema_says_so_and_refused_elsewhere(
    route: str, callers: dict[str, Caller], world: World
) -> None:
    path = world.path(route)
    operation = schema()["paths"][operation_of("get", path)]["get"]
    described = {one["name"] for one in operation["parameters"] if one["in"] == "query"}

    if "fields" not in described:
        assert_problem(callers["office"].get(f"{path}?fields=id"), 400, "unknown_filter", "/fields")
        return
    name = next(iter(row_of(callers["office"].get(path).json())))
    assert set(row_of(callers["office"].get(f"{path}?fields={name}").json())) == {name}


def row_of(told: dict[str, Any]) -> dict[str, Any]:
    """The row that was asked for, or the first of a list."""
    row: dict[str, Any] = told["results"][0] if "results" in told else told
    return row
